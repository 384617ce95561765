"""How thick stock may be at each width before a limit of the machine is met: the curves of a capacity chart."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.materials import Material
from rollcalc.stock.sections import FlatBar, Sheet

from ..machine.kinds import Machine
from .capacity import Capacity, check_capacity
from .check import Check

Points = NDArray[np.float64]

THINNEST, THICKEST, TRIED = 0.2, 20.0, 26
"""Thicknesses that are tried first, evenly in their logarithm. [mm]"""
FINER, ZOOMS = 9, 2
"""Then so many from the last that fits to its neighbour, and once more where the neighbour is out of reach. [-]"""
CURVES = ((0, True), (1, True), (0, False), (2, True))
"""Which of the three of `_past` ends each curve, and whether above: beyond, ask, too thin, held no more."""
OUT_OF_REACH = "travel"
"""The check that stands for a curve that no travel holds."""


@dataclass(frozen=True, eq=False)
class ThicknessLimits:
    """What thickness each width allows, for one metal and one inside radius."""

    widths: Points  # widths of the stock [mm]
    thickest: Points  # where the first limit is passed; 0 where nothing goes, infinite where nothing stops it [mm]
    # from where one has to ask: metal as hard as it may be, the crank, the grip, the bow of the front rolls; 0
    # where any thickness asks [mm]
    asking: Points
    # below this the sheet springs back too far for the rolls to hold the curve; 0 where they always can, infinite
    # where nothing goes [mm]
    thinnest: Points
    # above this no travel holds the curve: in a nip that is pressed, since the pinch is too weak for the moment;
    # 0 where nothing is held, infinite where all is [mm]
    held: Points
    # the check that sets `thickest`, "travel" where nothing holds the curve; empty where none does
    binding: tuple[str, ...]
    doubtful: tuple[str, ...]  # the check that sets `asking`; empty where none does


def thickness_limits(machine: Machine, stock: Sheet | FlatBar, material: Material, inside_radius: float,
                     widths: Points) -> ThicknessLimits:
    """Return the thickness at which each limit of `check_capacity` is met, for stock of many widths. Every check is
    asked at some thicknesses, then at finer ones about each limit; between those it is taken as a power of the
    thickness, which the bending moment is.
    """
    checked_kind("the stock", stock, (Sheet, FlatBar), advice="lay a round bar in its groove")
    wide = np.asarray(widths, float)

    def asked(thickness: Points, width: Points) -> tuple[_Past, _Past, _Past]:
        """Return how far stock of these sizes is past the limits."""
        tried = type(stock)(thickness=thickness, width=width)
        return _past(check_capacity(machine, tried, material, inside_radius + tried.depth / 2), thickness.shape)

    rows = np.geomspace(THINNEST, THICKEST, TRIED)[:, None] * np.ones(len(wide))
    coarse = asked(rows, np.broadcast_to(wide, rows.shape))
    edges = [_neighbours(coarse[kind].worst, upper) for kind, upper in CURVES]
    edge, inside, outside = (np.array(part) for part in zip(*edges, strict=True))
    names = [coarse[kind].names_at(row) for (kind, _), row in zip(CURVES, outside, strict=True)]
    low, high = (np.take_along_axis(rows, row, 0) for row in (inside, outside))
    for _ in range(ZOOMS):
        curve, column = np.nonzero(np.isnan(edge))
        if not curve.size:
            break
        steps = np.linspace(0, 1, FINER)[:, None]
        tried = low[curve, column] * (high[curve, column] / low[curve, column]) ** steps
        finer = asked(tried, np.broadcast_to(wide[column], tried.shape))
        for number, (kind, _) in enumerate(CURVES):
            mine = np.flatnonzero(curve == number)
            if mine.size:
                here = column[mine]
                edge[number, here], low[number, here], high[number, here], found = finer[kind].crossing(tried, mine)
                for place, name in zip(here.tolist(), found, strict=True):
                    names[number][place] = name
    edge = np.where(np.isnan(edge), np.sqrt(low * high), edge)
    thickest, asking, thinnest, held = edge
    binding, doubtful = (tuple("" if np.isinf(end) else name for end, name in zip(edge[row], names[row], strict=True))
                         for row in (0, 1))
    return ThicknessLimits(wide, thickest, np.minimum(thickest, asking), thinnest, held, binding, doubtful)


@dataclass(frozen=True, eq=False)
class _Past:
    """How far sizes are past the limits of some checks: logarithms of demand over limit, a row for each check."""

    names: tuple[str, ...]
    levels: Points

    @property
    def worst(self) -> Points:
        """The largest over the checks; infinite where no travel holds the curve."""
        return np.asarray(self.levels.max(axis=0))

    def names_at(self, rows: NDArray[np.intp]) -> list[str]:
        """Return the check that is furthest past its limit, at one row of each column."""
        there = self.levels[:, rows, np.arange(len(rows))]
        return [OUT_OF_REACH if np.isinf(each.max()) else self.names[each.argmax()] for each in there.T]

    def crossing(self, tried: Points, columns: NDArray[np.intp]) -> tuple[Points, Points, Points, list[str]]:
        """Return where the first check is passed, not a number where all of a sudden; its two neighbours; its name."""
        levels, sizes = self.levels[:, :, columns], tried[:, columns]
        last, each = np.maximum(np.argmax(levels.max(axis=0) > 0, axis=0), 1), np.arange(len(columns))
        a, b = levels[:, last - 1, each], levels[:, last, each]
        low, high = sizes[last - 1, each], sizes[last, each]
        sudden = np.isinf(b.max(axis=0))
        part = np.where(b > 0, -a / np.where((b > 0) & np.isfinite(b), b - a, 1.0), np.inf)
        edge = np.where(sudden, np.nan, low * (high / low) ** np.minimum(part.min(axis=0), 1.0))
        names = [OUT_OF_REACH if jump else self.names[first]
                 for jump, first in zip(sudden, part.argmin(axis=0), strict=True)]
        return edge, low, high, names


def _past(found: Capacity, shape: tuple[int, ...]) -> tuple[_Past, _Past, _Past]:
    """Return how far a capacity is past what says beyond, past what may say ask, and whether the rolls hold at all."""
    reached = np.isfinite(np.broadcast_to(found.setting.travel, shape))

    def past(least: int) -> _Past:
        """Return the levels of the checks that count so much."""
        checks = [check for check in found.checks if check.counts >= least]
        levels = np.array([_level(check, least == 1, shape) for check in checks])
        return _Past(tuple(check.name for check in checks), np.where(reached, levels, np.inf))

    return past(2), past(1), _Past((OUT_OF_REACH,), np.where(reached, -1.0, np.inf)[None])


def _level(check: Check, hardest: bool, shape: tuple[int, ...]) -> Points:
    """Return the logarithm of demand over limit, nothing at the limit itself; with the hardest metal where asked."""
    demand = np.maximum(check.demand, check.hard_demand) if hardest else check.demand
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        level = np.log(np.clip(np.nan_to_num(np.asarray(demand) / np.asarray(check.limit)), 1e-9, 1e9))
    return np.broadcast_to(np.where(np.abs(level) < 1e-9, 0.0, level), shape)


def _neighbours(worst: Points, upper: bool) -> tuple[Points, NDArray[np.intp], NDArray[np.intp]]:
    """Return the end of what fits where it is nothing or infinite, and the last row that fits with its neighbour.
    Where no row fits, the neighbour is the one that is least past its limit.
    """
    fits, end = worst <= 0, len(worst) - 1 if upper else 0
    inside = end - np.argmax(fits[::-1], axis=0) if upper else np.argmax(fits, axis=0)
    outside = np.clip(inside + (1 if upper else -1), 0, len(fits) - 1)
    none, every = (0.0, np.inf) if upper else (np.inf, 0.0)
    some = fits.any(axis=0)
    outside = np.where(some, outside, np.argmin(worst, axis=0))
    return np.where(some, np.where(fits[end], every, np.nan), none), inside, outside
