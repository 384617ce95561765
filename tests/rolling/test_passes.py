"""Passes: energy, limits, whole steps, and what to do when it comes out otherwise."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rollcalc.bending import loaded_curvature, plastic_work
from rollcalc.rolling import (
    DEMO_MACHINE,
    PyramidMachine,
    pass_schedule,
    pass_settings,
    radius_for_travel,
    radius_from_chord,
    replanned,
    setting_for_radius,
)
from rollcalc.stock import MATERIALS, FlatBar, InputError, Material, RoundBar, Sheet, Stock

STEEL, BAR = MATERIALS["low-carbon steel, cold rolled"], MATERIALS["mild steel bar, hot rolled"]
BODY = Sheet(0.76, 240)
LANTERN = [(BODY, STEEL, 90.38), (Sheet(0.8, 100), MATERIALS["aluminium 3003-H14"], 80.4), (FlatBar(3, 25), BAR, 93.5),
           (RoundBar(6), BAR, 48.0), (Sheet(0.6, 235), MATERIALS["stainless 304, annealed"], 37.8)]  # fmt: skip


@pytest.mark.parametrize(("stock", "metal", "radius"), LANTERN)
@pytest.mark.parametrize("fewest", [1, 3, 6])
def test_the_work_of_all_passes_is_the_plastic_work(stock: Stock, metal: Material, radius: float, fewest: int) -> None:
    """Force at the crank for the metal, times its way, over all passes; a blank of one turn of the rolls."""
    plan = pass_schedule(DEMO_MACHINE, stock, metal, radius, least_passes=fewest)
    hand = sum(step.crank_force_least for step in plan.passes) * 2 * math.pi * 250
    last = loaded_curvature(stock, metal, 1 / plan.passes[-1].released_radius)
    assert hand == pytest.approx(plastic_work(stock, metal, last) * math.pi * 50, rel=1e-9)


@pytest.mark.parametrize(("stock", "metal", "radius"), LANTERN)
def test_the_last_radius_is_that_of_a_single_pass(stock: Stock, metal: Material, radius: float) -> None:
    plan = pass_schedule(DEMO_MACHINE, stock, metal, radius)
    travel = plan.passes[-1].turns_left * DEMO_MACHINE.screw_pitch
    single = radius_for_travel(DEMO_MACHINE, stock, metal, travel)
    assert plan.passes[-1].released_radius == pytest.approx(single, rel=1e-9)
    assert radius * (1 - 1e-9) <= plan.passes[-1].released_radius < radius * 1.05


def test_with_a_real_nip_the_last_radius_is_as_wanted_and_near_that_of_a_single_pass() -> None:
    """Curved stock lies otherwise in an open nip, so there the two differ by a little."""
    for nip in ({"nip_slack": 0.02}, {"pinch_force": 3000.0}):
        machine = replace(DEMO_MACHINE, **nip)
        plan = pass_schedule(machine, BODY, STEEL, 90)
        single = radius_for_travel(machine, BODY, STEEL, plan.passes[-1].turns_left * machine.screw_pitch)
        assert plan.passes[-1].released_radius == pytest.approx(single, rel=0.05)
        assert 90 <= plan.passes[-1].released_radius < 92


def test_a_ring_takes_several_equal_passes_with_a_smaller_last_one() -> None:
    """Equal shares of the work (common practice, no source), as near as whole steps allow."""
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, 90.38, step_turns=1e-4, least_passes=5)
    drives = [step.drive_force for step in plan.passes]
    assert len(drives) == 5
    assert drives[:4] == pytest.approx([drives[0]] * 4, rel=2e-3)
    assert drives[4] == pytest.approx(drives[0] / 2, rel=5e-3)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.4, 1.2), st.floats(30, 600), st.floats(40, 200), st.sampled_from([0.0625, 0.125, 0.25]),
       st.floats(58, 100), st.floats(0.01, 0.1))  # fmt: skip
def test_no_plan_goes_beyond_its_limits_or_else_says_what_would_help(
    thickness: float, width: float, radius: float, step: float, limit: float, friction: float
) -> None:
    machine = replace(DEMO_MACHINE, grip_friction=friction)
    try:
        plan = pass_schedule(machine, Sheet(thickness, width), STEEL, radius, step, crank_limit=limit)
    except InputError as problem:
        said = str(problem)
        assert "but must be" in said
        helps = ("take smaller steps", "ask for a larger radius", "one step of the screws")
        assert any(words in said for words in helps)
        return
    turns = [one.turns_left for one in plan.passes]
    assert turns == sorted(set(turns))
    for one in plan.passes:
        assert one.crank_force <= limit * (1 + 1e-6)
        assert one.drive_force <= one.grip * (1 + 1e-6)
        assert one.turns_left == one.turns_right
        assert one.turns_left / step == pytest.approx(round(one.turns_left / step), abs=1e-9)
    radii = [one.released_radius for one in plan.passes]
    assert radii == sorted(radii, reverse=True)
    assert radii[-1] >= radius * (1 - 1e-6)


def test_a_lower_limit_takes_more_passes() -> None:
    free, held = (pass_schedule(DEMO_MACHINE, Sheet(0.76, 760), STEEL, 60, crank_limit=limit) for limit in (200, 62))
    assert len(held.passes) > len(free.passes)


def test_unreachable_targets_say_why_and_what_would_help() -> None:
    with pytest.raises(InputError, match=r"crank limit is 40 N, but must be above the 48\.\d N that the bearings"):
        pass_schedule(DEMO_MACHINE, BODY, STEEL, 90, crank_limit=40)
    with pytest.raises(InputError, match=r"crank force is .* but must be at most 55 N, even in .* take smaller steps"):
        pass_schedule(DEMO_MACHINE, Sheet(1.2, 400), STEEL, 60, step_turns=2, crank_limit=55)
    with pytest.raises(InputError, match=r"drive force is .* or the rolls slip; pinch harder; even in"):
        pass_schedule(replace(DEMO_MACHINE, grip_friction=0.0002), BODY, STEEL, 90)
    with pytest.raises(InputError, match="inside roll allows none below"):
        pass_schedule(DEMO_MACHINE, BODY, STEEL, 26)
    with pytest.raises(InputError, match="where the screws stop: ask for a larger radius"):
        pass_schedule(replace(DEMO_MACHINE, max_travel=10), BODY, STEEL, 90)
    with pytest.raises(InputError, match="no crank_radius"):
        pass_schedule(replace(DEMO_MACHINE, crank_radius=None), BODY, STEEL, 90)


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


def test_cranking_back_is_warned_of_with_one_step_more() -> None:
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, 150)
    notes = plan.notes
    assert any("turning back does not open a ring" in note for note in notes)
    travel = (plan.passes[-1].turns_left + 0.125) * DEMO_MACHINE.screw_pitch
    forward, back = (radius_for_travel(DEMO_MACHINE, BODY, STEEL, travel, feed=feed,
                                       entering_radius=plan.passes[-1].released_radius)
                     for feed in ("forward", "return"))  # fmt: skip
    assert back < 0.8 * forward
    warning = next(note for note in notes if "Cranking back" in note)
    assert f"to {back:.3g} mm, where feeding forward gives {forward:.3g} mm (computed, not measured)" in warning


@pytest.mark.parametrize("nip", [{}, {"nip_slack": 0.02}, {"pinch_force": 3000.0}])
def test_settings_of_equal_shares_are_those_of_a_plan_in_tiny_steps(nip: dict[str, float]) -> None:
    machine = replace(DEMO_MACHINE, **nip)
    exact = pass_settings(machine, BODY, STEEL, 90, 4)
    plan = pass_schedule(machine, BODY, STEEL, 90, step_turns=1e-6, least_passes=4)
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
    dialled = plan.passes[1].turns_left
    came_out = radius_for_travel(DEMO_MACHINE, BODY, STEEL, (dialled - 0.5) * 1.5)
    rest = replanned(plan, dialled, came_out)
    assert "0.50 turns later" in rest.notes[0]
    ends = radius_for_travel(DEMO_MACHINE, BODY, STEEL, (rest.passes[-1].turns_left - 0.5) * 1.5)
    assert ends == pytest.approx(90, rel=3e-3)
    assert rest.passes[-1].released_radius == pytest.approx(ends, rel=1e-6)


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
    plan = pass_schedule(replace(DEMO_MACHINE, **nip), BODY, STEEL, 90)
    second = plan.passes[1]
    rest = replanned(plan, second.turns_left, second.released_radius)
    assert "0.00 turns" in rest.notes[0]
    assert rest.passes[-1].turns_left == plan.passes[-1].turns_left


def test_a_new_plan_keeps_limit_and_chord_and_says_its_own_end() -> None:
    plan = pass_schedule(DEMO_MACHINE, Sheet(0.76, 760), STEEL, 60, crank_limit=62, chord=60)
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
)  # fmt: skip
def test_nonsense_gets_a_sentence(arguments: dict[str, object], words: str) -> None:
    with pytest.raises(InputError) as caught:
        pass_schedule(DEMO_MACHINE, BODY, STEEL, 90, **arguments)  # type: ignore[arg-type]
    assert str(caught.value).startswith(words)


def test_a_pyramid_machine_has_plans_too() -> None:
    """Stock that is curved already lies lower between the bottom rolls: the last pass takes more than a single one."""
    machine = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                             working_width=1500, crank_radius=300, gear_ratio=40)  # fmt: skip
    plan = pass_schedule(machine, Sheet(6, 300), STEEL, 400, 0.01, crank_limit=300)
    assert plan.passes[-1].released_radius == pytest.approx(400, rel=0.03)
    assert plan.passes[-1].turns_left > setting_for_radius(machine, Sheet(6, 300), STEEL, 400).turns
