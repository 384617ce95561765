"""Rigid round rolls against a strip, and the balance of both.

A roll presses back with a pressure in proportion to how deep a point of the strip's surface is in it, without friction.
The balance is found by Newton's method with the exact slope. Lengths in mm, forces in N per mm of width.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from .sheet import Array, Strip, Whole, solve_band

ALONG, WEIGHTS = np.polynomial.legendre.leggauss(5)
EDGE = np.stack((ALONG * (ALONG - 1) / 2, 1 - ALONG**2, ALONG * (ALONG + 1) / 2), -1)
"""Shape functions of an edge's three nodes at five points, shape (5, 3)."""


@dataclass
class Roll:
    """A roll above or below the strip: its centre, radius and stiffness [MPa/mm], and how it touches."""

    radius: float
    stiffness: float
    above: bool
    x: float = 0.0
    y: float = 0.0
    force: float = 0.0
    contact: Array = field(default_factory=lambda: np.zeros(2))

    def press(self, strip: Strip, moved: Array) -> tuple[Array, Array, Whole]:
        """Return its force on each touching edge (n, 6), the slope of it (n, 6, 6), and the edges' moves (n, 6)."""
        edges = strip.upper if self.above else strip.lower
        centre = np.array([self.x, self.y])
        away = EDGE @ strip.places(moved)[edges] - centre
        distance = np.hypot(away[..., 0], away[..., 1])
        touching = (distance < self.radius).any(-1)
        away, distance = away[touching], distance[touching]
        places, normal = away + centre, away / distance[..., None]
        stiffness = self.stiffness * WEIGHTS * strip.cell / 2 * (distance < self.radius)
        push = stiffness * (self.radius - distance)
        total = np.einsum("eg,egc->c", push, normal)
        self.force = float(np.hypot(*total))
        if push.sum() > 0:
            self.contact = np.einsum("eg,egc->c", push, places) / push.sum()
        force = np.einsum("eg,gk,egc->ekc", push, EDGE, normal).reshape(-1, 6)
        across = normal[..., :, None] * normal[..., None, :]
        grown = (push / distance)[..., None, None]
        local = (stiffness[..., None, None] + grown) * across - grown * np.eye(2)
        slope = np.einsum("gk,gl,egcd->ekcld", EDGE, EDGE, local).reshape(-1, 6, 6)
        return force, slope, (2 * edges[touching][..., None] + (0, 1)).reshape(-1, 6)


@dataclass
class Balance:
    """A strip, its rolls, and loads besides; `held` says which moves are given."""

    strip: Strip
    rolls: list[Roll]
    load: Array | float = 0.0
    held_forces: dict[int, float] = field(default_factory=dict)
    rounds: int = 0

    def find(self, held: dict[int, float], guess: Array | None = None, most: int = 20, tolerance: float = 1e-6) -> bool:
        """Find the balance with the held moves at their values, and keep it; return whether it was found."""
        strip, dofs = self.strip, list(held)
        wanted = np.array([held[dof] for dof in dofs])
        moved = strip.moved.copy() if guess is None else strip.moved + guess
        smallest = 1e-2 * float(strip.metal.first_yield) * strip.thickness
        for _ in range(most):
            self.rounds += 1
            inner, band = strip.forces(moved)
            outer = np.zeros_like(inner) + self.load
            self._add_rolls(moved, outer, band)
            left = outer - inner
            self.held_forces = {dof: -float(left[dof]) for dof in dofs}
            left[dofs] = 0
            scale = max([smallest, *(roll.force for roll in self.rolls)])
            off = np.abs(moved[dofs] - wanted).max()
            if not np.isfinite(left).all():
                return False
            if np.abs(left).max() < tolerance * scale and off < 1e-9:
                strip.keep(moved)
                return True
            stiff = 1e6 * float(strip.metal.elastic_modulus)
            band[strip.slots(np.array(dofs), np.array(dofs))] += stiff
            left[dofs] = stiff * (wanted - moved[dofs])
            step = solve_band(band, left, strip.band)
            moved = moved + step * min(1.0, 2 * strip.thickness / max(np.abs(step).max(), 1e-300))
        return False

    def _add_rolls(self, moved: Array, outer: Array, band: Array) -> None:
        """Add the rolls' forces, and their slope to the band."""
        for roll in self.rolls:
            force, slope, dofs = roll.press(self.strip, moved)
            np.add.at(outer, dofs, force)
            rows, columns = np.broadcast_arrays(dofs[:, :, None], dofs[:, None, :])
            above = rows <= columns
            np.add.at(band, self.strip.slots(rows[above], columns[above]), slope[above])
