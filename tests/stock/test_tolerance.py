"""Thickness tolerances: the whole table, its edges, and its end."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rollcalc.stock import InputError, thickness_tolerance

# EN 10131:2006, table 1, normal tolerances, minimum yield below 260 MPa, in two copies that agree:
# thickness up to and including, and ± mm for widths up to 1200, up to 1500 and above.
TABLE = (
    (0.40, 0.03, 0.04, 0.05),
    (0.60, 0.03, 0.04, 0.05),
    (0.80, 0.04, 0.05, 0.06),
    (1.00, 0.05, 0.06, 0.07),
    (1.20, 0.06, 0.07, 0.08),
    (1.60, 0.08, 0.09, 0.10),
    (2.00, 0.10, 0.11, 0.12),
    (2.50, 0.12, 0.13, 0.14),
    (3.00, 0.15, 0.15, 0.16),
)


@pytest.mark.parametrize(("upper", "narrow", "middle", "wide"), TABLE)
def test_the_whole_table(upper, narrow, middle, wide):
    for thickness in (upper, upper - 0.04):
        assert thickness_tolerance(thickness) == narrow
        assert [thickness_tolerance(thickness, width) for width in (600, 1200, 1200.1, 1500, 1500.1, 2000)] == [
            narrow, narrow, middle, middle, wide, wide]


def test_a_step_starts_just_above_its_lower_edge():
    assert [thickness_tolerance(t) for t in (0.35, 0.8, 0.8001, 2.5, 2.5001)] == [0.03, 0.04, 0.05, 0.12, 0.15]


def test_shapes_broadcast_and_a_number_gives_a_float():
    assert type(thickness_tolerance(0.8)) is float
    grid = thickness_tolerance(np.array([[0.5], [1.0]]), np.array([1000, 1300, 1600]))
    assert grid.tolist() == [[0.03, 0.04, 0.05], [0.05, 0.06, 0.07]]


@given(st.floats(0.35, 3), st.floats(0.35, 3), st.floats(1, 2500))
def test_thicker_sheet_never_has_a_smaller_tolerance(one, other, width):
    assert thickness_tolerance(min(one, other), width) <= thickness_tolerance(max(one, other), width)
    assert 0.03 <= thickness_tolerance(one, width) <= one / 7 + 1e-12


@pytest.mark.parametrize("thickness", [0, -1, 0.349, 3.001, float("nan"), float("inf"), None, "0.8", True, [0.8, 5]])
def test_outside_the_table_is_a_sentence(thickness):
    with pytest.raises(
        InputError, match=r"^thickness.* is .*at least 0.35 mm and at most 3 mm: the table ends there, .*\.$"
    ):
        thickness_tolerance(thickness)


@pytest.mark.parametrize("width", [0, -1, float("nan"), float("inf"), None, "1000", False])
def test_a_bad_width_is_a_sentence(width):
    with pytest.raises(InputError, match=r"^width is .*above 0 mm: give the width .*\.$"):
        thickness_tolerance(0.8, width)


def test_shapes_that_do_not_fit_are_a_sentence():
    with pytest.raises(InputError, match=r"^thickness has shape \(2,\) and width \(3,\)"):
        thickness_tolerance(np.array([0.8, 1.0]), np.array([1000, 1100, 1200]))
