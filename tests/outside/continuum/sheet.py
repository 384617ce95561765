"""A strip of sheet as a plane-strain continuum: elements, metal, and the forces inside.

Elements have eight nodes and two by two points of integration (Zienkiewicz and Taylor, *The Finite Element Method*,
from memory). All is told in the flat strip's own places: Green's strain, the second Piola-Kirchhoff stress, so a turn
of any size strains nothing. The metal yields by von Mises and hardens isotropically; plastic strain is returned along
the radius (Simo and Hughes, *Computational Inelasticity*, from memory). Nothing here knows of moments, plane sections
or springback. Lengths in mm, stresses in MPa, forces per mm of width.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import LinAlgError, solve_banded
from scipy.linalg.lapack import dpbsv

import rollcalc as rc

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))
SIDES = ((0, -1), (1, 0), (0, 1), (-1, 0))
POINTS = tuple((x / math.sqrt(3), y / math.sqrt(3)) for x, y in CORNERS)


def slopes(xi: float, eta: float) -> Array:
    """Return the slopes of the eight shape functions, shape (8, 2), in an element from -1 to 1."""
    corners = [((2 * x * xi + y * eta) * x * (1 + y * eta) / 4, (x * xi + 2 * y * eta) * y * (1 + x * xi) / 4)
               for x, y in CORNERS]
    sides = [(-xi * (1 + y * eta), y * (1 - xi**2) / 2) if x == 0 else (x * (1 - eta**2) / 2, -eta * (1 + x * xi))
             for x, y in SIDES]
    return np.array(corners + sides)


def flow_stress(metal: rc.Material, plastic: Array) -> tuple[Array, Array]:
    """Return the metal's stress at a plastic strain in plain tension, and its slope. [MPa]"""
    if metal.swift is None:
        return metal.yield_strength + metal.hardening_modulus * plastic, metal.hardening_modulus + 0 * plastic
    law = metal.swift
    stress = law.strength * (law.offset + plastic) ** law.exponent
    return stress, law.exponent * stress / (law.offset + plastic)


@dataclass
class History:
    """What the metal remembers at each point: plastic strain (xx, yy, zz, twice xy), shape (..., 4), and its sum."""

    strain: Array
    total: Array


def stress(metal: rc.Material, strain: Array, past: History) -> tuple[Array, Array, History]:
    """Return stress (xx, yy, xy), its slope by strain, shape (..., 3, 3), and the new history.

    Strain is xx, yy and twice xy, shape (..., 3).
    """
    shear = metal.elastic_modulus / 2 / (1 + metal.poisson_ratio)
    bulk = metal.elastic_modulus / 3 / (1 - 2 * metal.poisson_ratio)
    elastic = np.concatenate((strain[..., :2], np.zeros_like(strain[..., :1]), strain[..., 2:]), -1) - past.strain
    pressure = bulk * elastic[..., :3].sum(-1)
    trial = shear * elastic
    trial[..., :3] = 2 * trial[..., :3] - (2 * shear / bulk / 3 * pressure)[..., None]
    size = np.sqrt(1.5 * ((trial[..., :3] ** 2).sum(-1) + 2 * trial[..., 3] ** 2))
    just_above = 1 + 1e-10  # a point that was left on the yield surface is elastic first
    yields = size > just_above * flow_stress(metal, past.total)[0]
    added, hardening = _added(metal, size[yields], past.total[yields], shear)

    kept, lost = np.ones_like(size), np.zeros_like(size)  # share of the trial stress kept, and of slope lost along it
    kept[yields] = 1 - 3 * shear * added / size[yields]
    lost[yields] = 9 * shear**2 * (added / size[yields] - 1 / (3 * shear + hardening))
    direction = trial / np.maximum(size, 1e-300)[..., None]

    now = History(past.strain.copy(), past.total.copy())
    now.strain[yields] += added[:, None] * direction[yields] * (1.5, 1.5, 1.5, 3)
    now.total[yields] += added
    stressed = kept[..., None] * trial[..., [0, 1, 3]]
    stressed[..., :2] += pressure[..., None]

    flat = direction[..., [0, 1, 3]]
    slope = lost[..., None, None] * flat[..., :, None] * flat[..., None, :]
    slope += (kept * shear)[..., None, None] * np.array([[4 / 3, -2 / 3, 0], [-2 / 3, 4 / 3, 0], [0, 0, 1]])
    slope[..., :2, :2] += bulk
    return stressed, slope, now


def _added(metal: rc.Material, size: Array, total: Array, shear: float) -> tuple[Array, Array]:
    """Return the plastic strain that brings a trial stress back to the yield stress, and the hardening there."""
    added = np.zeros_like(size)
    for _ in range(30):
        flow, hardening = flow_stress(metal, total + added)
        step = (size - 3 * shear * added - flow) / (3 * shear + hardening)
        added = np.maximum(added + step, 0)
        if np.all(np.abs(step) < 1e-14):
            break
    return added, flow_stress(metal, total + added)[1]


class Strip:
    """A flat strip from x = start on, `columns` elements long and `layers` (an even number) through its thickness."""

    def __init__(self, metal: rc.Material, thickness: float, start: float, length: float, columns: int, layers: int):
        self.metal, self.thickness, self.cell = metal, thickness, length / columns
        steps = 2 * layers + 1
        number = -np.ones((2 * columns + 1, steps), dtype=np.int64)
        there = (np.arange(2 * columns + 1)[:, None] * np.arange(steps)) % 2 == 0  # an element has no middle node
        number[there] = np.arange(there.sum())
        i, j = np.nonzero(there)
        self.flat = np.stack((start + i * self.cell / 2, (j / (2 * layers) - 0.5) * thickness), -1)
        self.middle, self.lower, self.upper = number[:, layers], _edges(number[:, 0]), _edges(number[:, -1])
        self.first, self.last = number[0], number[-1]
        i, j = (each.ravel() * 2 for each in np.meshgrid(range(columns), range(layers), indexing="ij"))
        nodes = np.stack([number[i + 1 + x, j + 1 + y] for x, y in CORNERS + SIDES], -1)
        self.nodes, self.dofs = nodes, (2 * nodes[..., None] + (0, 1)).reshape(len(nodes), 16)

        scale = np.array([2 / self.cell, 2 * layers / thickness])
        self.slopes = np.array([slopes(*point) * scale for point in POINTS])
        self.share = self.cell * thickness / layers / 4  # area of a point of integration
        self.moved = np.zeros(self.flat.size)
        self.past = History(np.zeros((len(nodes), 4, 4)), np.zeros((len(nodes), 4)))
        self.ahead = self.past
        self._prepare_band()

    def _prepare_band(self) -> None:
        """Work out once where each element's stiffness goes in the upper band."""
        self.band = int(np.ptp(self.dofs, axis=1).max())
        self._pairs = np.triu_indices(16)
        ends = self.dofs[:, self._pairs[0]], self.dofs[:, self._pairs[1]]
        self._slots = self.slots(np.minimum(*ends), np.maximum(*ends)).ravel()
        products = np.einsum("gac,gbd->gcdab", self.slopes, self.slopes)
        self._geometric = products.reshape(16, 64)

    def slots(self, row: Whole, column: Whole) -> Whole:
        """Return where entries of the upper triangle stand in the band."""
        return column * (self.band + 1) + self.band + row - column

    def places(self, moved: Array | None = None) -> Array:
        """Return where the nodes are, shape (nodes, 2). [mm]"""
        return self.flat + (self.moved if moved is None else moved).reshape(-1, 2)

    def forces(self, moved: Array) -> tuple[Array, Array]:
        """Return the nodes' inner forces [N/mm] and their stiffness, as a flat upper band; keep the history ahead."""
        count = len(self.nodes)
        own = moved.reshape(-1, 2)[self.nodes].transpose(0, 2, 1).reshape(-1, 8)
        turn = (own @ self.slopes.transpose(1, 0, 2).reshape(8, 8)).reshape(count, 2, 4, 2).transpose(0, 2, 1, 3)
        turn = turn + np.eye(2)
        right, up = turn[..., 0], turn[..., 1]  # where a step along x and along y of the flat strip points now
        strain = np.stack(((right**2).sum(-1) / 2 - 0.5, (up**2).sum(-1) / 2 - 0.5, (right * up).sum(-1)), -1)
        stressed, slope, self.ahead = stress(self.metal, strain, self.past)

        by_move = np.empty((count, 4, 3, 8, 2))
        along, across = self.slopes[None, :, :, None, 0], self.slopes[None, :, :, None, 1]
        by_move[:, :, 0] = along * right[:, :, None]
        by_move[:, :, 1] = across * up[:, :, None]
        by_move[:, :, 2] = along * up[:, :, None] + across * right[:, :, None]
        by_move = by_move.reshape(count, 4, 3, 16)
        stiff_by_move = (slope @ by_move).reshape(count, 12, 16)
        by_move = by_move.reshape(count, 12, 16)
        force = (stressed.reshape(count, 1, 12) @ by_move)[:, 0]
        stiffness = by_move.transpose(0, 2, 1) @ stiff_by_move
        whole = stressed[..., [0, 2, 2, 1]].reshape(count, 16) @ self._geometric
        stiffness[:, 0::2, 0::2] += whole.reshape(count, 8, 8)
        stiffness[:, 1::2, 1::2] += whole.reshape(count, 8, 8)

        inner = np.bincount(self.dofs.ravel(), force.ravel() * self.share, moved.size)
        entries = stiffness[:, self._pairs[0], self._pairs[1]].ravel() * self.share
        return inner, np.bincount(self._slots, entries, moved.size * (self.band + 1))

    def keep(self, moved: Array) -> None:
        """Take these moves, and the plastic strain that goes with them, as what has happened."""
        self.moved, self.past = moved, self.ahead


def _edges(row: Whole) -> Whole:
    """Return the three nodes of each element's edge along a row of nodes."""
    return np.stack((row[:-2:2], row[1:-1:2], row[2::2]), -1)


def solve_band(band: Array, load: Array, width: int) -> Array:
    """Return the moves under a load, for a stiffness given as a flat upper band."""
    upper = band.reshape(-1, width + 1).T
    _, found, fault = dpbsv(upper, load)
    if fault == 0:
        return found
    both = np.zeros((2 * width + 1, len(load)))  # not positive definite: a general solver
    both[: width + 1] = upper
    for step in range(1, width + 1):
        both[width + step, :-step] = upper[width - step, step:]
    try:
        return solve_banded((width, width), both, load)
    except LinAlgError:
        return np.full_like(load, np.nan)
