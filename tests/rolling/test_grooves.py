"""Bars in grooves: which fits, and what the rolls are worth in it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from rollcalc.rolling import (
    DEMO_MACHINE,
    PyramidMachine,
    check_capacity,
    groove_for,
    grooved_machine,
    grooves,
    setting_for_radius,
)
from rollcalc.stock import MATERIALS, FlatBar, InputError, RoundBar, Sheet

BAR = MATERIALS["mild steel bar, hot rolled"]


def test_the_smallest_groove_that_is_large_enough() -> None:
    for diameter, groove in ((2.5, 5), (5, 5), (5.1, 6), (6, 6), (7, 8), (8, 8)):
        assert groove_for(DEMO_MACHINE, RoundBar(diameter)).diameter == groove
    with pytest.raises(InputError, match=r"bar diameter is 8\.1 mm, but must be at most 8 mm, the largest groove"):
        groove_for(DEMO_MACHINE, RoundBar(8.1))
    with pytest.raises(InputError, match="has no grooves"):
        groove_for(replace(DEMO_MACHINE, groove_diameters=(), groove_depths=(), groove_positions=()), RoundBar(5))
    with pytest.raises(InputError, match="must be one round bar"):
        groove_for(DEMO_MACHINE, FlatBar(3, 25))


def test_a_thin_bar_that_sinks_in_is_not_held() -> None:
    """Where a groove is deeper than the bar is thick, the front rolls meet first: there is no grip on the bar."""
    with pytest.raises(InputError, match=r"bar diameter is 2 mm, but must be at least 2\.5 mm: it sinks in"):
        groove_for(DEMO_MACHINE, RoundBar(2))
    both = replace(DEMO_MACHINE, grooved_rolls="upper, lower, bending")
    assert groove_for(both, RoundBar(5)).diameter == 5
    with pytest.raises(InputError, match=r"at least 5 mm: it sinks in so far that the front rolls meet"):
        groove_for(both, RoundBar(4.9))
    shallow = replace(DEMO_MACHINE, groove_depths=(2.5, 1.5, 4))
    assert groove_for(shallow, RoundBar(2)).diameter == 6
    verdict = check_capacity(DEMO_MACHINE, RoundBar(2), BAR, 48)
    assert verdict.word == "beyond the machine's rating"
    assert "the front rolls meet before they grip the bar" in verdict["groove"].message
    assert "none of the grooves for 5, 6, 8 mm fits" in verdict["groove"].message


def test_a_groove_chosen_by_hand_must_hold_the_bar() -> None:
    for_five, for_six, for_eight = grooves(DEMO_MACHINE)
    assert vars(grooved_machine(DEMO_MACHINE, RoundBar(6), for_six)) == vars(grooved_machine(DEMO_MACHINE, RoundBar(6)))
    assert grooved_machine(DEMO_MACHINE, RoundBar(6), for_eight).lower_roll_diameter == 42
    with pytest.raises(InputError, match=r"must be 2\.5 to 5 mm in the groove for 5 mm: take the groove for 6 mm"):
        grooved_machine(DEMO_MACHINE, RoundBar(6), for_five)
    with pytest.raises(InputError, match=r"must be 4 to 8 mm in the groove for 8 mm: take the groove for 5 mm"):
        grooved_machine(DEMO_MACHINE, RoundBar(3.5), for_eight)


def test_grooves_without_depths_are_half_round() -> None:
    plain = replace(DEMO_MACHINE, groove_depths=(), groove_positions=())
    assert [groove.depth for groove in grooves(plain)] == [2.5, 3, 4]
    assert [groove.position for groove in grooves(plain)] == [None] * 3
    mixed = replace(DEMO_MACHINE, groove_diameters=(8, 5, 6), groove_depths=(3, 1, 2), groove_positions=(1, 2, 3))
    assert [(one.diameter, one.depth, one.position) for one in grooves(mixed)] == [(5, 1, 2), (6, 2, 3), (8, 3, 1)]


def test_the_bottom_of_the_groove_is_the_roll() -> None:
    """A bar on the bottom of both grooves keeps the nip's two rolls d + 2 R − e_l apart, axle to axle."""
    machine = grooved_machine(DEMO_MACHINE, RoundBar(6))
    assert (machine.upper_roll_diameter, machine.lower_roll_diameter, machine.bending_roll_diameter) == (50, 44, 44)
    upper, lower = machine.upper_roll_centre(6)[1], machine.lower_roll_centre(6)[1]
    assert upper - lower == pytest.approx(25 + 22 + 6)
    one = grooved_machine(replace(DEMO_MACHINE, grooved_rolls="upper"), RoundBar(6))
    assert (one.upper_roll_diameter, one.lower_roll_diameter, one.guide_distance) == (44, 50, 60)


def test_the_bending_roll_stays_on_its_guide() -> None:
    """Touching the bar, it stands on the same straight guide as when it touches a sheet of the same thickness."""
    machine = grooved_machine(DEMO_MACHINE, RoundBar(6))
    flat, grooved = DEMO_MACHINE.bending_roll_centre(6, 0.0), machine.bending_roll_centre(6, 0.0)
    right, up = DEMO_MACHINE.guide_direction
    across = (grooved[0] - flat[0]) * up - (grooved[1] - flat[1]) * right
    assert across == pytest.approx(0, abs=1e-12)
    assert grooved[1] - flat[1] == pytest.approx(3)
    assert machine.guide_distance == pytest.approx(60 + 3 / math.tan(math.radians(110)))


def test_a_deeper_groove_in_the_inside_roll_allows_a_tighter_ring() -> None:
    cut = replace(DEMO_MACHINE, grooved_rolls="upper, lower, bending")
    assert setting_for_radius(grooved_machine(cut, RoundBar(6)), RoundBar(6), BAR, 27).travel > 0
    with pytest.raises(InputError, match="inside roll allows none below"):
        setting_for_radius(DEMO_MACHINE, RoundBar(6), BAR, 27)


def test_the_check_looks_at_the_bar_where_its_groove_is() -> None:
    there = check_capacity(DEMO_MACHINE, RoundBar(6), BAR, 48)
    middle = check_capacity(replace(DEMO_MACHINE, groove_positions=()), RoundBar(6), BAR, 48)
    assert there["roll bending"].ratio < 0.5 * middle["roll bending"].ratio
    assert any("climb out of its groove" in said for said in there.cautions)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"groove_depths": (1, 2)}, "groove depths has 2 numbers, but must have 3"),
        ({"groove_positions": (100,)}, "groove positions has 1 numbers"),
        ({"groove_depths": (1, 2, 30)}, "groove depths has 30 mm"),
    ],
)
def test_grooves_that_make_no_sense_get_a_sentence(fields: dict[str, object], words: str) -> None:
    with pytest.raises(InputError) as caught:
        grooves(replace(DEMO_MACHINE, **fields))
    assert str(caught.value).startswith(words)


@pytest.mark.parametrize("rolls", ["", "rear", "upper, upper", 3, None])
def test_only_the_three_rolls_can_have_grooves(rolls: object) -> None:
    with pytest.raises(InputError, match="grooved rolls is"):
        replace(DEMO_MACHINE, grooved_rolls=rolls)


def test_sheet_and_pyramids_have_nothing_to_do_with_grooves() -> None:
    pyramid = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                             working_width=1500)
    assert grooves(pyramid) == ()
    assert all("groove" not in check.name for check in check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=240),
                                                                      BAR, 90).checks)
