"""A round bar goes through its groove in every function of the rolls, or is refused with the sentence that says why."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.rolling.limits.thickness import thickness_limits
from rollcalc.rolling.machine.grooves import machine_for
from rollcalc.rolling.passes.plan import pass_settings

MACHINE, STEEL, SIX = rc.DEMO_MACHINE, rc.MATERIALS["mild steel bar, hot rolled"], rc.RoundBar(6)
THERE = rc.grooved_machine(MACHINE, SIX)
BARE = replace(MACHINE, groove_diameters=(), groove_depths=(), groove_positions=())
PYRAMID = rc.PyramidMachine(
    top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6, working_width=1500
)
RADIUS, TRAVEL, FORCE = 48.0, 20.0, 500.0

ROLLED: dict[str, Callable[[Any, Any], Any]] = {
    "setting_for_radius": lambda machine, bar: rc.setting_for_radius(machine, bar, STEEL, RADIUS),
    "setting_for_travel": lambda machine, bar: rc.setting_for_travel(machine, bar, STEEL, TRAVEL),
    "radius_for_travel": lambda machine, bar: rc.radius_for_travel(machine, bar, STEEL, TRAVEL),
    "circle_radius": lambda machine, bar: rc.circle_radius(machine, bar, TRAVEL),
    "circle_travel": lambda machine, bar: rc.circle_travel(machine, bar, 60),
    "two_thirds_travel": lambda machine, bar: rc.rolling.two_thirds_travel(machine, bar, STEEL, RADIUS),
    "two_thirds_radius": lambda machine, bar: rc.rolling.two_thirds_radius(machine, bar, STEEL, TRAVEL),
    "pass_schedule": lambda machine, bar: rc.pass_schedule(machine, bar, STEEL, RADIUS),
    "pass_settings": lambda machine, bar: pass_settings(machine, bar, STEEL, RADIUS, 3),
    "roll_bow": lambda machine, bar: [rc.roll_bow(machine, bar, FORCE, roll=roll) for roll in ("bending", "lower")],
    "roll_stress": lambda machine, bar: [rc.rolling.roll_stress(machine, bar, FORCE, roll=roll)
                                         for roll in ("upper", "lower")],
    "flat_ends": lambda machine, bar: rc.flat_ends(machine, bar, STEEL, RADIUS),
    "taper": lambda machine, bar: rc.rolling.taper(machine, bar, STEEL, 16, 15.5),
    "clearance": lambda machine, bar: rc.rolling.limits.reach.clearance(machine, bar, TRAVEL),
    "usable_travel": lambda machine, bar: rc.rolling.usable_travel(machine, bar),
    "groove_for": lambda machine, bar: rc.groove_for(machine, bar),
    "grooved_machine": lambda machine, bar: rc.grooved_machine(machine, bar),
    "span_shape": lambda machine, bar: rc.span_shape(rc.setting_for_radius(machine, bar, STEEL, RADIUS)),
    "crank_effort": lambda machine, bar: rc.crank_effort(rc.setting_for_radius(machine, bar, STEEL, RADIUS)),
    "bowed_radii": lambda machine, bar: rc.rolling.bowed_radii(rc.setting_for_radius(machine, bar, STEEL, RADIUS)),
}
"""What can be asked about a round bar, by name."""

FLAT_ONLY: dict[str, Callable[[Any, Any], Any]] = {
    "tolerable_turns": lambda machine, bar: rc.rolling.tolerable_turns(machine, bar, STEEL, RADIUS, 1),
    "cone_setting": lambda machine, bar: rc.cone_setting(machine, bar, STEEL, 220, 160),
    "two_arc_travel": lambda machine, bar: rc.rolling.two_arc_travel(machine, bar, STEEL, 500),
    "thickness_limits": lambda machine, bar: thickness_limits(machine, bar, STEEL, RADIUS, np.array([25.0])),
}
"""What makes no sense for a round bar, and is refused whatever machine it is."""


def same(one: Any, other: Any) -> bool:
    """Return whether two answers agree in every number and word; machines agree where a 6 mm bar meets them alike."""
    if isinstance(one, rc.PinchMachine):
        return vars(machine_for(one, SIX)) == vars(machine_for(other, SIX))
    if is_dataclass(one):
        return type(one) is type(other) and all(
            same(getattr(one, field.name), getattr(other, field.name)) for field in fields(one)
        )
    if isinstance(one, list | tuple):
        return len(one) == len(other) and all(same(*pair) for pair in zip(one, other, strict=True))
    return bool(np.array_equal(one, other))


def test_every_function_that_takes_a_machine_and_a_piece_is_looked_at() -> None:
    """A new one must say here what it does with a round bar."""
    taking = {name for name in rc.__all__ if inspect.isfunction(getattr(rc, name))
              and {"machine", "stock"} <= set(inspect.signature(getattr(rc, name)).parameters)}
    assert taking <= {*ROLLED, *FLAT_ONLY, "check_capacity"}


@pytest.mark.parametrize("name", [*ROLLED, "check_capacity"])
def test_a_bar_meets_the_rolls_through_its_groove_and_once_only(name: str) -> None:
    ask = ROLLED.get(name, lambda machine, bar: rc.check_capacity(machine, bar, STEEL, RADIUS))
    assert same(ask(MACHINE, SIX), ask(THERE, SIX))


@pytest.mark.parametrize("name", ROLLED)
def test_a_bar_that_no_groove_takes_is_refused_with_the_largest(name: str) -> None:
    for machine in (MACHINE, THERE):
        with pytest.raises(rc.InputError, match=r"bar diameter is 20 mm, but must be at most 8 mm, the largest groove"):
            ROLLED[name](machine, rc.RoundBar(20))
    for machine in (BARE, PYRAMID):
        with pytest.raises(rc.InputError, match=r"has no grooves|must be a PinchMachine"):
            ROLLED[name](machine, SIX)


@pytest.mark.parametrize("name", FLAT_ONLY)
def test_what_a_bar_cannot_have_is_refused(name: str) -> None:
    for machine in (MACHINE, THERE, BARE, PYRAMID):
        for bar in (SIX, rc.RoundBar(20)):
            with pytest.raises(rc.InputError, match=r"groove|Sheet or a FlatBar|sheet or flat bar|rule"):
                FLAT_ONLY[name](machine, bar)


def test_the_capacity_of_a_bar_without_a_groove_is_a_verdict() -> None:
    for machine, bar, words in (
        (MACHINE, rc.RoundBar(20), "20 of 8 mm"),
        (THERE, rc.RoundBar(20), "20 of 8 mm"),
        (BARE, SIX, "there is none"),
        (PYRAMID, SIX, "there is none"),
    ):
        found = rc.check_capacity(machine, bar, STEEL, RADIUS)
        assert found.word == "beyond the machine's rating"
        assert found["groove"].exceeded == 2
        assert words in found["groove"].message
        assert found.setting.travel == float("inf")


def test_the_capacity_s_setting_is_the_setting() -> None:
    found = rc.check_capacity(MACHINE, SIX, STEEL, RADIUS)
    assert same(found.setting, rc.setting_for_radius(MACHINE, SIX, STEEL, RADIUS))


def test_the_rolls_meet_beside_the_groove_where_they_are_thicker() -> None:
    """At the usable travel the plain faces touch: centres two plain radii apart."""
    travel = rc.rolling.usable_travel(MACHINE, SIX)
    there, upper = THERE.bending_roll_centre(6, travel), THERE.upper_roll_centre(6)
    assert np.hypot(there[0] - upper[0], there[1] - upper[1]) == pytest.approx(50, abs=1e-6)
    assert rc.rolling.limits.reach.clearance(MACHINE, SIX, travel) == pytest.approx(0, abs=1e-6)


def test_a_groove_chosen_by_hand_is_kept_and_a_bar_that_does_not_go_in_is_told_which_does() -> None:
    _, for_six, for_eight = rc.rolling.grooves(MACHINE)
    wide = rc.grooved_machine(MACHINE, SIX, for_eight)
    assert rc.setting_for_radius(wide, SIX, STEEL, RADIUS).machine is wide
    assert vars(rc.grooved_machine(wide, SIX, for_six)) == vars(THERE)
    assert rc.rolling.grooves(wide) == rc.rolling.grooves(MACHINE)
    with pytest.raises(rc.InputError, match=r"must be 3 to 6 mm in the groove for 6 mm: take the groove for 8 mm"):
        rc.setting_for_radius(THERE, rc.RoundBar(7), STEEL, RADIUS)


def test_flat_stock_lies_beside_the_groove() -> None:
    band = rc.FlatBar(3, 25)
    plain, beside = (rc.setting_for_radius(machine, band, STEEL, 93.5) for machine in (MACHINE, THERE))
    assert beside.travel == pytest.approx(plain.travel, rel=1e-12)
    assert rc.roll_bow(THERE, band, FORCE) == pytest.approx(rc.roll_bow(MACHINE, band, FORCE), rel=1e-12)
    found = [rc.check_capacity(machine, band, STEEL, 93.5) for machine in (MACHINE, THERE)]
    assert str(found[0]) == str(found[1])


def test_each_screw_counts_at_the_groove_by_how_near_it_is() -> None:
    """One more turn of the near screw moves the rolls at the bar nearly a turn, of the far one next to nothing."""
    share = 0.5 + 357 / 820
    out = rc.rolling.taper(MACHINE, SIX, STEEL, 15, 16)
    there = rc.radius_for_travel(MACHINE, SIX, STEEL, (15 + share) * MACHINE.screw_pitch)
    assert out.radius_right < there < out.radius_left
    assert (out.radius_left + out.radius_right) / 2 == pytest.approx(there, rel=1e-4)
    assert rc.rolling.taper(MACHINE, SIX, STEEL, 16, 15).radius_left > out.radius_left
    assert rc.rolling.taper(MACHINE, SIX, STEEL, 16, 16).half_angle == 0
