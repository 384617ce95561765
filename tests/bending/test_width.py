"""How wide is wide: the parameter, the band between free and held, and the sentence with its direction."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial.legendre import Legendre, leggauss

import rollcalc as rc
from rollcalc.bending.width import FREE_BELOW, HELD_ABOVE
from tests.strategies import materials, not_finite, not_numbers, not_positive

STEEL = rc.MATERIALS["mild steel bar, hot rolled"]
SHEET_STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
BAR = rc.FlatBar(3, 25)


def held_share(parameter, poisson=0.3, terms=30):
    """Return how far the elastic moment of a strip lies on the way from free narrowing to plane strain.

    Plate energy of a strip on a circle, with the curl z(y) across it as a sum of even Legendre polynomials:
    ½D(κ² + z″² + 2νκz″) from bending and ½Et(κz)² from stretching, least over z.
    """
    modulus, thickness, radius = 1.0, 1.0, 1e4
    curvature, half = 1 / radius, math.sqrt(parameter * radius * thickness) / 2
    stiffness = modulus * thickness**3 / 12 / (1 - poisson**2)
    places, weights = leggauss(200)
    shapes = [Legendre.basis(2 * n) for n in range(terms)]
    curl = np.array([shape(places) for shape in shapes])
    across = np.array([shape.deriv(2)(places) for shape in shapes]) / half**2
    matrix = stiffness * (across * weights) @ across.T + modulus * thickness * curvature**2 * (curl * weights) @ curl.T
    found = np.linalg.solve(matrix, -stiffness * poisson * curvature * (across @ weights))
    stretch = modulus * thickness * curvature * (found @ curl) ** 2
    moment = half * weights @ (stiffness * (curvature + poisson * found @ across) + stretch)
    free, held = (2 * half * curvature * each for each in (modulus * thickness**3 / 12, stiffness))
    return float((moment - free) / (held - free))


def test_plate_theory_puts_the_change_where_the_docstring_says():
    assert held_share(FREE_BELOW) == pytest.approx(0.03, abs=0.005)
    assert held_share(7) == pytest.approx(0.5, abs=0.05)
    assert held_share(HELD_ABOVE) == pytest.approx(0.88, abs=0.01)
    shares = [held_share(parameter) for parameter in np.geomspace(0.01, 1000, 21)]
    assert (np.diff(shares) > 0).all()
    assert shares[0] < 0.001
    assert shares[-1] > 0.95
    assert held_share(10) == pytest.approx(held_share(10, terms=20), abs=1e-4)


@given(st.floats(0.3, 10), st.floats(2, 1000), st.floats(20, 2000), st.floats(0.1, 10))
def test_only_the_shape_counts(thickness, width, radius, scale):
    small = rc.bending.width.width_parameter(rc.Sheet(thickness=thickness, width=width), radius)
    large = rc.bending.width.width_parameter(rc.Sheet(thickness=thickness * scale, width=width * scale), radius * scale)
    assert large == pytest.approx(small, rel=1e-9)
    assert rc.bending.width.width_parameter(rc.Sheet(thickness=thickness, width=2 * width),
                                            radius) == pytest.approx(4 * small)
    assert rc.bending.width.width_parameter(rc.FlatBar(thickness, width), radius) == small


def test_the_parameter_of_the_band_by_hand():
    assert rc.bending.width.width_parameter(BAR, 93.5) == pytest.approx(625 / (93.5 * 3))
    assert rc.bending.width.width_parameter(rc.RoundBar(6), 48) == pytest.approx(6 / 48)
    assert rc.bending.width.width_parameter(BAR, np.array([50.0, 100.0])).shape == (2,)


@given(st.floats(0.3, 10), st.floats(2, 1000), materials, st.floats(2, 500))
def test_bar_and_sheet_have_one_band_with_themselves_at_its_ends(thickness, width, material, ratio):
    radius = ratio * thickness
    bar, sheet = (kind(thickness=thickness, width=width) for kind in (rc.FlatBar, rc.Sheet))
    one, two = rc.bending.width_band(bar, material, radius), rc.bending.width_band(sheet, material, radius)
    assert (one.low, one.high) == (two.low, two.high)
    assert one.nominal == rc.released_radius(bar, material, radius)
    assert two.nominal == rc.released_radius(sheet, material, radius)
    assert {one.nominal, two.nominal} == {one.low, one.high}
    assert one.low <= one.high


@pytest.mark.parametrize("name", rc.MATERIALS)
def test_a_sheet_of_any_metal_in_the_table_springs_back_further_than_a_bar(name):
    band = rc.bending.width_band(BAR, rc.MATERIALS[name], np.array([30.0, 60.0, 120.0]))
    assert (band.nominal == band.low).all()
    assert (band.high > band.low).all()


def test_a_round_bar_has_no_band_and_no_caution():
    band = rc.bending.width_band(rc.RoundBar(6), STEEL, 45)
    assert band.low == band.nominal == band.high == rc.released_radius(rc.RoundBar(6), STEEL, 45)
    assert rc.bending.width_caution(rc.RoundBar(6), STEEL, 45) == ""


def test_a_narrow_sheet_comes_out_smaller_by_what_the_band_says():
    strip = rc.Sheet(thickness=0.76, width=30)
    words, band = rc.bending.width_caution(strip, SHEET_STEEL, 65), rc.bending.width_band(strip, SHEET_STEEL, 65)
    assert words.startswith("30 mm is narrow for a sheet")
    assert f"w²/(R t) is {900 / (65 * 0.76):.2g}" in words
    assert words.endswith(f"up to {100 * (1 - band.low / band.high):.1f} % smaller.")


def test_a_wide_bar_comes_out_larger_by_what_the_band_says():
    words, band = rc.bending.width_caution(BAR, STEEL, 85), rc.bending.width_band(BAR, STEEL, 85)
    assert words.startswith("25 mm is wide for a flat bar")
    assert words.endswith(f"springs back more than computed, and the ring comes out up to "
                          f"{100 * (band.high / band.low - 1):.1f} % larger.")


def test_the_caution_starts_and_stops_at_its_limits():
    for stock, width, silent in ((rc.Sheet, math.sqrt(HELD_ABOVE * 60), 1.001), (rc.FlatBar, math.sqrt(60), 0.999)):
        assert rc.bending.width_caution(stock(thickness=1, width=width * silent), STEEL, 60) == ""
        assert rc.bending.width_caution(stock(thickness=1, width=width / silent), STEEL, 60) != ""


def test_where_one_end_of_the_band_stays_flat_no_amount_is_promised():
    bar, sheet = rc.FlatBar(1, 60), rc.Sheet(thickness=1, width=60)
    first = 1 / rc.bending.yield_curvature(bar, STEEL) * 0.99  # a bar just yields, a sheet does not yet
    said = rc.bending.width_caution(bar, STEEL, first)
    assert said.endswith("springs back more than computed, and may come out flat.")
    assert rc.bending.width_caution(sheet, STEEL, first).endswith("and may keep a curve where none is computed.")
    assert rc.bending.width_caution(sheet, STEEL, 2 * first) == ""  # neither yields


@given(st.one_of(not_numbers, not_finite, not_positive, st.floats(1e-9, 1.5)))
def test_a_radius_must_be_a_finite_number_above_half_the_depth(radius):
    for ask in (rc.bending.width_caution, rc.bending.width_band,
                lambda stock, _, radius: rc.bending.width.width_parameter(stock, radius)):
        with pytest.raises(rc.InputError, match=r"^loaded radius"):
            ask(BAR, STEEL, radius)


def test_the_caution_is_for_one_piece():
    with pytest.raises(rc.InputError, match="one number"):
        rc.bending.width_caution(BAR, STEEL, [60, 90])
    with pytest.raises(rc.InputError, match="piece by piece"):
        rc.bending.width_caution(rc.FlatBar(3, [20, 25]), STEEL, 60)
