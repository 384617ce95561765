"""What is believed of a piece as it is, and of what comes out at each place of the screws."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from rollcalc.stock.sections import Stock

from .belief import TAIL, Belief, Cells, Grid, misread
from .reading import FLATTEST, KNOB_ERROR, Band, Reading

CURVES = 16
"""Curvatures at which chances are worked out, three times, each time nearer to where they count. [-]"""

SURE = 1e-3
"""Chances that are nearer to none or to all do not count for a band. [-]"""

BIN = 0.005
"""Width of a step of travel in which chances are counted. [mm]"""

AS_IT_IS = np.array([])
"""No place of the screws: the piece is left as it is. [turns]"""


@dataclass(frozen=True, eq=False)
class Outlook:
    """Chances for one piece."""

    belief: Belief
    stock: Stock
    last: Reading | None  # the pass before; None for a piece that enters as it is known to be
    entering: float  # radius the piece enters the next pass with [mm]
    cells: Cells  # the combinations that count
    shares: Grid  # what is believed of each [-]

    def chances(self, curvatures: Grid, turns: Grid) -> Grid:
        """Return the chances that the piece is at least so curved, shape (curvatures, 1 + turns): as it is, and after a
        pass with the knobs at these turns. [-]
        """
        already, pitch = self._already(curvatures), self.belief.machine.screw_pitch
        now = already @ self.shares
        if not turns.size:
            return now[:, None]
        needed = self.belief.knobs(self.stock, 1 / curvatures, self.entering, self.cells)
        more = [_reached(want, still, turns * pitch, KNOB_ERROR * pitch)
                for want, still in zip(needed, self.shares * (1 - already), strict=True)]
        return np.column_stack([now, now[:, None] + np.array(more)])

    def band(self, turns: Grid = AS_IT_IS) -> Band:
        """Return the radius to expect after a pass, or of the piece as it is."""
        if self.last is None and not turns.size:
            return Band(self.entering, self.entering, self.entering)
        flat, roll = 1 / FLATTEST, 2 / (self.belief.machine.inside_roll_diameter + float(self.stock.depth))
        ends = (max(1 / self.entering, flat), roll) if self.last is None else (
            max(0.9 / self.last.widest, flat), max(roll, 1.1 / self.last.tightest))
        for _ in range(3):
            curvatures = np.linspace(*ends, CURVES)
            chances = np.minimum.accumulate(self.chances(curvatures, turns)[:, -1])
            first, last = (int(np.sum(chances >= end)) for end in (1 - SURE, SURE))
            ends = curvatures[min(max(first - 1, 0), CURVES - 2)], curvatures[min(last, CURVES - 1)]
        mean = float(curvatures[0] + np.sum((chances[1:] + chances[:-1]) / 2 * np.diff(curvatures)))
        tight, wide = np.interp([-TAIL, TAIL - 1], -chances, curvatures).tolist()
        return Band(*(1 / curve if curve > 1.1 * flat else math.inf for curve in (mean, tight, wide)))

    def _already(self, curvatures: Grid) -> Grid:
        """Return the chances that the piece is so curved as it is, shape (curvatures, combinations): what the screws
        asked for and what the rule showed are weighed by their errors.
        """
        if self.last is None:
            return np.broadcast_to(curvatures[:, None] * self.entering <= 1, (len(curvatures), len(self.shares))) * 1.0
        last, pitch = self.last, self.belief.machine.screw_pitch
        radii = np.concatenate([[last.tightest, last.released_radius, last.widest], 1 / curvatures])
        tight, middle, wide, *wanted = self.belief.knobs(last.stock, radii, last.entering_radius, self.cells)
        knob, rule = KNOB_ERROR * pitch, misread(tight, middle, wide)
        moved = (rule**2 * last.turns * pitch + knob**2 * middle) / (rule**2 + knob**2)
        error = np.maximum(knob * rule / np.sqrt(3 * (rule**2 + knob**2)), 1e-9)
        chances = _normal((moved - np.array(wanted)) / error)
        return np.where(curvatures[:, None] * last.entering_radius <= 1, 1.0, chances)


def outlook(belief: Belief, stock: Stock, last: Reading | None, entering_radius: float) -> tuple[Outlook, Band]:
    """Return the chances for a piece, and the radius it is believed to have."""
    known = Outlook(belief, stock, last, entering_radius, *belief.likely())
    present = known.band()
    return replace(known, entering=present.mean), present


def _reached(needed: Grid, shares: Grid, travels: Grid, error: float) -> Grid:
    """Return how much of the belief needs no more than these travels, which are off by up to an error either way."""
    count = math.ceil((float(np.max(travels)) + error) / BIN) + 2
    bins = np.clip(needed / BIN, 0, count).astype(int)
    sums = np.cumsum(np.cumsum(np.bincount(bins, shares, count + 1)[:count])) * BIN
    middles = (np.arange(count) + 0.5) * BIN
    rises = np.interp(travels + error, middles, sums) - np.interp(travels - error, middles, sums)
    return np.asarray(rises / (2 * error))


def _normal(z: Grid) -> Grid:
    """Return the share of a normal distribution below z standard errors, to 0.0002."""
    near = np.clip(z, -6, 6)
    return np.asarray((1 + np.tanh(math.sqrt(2 / math.pi) * (near + 0.044715 * near**3))) / 2)
