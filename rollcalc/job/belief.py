"""What is believed of yield, pinch and touch: a weight for every combination of the three, changed by each reading.

The screws' travel for a radius is worked out by the solver at a few yields and pinches, and is very nearly straight in
between: in the yield and in one over the pinch, to 0.01 mm. Touch only shifts it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rollcalc.rolling import Machine, PinchMachine
from rollcalc.rolling.machine.grooves import machine_for
from rollcalc.rolling.radius import setting_and_state
from rollcalc.stock.materials import Material
from rollcalc.stock.sections import Stock

from .reading import FLATTEST, KNOB_ERROR, Band, Reading

PINCHES = (1000.0, 6000.0)
"""What screws turned snug by hand may give: our own estimate. [N]"""

TOUCH_ERROR = 0.4
"""How far touch may lie from where it was counted on, either way: our own estimate. [mm]"""

SPREAD = 0.3
"""How far the yield of a metal without a stated range may lie from its own, either way: our own choice. [-]"""

CELLS = (40, 40, 32)
"""Combinations of yield, pinch and touch. [-]"""

NODES = (5, 9)
"""Yields and pinches for which the solver is asked. [-]"""

DISAGREES = 3.0
"""A reading that is further off than this, in standard errors, is no misreading: two errors, each as large as may be,
come to at most 2.45. [-]"""

TAIL = 0.1
"""Share of belief below a band, and above it. [-]"""

UNLIKELY = 1e-4
"""Combinations that are so much less likely than the likeliest do not count for the next pass. [-]"""

Grid = NDArray[np.float64]
Cells = tuple[NDArray[np.int_], ...]


@dataclass(frozen=True, eq=False)
class Belief:
    """Weights on a grid of yield, pinch and touch; without a pinch to learn, the machine's own nip stands."""

    machine: Machine
    material: Material
    yields: Grid  # shape (40,) [MPa]
    pinches: Grid | None  # shape (40,), even steps of one over them [N]
    touches: Grid  # shape (32,) [mm]
    chances: Grid  # of each combination before any reading [-]
    logs: Grid  # logarithm of how well each combination explains the readings [-]
    agrees: NDArray[np.bool_]  # whether it explains each of them

    @property
    def weights(self) -> Grid:
        """What is believed of each combination, 1 in all. [-]"""
        best = np.max(self.logs)
        found: Grid = self.chances * np.exp(self.logs - best) if best > -math.inf else self.chances
        return found / found.sum()

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
        machine, metal = self.machine, np.linspace(*self.yields[[0, -1]], NODES[0])[:, None, None]
        ways = _between(CELLS[0], NODES[0])
        if self.pinches is None:
            return _mixed(ways, _solved(machine, stock, self.material, metal, radii, entering_radius))
        softness = np.linspace(*(1 / self.pinches[[0, -1]]), NODES[1])
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

    def learned(self, reading: Reading) -> Belief:
        """Return the belief after a reading.

        Where the screws were meant to stand and where the metal asks them to be differ by the errors of knob and rule.
        """
        radii = np.array([reading.tightest, reading.released_radius, reading.widest])
        travels = self.travels(reading.stock, radii, reading.entering_radius)
        tight, middle, wide = (travels[..., place, None] for place in range(3))
        pitch = self.machine.screw_pitch
        by_rule = misread(tight, middle, wide)
        with np.errstate(invalid="ignore"):
            off = np.sqrt((by_rule**2 + (KNOB_ERROR * pitch) ** 2) / 3)  # standard error, of travel
            errors = (reading.turns * pitch - self.touches - middle) / off
        entered, measured, most = 1 / np.array([reading.entering_radius, *radii[[1, 0]]])
        unchanged = (measured - entered) / ((most - measured) * math.sqrt(2 / 3))
        errors = np.maximum(errors, -unchanged)  # a travel that is too small leaves the piece as it was
        known = np.isfinite(middle)
        logs = np.where(known, np.log(np.where(known, by_rule / off, 1.0) + 1e-9) - errors**2 / 2, -math.inf)
        return replace(self, logs=self.logs + logs, agrees=self.agrees & known & (np.abs(errors) <= DISAGREES))

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
                  np.ones(chances.shape, dtype=bool))


def quantiles(values: Grid, shares: Grid, chances: tuple[float, ...] = (TAIL, 1 - TAIL)) -> Grid:
    """Return where so much of the belief lies below, for cells of even width around rising or falling values."""
    rising = np.argsort(values)
    middles, half = values[rising], np.abs(values[1] - values[0]) / 2
    return np.interp(chances, np.concatenate([[0.0], np.cumsum(shares[rising])]),
                     np.concatenate([middles - half, middles[-1:] + half]))


def misread(tight: Grid, middle: Grid, wide: Grid) -> Grid:
    """Return how much travel a reading as far off as may be stands for, from the travels for the radii around it."""
    with np.errstate(invalid="ignore"):
        return np.where(np.isfinite(tight), (tight - wide) / 2, middle - wide)


def _solved(machine: Machine, stock: Stock, material: Material, yields: Grid, radii: Grid, entering: float) -> Grid:
    """Return the solver's travels."""
    found, metal = machine_for(machine, stock), material.with_yield(yields)
    shape = np.broadcast_shapes(yields.shape, np.shape(found.pinch_force), radii.shape)
    setting, state = setting_and_state(found, stock, metal, radii, shape, 1 / entering)
    held = np.asarray(state.loaded) * (found.inside_roll_diameter + float(stock.depth)) / 2 <= 1
    return np.where(held, setting.travel, math.inf)


def _middles(low: float, high: float, count: int) -> Grid:
    """Return the middles of even cells."""
    return low + (high - low) * (np.arange(count) + 0.5) / count


def _between(cells: int, nodes: int) -> Grid:
    """Return how much of each node a cell takes, shape (cells, nodes): straight lines from node to node."""
    return np.maximum(1 - np.abs(np.linspace(0, nodes - 1, cells)[:, None] - np.arange(nodes)), 0.0)


def _mixed(ways: Grid, found: Grid) -> Grid:
    """Return what lies between the nodes; infinite where a node that counts is."""
    finite = np.isfinite(found)
    mixed = np.tensordot(ways, np.where(finite, found, 0.0), 1)
    return mixed if np.all(finite) else np.where(np.tensordot(ways, ~finite * 1.0, 1) > 0, math.inf, mixed)
