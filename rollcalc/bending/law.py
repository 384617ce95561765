"""What one fibre does: stress and plastic strain against strain.

Everything later in this room is built from the plastic strain of the fibres, because what a
piece keeps after release is exactly what its plastic strain asks for.
"""

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from rollcalc.stock.materials import Material, checked_material
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.sections import Stock, checked_stock

SMOOTH_POINTS = 24
"""Gauss points over the yielded part where stress or breadth is curved: within 1e-8 of 200 points."""


@dataclass(frozen=True, eq=False)
class LinearLaw:
    """Elastic up to the yield stress, then a straight line (slope zero: perfectly plastic).

    Beyond yield ε_p = (1 − a)(ε − ε_y), where a = E_t/E is the tangent ratio; E is the modulus along the fibre, which
    in plane strain is E/(1 − ν²).
    """

    modulus: FloatLike
    yield_stress: FloatLike
    tangent_ratio: FloatLike

    is_straight: ClassVar[bool] = True

    @property
    def yield_strain(self) -> FloatLike:
        """Strain where the fibre yields, ε_y = σ_y/E. [-]"""
        return self.yield_stress / self.modulus

    def plastic_strain(self, strain: FloatLike) -> FloatLike:
        """Return ε_p at a strain ≥ 0. [-]"""
        return plain((1 - self.tangent_ratio) * np.maximum(strain - self.yield_strain, 0.0))

    def plastic_strain_slope(self, strain: FloatLike) -> FloatLike:
        """Return dε_p/dε at a strain ≥ 0. [-]"""
        return plain(np.where(strain > self.yield_strain, 1 - self.tangent_ratio, 0.0))

    def plastic_strain_area(self, strain: FloatLike) -> FloatLike:
        """Return ∫ε_p dε from zero to a strain ≥ 0. [-]"""
        return plain((1 - self.tangent_ratio) * np.maximum(strain - self.yield_strain, 0.0) ** 2 / 2)


@dataclass(frozen=True, eq=False)
class SwiftLaw:
    """Elastic up to first yield, then the power law σ = K (ε₀ + ε_p)ⁿ, plane strain already in its numbers.

    The plastic strain solves E(ε − ε_p) = K(ε₀ + ε_p)ⁿ. The right side is concave, so Newton's
    method from ε_p = 0 climbs to the root without overshooting.
    """

    modulus: FloatLike
    strength: FloatLike
    offset: FloatLike
    exponent: FloatLike

    is_straight: ClassVar[bool] = False

    @property
    def yield_stress(self) -> FloatLike:
        """Stress where the fibre yields, K ε₀ⁿ. [MPa]"""
        return self.strength * self.offset**self.exponent

    @property
    def yield_strain(self) -> FloatLike:
        """Strain where the fibre yields. [-]"""
        return self.yield_stress / self.modulus

    def plastic_strain(self, strain: FloatLike) -> FloatLike:
        """Return ε_p at a strain ≥ 0. [-]"""
        excess = np.maximum(strain - self.yield_strain, 0.0)
        plastic = np.zeros(np.broadcast_shapes(*map(np.shape, (excess, self.offset, self.exponent, self.strength))))
        for _ in range(100):
            risen = self.strength / self.modulus * (self.offset + plastic) ** self.exponent - self.yield_strain
            step = (excess - plastic - risen) / (1 + self._hardening_slope(plastic) / self.modulus)
            plastic = plastic + step
            if np.all(np.abs(step) <= 1e-9 * (plastic + self.offset)):  # the next step would be its square
                break
        return plain(np.maximum(plastic, 0.0))

    def plastic_strain_slope(self, strain: FloatLike) -> FloatLike:
        """Return dε_p/dε at a strain ≥ 0. [-]"""
        slope = 1 / (1 + self._hardening_slope(self.plastic_strain(strain)) / self.modulus)
        return plain(np.where(strain > self.yield_strain, slope, 0.0))

    def plastic_strain_area(self, strain: FloatLike) -> FloatLike:
        """Return ∫ε_p dε from zero to a strain ≥ 0. [-]"""
        plastic, power = self.plastic_strain(strain), self.exponent + 1
        stress = self.strength * (self.offset + plastic) ** self.exponent
        work = self.strength * ((self.offset + plastic) ** power - self.offset**power) / power
        return plastic**2 / 2 + (plastic * stress - work) / self.modulus

    def _hardening_slope(self, plastic: FloatLike) -> FloatLike:
        """Return dσ/dε_p."""
        return self.strength * self.exponent * (self.offset + plastic) ** (self.exponent - 1)


FibreLaw = LinearLaw | SwiftLaw


def fibre_law(stock: Stock, material: Material) -> FibreLaw:
    """Return the law of the fibres of this stock; for a sheet in plane strain, E′ = E/(1 − ν²), σ′(ε_p) = k σ(k ε_p).

    With k = 2/√3 a straight hardening line becomes steeper by 4/3, a power law's coefficient grows by k to n + 1.
    """
    checked_stock(stock)
    checked_material(material)
    factor = 2 / math.sqrt(3) if stock.plane_strain else 1.0
    modulus = material.elastic_modulus / (1 - material.poisson_ratio**2 * stock.plane_strain)
    if material.swift is not None:
        swift = material.swift
        return SwiftLaw(modulus, swift.strength * factor ** (swift.exponent + 1), swift.offset / factor, swift.exponent)
    hardening = material.hardening_modulus * factor**2
    return LinearLaw(modulus, material.first_yield * factor, hardening / (modulus + hardening))
