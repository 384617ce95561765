"""What must hold whatever the numbers: inverses, limits, scaling, one-way trends."""

import dataclasses

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.bending import law as fibre_laws
from rollcalc.bending.first_yield import plastic_shape_factor
from tests.strategies import line_materials, materials, perfect_materials, stocks, thicknesses, tightness, widths

STEEL = rc.Material("steel", 210_000, 0.3, 250)
SHEET = rc.Sheet(thickness=0.76, width=300)


@given(stocks, materials, tightness)
@settings(max_examples=300)
def test_loaded_curvature_undoes_release(stock, material, share):
    curvature = share * 2 / stock.depth
    released = rc.released_curvature(stock, material, curvature)
    if released == 0:
        assert curvature <= rc.bending.yield_curvature(stock, material) * (1 + 1e-9)
    else:
        assert rc.loaded_curvature(stock, material, released) == pytest.approx(curvature, rel=1e-10)


@pytest.mark.parametrize("stock", [SHEET, rc.FlatBar(3, 25), rc.RoundBar(6)])
@pytest.mark.parametrize("past_yield", [1e-9, 1e-6, 1e-3, 0.1, 10])
def test_the_inverse_holds_just_past_first_yield(stock, past_yield):
    curvature = rc.bending.yield_curvature(stock, STEEL) * (1 + past_yield)
    released = rc.released_curvature(stock, STEEL, curvature)
    assert released > 0
    assert rc.loaded_curvature(stock, STEEL, released) == pytest.approx(curvature, rel=1e-10)


@given(stocks, materials, st.floats(0, 1))
def test_nothing_stays_of_elastic_bending(stock, material, share):
    curvature = share * rc.bending.yield_curvature(stock, material) * (1 - 1e-12)
    assume(curvature * stock.depth < 2)
    assert rc.released_curvature(stock, material, curvature) == 0
    expected = rc.bending.bending_stiffness(stock, material) * curvature
    assert rc.bending_moment(stock, material, curvature) == pytest.approx(expected, rel=1e-12)


@given(stocks, perfect_materials)
def test_very_tight_bending_loses_the_shape_factor_times_first_yield(stock, material):
    # κ_r → κ − k κ_y with k = 3/2 or 16/(3π); the next term is of order κ_y (κ_y/κ)².
    first_yield = rc.bending.yield_curvature(stock, material)
    curvature = 0.999 * 2 / stock.depth
    assume(curvature > 20 * first_yield)
    lost = (curvature - rc.released_curvature(stock, material, curvature)) / first_yield
    assert lost == pytest.approx(plastic_shape_factor(stock), abs=1.0 * (first_yield / curvature) ** 2 + 1e-9)


@given(stocks, materials, tightness)
def test_release_is_odd_in_curvature(stock, material, share):
    curvature = share * 2 / stock.depth
    assert rc.released_curvature(stock, material, -curvature) == -rc.released_curvature(stock, material, curvature)
    assert rc.bending_moment(stock, material, -curvature) == -rc.bending_moment(stock, material, curvature)
    assert rc.bending.plastic_work(stock, material, -curvature) == rc.bending.plastic_work(stock, material, curvature)


@given(stocks, materials, tightness, st.floats(0.1, 10))
def test_a_piece_twice_the_size_keeps_twice_the_radius(stock, material, share, scale):
    curvature = share * 2 / stock.depth
    sizes = {field.name: scale * getattr(stock, field.name) for field in dataclasses.fields(stock)}
    larger = dataclasses.replace(stock, **sizes)
    small, large = (rc.released_curvature(s, material, k) for s, k in ((stock, curvature), (larger, curvature / scale)))
    assert large * scale == pytest.approx(small, rel=1e-9, abs=1e-12 * curvature)
    moments = [rc.bending_moment(s, material, k) for s, k in ((stock, curvature), (larger, curvature / scale))]
    assert moments[1] == pytest.approx(moments[0] * scale**3, rel=1e-9)


@given(stocks, line_materials, tightness, st.floats(0.1, 10))
def test_only_the_ratio_of_stress_to_modulus_decides_release(stock, material, share, scale):
    stiffer = rc.Material(
        "scaled",
        material.elastic_modulus * scale,
        material.poisson_ratio,
        material.yield_strength * scale,
        material.hardening_modulus * scale,
    )
    curvature = share * 2 / stock.depth
    expected = rc.released_curvature(stock, material, curvature)
    assert rc.released_curvature(stock, stiffer, curvature) == pytest.approx(expected, rel=1e-9, abs=1e-12 * curvature)


@given(stocks, materials, tightness, tightness)
def test_tighter_bending_leaves_a_tighter_piece_and_costs_more(stock, material, one, other):
    loose, tight = sorted((one * 2 / stock.depth, other * 2 / stock.depth))
    assume(tight > loose * (1 + 1e-6))
    for quantity in (rc.released_curvature, rc.bending_moment, rc.bending.plastic_work,
                     rc.bending.energy.complementary_energy):
        before, after = quantity(stock, material, loose), quantity(stock, material, tight)
        assert after >= before * (1 - 1e-12)
    if rc.released_curvature(stock, material, loose) > 0:
        assert rc.released_curvature(stock, material, tight) > rc.released_curvature(stock, material, loose)


@given(st.sampled_from([rc.Sheet, rc.FlatBar]), thicknesses, widths, materials, tightness, st.floats(0.1, 10))
def test_a_wider_piece_is_as_many_side_by_side(kind, thickness, width, material, share, factor):
    narrow, wide = kind(thickness=thickness, width=width), kind(thickness=thickness, width=factor * width)
    curvature = share * 2 / thickness
    for quantity in (rc.bending_moment, rc.bending.plastic_work, rc.bending.energy.complementary_energy):
        expected = factor * quantity(narrow, material, curvature)
        rounding = 1e-14 * rc.bending.bending_stiffness(wide, material) * curvature**2  # of terms that nearly cancel
        assert quantity(wide, material, curvature) == pytest.approx(expected, rel=1e-9, abs=rounding)
    for quantity in (rc.bending.bending_stiffness, rc.bending.yield_moment, rc.bending.plastic_moment):
        assert quantity(wide, material) == pytest.approx(factor * quantity(narrow, material), rel=1e-9)
    for quantity in (rc.released_curvature, rc.bending.elastic_core):
        assert quantity(wide, material, curvature) == pytest.approx(quantity(narrow, material, curvature), rel=1e-9)


@given(stocks, line_materials, tightness, st.floats(1.01, 3))
def test_stronger_metal_springs_back_further(stock, material, share, factor):
    curvature = share * 2 / stock.depth
    stronger = material.with_yield(material.yield_strength * factor)
    assert rc.released_curvature(stock, stronger, curvature) <= rc.released_curvature(stock, material, curvature)


@given(stocks, materials, tightness)
def test_release_keeps_between_nothing_and_all(stock, material, share):
    curvature = share * 2 / stock.depth
    assert 0 <= rc.released_curvature(stock, material, curvature) < curvature


@given(st.floats(0.1, 10), line_materials, tightness)
def test_hardening_is_a_superposition(thickness, material, share):
    # M = (1 − a) M(perfectly plastic) + a E′ I κ, exactly.
    stock = rc.FlatBar(thickness, 10)
    curvature = share * 2 / thickness
    ratio = material.hardening_modulus / (material.elastic_modulus + material.hardening_modulus)
    perfect = dataclasses.replace(material, hardening_modulus=0.0)
    elastic = rc.bending.bending_stiffness(stock, material) * curvature
    expected = (1 - ratio) * rc.bending_moment(stock, perfect, curvature) + ratio * elastic
    assert rc.bending_moment(stock, material, curvature) == pytest.approx(expected, rel=1e-10)


def test_a_power_law_without_hardening_is_perfectly_plastic():
    flat = rc.Material("power", 210_000, 0.3, swift=rc.Swift(250, 0.01, 0))
    curvatures = np.geomspace(1e-4, 0.5, 50)
    for stock in (SHEET, rc.FlatBar(3, 25), rc.RoundBar(2)):
        for quantity in (rc.bending_moment, rc.bending.plastic_work, rc.bending.energy.complementary_energy):
            assert quantity(stock, flat, curvatures) == pytest.approx(
                quantity(stock, STEEL, curvatures), rel=1e-9, abs=1e-9
            )


def test_a_sheet_is_a_bar_with_plane_strain_constants():
    bar = rc.FlatBar(SHEET.thickness, SHEET.width)
    by_hand = rc.Material("hand", 210_000 / (1 - 0.3**2), 0.3, 250 * 2 / 3**0.5, 1_000 * 4 / 3)
    hardening = rc.Material("steel", 210_000, 0.3, 250, 1_000)
    assert rc.bending_moment(SHEET, hardening, 1 / 60) == pytest.approx(
        rc.bending_moment(bar, by_hand, 1 / 60), rel=1e-12
    )


def test_enough_gauss_points_for_curved_laws(monkeypatch):
    metals = [rc.Material("304", 193_000, 0.3, swift=rc.Swift(1270, 0.0139, 0.345)),
              rc.Material("steel", 210_000, 0.3, swift=rc.Swift(600, 0.002, 0.21)), STEEL]
    pieces = [rc.Sheet(thickness=1, width=100), rc.RoundBar(6)]

    def all_results():
        return [
            rc.released_curvature(p, m, 1 / (p.depth * np.array([1.0, 5, 50, 200]))) for p in pieces for m in metals
        ]

    house = all_results()
    monkeypatch.setattr(fibre_laws, "SMOOTH_POINTS", 200)
    for ours, fine in zip(house, all_results(), strict=True):
        assert ours == pytest.approx(fine, rel=1e-8)


def test_locked_in_stress_has_no_force_and_no_moment():
    stock = rc.FlatBar(3, 25)
    height, weight = np.polynomial.legendre.leggauss(4000)
    height, area = height * 1.5, weight * 1.5 * 25
    stress = rc.residual_stress(stock, STEEL, 1 / 60, height)
    assert stress @ area == pytest.approx(0, abs=1e-6)
    assert stress @ (height * area) == pytest.approx(0, abs=1e-2)  # against 14 000 N mm while loaded
    assert rc.loaded_stress(stock, STEEL, 1 / 60, height) @ (height * area) == pytest.approx(
        rc.bending_moment(stock, STEEL, 1 / 60), rel=1e-6
    )


def test_residual_stress_is_loaded_less_the_springback():
    stock, curvature, height = rc.RoundBar(6), 1 / 50, np.linspace(-3, 3, 31)
    released = rc.bending_moment(stock, STEEL, curvature) * height / stock.second_moment
    expected = rc.loaded_stress(stock, STEEL, curvature, height) - released
    assert rc.residual_stress(stock, STEEL, curvature, height) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("stock", [SHEET, rc.FlatBar(3, 25), rc.RoundBar(6)])
def test_a_number_in_gives_a_float_out_and_arrays_broadcast(stock):
    scattered = rc.Material("scattered", 210_000, 0.3, np.array([[200.0], [250.0]]))
    for quantity in (rc.bending_moment, rc.released_curvature, rc.loaded_curvature, rc.bending.plastic_work):
        assert type(quantity(stock, STEEL, 0.01)) is float
        both = quantity(stock, scattered, np.array([0.005, 0.01, 0.02]))
        assert both.shape == (2, 3)
        assert both[1, 1] == pytest.approx(quantity(stock, STEEL, 0.01), rel=1e-12)


def test_the_band_widens_with_every_doubt():
    steel = rc.Material("steel", 210_000, 0.3, 210, yield_range=(140, 280))
    yield_only = rc.springback_band(SHEET, steel, 90)
    both = rc.springback_band(SHEET, steel, 90, thickness_tolerance=0.04)
    assert both.low < yield_only.low < yield_only.nominal < yield_only.high < both.high
    sure = rc.springback_band(SHEET, dataclasses.replace(steel, yield_range=(210, 210)), 90)
    assert sure.low == sure.nominal == sure.high == rc.released_radius(SHEET, steel, 90)


@given(
    stocks,
    line_materials,
    tightness,
    st.floats(0.8, 1),
    st.floats(1, 1.3),
    st.floats(0, 0.2),
    st.floats(0, 1),
    st.floats(0, 1),
)
def test_no_piece_within_its_ranges_leaves_the_band(
    stock, material, share, low, high, tolerance, where_yield, where_depth
):
    # Strictly: thicker always means less springback at one loaded radius, weaker likewise.
    radius = stock.depth / 2 / share * (1 + tolerance + 1e-9)
    nominal, slack = material.yield_strength, tolerance * stock.depth
    ranged = dataclasses.replace(material, yield_range=(low * nominal, high * nominal))
    band = rc.springback_band(stock, ranged, radius, slack)
    some = rc.released_radius(
        stock.with_depth(stock.depth + slack * (2 * where_depth - 1)),
        material.with_yield(nominal * (low + where_yield * (high - low))),
        radius,
    )
    assert band.low * (1 - 1e-12) <= some <= band.high * (1 + 1e-12)
