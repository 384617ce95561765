"""Every number that lesson 06 says in words is worked out again here, and its derivation is the library's."""

import math
from dataclasses import replace
from pathlib import Path

import nbformat
import numpy as np
import pytest
import sympy as sp

import rollcalc as rc
from rollcalc.lessons.lesson06 import derivations as told
from rollcalc.lessons.lesson06 import panels as panels_passes
from rollcalc.rolling.effort import crank_work
from rollcalc.rolling.passes.plan import pass_settings

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "06_share_the_work.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "\n".join(output.get("text") or output["data"]["text/plain"]
                    for cell in BOOK.cells for output in cell.get("outputs", []))
METAL = "low-carbon steel, cold rolled"
STEEL, BODY, MACHINE = rc.MATERIALS[METAL], rc.Sheet(thickness=0.76, width=240), rc.DEMO_MACHINE
STAINLESS, THICK = rc.MATERIALS["stainless 304, annealed"], rc.Sheet(thickness=1.0, width=240)
LANTERN = 90.38
PINCH = f"{MACHINE.pinch_force:.0f} N"
PLAN = rc.pass_schedule(MACHINE, BODY, STEEL, LANTERN)
METAL_ALONE = [f"{one.crank_force_least:.1f}" for one in PLAN.passes]
WORK = rc.bending.plastic_work(BODY, STEEL, 1 / rc.loaded_radius(BODY, STEEL, LANTERN))
FLAT = rc.setting_for_radius(MACHINE, BODY, STEEL, LANTERN)
LAST = PLAN.passes[-1].turns_left
ONCE = rc.radius_for_travel(MACHINE, BODY, STEEL, LAST * 1.5)
SINGLE = rc.crank_effort(FLAT)
BEARINGS = SINGLE.crank_force - SINGLE.crank_force_least
SLOPES = rc.rolling.effort_slopes(BODY, STEEL, LANTERN)
CAPACITY = rc.check_capacity(MACHINE, THICK, STAINLESS, 60)


def joules(number: int) -> tuple[float, float]:
    """Return the first panel's work at the crank for the metal, and with the bearings. [J]"""
    metal, whole = crank_work(pass_settings(MACHINE, BODY, STEEL, 90.4, number))
    return metal / 1000, whole / 1000


def hardest(sheet: rc.Sheet, metal: rc.Material, radius: float, number: int) -> float:
    """Return the first panel's largest force at the crank. [N]"""
    return float(np.max(rc.crank_effort(pass_settings(MACHINE, sheet, metal, radius, number)).crank_force))


def cone(width: float) -> rc.rolling.Taper:
    """Return what one eighth between the screws makes, as in the second panel."""
    sheet = rc.Sheet(thickness=0.76, width=width)
    turns = rc.setting_for_radius(MACHINE, sheet, STEEL, 90.4).turns
    return rc.rolling.taper(MACHINE, sheet, STEEL, turns + 1 / 16, turns - 1 / 16)


TO_120 = rc.pass_schedule(MACHINE, BODY, STEEL, 120).passes
BEFORE = TO_120[1].released_radius
FURTHER = rc.radius_for_travel(MACHINE, BODY, STEEL, (TO_120[-1].turns_left + 0.125) * 1.5, entering_radius=BEFORE)


def turns_to_120(entering: float) -> float:
    """Return the turns of exercise 06.1 for a sheet that enters with a radius. [turns]"""
    return rc.setting_for_radius(MACHINE, BODY, STEEL, 120, entering_radius=entering).turns


SAID = [
    (f"Lesson 05 says {FLAT.turns:.2f} turns of the screws, from flat, pinched with 2500 N", "workshop"),
    (f"swallows {WORK:.0f} N mm of work: a pull of {WORK:.0f} N", "by hand, work"),
    (f"{WORK:.0f} / 2.5 = {WORK / 2.5:.0f} N", "by hand, share"),
    (f"makes {WORK / 25:.1f}, {WORK / 25:.1f} and {WORK / 50:.1f} N for the metal", "by hand, crank"),
    (f"Under the {PINCH} pinch curved sheet lies otherwise, so three passes end at {LAST} turns and not "
     f"at {FLAT.turns:.2f}. Set {LAST} on a *flat* sheet, and in one pass it comes out at {ONCE:.1f} mm", "curved"),
    (f"the metal alone asks {METAL_ALONE[0]}, {METAL_ALONE[1]} and {METAL_ALONE[2]} N", "crank of the table"),
    (f"pinched with {PINCH}, the bearings would take {BEARINGS:.0f} N of {SINGLE.crank_force:.0f}",
     "bearings"),
    (f"gives 120 mm instead of {PLAN.passes[1].released_radius:.0f}", "measured"),
    (f"takes {joules(1)[0]:.0f} J in one pass, and {joules(6)[0]:.0f} J in six. With the bearings, pinched "
     f"with {PINCH}, it is {joules(1)[1]:.0f} J in one pass, {joules(2)[1]:.0f} J in two and {joules(6)[1]:.0f} J in "
     "six", "panel 1, work"),
    (f"easier: {hardest(BODY, STEEL, 90.4, 1):.0f} N in one pass, {hardest(BODY, STEEL, 90.4, 6):.0f} N in six",
     "panel 1, force"),
    (f"Three, for this pinch: {hardest(THICK, STAINLESS, 60, 3):.0f} N instead of "
     f"{hardest(THICK, STAINLESS, 60, 1):.0f} N", "panel 1, stainless"),
    (f"here {100 * CAPACITY['bending moment'].ratio:.0f} % of what the plate allows", "panel 1, plate"),
    (f"thickness {SLOPES.by_thickness:.2f} %, width {SLOPES.by_width:.2f} %, yield {SLOPES.by_yield:.2f} %, tightness "
     f"{SLOPES.by_curvature:.2f} %", "slopes"),
    (f"Pinched with {PINCH}, {cone(240).radius_left:.2f} and {cone(240).radius_right:.2f} mm: half a millimetre",
     "panel 2, radii"),
    (f"gapes {cone(240).joint_mismatch:.2f} mm, and everybody", "panel 2, joint"),
    (f"Hardly: {cone(40).joint_mismatch:.2f} mm", "panel 2, strip"),
    (f"within {rc.rolling.tolerable_skew_degrees(LANTERN, 1):.1f}°", "square"),
    (f"A flat sheet needs {turns_to_120(math.inf):.2f} turns, one that has been through two passes "
     f"{turns_to_120(BEFORE):.2f}; that is rounded down, and leaves {TO_120[-1].released_radius:.1f} mm. The next "
     f"eighth would give {FURTHER:.1f} mm", "solution 06.1"),
    (f"π × {2 * LANTERN:.2f} = {2 * math.pi * LANTERN:.1f} mm. The slope: tan 0.3° = "
     f"{math.tan(math.radians(0.3)):.5f}", "solution 06.2"),
    (f"out the metal's work, {joules(1)[0]:.0f} J. With the bearings, pinched with {PINCH}: "
     f"{joules(2)[1]:.0f} J in two passes against {joules(1)[1]:.0f} J in one", "last section"),
    (f"At this pinch an eighth of a turn between the ends is {cone(240).joint_mismatch:.2f} mm at the joint "
     f"(240 mm wide), half a degree out of square {rc.rolling.seam_offset(LANTERN, 0.5):.0f} mm", "last section, ends"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_the_table_to_take_along_is_the_plan():
    assert repr(PLAN) in PRINTED
    for one in PLAN.passes:
        assert one.turns_left == one.turns_right == round(8 * one.turns_left) / 8


def test_what_was_measured_is_planned_anew_and_too_tight_has_its_remedy():
    for one, measured in zip(PLAN.passes[1:], (120, 84), strict=True):
        rest = rc.replanned(PLAN, one.turns_left, measured)
        assert repr(rest) in PRINTED
        assert rest.notes[0] in PRINTED


def test_two_turns_back_and_the_same_setting_again_change_nothing():
    assert "A ring of 84.0 mm, fed again with the screws two turns back, comes out at 84.0 mm" in PROSE
    turns = PLAN.passes[-1].turns_left
    for back in (turns, turns - 2):
        again = rc.radius_for_travel(MACHINE, BODY, STEEL, back * 1.5, entering_radius=84.0)
        assert again == pytest.approx(84.0, rel=1e-9)
    last = PLAN.passes[-1].released_radius
    again = rc.radius_for_travel(MACHINE, BODY, STEEL, turns * 1.5, entering_radius=last)
    assert again == pytest.approx(last, rel=1e-6)


def test_the_nips_are_told_as_they_are():
    shares, turns = [], []
    for real in (MACHINE.with_perfect_nip(), *(replace(MACHINE, pinch_force=force) for force in (5000, 2500, 1500))):
        last = rc.pass_schedule(real, BODY, STEEL, LANTERN).passes[-1]
        single = rc.radius_for_travel(real, BODY, STEEL, last.turns_left * 1.5)
        assert (f"{real.nip}: {last.turns_left} turns give R {last.released_radius:.1f} by passes, "
                f"R {single:.1f} in one") in PRINTED
        shares.append(last.released_radius / single - 1)
        turns.append(last.turns_left)
    assert shares[0] == pytest.approx(0, abs=1e-9)
    low, _, high = (round(100 * share) for share in shares[1:])
    said = (f"under a pinch of 5000 to 1500 N a single pass comes out {low} to {high} % tighter than the last of "
            f"several, and that last pass goes from {turns[1]} turns to {turns[-1]}; the perfect nip's {turns[0]} is "
            "for no real machine")
    assert said in PROSE


def test_on_a_pyramid_machine_passes_differ_far_more():
    pyramid = rc.PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                                working_width=1500, crank_radius=300, gear_ratio=40)
    last = rc.pass_schedule(pyramid, rc.Sheet(thickness=6, width=300), STEEL, 400, step_turns=0.01,
                            crank_limit=300).passes[-1]
    single = rc.radius_for_travel(pyramid, rc.Sheet(thickness=6, width=300), STEEL, last.turns_left * 6)
    assert last.released_radius > 1.3 * single
    assert "On a pyramid machine passes differ far more" in PROSE


def test_the_last_pass_bends_as_hard_as_a_single_one():
    settings = pass_settings(MACHINE, BODY, STEEL, LANTERN, 3)
    assert settings.loaded_radius[-1] == pytest.approx(FLAT.loaded_radius, rel=1e-9)
    assert settings.bending_roll_force[-1] == pytest.approx(FLAT.bending_roll_force, rel=0.02)


def test_a_crank_below_the_bearings_own_share_is_warned_of():
    plan = rc.pass_schedule(MACHINE, BODY, STEEL, LANTERN, crank_limit=20)
    assert plan.warnings[0] in PRINTED
    assert BEARINGS > 20


def test_a_joint_of_a_millimetre_allows_a_third_of_an_eighth():
    assert 0.25 < 8 * rc.rolling.tolerable_turns(MACHINE, BODY, STEEL, 90.4, 1) < 1 / 3
    assert "Less than a third of an eighth" in PROSE


@pytest.mark.parametrize("gears", [1, 3])
@pytest.mark.parametrize("number", [1, 2, 5])
def test_the_derived_forces_are_the_library_s(number, gears):
    """Shares, the metal's force in a pass, and all passes with bearings, whose load hardly changes with the pass."""
    machine = replace(MACHINE, gear_ratio=gears)
    effort = rc.crank_effort(pass_settings(machine, BODY, STEEL, LANTERN, number))
    steps = told.passes_share_the_work().steps
    given = {told.total: WORK, told.count: number, told.roll: 50, told.crank: 250, told.gears: gears}
    share = float(steps[4].equation.rhs.subs(given))
    drives = [share] * (number - 1) + [share / 2]
    assert effort.drive_force == pytest.approx(drives, rel=1e-9)
    forces = [float(steps[6].equation.rhs.subs({**given, told.drive: drive})) for drive in drives]
    assert effort.crank_force_least == pytest.approx(forces, rel=1e-9)
    bearings = float(np.mean(effort.crank_force - effort.crank_force_least))
    line = steps[7].equation.rhs.subs({**given, told.friction: bearings})
    assert float(np.sum(effort.crank_force)) == pytest.approx(float(line), rel=1e-9)


def test_the_formula_in_words_is_the_derived_one():
    assert r"\frac{W D}{2 i r} + n\,F_b" in PROSE
    words = told.total * told.roll / (2 * told.gears * told.crank) + told.count * told.friction
    assert sp.simplify(told.passes_share_the_work().result.rhs - words) == 0


def test_the_third_exercise_is_what_the_library_adds_up():
    effort = rc.crank_effort(pass_settings(MACHINE, BODY, STEEL, LANTERN, 5))
    assert float(np.sum(effort.crank_force)) == pytest.approx(9 + 5 * 26, abs=2)
    assert (round(SINGLE.crank_force_least), round(BEARINGS)) == (9, 26)
    assert f"The body is pinched with {PINCH}. In one pass the metal asks 9 N" in PROSE


def test_the_panels_name_the_machine_and_its_pinch(own_machine):
    assert panels_passes.passes().sentence.endswith(", a pinch of 2500 N.")
    mine = replace(MACHINE, name="my rolls", pinch_force=3000)
    own_machine(mine)
    panel = panels_passes.passes()
    assert panel.sentence.endswith("Machine: my rolls, a pinch of 3000 N.")
    exact = pass_settings(mine, BODY, STEEL, 90.4, 3)
    assert f"{exact.turns[0]:.2f}, {exact.turns[1]:.2f} and {exact.turns[2]:.2f} turns" in panel.sentence
    assert panels_passes.parallel().sentence.endswith("Machine: my rolls, a pinch of 3000 N.")
    own_machine(replace(mine, crank_radius=None))
    without = panels_passes.passes()
    assert "the machine has no crank_radius" in without.sentence
    assert without.problem
    panel.set(pass_count=3)
    with pytest.raises(rc.InputError, match=r"number of passes is 2\.5, but must be a whole number"):
        panels_passes.passes_picture("copper, soft", 0.6, 100, 2.5, "mm")


def test_the_captions_say_what_the_pictures_show_and_whose_width_it_is():
    from rollcalc.drawing.core.picture import Text
    from rollcalc.drawing.passes.zeroing_view import zeroing_view

    picture = panels_passes.parallel_picture(1, 240, 90.4, 1, "mm")
    drawn = [mark.words for mark in picture.marks if isinstance(mark, Text) and mark.words.startswith("R ")]
    assert len(drawn) == 2
    assert all(words in picture.sentence for words in drawn)
    assert all(step.words in zeroing_view(rc.rolling.zeroing_steps()).sentence for step in rc.rolling.zeroing_steps())
    assert ", 240.0 mm wide, in 3 passes" in panels_passes.passes().sentence


def test_the_start_of_a_ring_is_told_as_it_is_marched():
    ends = rc.flat_ends(MACHINE, BODY, STEEL, LANTERN)
    _trim, _turn, former, passes, turned = ends.remedies
    said = (f"{ends.leading:.0f} mm stay flat, and behind them the sheet is folded over the upper roll, "
            f"{ends.kink_ratio:.1f} times too tight")
    assert said in PROSE
    assert f"the last of three ends at {passes.kink_ratio:.1f}" in PROSE
    assert f"after each pass, and {turned.kink_ratio:.1f} is left" in PROSE
    assert former.kink_ratio < 1.05
    assert f"Pinched with {PINCH}, one full pass kinks" in PROSE
    cut = (f"Or make the blank {ends.trim + ends.trailing_trim:.0f} mm longer, and after one pass cut "
           f"{ends.trim:.0f} mm off the lead end, {ends.trailing_trim:.0f} off the other")
    assert cut in PROSE
    for shown in (ends, former, passes, turned):
        assert repr(shown) in PRINTED
