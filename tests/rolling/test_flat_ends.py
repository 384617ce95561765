"""Flat ends: the length of the span between the rolls, and remedies with theirs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rollcalc.rolling import DEMO_MACHINE, PyramidMachine, flat_ends, setting_for_radius, span_shape
from rollcalc.stock import MATERIALS, RoundBar, Sheet

STEEL = MATERIALS["low-carbon steel, cold rolled"]
BODY = Sheet(0.76, 240)
SLACK = replace(DEMO_MACHINE.with_perfect_nip(), nip_slack=0.02)


def pyramid(spacing: float) -> PyramidMachine:
    """Return a machine with its rolls in a triangle."""
    return PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=spacing, screw_pitch=6,
                          working_width=1500)  # fmt: skip


@pytest.mark.parametrize(
    ("machine", "stock", "radius"),
    [(DEMO_MACHINE, BODY, 90), (SLACK, BODY, 90), (SLACK, BODY, 300), (pyramid(240), Sheet(6, 900), 400)],
)
def test_the_lengths_are_those_of_the_drawn_line(machine: object, stock: Sheet, radius: float) -> None:
    ends = flat_ends(machine, stock, STEEL, radius)  # type: ignore[arg-type]
    shape = span_shape(setting_for_radius(machine, stock, STEEL, radius), points=2000)  # type: ignore[arg-type]
    steps = np.hypot(np.diff(shape.x), np.diff(shape.y))
    assert ends.leading + ends.trailing == pytest.approx(float(steps.sum()), rel=1e-5)
    highest = int(np.argmax(shape.curvature))
    assert ends.leading == pytest.approx(float(steps[highest:].sum()), rel=2e-3, abs=0.05)


def test_a_triangle_of_rolls_leaves_both_ends_and_a_pinch_one() -> None:
    """6 to 20 thicknesses against 1/6 to 1/10 of that (a fabrication note on plate), here for 12 mm plate."""
    triangle = flat_ends(pyramid(260), Sheet(12, 900), STEEL, 500)
    assert 6 * 12 < triangle.trailing < 20 * 12
    assert 6 * 12 < triangle.leading < 20 * 12
    pinched = flat_ends(SLACK, BODY, STEEL, 90)
    assert pinched.trailing < 0.1 * pinched.leading
    assert flat_ends(DEMO_MACHINE, BODY, STEEL, 90).trailing == 0


def test_the_nip_decides_the_trailing_end() -> None:
    nips = [replace(DEMO_MACHINE.with_perfect_nip(), nip_slack=slack) for slack in (0.005, 0.02, 0.1)]
    lengths = [flat_ends(machine, BODY, STEEL, 90).trailing for machine in nips]
    assert 0 < lengths[0] < lengths[1] < lengths[2] < 10


def test_remedies_have_their_lengths_and_seams() -> None:
    ends = flat_ends(SLACK, BODY, STEEL, 90)
    trim, turn, first = ends.remedies
    assert trim.extra_length == pytest.approx(ends.leading + ends.trailing)
    assert (trim.leading, trim.trailing) == (0, 0)
    assert (turn.leading, turn.trailing, turn.extra_length) == (ends.trailing, ends.trailing, 0)
    assert (first.leading, first.trailing, first.extra_length) == (0, 0, 0)
    assert "not for folded ones" in trim.words
    assert f"Bend {ends.leading:.0f} mm" in first.words


def test_arrays_broadcast_and_bars_have_ends_too() -> None:
    many = flat_ends(DEMO_MACHINE, BODY, STEEL, np.array([60.0, 90.0, 150.0]))
    assert many.leading.shape == (3,)
    assert many.leading[1] == pytest.approx(flat_ends(DEMO_MACHINE, BODY, STEEL, 90).leading, rel=1e-12)
    assert flat_ends(DEMO_MACHINE, RoundBar(6), STEEL, 48).leading > 0
