"""Nonsense gets one clear sentence: never a NaN, never another exception."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import rollcalc as rc
from tests.strategies import materials, not_finite, not_numbers, not_positive, stocks

STEEL = rc.Material("steel", 210_000, 0.3, 210, yield_range=(140, 280))
SHEET = rc.Sheet(thickness=0.76, width=300)

BY_CURVATURE = [
    rc.bending_moment,
    rc.released_curvature,
    rc.loaded_curvature,
    rc.bending.plastic_work,
    rc.bending.energy.complementary_energy,
    lambda stock, material, curvature: rc.loaded_stress(stock, material, curvature, 0.0),
    lambda stock, material, curvature: rc.residual_stress(stock, material, curvature, 0.0),
]
BY_RADIUS = [
    rc.released_radius,
    rc.loaded_radius,
    rc.springback_band,
]


def is_one_sentence(error, quantity, unit):
    """Return whether the message names the quantity and its unit and ends once, with a full stop."""
    words = str(error)
    return (
        words.startswith(quantity)
        and unit in words
        and "but must be" in words
        and ": " in words
        and words.endswith(".")
    )


@pytest.mark.parametrize("function", BY_CURVATURE)
@given(st.one_of(not_numbers, not_finite))
def test_a_curvature_must_be_a_finite_number(function, curvature):
    with pytest.raises(rc.InputError) as caught:
        function(SHEET, STEEL, curvature)
    assert is_one_sentence(caught.value, ("loaded curvature", "released curvature"), "1/mm")


@pytest.mark.parametrize("function", BY_CURVATURE)
@given(st.floats(2 / 0.76, 1e6))
def test_a_curvature_cannot_fold_the_sheet_into_itself(function, curvature):
    for signed in (curvature, -curvature, np.array([0.001, curvature])):
        with pytest.raises(rc.InputError, match="half the depth") as caught:
            function(SHEET, STEEL, signed)
        assert is_one_sentence(caught.value, ("loaded curvature", "released curvature"), "1/mm")


@pytest.mark.parametrize("function", BY_RADIUS)
@given(st.one_of(not_numbers, not_finite, not_positive, st.floats(1e-9, 0.38)))
def test_a_radius_must_be_a_finite_number_above_half_the_depth(function, radius):
    with pytest.raises(rc.InputError) as caught:
        function(SHEET, STEEL, radius)
    assert is_one_sentence(caught.value, ("loaded radius", "released radius"), "mm")


@pytest.mark.parametrize("function", [rc.loaded_stress, rc.residual_stress])
@given(st.one_of(not_numbers, not_finite, st.floats(0.3801, 100), st.floats(-100, -0.3801)))
def test_a_height_must_lie_inside_the_piece(function, height):
    with pytest.raises(rc.InputError) as caught:
        function(SHEET, STEEL, 0.01, height)
    assert is_one_sentence(caught.value, "height", "mm")


@given(st.one_of(not_numbers, not_finite, st.floats(max_value=-1e-9, allow_nan=False), st.floats(0.76, 100)))
def test_a_thickness_tolerance_must_leave_some_thickness(tolerance):
    with pytest.raises(rc.InputError) as caught:
        rc.springback_band(SHEET, STEEL, 90, tolerance)
    assert str(caught.value).startswith("thickness tolerance")


def test_a_band_needs_a_yield_range():
    with pytest.raises(rc.InputError, match="yield range of bare is not given"):
        rc.springback_band(SHEET, rc.Material("bare", 210_000, 0.3, 210), 90)


def test_the_sentence_points_into_an_array():
    with pytest.raises(rc.InputError, match=r"^loaded radius\[1\] is nan mm, but must be above 0 mm: "):
        rc.released_radius(SHEET, STEEL, [60, math.nan, 90])


def test_a_radius_the_metal_cannot_keep_is_explained():
    springy = rc.Material("springy", 210_000, 0.3, 2_000)
    with pytest.raises(rc.InputError, match=r"^loaded radius would be .* springs back too far"):
        rc.loaded_radius(rc.FlatBar(1, 10), springy, 0.506)


@given(stocks, materials, st.floats(-1e3, 1e3))
def test_every_finite_curvature_gives_a_finite_answer_or_the_sentence(stock, material, curvature):
    for function in (
        rc.bending_moment,
        rc.released_curvature,
        rc.loaded_curvature,
        rc.bending.plastic_work,
        rc.bending.energy.complementary_energy,
    ):
        try:
            result = function(stock, material, curvature)
        except rc.InputError as error:
            assert "half the depth" in str(error)
        else:
            assert math.isfinite(result)


@given(stocks, materials, st.floats(1e-3, 1e6))
def test_every_radius_gives_a_radius_or_the_sentence(stock, material, radius):
    for function in (rc.released_radius, rc.loaded_radius):
        try:
            result = function(stock, material, radius)
        except rc.InputError as error:
            assert "radius" in str(error)
        else:
            assert result > 0
