"""Rectangles and rows of blanks, measured with an independent geometry library."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rollcalc.layout import FrustumPattern, blanks_on_sheet, frustum_pattern, smallest_rectangle
from rollcalc.stock import InputError
from tests.layout.shapes import ROOF, SKIRT, frustums

shapely = pytest.importorskip("shapely")


@given(frustums())
def test_bounds_and_area_of_the_outline(cone: FrustumPattern) -> None:
    flat = cone.flat_pattern()
    shape = shapely.Polygon(flat.cut[0])
    assert flat.bounds == pytest.approx(shapely.MultiLineString(list(flat.cut + flat.marks)).bounds, abs=1e-9)
    off = 2 * cone.chord() * 0.01 + 1e-9 * cone.area  # an outline within 0.01 mm of its curves
    assert shape.area == pytest.approx(cone.area, abs=off + 0.01 * 4 * cone.arc())


@given(st.lists(st.tuples(st.integers(-999, 999), st.integers(-999, 999)), min_size=4, max_size=40, unique=True))
def test_the_rectangle_is_as_small_as_another_library_s(points: list[tuple[int, int]]) -> None:
    wanted = shapely.minimum_rotated_rectangle(shapely.MultiPoint(points))
    if not isinstance(wanted, shapely.Polygon) or wanted.area < 1:
        return
    found = smallest_rectangle(points)
    assert found.area <= wanted.area * (1 + 1e-9)
    turned = np.array(points) @ np.array(
        [[math.cos(found.angle), math.sin(found.angle)], [-math.sin(found.angle), math.cos(found.angle)]]
    )
    assert np.ptp(turned, axis=0) == pytest.approx([found.length, found.width], abs=1e-6)


@given(frustums(least_ratio=0.1))
def test_the_rectangle_of_a_pattern_is_no_larger_than_its_bounds(cone: FrustumPattern) -> None:
    breadth, height = np.ptp(cone.outline(), axis=0)
    assert smallest_rectangle(cone.outline()).area <= breadth * height * (1 + 1e-12)


@pytest.mark.parametrize("cone", [SKIRT, ROOF, frustum_pattern(220, 60, height=80, pieces=3)])
@pytest.mark.parametrize("sheet", [(1250.0, 625.0), (2000.0, 1000.0), (640.0, 320.0)])
@pytest.mark.parametrize("spacing", [0.0, 5.0])
def test_blanks_stay_on_the_sheet_and_off_each_other(
    cone: FrustumPattern, sheet: tuple[float, float], spacing: float
) -> None:
    laid = blanks_on_sheet(cone.outline(0.1), *sheet, spacing=spacing)
    shapes = [shapely.Polygon(outline) for outline in laid.outlines()]
    whole = shapely.box(0, 0, *sheet).buffer(1e-6)
    assert laid.count == laid.rows * laid.columns == len(shapes) > 0
    assert all(whole.covers(shape) for shape in shapes)
    for i, one in enumerate(shapes):
        assert all(one.intersection(other).area < 1e-3 for other in shapes[i + 1 :])
    used = sum(shape.area for shape in shapes)
    assert laid.scrap_fraction == pytest.approx(1 - used / (sheet[0] * sheet[1]), rel=1e-9)


def test_rows_nest_closer_than_rectangles() -> None:
    laid = blanks_on_sheet(SKIRT.outline(), 700, 700)
    breadth, height = np.ptp(laid.outline, axis=0)
    assert laid.count > (700 // breadth) * (700 // height)


@pytest.mark.parametrize("cone", [SKIRT, frustum_pattern(220, 60, height=80, pieces=3)])
@pytest.mark.parametrize("spacing", [0.0, 2.0, 7.0])
def test_neighbours_stand_the_spacing_apart_and_no_further(cone: FrustumPattern, spacing: float) -> None:
    laid = blanks_on_sheet(cone.outline(0.1), 2500, 1250, spacing=spacing)
    assert min(laid.rows, laid.columns) > 1
    first, right, above = (shapely.Polygon(laid.outline + laid.places[i]) for i in (0, 1, laid.columns))
    assert right.bounds[0] - first.bounds[2] == pytest.approx(spacing, abs=1e-9)
    for shift, touches in ((spacing - 0.1, False), (spacing + 0.1, True)):
        moved = shapely.transform(first, lambda points, shift=shift: points + np.array([0, shift]))
        assert (moved.intersection(above).area > 0) is touches


def test_rectangles_stand_the_spacing_apart_in_rows_and_columns() -> None:
    strip = [(0, 0), (200, 0), (200, 100), (0, 100), (0, 0)]
    laid = blanks_on_sheet(strip, sheet_length=1000, sheet_width=1000, spacing=7)
    assert laid.places.tolist() == [[x, y] for y in range(0, 901, 107) for x in range(0, 801, 207)]


def test_rectangles_fill_a_sheet() -> None:
    strip = [(0, 0), (200, 0), (200, 100), (0, 100), (0, 0)]
    laid = blanks_on_sheet(strip, sheet_length=1000, sheet_width=500)
    assert laid.count == 25
    assert laid.scrap_fraction == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(
    ("sheet", "sentence"),
    [
        ((300, 200), "sheet is 300 mm by 200 mm, but must hold a blank of at least 601.03 mm by 210.336 mm"),
        ((0, 200), "sheet length is 0 mm, but must be above 0 mm"),
        ((300, math.nan), "sheet width is nan mm"),
    ],
)
def test_too_small_a_sheet_gets_a_sentence(sheet: tuple[float, float], sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        blanks_on_sheet(SKIRT.outline(), *sheet)
    assert sentence in str(caught.value)


def test_points_on_a_line_have_no_rectangle() -> None:
    with pytest.raises(InputError, match="points on one line"):
        smallest_rectangle([(0, 0), (1, 1), (2, 2)])
