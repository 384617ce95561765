"""What is believed of a piece as it is, and of what comes out at each place of the screws."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.stock.sections import Stock

from .belief import TAIL, Belief, Cells, Grid, Piece
from .reading import FLATTEST, KNOB_ERROR, Band

CURVES = 20
"""Curvatures at which chances are worked out for a band; after a pass twice, the second time where they count. [-]"""

BOLDEST = 1.4
"""Curvature over the wanted one that no pass is meant to reach. [-]"""

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
    piece: Piece | None  # what was read; None for a piece that enters as it is known to be
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

    def present(self) -> Band:
        """Return the radius that the piece is believed to have."""
        if self.piece is None:
            return Band(self.entering, self.entering, self.entering)
        return self._band(self.piece.curvatures, AS_IT_IS)

    def expected(self, turns: float, wanted: float) -> Band:
        """Return the radius to expect after a pass that is not meant to come out tighter than wanted."""
        places = np.array([turns])
        curvatures = np.linspace(max(1 / self.entering, 1 / FLATTEST), BOLDEST / wanted, CURVES)
        chances = self.chances(curvatures, places)[:, -1]
        first, last = (int(np.sum(chances >= end)) for end in (1 - SURE, SURE))
        ends = curvatures[min(max(first - 1, 0), CURVES - 2)], curvatures[min(last, CURVES - 1)]
        return self._band(np.linspace(*ends, CURVES), places)

    def _band(self, curvatures: Grid, turns: Grid) -> Band:
        """Return the mean and the band of the radius, from the chances at some curvatures."""
        chances = np.minimum.accumulate(self.chances(curvatures, turns)[:, -1])
        mean = float(curvatures[0] + np.sum((chances[1:] + chances[:-1]) / 2 * np.diff(curvatures)))
        tight, wide = np.interp([-TAIL, TAIL - 1], -chances, curvatures).tolist()
        return Band(*(1 / curve if curve > 1.1 / FLATTEST else math.inf for curve in (mean, tight, wide)))

    def _already(self, curvatures: Grid) -> Grid:
        """Return the chances that the piece is so curved as it is, shape (curvatures, combinations)."""
        if self.piece is None:
            still = curvatures[:, None] * self.entering <= 1
            return np.where(still, 1.0, np.zeros((len(curvatures), len(self.shares))))
        return 1 - self.piece.chances(curvatures, self.cells)


def outlook(belief: Belief, stock: Stock, entering_radius: float | None) -> Outlook:
    """Return the chances for the piece that was read last, or for one that enters as it is known to be."""
    piece = None if entering_radius is not None else belief.pieces[stock]
    entering = piece.widest if piece else entering_radius
    assert entering is not None, "a piece was read, or is known"
    return Outlook(belief, stock, piece, entering, *belief.likely())


def _reached(needed: Grid, shares: Grid, travels: Grid, error: float) -> Grid:
    """Return how much of the belief needs no more than these travels, which are off by up to an error either way."""
    count = math.ceil((float(np.max(travels)) + error) / BIN) + 2
    bins = np.clip(needed / BIN, 0, count).astype(int)
    sums = np.cumsum(np.cumsum(np.bincount(bins, shares, count + 1)[:count])) * BIN
    middles = (np.arange(count) + 0.5) * BIN
    rises = np.interp(travels + error, middles, sums) - np.interp(travels - error, middles, sums)
    return np.asarray(rises / (2 * error))
