"""The moment turned round: the curvature that it holds, and the elastic core that it leaves."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

import rollcalc as rc
from rollcalc.lessons.engine.published import PUBLISHED
from tests.strategies import line_materials, materials, not_finite, not_numbers, perfect_materials, stocks, tightness

STEEL = rc.Material("steel", 210_000, 0.3, 250)
SHEET = rc.Sheet(thickness=0.76, width=300)


@given(stocks, materials, tightness)
@settings(max_examples=300)
def test_the_moment_of_the_curvature_under_a_moment_is_that_moment(stock, material, share):
    moment = rc.bending_moment(stock, material, share * 2 / stock.depth)
    curvature = rc.curvature_under_moment(stock, material, moment)
    if curvature < 2 / stock.depth:  # the last place before the limit may round up to it
        assert rc.bending_moment(stock, material, curvature) == pytest.approx(moment, rel=1e-10)


@given(stocks, materials, st.floats(1e-6, 5))
def test_the_curvature_comes_back(stock, material, share):
    curvature = share * rc.bending.yield_curvature(stock, material)
    if curvature * stock.depth < 2:
        moment = rc.bending_moment(stock, material, curvature)
        assert rc.curvature_under_moment(stock, material, moment) == pytest.approx(curvature, rel=1e-9)


@given(stocks, materials, st.floats(0, 1))
def test_below_first_yield_it_is_moment_over_stiffness(stock, material, share):
    moment = share * rc.yield_moment(stock, material) * (1 - 1e-12)
    expected = moment / rc.bending.bending_stiffness(stock, material)
    if expected * stock.depth < 2:
        assert rc.curvature_under_moment(stock, material, moment) == pytest.approx(expected, rel=1e-12)


@given(st.floats(0.1, 50), perfect_materials, st.floats(0.01, 0.999))
def test_a_perfectly_plastic_rectangle_has_a_closed_form(thickness, material, share):
    # M = M_y (3/2 − 1/(2u²)) turned round: u = 1/√(3 − 2 M/M_y).
    bar = rc.FlatBar(thickness, 10)
    first = rc.yield_moment(bar, material)
    moment = first * (1 + share / 2)
    times = 1 / np.sqrt(3 - 2 * moment / first)
    curvature = times * rc.bending.yield_curvature(bar, material)
    if curvature * thickness < 1.99:
        assert rc.curvature_under_moment(bar, material, moment) == pytest.approx(curvature, rel=1e-8)


def test_it_is_what_bisection_finds():
    for stock in (SHEET, rc.FlatBar(3, 25), rc.RoundBar(6)):
        for name in ("low-carbon steel, cold rolled", "stainless 304, power law"):
            metal = rc.MATERIALS[name]
            moment = 1.3 * rc.yield_moment(stock, metal)
            miss = lambda k: rc.bending_moment(stock, metal, k) - moment  # noqa: B023
            found = brentq(miss, 0, 1 / stock.depth, xtol=1e-16)
            assert rc.curvature_under_moment(stock, metal, moment) == pytest.approx(found, rel=1e-10)


def test_a_bar_of_a_textbook():
    given_, held, opened = PUBLISHED["B1"], PUBLISHED["B1"].answers, PUBLISHED["B2"].answers
    bar = rc.FlatBar(given_.given("thickness"), given_.given("width"))
    steel = rc.Material("book", given_.given("elastic_modulus"), 0.3, given_.given("yield_strength"))
    curvature = rc.curvature_under_moment(bar, steel, given_.given("moment"))
    assert held["loaded_radius"].house == pytest.approx(1 / curvature, rel=held["loaded_radius"].tolerance)
    core = rc.elastic_core(bar, steel, curvature)
    assert held["elastic_core"].house == pytest.approx(core, rel=held["elastic_core"].tolerance)
    released = rc.released_radius(bar, steel, 1 / curvature)
    assert opened["released_radius"].house == pytest.approx(released, rel=opened["released_radius"].tolerance)


@given(stocks, materials, tightness)
def test_the_core_s_edge_is_just_at_yield(stock, material, share):
    curvature = share * 2 / stock.depth
    core = rc.elastic_core(stock, material, curvature)
    assert core == rc.elastic_core(stock, material, -curvature)
    if rc.released_curvature(stock, material, curvature) == 0:
        assert core == pytest.approx(stock.depth, rel=1e-9)
    else:
        inside = rc.residual_stress(stock, material, curvature, core / 2 * 0.999)
        elastic = rc.released_curvature(stock, material, curvature)
        stiffness = rc.bending.bending_stiffness(stock, material) / stock.second_moment
        assert inside == pytest.approx(stiffness * elastic * core / 2 * 0.999, rel=1e-6, abs=1e-9 * stiffness)
        first = rc.bending.yield_curvature(stock, material)
        assert core / stock.depth == pytest.approx(first / curvature, rel=1e-9)


def test_signs_arrays_and_nothing():
    moments = np.array([[-9_000.0, 0.0, 9_000.0], [3_000.0, 11_000.0, -11_000.0]])
    curvatures = rc.curvature_under_moment(SHEET, STEEL, moments)
    assert curvatures.shape == moments.shape
    assert (np.sign(curvatures) == np.sign(moments)).all()
    assert rc.bending_moment(SHEET, STEEL, curvatures) == pytest.approx(moments, rel=1e-12)
    assert isinstance(rc.curvature_under_moment(SHEET, STEEL, 9_000), float)
    assert rc.curvature_under_moment(SHEET, STEEL, 0) == 0
    assert rc.elastic_core(SHEET, STEEL, 0) == pytest.approx(0.76)
    many = rc.Sheet(thickness=np.array([0.5, 0.76, 1.0]), width=300)
    assert rc.curvature_under_moment(many, STEEL, 2_000).shape == rc.elastic_core(many, STEEL, 0.01).shape == (3,)


@given(stocks, perfect_materials, st.floats(1.0001, 1e6))
def test_more_than_the_full_plastic_moment_is_refused(stock, material, times):
    full = rc.plastic_moment(stock, material)
    for moment in (times * full, -times * full):
        with pytest.raises(rc.InputError, match=r"^moment is .* N mm, but must be between .*no bend of this piece"):
            rc.curvature_under_moment(stock, material, moment)


def test_the_sentence_names_the_full_plastic_moment():
    limit = f"{rc.plastic_moment(SHEET, STEEL):.6g}"
    with pytest.raises(rc.InputError) as caught:
        rc.curvature_under_moment(SHEET, STEEL, [9_000, 13_000])
    assert str(caught.value).startswith(f"moment is 13000 N mm, but must be between -{limit} and {limit} N mm: ")


@given(line_materials)
def test_a_metal_that_hardens_holds_more(material):
    if material.hardening_modulus > 1:
        moment = rc.plastic_moment(SHEET, material)
        assert rc.curvature_under_moment(SHEET, material, moment) > rc.bending.yield_curvature(SHEET, material)


@given(st.one_of(not_numbers, not_finite))
def test_a_moment_must_be_a_finite_number(moment):
    with pytest.raises(rc.InputError, match=r"^moment"):
        rc.curvature_under_moment(SHEET, STEEL, moment)
