"""Published examples, one test each, against the table the lessons show (rollcalc.lessons.engine.published).

Arithmetic that belongs to a book and not to the library is written out here, step by step. Where a book makes an
assumption we do not (no half thickness, no plane strain), the test makes it too, and says so.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

import rollcalc as rc
from rollcalc.lessons.engine.published import (
    HOUSE_UNITS,
    MM_PER_INCH,
    MPA_PER_PSI,
    N_MM_PER_KIP_INCH,
    PUBLISHED,
    Published,
)

ANY_POISSON = 0.3
"""A bar's answer does not depend on Poisson's ratio; a book that bends bars need not give one."""


def metal_of(record: Published) -> rc.Material:
    """Return the perfectly plastic metal of a record."""
    strength = record.given("yield_strength")
    return rc.Material(record.id, record.given("elastic_modulus"), ANY_POISSON, yield_strength=strength)


def bar_of(record: Published) -> rc.FlatBar:
    """Return the flat bar of a record."""
    return rc.FlatBar(record.given("thickness"), record.given("width"))


def assert_all(record: Published, **computed: float) -> None:
    """Assert that each computed number, in mm, N and MPa, meets the published one, and that none is left out."""
    assert set(computed) == set(record.answers)
    for name, number in computed.items():
        assert record.answers[name].accepts(number), f"{record.id} {name}: {record.answers[name].beside(number)}"


def cubic(x: float) -> float:
    """Return the book's springback ratio R_i/R_f."""
    return 4 * x**3 - 3 * x + 1


def books_released_radius(record: Published, radius: float, stronger: float = 1.0, thicker: float = 1.0) -> float:
    """Return R_f with the book's assumptions: its R straight into a flat bar. [mm]"""
    metal = metal_of(record).with_yield(record.given("yield_strength") * stronger)
    return float(rc.released_radius(rc.FlatBar(record.given("thickness") * thicker, width=1), metal, radius))


def test_units_of_the_books() -> None:
    assert HOUSE_UNITS["in"] == MM_PER_INCH == 25.4
    assert pytest.approx(0.00689475729, rel=1e-8) == MPA_PER_PSI, "1 psi = 6894.757 Pa"
    assert pytest.approx(112_984.83, rel=1e-7) == N_MM_PER_KIP_INCH, "1 kip in = 112.98483 N m"
    assert HOUSE_UNITS["kip in"] == pytest.approx(HOUSE_UNITS["ksi"] * HOUSE_UNITS["in"] ** 3)


def test_every_record_has_its_test() -> None:
    tests = {name.removeprefix("test_record_") for name in globals() if name.startswith("test_record_")}
    assert tests == {key.lower() for key in PUBLISHED}


def test_every_wide_tolerance_has_a_reason() -> None:
    for record in PUBLISHED.values():
        assert record.source
        for name, answer in record.answers.items():
            assert answer.tolerance <= 0.001 or answer.reason or answer.value < 1, f"{record.id} {name}"


def test_record_s1() -> None:
    record = PUBLISHED["S1"]
    inside = record.given("loaded_radius")
    x = inside * record.given("yield_strength") / (record.given("elastic_modulus") * record.given("thickness"))
    assert x == pytest.approx(0.019210, abs=5e-7)
    by_hand = inside / cubic(x)
    ours = books_released_radius(record, inside)
    assert ours == pytest.approx(by_hand, rel=1e-12), "the classical cubic is our flat bar"
    assert_all(record, released_radius=ours, released_radius_unrounded=ours)

    half = record.given("thickness") / 2  # our own way: mid-thickness, and plane strain
    steel = metal_of(record)
    honest = rc.released_radius(rc.Sheet(thickness=2 * half, width=100), steel, inside + half) - half
    assert honest == pytest.approx(record.answers["released_radius"].house, rel=0.01)
    assert honest != pytest.approx(by_hand, rel=1e-4), "the two assumptions do move the answer"


def ratio_at(x: float) -> float:
    """Return R_i/R_f of a 1 mm bar whose metal puts R_i Y/(E t) at x."""
    radius, modulus = 100.0, 200_000.0
    metal = rc.Material("any", modulus, ANY_POISSON, yield_strength=x * modulus * 1.0 / radius)
    return radius / float(rc.released_radius(rc.FlatBar(1, 10), metal, radius))


def test_record_s2() -> None:
    assert_all(PUBLISHED["S2"], ratio=ratio_at(1e-7))


def test_record_s3() -> None:
    assert_all(PUBLISHED["S3"], ratio=ratio_at(PUBLISHED["S3"].given("x")))


@pytest.mark.parametrize("x", np.linspace(0.01, 0.49, 25))
def test_springback_cubic_between_its_limits(x: float) -> None:
    assert ratio_at(x) == pytest.approx(cubic(x), rel=1e-10, abs=1e-12)


def test_record_b1() -> None:
    record = PUBLISHED["B1"]
    bar, steel = bar_of(record), metal_of(record)
    curvature = curvature_of_moment(bar, steel, record.given("moment"))
    core = rc.elastic_core(bar, steel, curvature)
    assert rc.curvature_under_moment(bar, steel, record.given("moment")) == pytest.approx(curvature, rel=1e-12)
    assert rc.loaded_stress(bar, steel, curvature, core / 2 * 0.999) < steel.first_yield
    assert rc.loaded_stress(bar, steel, curvature, core / 2 * 1.001) == pytest.approx(steel.first_yield)
    assert_all(record, yield_moment=rc.yield_moment(bar, steel), elastic_core=core, loaded_radius=1 / curvature)


def curvature_of_moment(bar: rc.Stock, metal: rc.Material, moment: float) -> float:
    """Return the curvature whose moment is given. [1/mm]"""
    first = float(rc.bending.yield_curvature(bar, metal))
    return float(brentq(lambda k: rc.bending_moment(bar, metal, k) - moment, first, 50 * first, xtol=1e-18, rtol=1e-14))


def test_record_b2() -> None:
    record = PUBLISHED["B2"]
    bar, steel = bar_of(record), metal_of(record)
    curvature = curvature_of_moment(bar, steel, record.given("moment"))
    surface = record.given("thickness") / 2
    removed = rc.loaded_stress(bar, steel, curvature, surface) - rc.residual_stress(bar, steel, curvature, surface)
    assert_all(
        record,
        stress_removed_at_surface=removed,
        residual_stress_at_surface=rc.residual_stress(bar, steel, curvature, -surface),  # the book's +y is our -height
        residual_stress_at_40_mm=rc.residual_stress(bar, steel, curvature, -40),
        released_radius=1 / rc.released_curvature(bar, steel, curvature),
    )
    stays = rc.released_curvature(bar, steel, curvature) / curvature
    assert stays == pytest.approx(1 - 0.85, abs=0.005), "85 % springs back, as the note says"


class IBeam:
    """The I-section as an outer rectangle less the two openings beside its web, all at one curvature."""

    def __init__(self, record: Published) -> None:
        depth, flange = record.given("depth"), record.given("flange_thickness")
        width, web = record.given("flange_width"), record.given("web_thickness")
        self.outer = rc.FlatBar(depth, width)
        self.openings = rc.FlatBar(depth - 2 * flange, width - web)
        self.metal = metal_of(record)

    @property
    def second_moment(self) -> float:
        """Second moment of area. [mm⁴]"""
        return float(self.outer.second_moment - self.openings.second_moment)

    def moment(self, curvature: float) -> float:
        """Moment at a curvature. [N mm]"""
        whole, missing = (rc.bending_moment(bar, self.metal, curvature) for bar in (self.outer, self.openings))
        return float(whole - missing)

    def stress_removed(self, curvature: float, height: float) -> float:
        """Elastic stress M y/I that release takes away. [MPa]"""
        return self.moment(curvature) * height / self.second_moment


def test_record_b3() -> None:
    record = PUBLISHED["B3"]
    beam = IBeam(record)
    first_yield = float(rc.bending.yield_curvature(beam.outer, beam.metal))
    to_flange = record.given("depth") / 2 - record.given("flange_thickness")
    flanges_yielded = beam.metal.first_yield / (beam.metal.elastic_modulus * to_flange)
    assert_all(
        record,
        second_moment=beam.second_moment,
        yield_moment=beam.moment(first_yield),
        radius_at_first_yield=1 / first_yield,
        moment=beam.moment(flanges_yielded),
        radius_flanges_yielded=1 / flanges_yielded,
    )


def test_record_b4() -> None:
    record = PUBLISHED["B4"]
    beam = IBeam(record)
    surface, to_flange = record.given("depth") / 2, record.given("depth") / 2 - record.given("flange_thickness")
    curvature = beam.metal.first_yield / (beam.metal.elastic_modulus * to_flange)
    loaded = rc.loaded_stress(beam.outer, beam.metal, curvature, -to_flange)  # the book's +y is our -height
    released = curvature - beam.moment(curvature) / (beam.metal.elastic_modulus * beam.second_moment)
    assert_all(
        record,
        stress_removed_at_8_in=beam.stress_removed(curvature, surface),
        residual_stress_at_7_in=loaded - beam.stress_removed(curvature, -to_flange),
        released_radius=1 / released,
    )


def test_record_b7() -> None:
    metal = rc.Material("any", 200_000, ANY_POISSON, yield_strength=250)
    bars = {"rectangle": rc.FlatBar(3, 25), "round": rc.RoundBar(6)}
    factors = {name: rc.plastic_moment(bar, metal) / rc.yield_moment(bar, metal) for name, bar in bars.items()}
    assert_all(PUBLISHED["B7"], **factors)
    tight = {name: float(rc.bending_moment(bar, metal, 0.3)) for name, bar in bars.items()}
    for name, bar in bars.items():  # the factor is also what the moment tends to; 0.3/mm leaves a core of less than 1 %
        assert tight[name] == pytest.approx(rc.plastic_moment(bar, metal), rel=2e-4)


def test_record_h1() -> None:
    record = PUBLISHED["H1"]
    modulus = record.given("yield_strength") / record.given("yield_strain")
    risen = record.given("end_stress") - record.given("yield_strength")
    tangent = risen / (record.given("end_strain") - record.given("yield_strain"))  # against total strain, as the book
    hardening = modulus * tangent / (modulus - tangent)  # against plastic strain, as we do
    metal = rc.Material("book", modulus, ANY_POISSON, yield_strength=record.given("yield_strength"),
                        hardening_modulus=hardening)
    bar = bar_of(record)
    curvature = record.given("end_strain") / (record.given("thickness") / 2)
    at_edge = rc.loaded_stress(bar, metal, curvature, record.given("thickness") / 2)
    assert at_edge == pytest.approx(record.given("end_stress"))
    assert_all(
        record,
        moment=rc.bending_moment(bar, metal, curvature),
        loaded_curvature=curvature,
        elastic_core_half=rc.bending.yield_curvature(bar, metal) / curvature * record.given("thickness") / 2,
        released_radius=1 / rc.released_curvature(bar, metal, curvature),
    )


def test_record_e1() -> None:
    record = PUBLISHED["E1"]
    wire = rc.RoundBar(record.given("diameter"))
    limit = record.given("proportional_limit")
    steel = rc.Material("book", record.given("elastic_modulus"), ANY_POISSON, yield_strength=limit)
    curvature = 1 / (record.given("drum_radius") + record.given("diameter") / 2)
    assert_all(
        record,
        moment=rc.bending_moment(wire, steel, curvature),
        stress=rc.loaded_stress(wire, steel, curvature, record.given("diameter") / 2),
        released_curvature=rc.released_curvature(wire, steel, curvature),
    )
    assert rc.released_radius(wire, steel, 1 / curvature) == math.inf


def test_record_n2() -> None:
    record = PUBLISHED["N2"]
    sheet = rc.Sheet(thickness=record.given("thickness"), width=50)
    hoop = rc.cylinder_blank(sheet, outside_diameter=record.given("outside_diameter"))
    assert_all(record, mean_diameter=hoop.mean_diameter, length=hoop.length)
    assert hoop.length == pytest.approx(49.09 * 25.4, rel=1e-4)


def test_record_e2() -> None:
    record = PUBLISHED["E2"]
    steel = rc.Material("book", record.given("elastic_modulus"), ANY_POISSON, yield_strength=250)
    bar, curvature = bar_of(record), 1 / record.given("radius")
    assert_all(
        record,
        stress=rc.loaded_stress(bar, steel, curvature, record.given("thickness") / 2),
        moment=rc.bending_moment(bar, steel, curvature),
        released_curvature=rc.released_curvature(bar, steel, curvature),
    )
    sheet = rc.Sheet(thickness=record.given("thickness"), width=record.given("width"))
    held_in_width = rc.bending_moment(sheet, steel, curvature) / rc.bending_moment(bar, steel, curvature)
    assert held_in_width == pytest.approx(1 / (1 - ANY_POISSON**2)), "the note's factor for a sheet"


def test_record_r5() -> None:
    record = PUBLISHED["R5"]
    plastic = rc.Material("any", 200_000, ANY_POISSON, yield_strength=200)
    held, free = (rc.loaded_stress(stock, plastic, 0.2, 0.5) for stock in (rc.Sheet(thickness=1, width=100),
                                                                           rc.FlatBar(1, 10)))

    exponent, offset = record.given("exponent"), 1e-9  # K ε_pⁿ: the offset only keeps a yield point
    power_law = rc.Material("book", 200_000, ANY_POISSON, swift=rc.Swift(record.given("strength"), offset, exponent))
    stress = rc.loaded_stress(rc.Sheet(thickness=1, width=100), power_law, 0.2, 0.5)
    plastic_strain = 0.2 * 0.5 - stress * (1 - ANY_POISSON**2) / 200_000
    assert_all(record, yield_factor=held / free, plane_strain_strength=stress / plastic_strain**exponent)


def test_record_sc() -> None:
    record = PUBLISHED["SC"]
    radius = record.given("loaded_radius")
    more_yield, more_thickness = record.given("yield_change"), record.given("thickness_change")
    assert_all(
        record,
        released_radius=books_released_radius(record, radius),
        yield_high=books_released_radius(record, radius, stronger=1 + more_yield),
        yield_low=books_released_radius(record, radius, stronger=1 - more_yield),
        thickness_high=books_released_radius(record, radius, thicker=1 + more_thickness),
        thickness_low=books_released_radius(record, radius, thicker=1 - more_thickness),
    )
    tight = radius / 10
    nominal = books_released_radius(record, tight)
    for change in (1 - more_yield, 1 + more_yield):
        assert books_released_radius(record, tight, stronger=change) == pytest.approx(nominal, rel=0.01)
    for change in (1 - more_thickness, 1 + more_thickness):
        assert books_released_radius(record, tight, thicker=change) == pytest.approx(nominal, rel=0.01)


def test_springback_band_spans_both_scatters_of_sc() -> None:
    record = PUBLISHED["SC"]
    nominal_yield, change = record.given("yield_strength"), record.given("yield_change")
    steel = rc.Material("book", record.given("elastic_modulus"), ANY_POISSON, yield_strength=nominal_yield,
                        yield_range=((1 - change) * nominal_yield, (1 + change) * nominal_yield))
    bar, radius = rc.FlatBar(record.given("thickness"), width=1), record.given("loaded_radius")
    by_yield = rc.springback_band(bar, steel, radius)
    assert record.answers["yield_low"].accepts(float(by_yield.low))
    assert record.answers["released_radius"].accepts(float(by_yield.nominal))
    assert record.answers["yield_high"].accepts(float(by_yield.high))
    tolerance = record.given("thickness_change") * record.given("thickness")
    wider = rc.springback_band(bar, steel, radius, thickness_tolerance=tolerance)
    assert float(wider.low) < float(by_yield.low)
    assert float(wider.high) > float(by_yield.high)


def test_record_g20() -> None:
    record = PUBLISHED["G20"]
    gauge = int(record.given("gauge"))
    assert_all(record, **{metal: rc.gauge_thickness(gauge, metal) for metal in record.answers})
