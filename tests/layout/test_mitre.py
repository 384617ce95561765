"""A cylinder cut by a plane: rolled up, the cut is flat and the seam closes."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rollcalc.layout import MitredCylinderPattern, mitred_cylinder_pattern, rolled_up
from rollcalc.stock import InputError


@st.composite
def mitred(draw: st.DrawFn) -> MitredCylinderPattern:
    """Return a mitred cylinder."""
    diameter, degrees = draw(st.floats(20, 1000)), draw(st.floats(0, 80))
    least = diameter / 2 * math.tan(math.radians(degrees))
    return mitred_cylinder_pattern(diameter, least + draw(st.floats(1, 1000)), degrees)


@given(mitred(), st.integers(2, 60))
def test_rolled_up_the_cut_lies_in_one_plane(tube: MitredCylinderPattern, stations: int) -> None:
    x, _y, z = rolled_up(tube, tube.ordinates(stations)).T
    assert z == pytest.approx(tube.height + x * math.tan(tube.cut_angle), abs=1e-9 * tube.longest)


@given(mitred())
def test_the_seam_closes_at_the_shortest_element(tube: MitredCylinderPattern) -> None:
    first, last = tube.ordinates(3)[[0, -1]]
    assert np.abs(np.diff(rolled_up(tube, [first, last]), axis=0)).max() < 1e-9 * max(1, tube.longest / 1000)
    assert first[1] == pytest.approx(tube.shortest, abs=1e-9 * tube.longest)
    assert tube.shortest + tube.longest == pytest.approx(2 * tube.height)


@given(mitred(), st.floats(0.01, 1))
def test_the_outline_stays_within_the_chord_error(tube: MitredCylinderPattern, error: float) -> None:
    curve = tube.outline(error)[2:-1]
    middles = (curve[1:] + curve[:-1]) / 2
    true = tube.height + tube.swing * np.cos(2 * middles[:, 0] / tube.diameter)
    assert np.abs(true - middles[:, 1]).max() <= error * 1.0001


@given(mitred())
def test_the_area_is_that_of_the_cylinder_at_its_axis(tube: MitredCylinderPattern) -> None:
    shapely = pytest.importorskip("shapely")
    shape = shapely.Polygon(tube.outline(0.01))
    assert shape.area == pytest.approx(tube.area, abs=0.011 * tube.length)


def test_the_length_of_the_cut_is_that_of_an_ellipse() -> None:
    special = pytest.importorskip("scipy.special")
    tube = mitred_cylinder_pattern(100, 120, 45)
    edge = np.linalg.norm(np.diff(tube.ordinates(20001), axis=0), axis=1).sum()
    long, short = 50 * math.sqrt(2), 50
    assert edge == pytest.approx(4 * long * special.ellipe(1 - (short / long) ** 2), rel=1e-7)


def test_a_square_cut_is_a_rectangle() -> None:
    tube = mitred_cylinder_pattern(100, 120, 0)
    assert tube.shortest == tube.longest == 120
    assert tube.flat_pattern().size == pytest.approx((100 * math.pi, 120))


@pytest.mark.parametrize(
    ("sizes", "sentence"),
    [
        ((100, 40, 45), "height is 40 mm, but must be at least 50 mm for this cut"),
        ((100, 40, 90), "cut angle is 90 degrees, but must be at least 0 degrees and at most 85 degrees"),
        ((-1, 40, 10), "diameter is -1 mm, but must be above 0 mm"),
        ((100, "tall", 10), "height is 'tall', but must be a number in mm"),
    ],
)
def test_impossible_cuts_get_a_sentence(sizes: tuple[float, float, float], sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        mitred_cylinder_pattern(*sizes)
    assert sentence in str(caught.value)
