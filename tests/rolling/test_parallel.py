"""Screws that differ, sheets askew, and the pinch: what each does to a ring."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rollcalc.rolling import (
    DEMO_MACHINE,
    radius_for_travel,
    seam_offset,
    setting_for_radius,
    taper,
    tolerable_skew_degrees,
    tolerable_turns,
    zeroing_steps,
)
from rollcalc.stock import MATERIALS, InputError, Sheet

STEEL = MATERIALS["low-carbon steel, cold rolled"]
BODY = Sheet(thickness=0.76, width=240)


def test_equal_turns_give_a_cylinder_and_unequal_a_cone() -> None:
    """Common practice, no source."""
    even = taper(DEMO_MACHINE, BODY, STEEL, 11.6, 11.6)
    assert (even.half_angle, even.joint_mismatch) == (0, 0)
    assert even.radius_left == pytest.approx(radius_for_travel(DEMO_MACHINE, BODY, STEEL, 11.6 * 1.5))
    uneven = taper(DEMO_MACHINE, BODY, STEEL, 11.7, 11.5)
    assert uneven.radius_left < even.radius_left < uneven.radius_right
    assert uneven.half_angle > 0


def test_the_cone_and_the_joint_are_geometry() -> None:
    out = taper(DEMO_MACHINE, BODY, STEEL, 12, 11)
    travel = [(11.5 + side * 0.5 * 240 / 820) * 1.5 for side in (1, -1)]
    radii = [radius_for_travel(DEMO_MACHINE, BODY, STEEL, one) for one in travel]
    assert [out.radius_left, out.radius_right] == pytest.approx(radii, rel=1e-12)
    assert math.tan(out.half_angle) == pytest.approx((radii[1] - radii[0]) / 240, rel=1e-12)
    assert out.joint_mismatch == pytest.approx(2 * math.pi * (radii[1] - radii[0]), rel=1e-12)


@settings(max_examples=15)
@given(st.floats(0.2, 8), st.floats(50, 150), st.floats(60, 700))
def test_the_tolerable_difference_gives_the_gap_about_the_wanted_radius(gap: float, radius: float, width: float) -> (
    None
):
    sheet = Sheet(thickness=0.76, width=width)
    allowed = tolerable_turns(DEMO_MACHINE, sheet, STEEL, radius, gap)
    edges = [radius + side * gap / (4 * math.pi) for side in (-1, 1)]
    middle = sum(float(setting_for_radius(DEMO_MACHINE, sheet, STEEL, edge).turns) for edge in edges) / 2
    out = taper(DEMO_MACHINE, sheet, STEEL, middle + allowed / 2, middle - allowed / 2)
    assert out.joint_mismatch == pytest.approx(gap, rel=1e-6)
    assert (out.radius_left + out.radius_right) / 2 == pytest.approx(radius, rel=1e-9)


def test_a_larger_ring_and_a_wider_one_tolerate_less() -> None:
    allowed = [tolerable_turns(DEMO_MACHINE, Sheet(thickness=0.76, width=width), STEEL, radius, 2) for width, radius in
               ((240, 60), (240, 90), (480, 90))]
    assert allowed[0] > allowed[1] > allowed[2] > 0


def test_half_a_degree_leaves_the_lanterns_seam_five_millimetres_apart() -> None:
    assert seam_offset(90.38, 0.5) == pytest.approx(math.pi * 180.76 * math.tan(math.radians(0.5)), rel=1e-12)
    assert seam_offset(90.38, 0.5) == pytest.approx(5, abs=0.05)
    assert seam_offset(90.38, 0) == 0
    assert seam_offset(90.38, tolerable_skew_degrees(90.38, 1.0)) == pytest.approx(1, rel=1e-12)


def test_the_zeroing_ends_with_both_ends_alike_wherever_it_starts() -> None:
    for start in ((0.75, 0.25), (0, 2), (1, 1)):
        steps = zeroing_steps(*start)
        assert (steps[0].gap_left, steps[0].gap_right) == start
        assert steps[-1].gap_left == steps[-1].gap_right == 0
        assert steps[-2].gap_left == steps[-2].gap_right > 0
        assert all(step.words.endswith(".") for step in steps)


def test_a_wide_sheet_comes_out_larger_than_a_narrow_strip_under_the_same_pinch() -> None:
    """3 kN, travel set for R 90, 0.76 mm steel: width 30 gives 92, 60 gives 93, 240 about 106."""
    pressed = replace(DEMO_MACHINE, pinch_force=3000)
    travel = setting_for_radius(DEMO_MACHINE.with_perfect_nip(), Sheet(thickness=0.76, width=30), STEEL, 90).travel
    radii = [radius_for_travel(pressed, Sheet(thickness=0.76, width=width), STEEL, travel) for width in (30, 60, 240)]
    assert 90 < radii[0] < radii[1] < radii[2]
    assert radii == pytest.approx([91.5, 93, 106], rel=0.025)
    harder = radius_for_travel(replace(pressed, pinch_force=6000), Sheet(thickness=0.76, width=240), STEEL, travel)
    assert 90 < harder < radii[2]


def test_nonsense_gets_a_sentence() -> None:
    for call, words in (
        (lambda: taper(DEMO_MACHINE, BODY, STEEL, 0, 11), "turns on the left is 0 turns"),
        (lambda: taper(DEMO_MACHINE, BODY, STEEL, 1, 1), "no curve stays at one edge"),
        (lambda: tolerable_turns(DEMO_MACHINE, BODY, STEEL, 90, -1), "joint gap is -1 mm"),
        (lambda: tolerable_turns(DEMO_MACHINE, BODY, STEEL, 90, 1000), "joint gap is 1000 mm"),
        (lambda: seam_offset(-5, 0.5), "released radius is -5 mm"),
        (lambda: seam_offset(90, 45), "angle out of square is 45 deg"),
        (lambda: zeroing_steps(-1, 0), "gap on the left is -1 turns"),
    ):
        with pytest.raises(InputError) as caught:
            call()
        assert str(caught.value).startswith(words)
        assert str(caught.value).endswith(".")
