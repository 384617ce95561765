"""Plans: one truth with the functions they are made of, honest where they stop, and quick."""

from __future__ import annotations

import math
import re
import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.job import Plan
from rollcalc.job.plans.check_radius import LONGEST_CHORD, ROUND_CHORDS
from rollcalc.job.plans.passes import LAST_STEP, STEP, yield_band
from rollcalc.job.plans.words import turns_words
from tests.job.lantern import (
    ALUMINIUM,
    BAND,
    BAR,
    BODY,
    COLLAR,
    CONES,
    GOOD,
    HANGER,
    MACHINE,
    RINGS,
    ROLLED,
    ROOF,
    SKIRT,
    STAINLESS,
    STEEL,
)

INSIDE = {"body": 180, "collar": 75, "band": 184, "hanging ring": 90, "ring of 150": 150, "aluminium bar": 200}


@pytest.mark.parametrize("name", ROLLED)
def test_a_plan_is_what_its_parts_say(name: str) -> None:
    plan = ROLLED[name]()
    radius = (INSIDE[name] + plan.stock.depth) / 2
    schedule = rc.pass_schedule(MACHINE, plan.stock, plan.material, radius, step_turns=1 / 8, last_step_turns=1 / 16)
    assert [(one.turns_left, one.turns_right, one.released_radius, one.crank_force) for one in plan.passes] == [
        (one.turns_left, one.turns_right, one.released_radius, one.crank_force) for one in schedule.passes]
    assert plan.capacity == rc.check_capacity(MACHINE, plan.stock, plan.material, radius)
    assert plan.released_radius == radius
    assert plan.verdict == plan.capacity.word == "within the machine's rating"


def test_the_blank_is_that_of_cylinder_blank_with_the_folds_said() -> None:
    plan = GOOD["body"]()
    assert plan.blank == rc.cylinder_blank(BODY, inside_diameter=180, seam=rc.GroovedSeam(6))
    assert any("587.4 × 240.0 mm; fold 6 mm from the first edge and 6 mm from the last" in note for note in plan.notes)
    trimmed = rc.plan_cylinder(MACHINE, BODY, STEEL, inside_diameter=180, trim=60)
    assert trimmed.blank == rc.cylinder_blank(BODY, inside_diameter=180, trim=60)
    assert "60 mm of it to trim" in trimmed.fold_words
    assert GOOD["hanging ring"]().blank.length == pytest.approx(math.pi * 96)
    assert GOOD["band"]().blank.length == pytest.approx(math.pi * 187)
    skirt = rc.frustum_pattern(220, 160, 100)
    assert GOOD["skirt"]().blank == rc.cone_blank(skirt, 0.8)
    assert GOOD["skirt"]().stock.width == skirt.slant


@pytest.mark.parametrize("name", GOOD)
def test_every_pass_enters_with_the_radius_before_and_comes_nearer(name: str) -> None:
    plan = GOOD[name]()
    assert len(plan.passes) >= 3
    for place in range(len(plan.passes[0].checks)):
        radii = [one.checks[place].released_radius for one in plan.passes]
        assert radii == sorted(radii, reverse=True)
    for number, one in enumerate(plan.passes, start=1):
        step = LAST_STEP if number == len(plan.passes) else STEP
        assert all(turns / step == round(turns / step) for turns in (one.turns_left, one.turns_right))
    wanted = [plan.cone.wanted_radii[-1], plan.cone.wanted_radii[0]] if plan.cone else [plan.released_radius]
    reached = [end.released_radius for end in plan.passes[-1].checks]
    assert reached == pytest.approx(wanted, rel=0.01)
    assert np.all(np.array(reached) > np.array(wanted) * (1 - 1e-3))  # from the flat side


@pytest.mark.parametrize("name", CONES)
def test_a_cone_s_screws_give_the_radii_it_says_at_both_ends(name: str) -> None:
    """Worked out again from the turns: a straight roll between the two screws, pass after pass."""
    plan, entering = CONES[name](), np.full(2, math.inf)
    half, screw = plan.stock.width / 2, MACHINE.between_bearings / 2
    for one in plan.passes:
        slope = (one.turns_right - one.turns_left) / (2 * screw)
        travels = MACHINE.screw_pitch * ((one.turns_left + one.turns_right) / 2 + slope * np.array([-half, half]))
        entering = np.asarray(rc.radius_for_travel(MACHINE, plan.stock, ALUMINIUM, travels, entering_radius=entering))
        assert [end.released_radius for end in one.checks] == pytest.approx(entering.tolist(), rel=1e-9)
    alone = rc.cone_setting(MACHINE, plan.stock, ALUMINIUM, plan.blank.pattern.large_diameter,
                            plan.blank.pattern.small_diameter)
    last = plan.passes[-1]
    assert (last.turns_left, last.turns_right) == pytest.approx((alone.turns_left, alone.turns_right), abs=0.25)
    assert plan.capacity == rc.check_capacity(MACHINE, plan.stock, ALUMINIUM, plan.released_radius)
    other = CONES[name](small_end="left")
    assert (other.passes[-1].turns_right, other.passes[-1].turns_left) == (last.turns_left, last.turns_right)


@pytest.mark.parametrize("name", CONES)
def test_a_cone_s_corrections_do_what_they_say(name: str) -> None:
    plan = CONES[name]()
    last, wall = plan.passes[-1], plan.stock
    pitch, screw = MACHINE.screw_pitch, MACHINE.between_bearings / 2
    for words, ends in zip(plan.corrections, ((0, 1), (0,), (1,)), strict=True):
        both = re.search(r"both screws ([\d /]+) turn", words)
        moves = {side: _turns(amount) * (1 if way == "further" else -1)
                 for side, amount, way in re.findall(r"the (\w+) screw ([\d /]+) turn (\w+)", words)}
        left, right = [_turns(both[1])] * 2 if both else (moves.get("left", 0.0), moves.get("right", 0.0))
        ends_of_roll = np.array([last.turns_left + left, last.turns_right + right]) * pitch
        travels = np.interp(np.array([-1, 1]) * wall.width / 2, [-screw, screw], ends_of_roll)
        before = np.array([end.released_radius for end in last.checks])
        after = np.asarray(rc.radius_for_travel(MACHINE, wall, ALUMINIUM, travels, entering_radius=before))
        change = 1 - after / before
        for end in (0, 1):
            low, high = (0.008, 0.04) if end in ends else (-1e-9, 0.008)
            assert low <= change[end] <= high, (words, change)


def _turns(words: str) -> float:
    return sum(float(rc.parse_length(f"{part} in")) / 25.4 for part in words.split())


@pytest.mark.parametrize("name", GOOD)
def test_the_chord_is_round_and_fits_on_the_face_that_is_named(name: str) -> None:
    for face, sign in (("inside", -1), ("middle", 0), ("outside", 1)):
        plan = GOOD[name](face=face)
        smallest = plan.released_radius + sign * plan.stock.depth / 2
        assert plan.chord in ROUND_CHORDS
        assert plan.chord <= LONGEST_CHORD * smallest
        for one in plan.passes:
            for end in one.checks:
                assert rc.radius_from_chord(plan.chord, end.rise) == pytest.approx(
                    end.released_radius + sign * plan.stock.depth / 2)
        assert face in repr(plan)
    assert GOOD["collar"]().chord == 60
    assert GOOD["body"](chord=80).chord == GOOD["body"](chord=80).passes[0].chord == 80


def test_the_band_is_that_of_the_yield_range_pass_after_pass() -> None:
    plan = GOOD["body"]()
    for bound, place in zip(STEEL.yield_range, ("lowest_radius", "highest_radius"), strict=True):
        metal, entering = STEEL.with_yield(bound), math.inf
        for one in plan.passes:
            travel = one.turns_left * MACHINE.screw_pitch
            entering = rc.radius_for_travel(MACHINE, BODY, metal, travel, entering_radius=entering)
            assert getattr(one, place) == pytest.approx(entering, rel=1e-6)
    last = plan.passes[-1].checks[0]
    assert last.lowest_rise < last.rise < last.highest_rise
    exact = rc.plan_cylinder(MACHINE, BODY, replace(STEEL, yield_range=None), inside_diameter=180)
    assert {(one.lowest_radius, one.highest_radius) for one in exact.passes} == {
        (one.released_radius, one.released_radius) for one in exact.passes}
    soft = rc.plan_cylinder(MACHINE, COLLAR, replace(STAINLESS, yield_range=(1, 2000)), inside_diameter=64)
    assert soft.passes[0].highest_radius == math.inf
    assert all(np.isfinite([end.lowest_rise, end.highest_rise]).all() for one in soft.passes for end in one.checks)
    against = yield_band(MACHINE, COLLAR, replace(STAINLESS, yield_range=(1, 500)), np.array([[30.0], [36.5]]))
    tightest = rc.released_radius(COLLAR, STAINLESS.with_yield(1.0), 25.3)
    assert against[1, 0, 0] == pytest.approx(tightest)  # bent as tight as the roll itself
    assert against[1, 1, 0] > 30


def test_inside_outside_and_mean_sizes_agree() -> None:
    sizes = ({"inside_diameter": 180}, {"outside_diameter": 181.52}, {"mean_diameter": 180.76})
    plans = [rc.plan_cylinder(MACHINE, BODY, STEEL, **size) for size in sizes]
    assert len({tuple((one.turns_left, round(one.rise, 6)) for one in plan.passes) for plan in plans}) == 1
    rings = [rc.plan_ring(MACHINE, BAND, BAR, **size) for size in
             ({"inside_diameter": 184}, {"outside_diameter": 190}, {"mean_diameter": 187})]
    assert len({ring.released_radius for ring in rings}) == 1
    pattern = rc.layout.mid_thickness_frustum(0.8, 100, large_outside_diameter=220, small_outside_diameter=160)
    faces = rc.plan_cone(MACHINE, SKIRT, ALUMINIUM, large_outside_diameter=220, small_outside_diameter=160, height=100)
    middle = rc.plan_cone(MACHINE, SKIRT, ALUMINIUM, large_diameter=pattern.large_diameter,
                          small_diameter=pattern.small_diameter, height=pattern.height)
    assert faces.passes == middle.passes
    assert faces.blank == middle.blank


STOPPED = {
    "bending moment": (rc.plan_cylinder, rc.Sheet(thickness=1.5, width=600), STEEL, 180),
    "width": (rc.plan_cylinder, rc.Sheet(thickness=0.5, width=900), STEEL, 180),
    "smallest ring": (rc.plan_cylinder, rc.Sheet(thickness=0.76, width=100), STEEL, 45),
    "travel": (rc.plan_cylinder, rc.Sheet(thickness=0.6, width=40), STAINLESS, 56),
    "groove": (rc.plan_ring, rc.RoundBar(8.5), ALUMINIUM, 150),
    "roll stress": (rc.plan_cylinder, BODY, STEEL, 180),
}


@pytest.mark.parametrize("name", STOPPED)
def test_a_plan_that_fails_says_so_first_gives_no_turns_and_names_the_nearest(name: str) -> None:
    verb, stock, metal, inside = STOPPED[name]
    machine = replace(MACHINE, pinch_force=20_000.0) if name == "roll stress" else MACHINE
    plan = verb(machine, stock, metal, inside_diameter=inside)
    assert plan.capacity[name].exceeded == 2
    assert plan.passes == ()
    assert plan.notes[0].startswith("Not on this machine: ")
    assert any(note.startswith(f"Not on this machine: {name}") for note in plan.stopped)
    assert plan.verdict in repr(plan)
    assert "turn further" not in " ".join(plan.notes)
    assert plan.blank.length > 0
    (nearest,) = plan.nearest
    sizes = re.findall(r"([\d.]+) (mm wide|mm thick|mm bar|mm inside)", nearest)
    assert bool(sizes) == (name != "roll stress") or "heavier machine" in nearest
    for size, what in sizes:
        number, changed = float(size), stock
        if what == "mm wide":
            changed = replace(stock, width=number)
        elif what != "mm inside":
            changed = stock.with_depth(number)
        assert verb(machine, changed, metal, inside_diameter=number if what == "mm inside" else inside).passes, what


def test_the_nearest_is_the_nearest() -> None:
    plan = rc.plan_cylinder(MACHINE, rc.Sheet(thickness=1.5, width=600), STEEL, inside_diameter=180)
    assert plan.nearest == ("Nearest that passes, all else the same: 180 mm wide, or 0.8 mm thick.",)
    assert not rc.plan_cylinder(MACHINE, rc.Sheet(thickness=1.5, width=200), STEEL, inside_diameter=180).passes
    assert not rc.plan_cylinder(MACHINE, rc.Sheet(thickness=0.9, width=600), STEEL, inside_diameter=180).passes


def test_the_roof_is_cut_and_not_rolled() -> None:
    roof = ROOF()
    assert roof.passes == ()
    assert any("even curve" in note for note in roof.stopped)
    assert roof.blank == rc.cone_blank(rc.frustum_pattern(220, 60, 80), 0.8)
    small = float(re.search(r"([\d.]+) mm at the small end", roof.nearest[0])[1])  # type: ignore[index]
    assert ROOF(small_diameter=small).passes
    assert not ROOF(small_diameter=small - 10).passes
    assert any("segments" in note for note in roof.notes)
    wide = rc.plan_cone(MACHINE, SKIRT, STEEL, large_diameter=900, small_diameter=700, height=800)
    assert any("width" in note for note in wide.stopped)


def test_turns_are_given_where_only_effort_bow_or_a_caution_speaks_against() -> None:
    hard = rc.plan_cylinder(replace(MACHINE, crank_limit=10.0), BODY, STEEL, inside_diameter=180)
    assert hard.passes
    assert any("N of the crank" in note for note in hard.warnings)
    body = GOOD["body"]()
    assert any(note.startswith("Roll bow") for note in body.warnings)
    slips = rc.plan_cylinder(replace(MACHINE, grip_friction=0.002), BODY, STEEL, inside_diameter=180)
    assert slips.passes == ()
    assert "slip" in slips.notes[0]
    cone = rc.plan_cone(replace(MACHINE, grip_friction=0.0005), SKIRT, ALUMINIUM, large_diameter=220,
                        small_diameter=160, height=100)
    assert cone.passes == ()
    assert "slip" in cone.notes[0]
    tired = rc.plan_cone(replace(MACHINE, crank_limit=10.0), SKIRT, ALUMINIUM, large_diameter=220, small_diameter=160,
                         height=100)
    assert tired.passes
    assert any("N of the crank" in note for note in tired.warnings)


def test_other_machines_are_planned_on() -> None:
    uncranked = replace(MACHINE, crank_radius=None)
    for plan in (rc.plan_cylinder(uncranked, BODY, STEEL, inside_diameter=180, seam=rc.GroovedSeam(6)),
                 rc.plan_cone(uncranked, SKIRT, ALUMINIUM, large_diameter=220, small_diameter=160, height=100)):
        assert plan.passes
        assert {one.crank_force for one in plan.passes} == {None}
        assert any("crank" in note for note in plan.warnings)
    pyramid = rc.PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                                working_width=1500, crank_radius=400, gear_ratio=20)
    plate = rc.plan_cylinder(pyramid, rc.Sheet(thickness=6, width=300), STEEL, inside_diameter=800)
    assert plate.passes
    assert "raise the top roll clear" in plate.notes[-4]
    ideal = rc.plan_cylinder(MACHINE.with_perfect_nip(), BODY, STEEL, inside_diameter=180)
    assert any("perfect nip" in note for note in ideal.warnings)
    chosen = rc.grooved_machine(MACHINE, HANGER, rc.rolling.grooves(MACHINE)[2])
    assert any("groove for 8 mm" in note for note in rc.plan_ring(chosen, HANGER, BAR, inside_diameter=90).notes)
    assert any("groove for 6 mm" in note for note in RINGS["hanging ring"]().notes)


@pytest.mark.parametrize("name", [*GOOD, "roof"])
def test_it_shows_itself_shortly_and_in_a_table(name: str) -> None:
    plan = ROOF() if name == "roof" else GOOD[name]()
    assert len(repr(plan)) <= 800
    assert repr(plan).startswith("Plan of a ")
    html = plan._repr_html_()
    assert html.count("<tr>") == (len(plan.passes) + 1 if plan.passes else 0)
    assert all(len(note) > 10 and note[-1] in ".:)" for note in plan.notes)
    assert not re.search(r"\bsafe\b", html)
    assert plan == (ROOF() if name == "roof" else GOOD[name]())


@pytest.mark.parametrize("name", [*GOOD, "roof"])
def test_a_plan_is_quick(name: str) -> None:
    make, times = GOOD.get(name, ROOF), []
    for _ in range(3):
        start = time.process_time()
        make()
        times.append(time.process_time() - start)
    assert min(times) < 0.2  # 0.05 s on a computer with nothing else to do; see tests/benchmark_plan.py


def test_flat_ends_wait_until_they_are_asked_for() -> None:
    plan = GOOD["body"]()
    assert "flat_ends" not in vars(plan)
    assert plan.flat_ends == rc.flat_ends(MACHINE, BODY, STEEL, plan.released_radius)
    assert vars(plan)["flat_ends"] is plan.flat_ends


@pytest.mark.parametrize(("turns", "words"), [(8.875, "8 7/8"), (13, "13"), (0.0625, "1/16"), (-2.5, "−2 1/2"),
                                              (0, "0")])
def test_turns_are_said_as_they_are_read(turns: float, words: str) -> None:
    assert turns_words(turns) == words


@pytest.mark.parametrize(("call", "words"), [
    (lambda: rc.plan_cylinder(MACHINE, BODY, STEEL), "exactly one of inside, outside and mean"),
    (lambda: rc.plan_cylinder(MACHINE, BODY, STEEL, inside_diameter=180, mean_diameter=181), "exactly one of"),
    (lambda: rc.plan_cylinder(MACHINE, BAND, STEEL, inside_diameter=180), "must be a Sheet: plan a bar with plan_ring"),
    (lambda: rc.plan_ring(MACHINE, BODY, STEEL, inside_diameter=180), "must be a FlatBar or a RoundBar"),
    (lambda: rc.plan_ring(MACHINE, BAND, STEEL, inside_diameter=180, seam=rc.GroovedSeam(6)), "ends of a bar"),
    (lambda: rc.plan_cylinder(MACHINE, BODY, STEEL, inside_diameter=180, face="top"), "one of inside, middle, outside"),
    (lambda: rc.plan_cylinder(MACHINE, BODY, STEEL, inside_diameter=180, chord=150), "at most 144 mm"),
    (lambda: rc.plan_cylinder(MACHINE, BODY, STEEL, inside_diameter=180, seam=rc.GroovedSeam(6), trim=5), "trim is 5"),
    (lambda: rc.plan_cylinder(MACHINE, rc.Sheet(thickness=[0.7, 0.8], width=240), STEEL, inside_diameter=180),
     "one case at a time"),
    (lambda: rc.plan_cylinder("mine", BODY, STEEL, inside_diameter=180), "the machine is 'mine'"),
    (lambda: rc.plan_cylinder(MACHINE, BODY, "steel", inside_diameter=180), "the material is 'steel'"),
    (lambda: CONES["skirt"](height=0), "height is 0 mm"),
    (lambda: CONES["skirt"](small_diameter=None), "small diameter is None"),
    (lambda: CONES["skirt"](small_diameter=0), "small diameter is 0 mm"),
    (lambda: CONES["skirt"](small_inside_diameter=160), "all of one sort"),
    (lambda: rc.plan_cone(MACHINE, SKIRT, ALUMINIUM, large_inside_diameter=220, height=90), "exactly one"),
    (lambda: CONES["skirt"](small_end="up"), "'left' or 'right'"),
    (lambda: CONES["skirt"](position=500), "position is 500 mm"),
])
def test_what_makes_no_sense_gets_one_sentence(call, words: str) -> None:
    with pytest.raises(rc.InputError) as refused:
        call()
    assert words in str(refused.value)
    assert len(str(refused.value)) <= 300


@settings(max_examples=40, deadline=None)
@given(st.floats(0.3, 2.0), st.floats(20, 700), st.floats(30, 700), st.sampled_from(sorted(rc.MATERIALS)))
def test_any_job_has_either_turns_or_a_reason(thickness: float, width: float, inside: float, metal: str) -> None:
    sheet, material = rc.Sheet(thickness=thickness, width=width), rc.MATERIALS[metal]
    plan = rc.plan_cylinder(MACHINE, sheet, material, inside_diameter=inside)
    assert isinstance(plan, Plan)
    assert bool(plan.passes) != bool(plan.stopped)
    if plan.passes:
        last = plan.passes[-1]
        assert last.lowest_radius <= last.released_radius <= last.highest_radius
        assert last.chord <= LONGEST_CHORD * inside / 2
