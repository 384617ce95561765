"""A round bar goes through its groove in every function, or is refused with the largest groove."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.rolling import pass_settings

STEEL, BAR, THICK = rc.MATERIALS["mild steel bar, hot rolled"], rc.RoundBar(6), rc.RoundBar(20)
MACHINE = rc.DEMO_MACHINE
GROOVED = rc.grooved_machine(MACHINE, BAR)
BARE = replace(MACHINE, groove_diameters=(), groove_depths=(), groove_positions=())
PYRAMID = rc.PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                            working_width=1500, crank_radius=300)  # fmt: skip

CALLS: dict[str, Callable[[Any, Any], Any]] = {
    "setting_for_radius": lambda machine, bar: rc.setting_for_radius(machine, bar, STEEL, 60).travel,
    "setting_for_travel": lambda machine, bar: rc.setting_for_travel(machine, bar, STEEL, 20).released_radius,
    "radius_for_travel": lambda machine, bar: rc.radius_for_travel(machine, bar, STEEL, 20),
    "circle_radius": lambda machine, bar: rc.circle_radius(machine, bar, 20),
    "circle_travel": lambda machine, bar: rc.circle_travel(machine, bar, 60),
    "two_thirds_travel": lambda machine, bar: rc.two_thirds_travel(machine, bar, STEEL, 60),
    "two_thirds_radius": lambda machine, bar: rc.two_thirds_radius(machine, bar, STEEL, 20),
    "clearance": lambda machine, bar: rc.clearance(machine, bar, 20),
    "usable_travel": rc.usable_travel,
    "roll_bow": lambda machine, bar: rc.roll_bow(machine, bar, 1000),
    "roll_stress": lambda machine, bar: rc.roll_stress(machine, bar, 1000),
    "pass_schedule": lambda machine, bar: [one.turns_left for one in rc.pass_schedule(machine, bar, STEEL, 60).passes],
    "pass_settings": lambda machine, bar: pass_settings(machine, bar, STEEL, 60, 3).travel,
    "taper": lambda machine, bar: rc.taper(machine, bar, STEEL, 13, 12.9).joint_mismatch,
    "tolerable_turns": lambda machine, bar: rc.tolerable_turns(machine, bar, STEEL, 60, 1),
    "flat_ends": lambda machine, bar: rc.flat_ends(machine, bar, STEEL, 60).leading,
    "span_shape": lambda machine, bar: rc.span_shape(rc.setting_for_radius(machine, bar, STEEL, 60)).y,
    "crank_effort": lambda machine, bar: rc.crank_effort(rc.setting_for_radius(machine, bar, STEEL, 60)).crank_force,
}


@pytest.mark.parametrize("name", CALLS)
def test_a_bar_lies_in_its_groove_and_only_once(name: str) -> None:
    """The machine as the bar meets it gives the same again: no roll is thinned twice."""
    found, again = (np.asarray(CALLS[name](machine, BAR)) for machine in (MACHINE, GROOVED))
    assert found == pytest.approx(again, rel=1e-12)


@pytest.mark.parametrize("name", CALLS)
def test_a_bar_too_thick_for_every_groove_is_refused(name: str) -> None:
    with pytest.raises(rc.InputError, match=r"bar diameter is 20 mm, but must be at most 8 mm, the largest groove"):
        CALLS[name](MACHINE, THICK)


@pytest.mark.parametrize("name", [name for name in CALLS if not name.startswith("two_thirds")])
@pytest.mark.parametrize("machine", [BARE, PYRAMID], ids=["bare", "pyramid"])
def test_without_grooves_no_round_bar_is_rolled(name: str, machine: rc.Machine) -> None:
    with pytest.raises(rc.InputError, match="the machine has no grooves, and a round bar must lie in one"):
        CALLS[name](machine, BAR)


def test_capacity_refuses_by_the_groove_and_gives_no_turns() -> None:
    for machine, bar, words in ((MACHINE, THICK, "20 mm of 8 mm"), (BARE, BAR, "there is none")):
        found = rc.check_capacity(machine, bar, STEEL, 60)
        assert str(found.word).startswith("beyond")
        assert words in found["groove"].message
        assert np.isinf(found.setting.travel)
    fits = rc.check_capacity(MACHINE, BAR, STEEL, 60)
    assert fits.setting.travel == rc.setting_for_radius(MACHINE, BAR, STEEL, 60).travel


def test_the_rolls_meet_beside_the_groove_where_they_are_thicker() -> None:
    """At the usable travel the plain faces touch: centres two plain radii apart."""
    travel = rc.usable_travel(MACHINE, BAR)
    x, y = GROOVED.bending_roll_centre(6, travel)
    upper = GROOVED.upper_roll_centre(6)
    assert np.hypot(x - upper[0], y - upper[1]) == pytest.approx(50, abs=1e-6)
    assert rc.clearance(MACHINE, BAR, travel) == pytest.approx(0, abs=1e-6)
