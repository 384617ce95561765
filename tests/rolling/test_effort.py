"""Effort at the crank: energy in equals energy spent, and how it grows."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rollcalc.bending import loaded_curvature, plastic_work
from rollcalc.rolling import DEMO_MACHINE, PyramidMachine, crank_effort, crank_force_limit, setting_for_radius
from rollcalc.rolling.effort import KEEP_MOVING, KEPT_UP, SHORT_TIME_CEILING
from rollcalc.rolling.effort_slopes import effort_slopes
from rollcalc.stock import MATERIALS, FlatBar, InputError, RoundBar, Sheet

STEEL = MATERIALS["low-carbon steel, cold rolled"]
SHEET = Sheet(thickness=0.76, width=240)
PYRAMID = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                         working_width=1500, crank_radius=300, gear_ratio=12)


@pytest.mark.parametrize("machine", [DEMO_MACHINE, replace(DEMO_MACHINE, gear_ratio=3), PYRAMID])
def test_the_crank_does_the_plastic_work(machine: object) -> None:
    """Force times the way of the hand, for the feed of one turn of the rolls, against work per length times feed."""
    stock = SHEET if machine is not PYRAMID else Sheet(thickness=6, width=900)
    radius = 90 if machine is not PYRAMID else 400
    effort = crank_effort(setting_for_radius(machine, stock, STEEL, radius))  # type: ignore[arg-type]
    driven = machine.upper_roll_diameter if machine is not PYRAMID else machine.bottom_roll_diameter  # type: ignore[attr-defined]
    hand = effort.crank_force_least * 2 * math.pi * machine.crank_radius * machine.gear_ratio  # type: ignore[attr-defined]
    spent = plastic_work(stock, STEEL, loaded_curvature(stock, STEEL, 1 / radius)) * math.pi * driven
    assert hand == pytest.approx(spent, rel=1e-9)
    assert effort.work(math.pi * driven) == pytest.approx(spent, rel=1e-9)


def test_bearings_add_what_coulomb_says() -> None:
    """5 kN, μ 0.1, journals of 24 mm on both front rolls, crank of 250 mm: 48 N, and what the bending roll drags."""
    machine = replace(DEMO_MACHINE, pinch_force=5000)
    setting = setting_for_radius(machine, SHEET, STEEL, 90)
    effort = crank_effort(setting)
    loads = 5000 + setting.inside_roll_force + setting.bending_roll_force  # equal rolls: an idle one costs as much
    assert effort.crank_force - effort.crank_force_least == pytest.approx(0.1 * 12 * loads / 250)
    assert effort.crank_force - effort.crank_force_least == pytest.approx(50, rel=0.06)
    greased = crank_effort(setting_for_radius(replace(machine, bearing_friction=0.01), SHEET, STEEL, 90))
    assert greased.crank_force < effort.crank_force
    assert effort.grip == pytest.approx(0.1 * (5000 + setting.inside_roll_force))
    assert effort.pull - effort.drive_force == pytest.approx(0.1 * setting.bending_roll_force * 24 / 50)


@settings(max_examples=60)
@given(st.floats(30, 80), st.floats(30, 80), st.floats(30, 80), st.floats(0.02, 0.3), st.floats(0.02, 0.3))
def test_energy_in_is_energy_spent(upper: float, lower: float, bending: float, bearings: float, grip: float) -> None:
    """Kept books for one millimetre of feed: metal, each journal's rubbing, and the slip of the larger front roll."""
    machine = replace(DEMO_MACHINE, upper_roll_diameter=upper, lower_roll_diameter=lower, bearing_friction=bearings,
                      bending_roll_diameter=bending, grip_friction=grip, guide_distance=90, gear_ratio=2.5)
    setting = setting_for_radius(machine, SHEET, STEEL, 120)
    effort = crank_effort(setting)
    turn = 1 / (min(upper, lower) / 2)  # radians of both front rolls for a millimetre of feed by the smaller one
    spent = float(setting.drive_force)
    for load, angle in ((setting.front_roll_force, turn), (setting.inside_roll_force, turn),
                        (setting.bending_roll_force, 1 / (bending / 2))):
        spent += bearings * load * 12 * angle
    larger = setting.inside_roll_force if upper > lower else setting.front_roll_force
    spent += grip * larger * abs(upper - lower) / 2 * turn
    hand = effort.crank_force * 250 * 2.5 * turn
    assert hand == pytest.approx(spent, rel=1e-9)


def test_a_perfect_nip_has_no_pinch_to_load_its_bearings() -> None:
    setting = setting_for_radius(DEMO_MACHINE.with_perfect_nip(), SHEET, STEEL, 90)
    effort = crank_effort(setting)
    assert effort.grip == math.inf
    assert effort.crank_force - effort.crank_force_least == pytest.approx(0.1 * 12 * setting.bending_roll_force / 250)


def test_a_bar_in_a_groove_follows_the_thinner_roll_and_slips_on_the_other() -> None:
    setting = setting_for_radius(DEMO_MACHINE, RoundBar(6), MATERIALS["mild steel bar, hot rolled"], 48)
    effort = crank_effort(setting)
    assert effort.crank_force_least == pytest.approx(setting.drive_force * 22 / 250)
    unlike = 0.1 * setting.inside_roll_force * 3 / 250
    journals = 0.1 * 12 * (setting.front_roll_force + setting.inside_roll_force) / 250
    idle = 0.1 * setting.bending_roll_force * 24 / 44 * 22 / 250  # its journal stays as thick, its groove does not
    assert effort.crank_force == pytest.approx(effort.crank_force_least + unlike + journals + idle)


def test_the_lanterns_parts_take_the_design_numbers() -> None:
    """9 to 31 N at the crank for the metal alone."""
    bar, tight = MATERIALS["mild steel bar, hot rolled"], MATERIALS["stainless 304, annealed"]
    parts = [(SHEET, STEEL, 90.4), (FlatBar(3, 25), bar, 93.5), (RoundBar(6), bar, 48),
             (Sheet(thickness=0.6, width=235), tight, 37.8)]
    forces = [crank_effort(setting_for_radius(DEMO_MACHINE, *part)).crank_force_least for part in parts]
    assert all(8 < force < 32 for force in forces)


def test_a_machine_without_a_crank_says_so() -> None:
    setting = setting_for_radius(replace(DEMO_MACHINE, crank_radius=None), SHEET, STEEL, 90)
    with pytest.raises(InputError, match="no crank_radius"):
        crank_effort(setting)


def test_what_a_person_keeps_up_is_planned_for_where_a_machine_has_no_limit() -> None:
    assert crank_force_limit(DEMO_MACHINE) == KEPT_UP == 50
    assert crank_force_limit(replace(DEMO_MACHINE, crank_limit=60)) == 60
    assert pytest.approx(10 * 9.80665, abs=0.1) == SHORT_TIME_CEILING
    assert KEPT_UP < KEEP_MOVING["women"] < SHORT_TIME_CEILING < KEEP_MOVING["men"] * 1.01
    for people, kilograms in {"men": 10, "women": 7}.items():  # the guideline counts in kilograms, and rounds
        assert KEEP_MOVING[people] == pytest.approx(kilograms * 9.80665, rel=0.03)


@settings(max_examples=40)
@given(st.floats(0.5, 3), st.floats(20, 700), st.floats(40, 150))
def test_slopes_come_near_two_one_one_one_where_all_has_yielded(thickness: float, width: float, radius: float) -> None:
    slopes = effort_slopes(Sheet(thickness=thickness, width=width), STEEL, radius)
    assert slopes.by_width == pytest.approx(1, abs=1e-9)
    assert slopes.by_thickness == pytest.approx(2, abs=0.35)
    assert slopes.by_yield == pytest.approx(1, abs=0.25)
    assert slopes.by_curvature == pytest.approx(1, abs=0.25)


def test_a_perfectly_plastic_bar_bent_tight_has_the_slopes_exactly() -> None:
    metal = replace(MATERIALS["mild steel bar, hot rolled"], hardening_modulus=0.0)
    slopes = effort_slopes(FlatBar(10, 25), metal, 60)
    assert [slopes.by_thickness, slopes.by_width, slopes.by_yield, slopes.by_curvature] == pytest.approx(
        [2, 1, 1, 1], abs=0.02
    )
    assert effort_slopes(RoundBar(10), metal, 60).by_thickness == pytest.approx(3, abs=0.02)
    assert effort_slopes(RoundBar(10), metal, 60).by_width == 0
