"""Passes: energy, limits, whole steps, and what to do when it comes out otherwise."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rollcalc.bending import loaded_curvature, plastic_work
from rollcalc.rolling import (
    DEMO_MACHINE,
    PyramidMachine,
    crank_effort,
    pass_schedule,
    radius_for_travel,
    radius_from_chord,
    replanned,
    setting_for_radius,
)
from rollcalc.rolling.passes.plan import pass_settings
from rollcalc.stock import MATERIALS, FlatBar, InputError, Material, RoundBar, Sheet, Stock

STEEL, BAR = MATERIALS["low-carbon steel, cold rolled"], MATERIALS["mild steel bar, hot rolled"]
BODY = Sheet(thickness=0.76, width=240)
LANTERN = [(BODY, STEEL, 90.38), (Sheet(thickness=0.8, width=100), MATERIALS["aluminium 3003-H14"], 80.4),
           (FlatBar(3, 25), BAR, 93.5),
           (RoundBar(6), BAR, 48.0), (Sheet(thickness=0.6, width=235), MATERIALS["stainless 304, annealed"], 37.8)]


@pytest.mark.parametrize(("stock", "metal", "radius"), LANTERN)
@pytest.mark.parametrize("fewest", [1, 3, 6])
def test_the_work_of_all_passes_is_the_plastic_work(stock: Stock, metal: Material, radius: float, fewest: int) -> None:
    """Force at the crank for the metal, times its way, over all passes; a blank of one turn of the rolls."""
    plan = pass_schedule(DEMO_MACHINE, stock, metal, radius, least_passes=fewest)
    hand = sum(step.crank_force_least for step in plan.passes) * 2 * math.pi * 250
    last = loaded_curvature(stock, metal, 1 / plan.passes[-1].released_radius)
    rolls = 44 if isinstance(stock, RoundBar) else 50  # the smaller of the two that turn together feeds
    assert hand == pytest.approx(plastic_work(stock, metal, last) * math.pi * rolls, rel=1e-9)


@pytest.mark.parametrize(("stock", "metal", "radius"), LANTERN)
def test_every_radius_is_the_solver_s_for_the_whole_steps_and_for_what_enters(
    stock: Stock, metal: Material, radius: float
) -> None:
    entering = math.inf
    for one in pass_schedule(DEMO_MACHINE, stock, metal, radius).passes:
        travel = one.turns_left * DEMO_MACHINE.screw_pitch
        there = radius_for_travel(DEMO_MACHINE, stock, metal, travel, entering_radius=entering)
        assert one.released_radius == pytest.approx(there, rel=1e-12)
        entering = one.released_radius
    assert radius * (1 - 1e-9) <= entering < radius * 1.05


@pytest.mark.parametrize(("stock", "metal", "radius"), LANTERN)
def test_one_pass_is_the_setting_rounded_down(stock: Stock, metal: Material, radius: float) -> None:
    (one,) = pass_schedule(DEMO_MACHINE, stock, metal, radius, least_passes=1, crank_limit=1000).passes
    turns = setting_for_radius(DEMO_MACHINE, stock, metal, radius).turns
    assert one.turns_left == math.floor(turns * 8) / 8


def test_the_turns_for_flat_stock_leave_curved_stock_larger() -> None:
    """2.5 kN: what gives 90.4 mm from flat gives 93.9 mm to a sheet that enters at 120 mm."""
    travel = setting_for_radius(DEMO_MACHINE, BODY, STEEL, 90.4).travel
    assert radius_for_travel(DEMO_MACHINE, BODY, STEEL, travel, entering_radius=120) == pytest.approx(93.9, abs=0.1)
    assert pass_schedule(DEMO_MACHINE, BODY, STEEL, 90.4).passes[-1].turns_left > travel / DEMO_MACHINE.screw_pitch


def test_with_a_real_nip_the_last_radius_is_as_wanted_and_near_that_of_a_single_pass() -> None:
    """Curved stock lies otherwise in an open nip, so there the two differ by a little."""
    for nip in ({"nip_slack": 0.02}, {"pinch_force": 3000.0}):
        machine = replace(DEMO_MACHINE.with_perfect_nip(), **nip)
        plan = pass_schedule(machine, BODY, STEEL, 90)
        single = radius_for_travel(machine, BODY, STEEL, plan.passes[-1].turns_left * machine.screw_pitch)
        assert plan.passes[-1].released_radius == pytest.approx(single, rel=0.06)
        assert 90 <= plan.passes[-1].released_radius < 92


def test_a_ring_takes_several_equal_passes_with_a_smaller_last_one() -> None:
    """Equal shares of the work (common practice, no source), as near as whole steps allow."""
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, 90.38, step_turns=1e-4, least_passes=5)
    drives = [step.drive_force for step in plan.passes]
    assert len(drives) == 5
    assert drives[:4] == pytest.approx([drives[0]] * 4, rel=5e-3)
    assert drives[4] == pytest.approx(drives[0] / 2, rel=2e-2)


@settings(max_examples=40)
@given(st.floats(0.4, 1.2), st.floats(30, 400), st.floats(40, 200), st.sampled_from([0.0625, 0.125, 0.25]),
       st.floats(20, 100), st.floats(0.01, 0.1))
def test_a_plan_is_never_too_tight_and_warns_of_every_pass_that_is_too_hard(
    thickness: float, width: float, radius: float, step: float, limit: float, friction: float
) -> None:
    machine = replace(DEMO_MACHINE, grip_friction=friction, pinch_force=6000)
    try:
        plan = pass_schedule(machine, Sheet(thickness=thickness, width=width), STEEL, radius, step_turns=step,
                             crank_limit=limit)
    except InputError as problem:
        said = str(problem)
        assert "but must be" in said
        assert "crank" not in said
        helps = ("pinch harder", "ask for a larger radius", "one step of the screws")
        assert any(words in said for words in helps)
        return
    turns = [one.turns_left for one in plan.passes]
    assert turns == sorted(set(turns))
    for one in plan.passes:
        assert one.pull <= one.grip * (1 + 1e-6)
        assert one.turns_left == one.turns_right
        assert one.turns_left / step == pytest.approx(round(one.turns_left / step), abs=1e-9)
    hard = [number for number, one in enumerate(plan.passes, 1) if one.crank_force > limit * (1 + 1e-6)]
    assert [int(said.split()[1]) for said in plan.warnings] == hard
    radii = [one.released_radius for one in plan.passes]
    assert radii == sorted(radii, reverse=True)
    assert radii[-1] >= radius * (1 - 1e-6)


def test_a_lower_limit_takes_more_passes() -> None:
    free, held = (pass_schedule(DEMO_MACHINE, Sheet(thickness=0.76, width=760), STEEL, 60,
                                crank_limit=limit) for limit in (200, 38))
    assert len(held.passes) > len(free.passes)
    assert free.warnings == ()


def test_a_crank_that_stays_hard_is_planned_with_a_warning_and_the_remedy() -> None:
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, 90, crank_limit=20)
    assert len(plan.passes) == 3  # the bearings alone ask for more, and one more pass would only cost another toll
    assert [said[:6] for said in plan.warnings] == ["Pass 1", "Pass 2", "Pass 3"]
    assert "more than the 20 N that are planned for: grease the bearings" in plan.warnings[0]
    heavy = pass_schedule(replace(DEMO_MACHINE, pinch_force=20_000), FlatBar(6, 50), BAR, 150, least_passes=1)
    assert "98 N of a short time" in heavy.warnings[0]
    assert all("never lengthen the crank" in said for said in (*plan.warnings, *heavy.warnings))
    assert pass_schedule(DEMO_MACHINE, BODY, STEEL, 90).warnings == ()


def test_unreachable_targets_say_why_and_what_would_help() -> None:
    with pytest.raises(
        InputError, match=r"drive force is .* or the rolls slip, even in \d+ passes: degrease the rolls"
    ):
        pass_schedule(replace(DEMO_MACHINE, grip_friction=0.0002), BODY, STEEL, 90)
    with pytest.raises(InputError, match="inside roll allows none below"):
        pass_schedule(DEMO_MACHINE, BODY, STEEL, 26)
    with pytest.raises(InputError, match="where the screws stop: ask for a larger radius"):
        pass_schedule(replace(DEMO_MACHINE, max_travel=10), BODY, STEEL, 90)
    with pytest.raises(InputError, match="no crank_radius"):
        pass_schedule(replace(DEMO_MACHINE, crank_radius=None), BODY, STEEL, 90)


@settings(max_examples=12)
@given(st.floats(2, 8), st.floats(300, 1200), st.floats(250, 700), st.sampled_from([0.02, 0.05, 0.125]))
@example(4.0, 900.0, 300.0, 0.125)
def test_rolls_that_slip_in_few_passes_take_as_many_as_grip(
    thickness: float, width: float, radius: float, step: float
) -> None:
    """On a crank that stays hard too: a plan is refused for grip only where none of the next counts would grip."""
    machine = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                             working_width=1500, crank_radius=300, gear_ratio=12)
    sheet = Sheet(thickness=thickness, width=width)
    try:
        plan = pass_schedule(machine, sheet, STEEL, radius, step_turns=step)
    except InputError as problem:
        if "slip" not in str(problem):
            return
        for number in range(3, 9):
            try:
                shares = pass_settings(machine, sheet, STEEL, radius, number)
            except InputError:
                continue
            efforts = crank_effort(shares)
            assert max(efforts.pull / efforts.grip) > 0.98  # whole steps may ask a little more of one pass
        return
    assert all(one.pull <= one.grip * (1 + 1e-6) for one in plan.passes)


def test_a_step_coarser_than_the_whole_way_says_so() -> None:
    with pytest.raises(InputError, match="one step of the screws"):
        pass_schedule(replace(DEMO_MACHINE, screw_pitch=50), BODY, STEEL, 90, step_turns=1)


def test_chord_and_rise_give_the_radius_back() -> None:
    for one in pass_schedule(DEMO_MACHINE, BODY, STEEL, 90).passes:
        assert radius_from_chord(one.chord, one.rise) == pytest.approx(one.released_radius, rel=1e-9)
    assert pass_schedule(DEMO_MACHINE, RoundBar(6), BAR, 48).passes[0].chord <= 1.2 * 48


def test_curved_stock_goes_on_from_where_it_is() -> None:
    whole = pass_schedule(DEMO_MACHINE, BODY, STEEL, 90)
    rest = pass_schedule(DEMO_MACHINE, BODY, STEEL, 90, entering_radius=150)
    assert rest.passes[-1].turns_left == whole.passes[-1].turns_left
    assert rest.passes[0].released_radius < 150
    assert sum(one.drive_force for one in rest.passes) < sum(one.drive_force for one in whole.passes)


def test_cranking_back_is_warned_of_without_a_number() -> None:
    notes = pass_schedule(DEMO_MACHINE, BODY, STEEL, 150).notes
    assert any("turning back does not open a ring" in note for note in notes)
    (warning,) = (note for note in notes if "Cranking back" in note)
    assert "much tighter, how much nobody can say" in warning
    assert not any(letter.isdigit() for letter in warning)


@pytest.mark.parametrize("nip", [{}, {"nip_slack": 0.02}, {"pinch_force": 3000.0}])
def test_settings_of_equal_shares_are_those_of_a_plan_in_tiny_steps(nip: dict[str, float]) -> None:
    machine = replace(DEMO_MACHINE.with_perfect_nip(), **nip)
    exact = pass_settings(machine, BODY, STEEL, 90, 4)
    plan = pass_schedule(machine, BODY, STEEL, 90, step_turns=1e-6, least_passes=4, crank_limit=1000)
    assert [one.turns_left for one in plan.passes] == pytest.approx(exact.turns, abs=1e-4)
    assert [one.released_radius for one in plan.passes] == pytest.approx(exact.released_radius, rel=1e-5)
    assert exact.drive_force[:3] == pytest.approx([exact.drive_force[0]] * 3, rel=1e-2)
    single = float(setting_for_radius(machine, BODY, STEEL, 90).drive_force)
    assert sum(exact.drive_force) == pytest.approx(single, rel=1e-9)
    with pytest.raises(InputError, match="number of passes is 0"):
        pass_settings(machine, BODY, STEEL, 90, 0)


# After measuring ----------------------------------------------------------------------------------------------------


def test_what_came_out_larger_is_planned_further_on_the_knobs() -> None:
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, 90)
    first = plan.passes[0]
    rest = replanned(plan, first.turns_left, first.released_radius * 1.3)
    assert rest.passes[-1].turns_left > plan.passes[-1].turns_left
    as_told = replanned(plan, first.turns_left, first.released_radius)
    assert as_told.passes[-1].turns_left == plan.passes[-1].turns_left


def test_the_plan_finds_a_touch_that_was_counted_wrong() -> None:
    """The screws read half a turn too much all along: the new plan still ends at the radius."""
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, 90, step_turns=0.01)
    came_out = math.inf
    for one in plan.passes[:2]:
        came_out = radius_for_travel(DEMO_MACHINE, BODY, STEEL, (one.turns_left - 0.5) * 1.5, entering_radius=came_out)
    rest = replanned(plan, plan.passes[1].turns_left, came_out)
    assert float(rest.notes[0].split(" turns later")[0].split()[-1]) == pytest.approx(0.5, abs=0.1)
    for one in rest.passes:
        came_out = radius_for_travel(DEMO_MACHINE, BODY, STEEL, (one.turns_left - 0.5) * 1.5, entering_radius=came_out)
    assert came_out == pytest.approx(90, rel=0.015)


def test_too_tight_gets_its_own_remedy_and_done_is_done() -> None:
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, 90)
    tight = replanned(plan, plan.passes[-1].turns_left, 84)
    assert tight.passes == ()
    assert "Turning the screws back does not open a ring" in tight.notes[0]
    for close in (90, 89.6, 90.4):  # within what a rule can read
        done = replanned(plan, plan.passes[-1].turns_left, close)
        assert (done.passes, done.notes[0][:31]) == ((), "Done: the radius is as wanted, ")
    assert replanned(plan, 11.5, 20).notes[0].startswith("Too tight: 20 mm")


@pytest.mark.parametrize("nip", [{"nip_slack": 0.02}, {"pinch_force": 3000.0}])
def test_a_measurement_that_agrees_moves_nothing_in_a_real_nip(nip: dict[str, float]) -> None:
    plan = pass_schedule(replace(DEMO_MACHINE.with_perfect_nip(), **nip), BODY, STEEL, 90)
    second = plan.passes[1]
    rest = replanned(plan, second.turns_left, second.released_radius)
    assert "0.00 turns" in rest.notes[0]
    assert rest.passes[-1].turns_left == plan.passes[-1].turns_left


def test_a_new_plan_keeps_limit_and_chord_and_says_its_own_end() -> None:
    plan = pass_schedule(DEMO_MACHINE, Sheet(thickness=0.76, width=760), STEEL, 60, crank_limit=62, chord=60)
    rest = replanned(plan, plan.passes[2].turns_left, plan.passes[2].released_radius * 1.05)
    assert rest.crank_limit == 62
    assert all(one.crank_force <= 62 and one.chord == 60 for one in rest.passes)
    last = rest.passes[-1]
    assert f"The last setting, {last.turns_left:g} turns, gives {last.released_radius:.4g} mm" in rest.notes[1]
    with pytest.raises(InputError, match="one step of the screws goes beyond"):
        replanned(pass_schedule(DEMO_MACHINE, BODY, STEEL, 90, step_turns=1), 11, 93)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [({"step_turns": 0}, "step of the screws is 0"), ({"crank_limit": -3}, "crank limit is -3 N"),
     ({"least_passes": 0}, "least passes is 0"), ({"chord": math.nan}, "chord is nan"),
     ({"step_turns": "1/8"}, "step of the")],
)
def test_nonsense_gets_a_sentence(arguments: dict[str, object], words: str) -> None:
    with pytest.raises(InputError) as caught:
        pass_schedule(DEMO_MACHINE, BODY, STEEL, 90, **arguments)  # type: ignore[arg-type]
    assert str(caught.value).startswith(words)


def test_a_pyramid_machine_has_plans_too() -> None:
    """Stock that is curved already lies lower between the bottom rolls: the last pass takes more than a single one."""
    machine = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                             working_width=1500, crank_radius=300, gear_ratio=40)
    plan = pass_schedule(machine, Sheet(thickness=6, width=300), STEEL, 400, step_turns=0.01, crank_limit=300)
    assert plan.passes[-1].released_radius == pytest.approx(400, rel=0.03)
    assert plan.passes[-1].turns_left > setting_for_radius(machine, Sheet(thickness=6, width=300), STEEL, 400).turns


def test_a_plan_says_what_one_more_step_would_leave():
    plan = pass_schedule(DEMO_MACHINE, Sheet(thickness=0.76, width=240),
                            MATERIALS["low-carbon steel, cold rolled"], 90.4)
    last = plan.passes[-1]
    further = radius_for_travel(plan.machine, plan.stock, plan.material, (last.turns_left + 0.125) * 1.5,
                                   entering_radius=last.released_radius)
    assert plan.notes[0].endswith(f"measure before the next 0.125 turn, which would leave about {further:.4g} mm.")
