"""The same physics by scipy's adaptive quadrature and root finder, from stress laws written out again here."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise, product

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

import rollcalc as rc
from tests.outside.crosscheck_table import ROWS

Function = Callable[[float], float]
EXACT = 1e-9
"""Agreement asked of moments, curvatures and energies."""


@dataclass(frozen=True)
class Piece:
    """A stock, its metal and a curvature, with the fibre's stress law written out a second time."""

    name: str
    stock: rc.Stock
    metal: rc.Material
    curvature: float

    @property
    def half(self) -> float:
        """Half the depth. [mm]"""
        return float(self.stock.depth) / 2

    @property
    def factor(self) -> float:
        """Plane-strain factor 2/√3 of a sheet. [-]"""
        return 2 / math.sqrt(3) if isinstance(self.stock, rc.Sheet) else 1.0

    @property
    def modulus(self) -> float:
        """Elastic modulus along the fibre. [MPa]"""
        held = float(self.metal.poisson_ratio) ** 2 if isinstance(self.stock, rc.Sheet) else 0.0
        return float(self.metal.elastic_modulus) / (1 - held)

    @property
    def yield_strain(self) -> float:
        """Strain at first yield. [-]"""
        return self.factor * float(self.metal.first_yield) / self.modulus

    def stress(self, strain: float) -> float:
        """Return the stress at a strain. [MPa]"""
        size = abs(strain)
        if size <= self.yield_strain:
            return self.modulus * strain
        beyond = self.stress_on_line(size) if self.metal.swift is None else self.stress_on_power_law(size)
        return math.copysign(beyond, strain)

    def stress_on_line(self, strain: float) -> float:
        """Return σ_y′ + E_t′ (ε − ε_y), with 1/E_t′ = 1/E′ + 1/H′. [MPa]"""
        hardening = self.factor**2 * float(self.metal.hardening_modulus)
        tangent = 1 / (1 / self.modulus + 1 / hardening) if hardening else 0.0
        return self.factor * float(self.metal.first_yield) + tangent * (strain - self.yield_strain)

    def stress_on_power_law(self, strain: float) -> float:
        """Return the stress where spring E′(ε − ε_p) and flow stress k K(ε₀ + k ε_p)ⁿ meet. [MPa]"""
        law, k = self.metal.swift, self.factor
        assert law is not None
        flow = lambda p: k * float(law.strength) * (float(law.offset) + k * p) ** float(law.exponent)
        plastic = brentq(lambda p: self.modulus * (strain - p) - flow(p), 0, strain, xtol=1e-18, rtol=1e-15)
        return self.modulus * (strain - float(plastic))

    def breadth(self, height: float) -> float:
        """Return the section's breadth at a height. [mm]"""
        if isinstance(self.stock, rc.RoundBar):
            return 2 * math.sqrt(max(self.half**2 - height**2, 0.0))
        return float(self.stock.width)

    def over_section(self, function: Function) -> float:
        """Return ∫ function(y) breadth(y) dy, split at the elastic core's edges."""
        core = min(self.yield_strain / self.curvature, self.half)
        edges = sorted({-self.half, -core, 0.0, core, self.half})
        return sum(integral(lambda y: function(y) * self.breadth(y), low, high) for low, high in pairwise(edges))

    def moment(self, curvature: float) -> float:
        """Return the moment at a curvature, by quadrature over the thickness. [N mm]"""
        bent = replace(self, curvature=curvature)
        return bent.over_section(lambda y: bent.stress(y * curvature) * y)

    @property
    def stiffness(self) -> float:
        """E I by quadrature. [N mm²]"""
        return self.modulus * self.over_section(lambda y: y * y)


def integral(function: Function, low: float, high: float) -> float:
    """Return ∫ function, adaptively to a relative 1e-12."""
    return float(quad(function, low, high, epsabs=0, epsrel=1e-12, limit=200)[0]) if high > low else 0.0


def swift_pieces() -> list[Piece]:
    """Return pieces of two power-law metals: a fitted stainless steel, a soft metal with next to no elastic range."""
    metals = (
        rc.Material("stainless", 193_000, 0.29, swift=rc.Swift(strength=1270, offset=0.0139, exponent=0.345)),
        rc.Material("soft copper", 117_000, 0.34, swift=rc.Swift(strength=530, offset=0.003, exponent=0.44)),
    )
    stocks = (rc.Sheet(thickness=0.8, width=100), rc.FlatBar(3, 25), rc.RoundBar(6))
    return [
        Piece(f"{type(stock).__name__}, {metal.name}, R/t {ratio}", stock, metal, 1 / (ratio * float(stock.depth)))
        for metal, stock, ratio in product(metals, stocks, (5, 20, 100, 400))
    ]


LINEAR = [Piece(row.name, row.stock, row.metal, row.curvature) for row in ROWS]
SWIFT = swift_pieces()
FEW = LINEAR[1::7] + SWIFT[::3]
"""For the slow checks: every seventh linear and every third power-law piece, all shapes among them."""


def by_name(piece: Piece) -> str:
    """Return the piece's name, for the test report."""
    return piece.name


def test_enough_pieces() -> None:
    assert len(LINEAR) >= 40
    assert len(SWIFT) >= 20
    assert {type(piece.stock) for piece in FEW} == {rc.Sheet, rc.FlatBar, rc.RoundBar}


@pytest.mark.parametrize("piece", LINEAR + SWIFT, ids=by_name)
def test_moment_is_the_integral_of_stress_times_height(piece: Piece) -> None:
    ours = rc.bending_moment(piece.stock, piece.metal, piece.curvature)
    assert ours == pytest.approx(piece.moment(piece.curvature), rel=EXACT)


@pytest.mark.parametrize("piece", LINEAR + SWIFT, ids=by_name)
def test_release_is_elastic(piece: Piece) -> None:
    released = piece.curvature - piece.moment(piece.curvature) / piece.stiffness
    ours = rc.released_curvature(piece.stock, piece.metal, piece.curvature)
    assert ours == pytest.approx(released, rel=EXACT, abs=EXACT * piece.curvature)


@pytest.mark.parametrize("piece", FEW, ids=by_name)
def test_loaded_curvature_is_the_root_brentq_finds(piece: Piece) -> None:
    wanted = piece.curvature / 3
    first_yield = piece.yield_strain / piece.half
    miss = lambda k: k - piece.moment(k) / piece.stiffness - wanted
    root = brentq(miss, first_yield, wanted + 2 * first_yield + 2 * piece.curvature, xtol=1e-16, rtol=1e-13)
    assert rc.loaded_curvature(piece.stock, piece.metal, wanted) == pytest.approx(root, rel=EXACT)


@pytest.mark.parametrize("piece", FEW, ids=by_name)
def test_radius_inverse_is_the_root_brentq_finds(piece: Piece) -> None:
    loaded_radius = 1 / (piece.curvature + 2 * piece.yield_strain / piece.half)
    released_radius = float(rc.released_radius(piece.stock, piece.metal, loaded_radius))
    miss = lambda radius: rc.released_curvature(piece.stock, piece.metal, 1 / radius) - 1 / released_radius
    root = brentq(miss, piece.half * 1.0001, released_radius, xtol=1e-12, rtol=1e-14)
    assert rc.loaded_radius(piece.stock, piece.metal, released_radius) == pytest.approx(root, rel=EXACT)


@pytest.mark.parametrize("piece", FEW, ids=by_name)
def test_energies_are_areas_under_the_curve(piece: Piece) -> None:
    stock, metal, curvature = piece.stock, piece.metal, piece.curvature
    first_yield = min(piece.yield_strain / piece.half, curvature)
    spent = integral(piece.moment, 0, first_yield) + integral(piece.moment, first_yield, curvature)
    moment = piece.moment(curvature)
    given_back = moment**2 / (2 * piece.stiffness)
    scale = curvature * moment
    assert rc.bending.plastic_work(stock, metal, curvature) == pytest.approx(spent - given_back, abs=EXACT * scale)
    other = rc.bending.energy.complementary_energy(stock, metal, curvature)
    assert other == pytest.approx(scale - spent, abs=EXACT * scale)


@pytest.mark.parametrize("piece", LINEAR[::3] + SWIFT, ids=by_name)
def test_stress_through_the_thickness(piece: Piece) -> None:
    for share in (-1.0, -0.7, -0.2, -0.01, 0.0, 0.003, 0.4, 0.99, 1.0):
        height = share * piece.half
        ours = rc.loaded_stress(piece.stock, piece.metal, piece.curvature, height)
        assert ours == pytest.approx(piece.stress(height * piece.curvature), rel=EXACT, abs=1e-9)


@pytest.mark.parametrize("piece", FEW, ids=by_name)
def test_residual_stress_has_no_force_and_no_moment(piece: Piece) -> None:
    """Loaded and elastic stress are each as large as the sums below are small."""
    residual = lambda y: float(rc.residual_stress(piece.stock, piece.metal, piece.curvature, y))
    gross_force = piece.over_section(lambda y: abs(piece.stress(y * piece.curvature)))
    gross_moment = piece.moment(piece.curvature)
    assert abs(signed_integral(residual, piece)) <= EXACT * gross_force
    assert abs(signed_integral(lambda y: residual(y) * y, piece)) <= EXACT * gross_moment
    yielded = piece.curvature > piece.yield_strain / piece.half
    locked_in = max(abs(residual(share * piece.half)) for share in (0.3, 0.6, 1.0))
    assert (locked_in > 1e-4 * float(piece.metal.first_yield)) == yielded


def signed_integral(function: Function, piece: Piece) -> float:
    """Return ∫ function(y) breadth(y) dy of a function that cancels: its error is small beside its gross size."""
    over = lambda y: function(y) * piece.breadth(y)
    core = min(piece.yield_strain / piece.curvature, piece.half)
    edges = sorted({-piece.half, -core, 0.0, core, piece.half})
    gross = max(abs(over(piece.half * share / 8)) for share in range(-8, 9)) * 2 * piece.half
    return sum(quad(over, low, high, epsabs=1e-11 * gross, limit=200)[0] for low, high in pairwise(edges))
