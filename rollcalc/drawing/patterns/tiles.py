"""How a large pattern is shared out among sheets of paper that overlap."""

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.layout import FlatPattern, Polyline
from rollcalc.stock.quantities import InputError

from ..core.picture import Box, Pair
from .true_size import EDGE
from .words import inside

OVERLAP = 14.0  # how much two neighbouring pages show of the same [mm]
AROUND = 2.0  # room kept free around the pattern [mm]
FOOT = 33.0  # height of the strip below the pattern, on each page [mm]
LEAST = (190.0, 140.0)  # the smallest paper, as wide and as high, that holds edges, foot and some of the pattern [mm]
MOST_PAGES = 200


@dataclass(frozen=True)
class Tiling:
    """A grid of overlapping windows over a pattern, one for each page."""

    paper: Pair  # width and height of the page, the way up it is used [mm]
    columns: int
    rows: int
    origin: Pair  # lower left corner of the grid, in the pattern's own x and y [mm]
    places: tuple[tuple[int, int], ...] = ()  # row from the top and column of each page that shows something

    @property
    def free(self) -> Pair:
        """Width and height of the part of a page that shows the pattern. [mm]"""
        return self.paper[0] - 2 * EDGE, self.paper[1] - 2 * EDGE - FOOT

    def window(self, row: int, column: int) -> Box:
        """Left, bottom, right and top of what a page shows, in the pattern's x and y. [mm]"""
        (width, height), (x, y) = self.free, self.origin
        left, bottom = x + column * (width - OVERLAP), y + (self.rows - 1 - row) * (height - OVERLAP)
        return float(left), float(bottom), float(left + width), float(bottom + height)

    def core(self, row: int, column: int) -> Box:
        """Left, bottom, right and top of a page's own part, up to the lines where pages are joined. [mm]"""
        left, bottom, right, top = self.window(row, column)
        half = OVERLAP / 2
        return (left + half * (column > 0), bottom + half * (row < self.rows - 1),
                right - half * (column < self.columns - 1), top - half * (row > 0))

    def page(self, row: int, column: int) -> int:
        """Number of the page at a place of the grid, counted from 1; 0 where there is none."""
        return self.places.index((row, column)) + 1 if (row, column) in self.places else 0

    def joins(self) -> list[Polyline]:
        """Return the lines along which pages are joined, in the pattern's x and y. [mm]"""
        left, bottom, _, _ = self.window(self.rows - 1, 0)
        _, _, far, top = self.window(0, self.columns - 1)
        upright = [self.core(0, column)[2] for column in range(self.columns - 1)]
        level = [self.core(row, 0)[1] for row in range(self.rows - 1)]
        return [np.array([(x, bottom), (x, top)]) for x in upright] + [np.array([(left, y), (far, y)]) for y in level]


def ways_up(paper: Pair) -> list[Pair]:
    """Return width and height of the paper either way up, as far as it is large enough."""
    ways = [way for way in (paper, paper[::-1]) if way[0] >= LEAST[0] and way[1] >= LEAST[1]]
    if not ways:
        raise InputError(f"paper is {paper[0]:g} × {paper[1]:g} mm, but margins, foot and pattern need at least "
                         f"{LEAST[0]:g} × {LEAST[1]:g} mm: choose larger paper.")
    return ways


def tiling(flat: FlatPattern, paper: Pair) -> Tiling:
    """Return the grid of pages for a pattern, the way up that needs fewer pages."""
    grids = [_grid(flat, way) for way in ways_up(paper)]
    grid = min(grids, key=lambda grid: grid.columns * grid.rows)
    if grid.columns * grid.rows > MOST_PAGES:
        raise InputError(f"pattern needs {grid.columns * grid.rows} pages of {paper[0]:g} × {paper[1]:g} mm, but at "
                         f"most {MOST_PAGES} make sense: choose larger paper, or save SVG or DXF.")
    return min((_filled(flat, grid) for grid in grids if grid.columns * grid.rows <= MOST_PAGES),
               key=lambda grid: len(grid.places))


def _grid(flat: FlatPattern, paper: Pair) -> Tiling:
    """Return the grid on paper this way up, its places not counted yet."""
    left, bottom, right, top = flat.bounds
    bare = Tiling(paper, 1, 1, (0.0, 0.0))
    counts, origin = [], []
    for low, high, free in ((left, right, bare.free[0]), (bottom, top, bare.free[1])):
        need = high - low + 2 * AROUND
        count = max(1, math.ceil((need - OVERLAP) / (free - OVERLAP) - 1e-9))
        counts.append(count)
        spare = count * (free - OVERLAP) + OVERLAP - (high - low)
        origin.append(low - spare * (0.5 if count == 1 else 0.35))  # off centre: no join on a middle line
    return Tiling(paper, counts[0], counts[1], (origin[0], origin[1]))


def _filled(flat: FlatPattern, grid: Tiling) -> Tiling:
    """Return the grid with its places: those whose own part shows a line or has its middle on the piece."""
    lines = [_dense(line) for line in flat.cut + flat.folds + flat.marks]
    points = np.concatenate([*lines, *(np.array([label.at]) for label in flat.labels)])
    every = [(row, column) for row in range(grid.rows) for column in range(grid.columns)]
    low, high = np.split(np.array([grid.core(*place) for place in every]), 2, axis=1)  # both (n, 2)
    on_piece = inside(flat.cut, (low + high) / 2)
    places = tuple(place for place, first, last, lies in zip(every, low, high, on_piece, strict=True)
                   if lies or ((points >= first) & (points <= last)).all(axis=1).any())
    return Tiling(grid.paper, grid.columns, grid.rows, grid.origin, places)


def _dense(line: Polyline) -> Polyline:
    """Return a polyline with a point at least every millimetre."""
    lengths = np.hypot(*np.diff(line, axis=0).T)
    steps = np.maximum(1, np.ceil(lengths)).astype(int)
    parts = [start + np.linspace(0, 1, count, endpoint=False)[:, None] * (stop - start)
             for start, stop, count in zip(line[:-1], line[1:], steps, strict=True)]
    return np.concatenate([*parts, line[-1:]])
