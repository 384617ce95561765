"""What is believed of yield, pinch and touch: a weight for every combination of the three, changed by each reading.

The screws' travel for a radius is worked out by the solver at a few yields and pinches, and is very nearly straight in
between: in the yield and in one over the pinch, to 0.01 mm. Touch only shifts it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rollcalc.rolling import Machine, PinchMachine
from rollcalc.rolling.machine.grooves import machine_for
from rollcalc.rolling.radius import setting_and_state
from rollcalc.stock.materials import Material
from rollcalc.stock.sections import Stock

from .reading import FLATTEST, KNOB_ERROR, Band, Measured

PINCHES = (1000.0, 6000.0)
"""What screws turned snug by hand may give: our own estimate. [N]"""

TOUCH_ERROR = 0.4
"""How far touch may lie from where it was counted on, either way: our own estimate. [mm]"""

SPREAD = 0.3
"""How far the yield of a metal without a stated range may lie from its own, either way: our own choice. [-]"""

CELLS = (24, 32, 24)
"""Combinations of yield, pinch and touch. [-]"""

NODES = (5, 9)
"""Yields and pinches for which the solver is asked. [-]"""

AGREES = 1e-3
"""How well a combination must explain a reading at least: less than by chance in one of a thousand is no misreading,
with the errors that are counted on. [-]"""

CURVES = 24
"""Curvatures between which the piece that was read may lie. [-]"""

REACH = 1.5
"""How far they reach, over the error of the reading. [-]"""

TAIL = 0.1
"""Share of belief below a band, and above it. [-]"""

UNLIKELY = 3e-4
"""Combinations that are so much less likely than the likeliest do not count for the next pass. [-]"""

Grid = NDArray[np.float64]
Cells = tuple[NDArray[np.int_], ...]


class Piece(NamedTuple):
    """What is believed of a piece: the chances that it is flatter than some curvatures, with each combination."""

    curvatures: Grid  # shape (curves,), rising [1/mm]
    flatter: Grid  # shape (curves, *combinations), rising from 0 to 1 [-]

    @property
    def widest(self) -> float:
        """The largest radius that it may have. [mm]"""
        return float(1 / self.curvatures[0]) if self.curvatures[0] > 1 / FLATTEST else math.inf

    def chances(self, curvatures: Grid, cells: Cells | tuple[()] = ()) -> Grid:
        """Return the chances that it is flatter than these, with some combinations or all. [-]"""
        ways = np.array([np.interp(curvatures, self.curvatures, row) for row in np.eye(len(self.curvatures))]).T
        return np.asarray(np.tensordot(ways, self.flatter[(slice(None), *cells)], 1))


@dataclass(frozen=True, eq=False)
class Belief:
    """Weights on a grid of yield, pinch and touch; without a pinch to learn, the machine's own nip stands."""

    machine: Machine
    material: Material
    yields: Grid  # shape (n,) [MPa]
    pinches: Grid | None  # shape (n,), even steps of one over them [N]
    touches: Grid  # shape (k,) [mm]
    chances: Grid  # of each combination before any reading [-]
    logs: Grid  # logarithm of how well each combination explains the readings [-]
    agrees: NDArray[np.bool_]  # whether it explains each of them
    pieces: Mapping[Stock, Piece]  # by the last reading of each

    @property
    def weights(self) -> Grid:
        """What is believed of each combination, 1 in all. [-]"""
        best = np.max(self.logs)
        found: Grid = self.chances * np.exp(self.logs - best) if best > -math.inf else self.chances
        return np.asarray(found / found.sum())

    @property
    def agreement(self) -> float:
        """Logarithm of how well the readings agree with what was to be expected, minus infinity where not at all."""
        if not np.any(self.agrees):
            return -math.inf
        best = float(np.max(self.logs))
        return best + math.log(float(np.sum(self.chances * np.exp(self.logs - best))))

    def travels(self, stock: Stock, radii: Grid, entering_radius: float) -> Grid:
        """Return travels for some radii with each yield and pinch, infinite where the rolls cannot hold the curve."""
        radii = np.minimum(radii, min(FLATTEST, entering_radius * (1 - 1e-4)))
        machine, metal = self.machine, np.linspace(self.yields[0], self.yields[-1], NODES[0])[:, None, None]
        ways = _between(CELLS[0], NODES[0])
        if self.pinches is None or not isinstance(machine, PinchMachine):
            return _mixed(ways, _solved(machine, stock, self.material, metal, radii, entering_radius))
        softness = np.linspace(1 / self.pinches[0], 1 / self.pinches[-1], NODES[1])
        machine = replace(machine, pinch_force=1 / softness[:, None])
        found = _solved(machine, stock, self.material, metal, radii, entering_radius)
        return _mixed(_between(CELLS[1], NODES[1]), _mixed(ways, found).swapaxes(0, 1)).swapaxes(0, 1)

    def likely(self) -> tuple[Cells, Grid]:
        """Return the combinations that count, and what is believed of each, 1 in all."""
        weights = self.weights
        cells = np.nonzero(weights > UNLIKELY * weights.max())
        return cells, weights[cells] / weights[cells].sum()

    def knobs(self, stock: Stock, radii: Grid, entering_radius: float, cells: Cells) -> Grid:
        """Return what the knobs must show for some radii with some combinations, shape (radii, combinations). [mm]"""
        metal, pinch, touch = cells
        return np.moveaxis(self.travels(stock, radii, entering_radius), -1, 0)[:, metal, pinch] + self.touches[touch]

    def learned(self, reading: Measured) -> Belief:
        """Return the belief after a reading: which curvatures the screws may have given, and how well each explains
        what the rule showed. A pass that asks for less than the piece has leaves it as it was.
        """
        before = self.pieces.get(reading.stock) if reading.pass_number > 1 else None
        middle, most, least = 1 / np.array([reading.released_radius, reading.tightest, reading.widest])
        up, down = most - middle, max(middle - least, most - middle if least == 0 else 0.0)
        curvatures = np.linspace(max(middle - REACH * down, 1 / FLATTEST), middle + REACH * up, CURVES)
        entering = reading.entering_radius if before is None else before.widest
        needed = np.moveaxis(self.travels(reading.stock, 1 / curvatures, entering), -1, 0)[..., None] + self.touches
        pitch = self.machine.screw_pitch
        flatter = np.clip((needed / pitch - reading.turns + KNOB_ERROR) / (2 * KNOB_ERROR), 0.0, 1.0)
        if before is not None:
            flatter *= before.chances(curvatures)
        elif reading.pass_number == 1:
            flatter *= (curvatures * reading.entering_radius > 1).reshape(-1, 1, 1, 1)
        if curvatures[0] == 1 / FLATTEST:
            flatter[0] = 0.0  # what is flatter than that is flat
        off = ((curvatures[1:] + curvatures[:-1]) / 2 - middle) / np.where(curvatures[1:] > middle, up, down)
        likely = np.diff(flatter, axis=0) * np.exp(-1.5 * off**2).reshape(-1, 1, 1, 1)  # an even error's deviation
        sums = np.concatenate([np.zeros((1, *flatter.shape[1:])), np.cumsum(likely, axis=0)])
        found = np.maximum(sums[-1], 1e-300)
        piece = Piece(curvatures, np.where(sums[-1] > 1e-300, sums / found, 1.0))
        return replace(self, logs=self.logs + np.log(found), agrees=self.agrees & (found > AGREES),
                       pieces={**self.pieces, reading.stock: piece})

    def band(self, axis: int) -> Band:
        """Return what is believed of yield (0), pinch (1) or touch (2)."""
        values = (self.yields, self.pinches, self.touches)[axis]
        assert values is not None, "there is no pinch to learn"
        shares = self.weights.sum(axis=tuple({0, 1, 2} - {axis}))
        if axis == 1:
            low, high = 1 / quantiles(1 / values, shares)[::-1]
        else:
            low, high = quantiles(values, shares)
        return Band(float(values @ shares), float(low), float(high))


def prior_belief(machine: Machine, material: Material) -> Belief:
    """Return what is believed before any reading."""
    low, high = material.yield_range or (float(material.first_yield) * end for end in (1 - SPREAD, 1 + SPREAD))
    yields, pinches, touches = _middles(low, high, CELLS[0]), None, _middles(-TOUCH_ERROR, TOUCH_ERROR, CELLS[2])
    shares = np.ones(1)
    if isinstance(machine, PinchMachine) and not np.any(machine.nip_slack):
        ends = PINCHES if machine.pinch_force is None else (min(PINCHES[0], float(machine.pinch_force) / 2),
                                                            max(PINCHES[1], float(machine.pinch_force) * 2))
        pinches = shares = 1 / _middles(1 / ends[0], 1 / ends[1], CELLS[1])
    chances = np.ones((CELLS[0], 1, CELLS[2])) * shares[:, None]  # even in the logarithm of the pinch
    return Belief(machine, material, yields, pinches, touches, chances / chances.sum(), np.zeros(chances.shape),
                  np.ones(chances.shape, dtype=bool), {})


def quantiles(values: Grid, shares: Grid, chances: tuple[float, ...] = (TAIL, 1 - TAIL)) -> Grid:
    """Return where so much of the belief lies below, for cells of even width around rising or falling values."""
    rising = np.argsort(values)
    middles, half = values[rising], np.abs(values[1] - values[0]) / 2
    return np.asarray(np.interp(chances, np.concatenate([[0.0], np.cumsum(shares[rising])]),
                                np.concatenate([middles - half, middles[-1:] + half])))


def _solved(machine: Machine, stock: Stock, material: Material, yields: Grid, radii: Grid, entering: float) -> Grid:
    """Return the solver's travels."""
    found, metal = machine_for(machine, stock), material.with_yield(yields)
    pinches = np.asarray(0.0 if found.pinch_force is None else found.pinch_force)
    shape = np.broadcast_shapes(yields.shape, pinches.shape, radii.shape)
    setting, state = setting_and_state(found, stock, metal, radii, shape, 1 / entering)
    held = np.asarray(state.loaded) * (found.inside_roll_diameter + float(stock.depth)) / 2 <= 1
    return np.where(held, setting.travel, math.inf)


def _middles(low: float, high: float, count: int) -> Grid:
    """Return the middles of even cells."""
    return low + (high - low) * (np.arange(count) + 0.5) / count


def _between(cells: int, nodes: int) -> Grid:
    """Return how much of each node a cell takes, shape (cells, nodes): straight lines from node to node."""
    return np.asarray(np.maximum(1 - np.abs(np.linspace(0, nodes - 1, cells)[:, None] - np.arange(nodes)), 0.0))


def _mixed(ways: Grid, found: Grid) -> Grid:
    """Return what lies between the nodes; infinite where a node that counts is."""
    finite = np.isfinite(found)
    mixed: Grid = np.tensordot(ways, np.where(finite, found, 0.0), 1)
    return mixed if np.all(finite) else np.where(np.tensordot(ways, ~finite * 1.0, 1) > 0, math.inf, mixed)
