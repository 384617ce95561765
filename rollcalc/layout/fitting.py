"""How patterns lie on the sheet: the smallest rectangle, rows of blanks, and what is left over."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record

from .pattern import Polyline, checked_polyline, enclosed_area

MOST_BLANKS = 100_000  # most blanks that a sheet is filled with [-]


@dataclass(frozen=True, eq=False, repr=False)
class SmallestRectangle(Record):
    """The smallest rectangle around a pattern; made by `smallest_rectangle`.

    Parameters
    ----------
    length, width : float
        Its longer and its shorter side. [mm]
    angle : float
        Turn of the pattern, anticlockwise, that lays the longer side along x. [rad]
    """

    length: float
    width: float
    angle: float

    SHOWS = "length [mm], width [mm], angle [rad], area [mm²]"
    caption = "Smallest rectangle around a pattern"

    @property
    def area(self) -> float:
        """Area of the rectangle. [mm²]"""
        return self.length * self.width


def smallest_rectangle(outline: ArrayLike) -> SmallestRectangle:
    """Return the rectangle of least area that holds an outline.

    Parameters
    ----------
    outline : array, shape (n, 2)
        Points of the outline. [mm]

    Returns
    -------
    rectangle : SmallestRectangle
        Its sides, and how to turn the pattern into it.

    Notes
    -----
    One side of the smallest rectangle lies on a side of the convex hull, so only those directions are tried.
    Validity: any outline; squaring the stock up and kerfs are not in it.
    Source: Freeman and Shapira, Communications of the ACM 18, 1975 (from memory); tests compare with shapely.

    Examples
    --------
    >>> turned = smallest_rectangle([(0, 0), (3, 3), (1, 5), (-2, 2)])
    >>> round(turned.length, 3), round(turned.width, 3)
    (4.243, 2.828)
    """
    hull = _hull(checked_polyline("an outline", outline))
    if len(hull) < 3:
        raise InputError("an outline has its points on one line, but must enclose an area: give its corners.")
    sides = np.diff(hull, axis=0, append=hull[:1])
    angles = np.arctan2(sides[:, 1], sides[:, 0])
    along = hull @ np.stack([np.cos(angles), np.sin(angles)])
    across = hull @ np.stack([-np.sin(angles), np.cos(angles)])
    length, width = np.ptp(along, axis=0), np.ptp(across, axis=0)
    best = int(np.argmin(length * width))
    long, short, angle = float(length[best]), float(width[best]), -float(angles[best])
    if short > long:
        long, short, angle = short, long, angle + math.pi / 2
    return SmallestRectangle(long, short, math.remainder(angle, math.pi))


@dataclass(frozen=True, eq=False, repr=False)
class BlanksOnSheet(Record):
    """Equal blanks in straight rows on a sheet; made by `blanks_on_sheet`.

    Parameters
    ----------
    outline, places : array, shape (n, 2) and (count, 2)
        The outline, turned as it is placed, left and bottom at zero; how far each moves from there, right and up. [mm]
    columns, rows : int
        Number of columns along the sheet, and of blanks in each column. [-]
    angle : float
        Turn of the pattern. [rad]
    scrap_fraction : float
        Share of the sheet that is left over. [-]
    """

    outline: Polyline
    places: NDArray[np.float64]
    columns: int
    rows: int
    angle: float
    scrap_fraction: float

    SHOWS = "count [-], columns [-], rows [-], angle [rad], scrap_fraction [-]"
    caption = "Blanks on a sheet"

    @property
    def count(self) -> int:
        """Number of blanks on the sheet. [-]"""
        return len(self.places)

    def outlines(self) -> list[Polyline]:
        """Return the outline of every blank, in its place. [mm]"""
        return [self.outline + place for place in self.places]


def blanks_on_sheet(outline: ArrayLike, sheet_length: float, sheet_width: float, spacing: float = 0.0) -> BlanksOnSheet:
    """Return the most blanks that straight rows give from a sheet.

    Parameters
    ----------
    outline : array, shape (n, 2)
        Closed outline of one blank. [mm]
    sheet_length, sheet_width, spacing : float
        Size of the sheet, and least distance between blanks, measured along rows and columns. [mm]

    Returns
    -------
    layout : BlanksOnSheet
        Places of the blanks and the scrap fraction.

    Raises
    ------
    InputError
        If a number is impossible, or not even one blank fits.

    Notes
    -----
    The blanks of a column nest into each other as far as they go without turning, which suits the bow of a
    frustum pattern. Four turns are tried: as drawn, across, and in the smallest rectangle both ways. Validity:
    blanks that all lie the same way, which keeps the rolling direction; a clever nest of turned pieces can save
    more.
    Source: derived here; tests check with shapely that no two blanks overlap and none leaves the sheet.

    Examples
    --------
    >>> from rollcalc.layout import frustum_pattern
    >>> skirt = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
    >>> laid = blanks_on_sheet(skirt.outline(), sheet_length=1250, sheet_width=625, spacing=3)
    >>> laid.count, round(laid.scrap_fraction, 2)
    (6, 0.52)
    """
    points = checked_polyline("an outline", outline)
    length = checked_single("sheet length", sheet_length, "mm", above=0, advice="measure the sheet")
    width = checked_single("sheet width", sheet_width, "mm", above=0, advice="measure the sheet")
    space = checked_single("spacing", spacing, "mm", at_least=0, advice="0 lets the blanks touch")
    box = smallest_rectangle(points)
    most = length * width / enclosed_area(points)
    sheet = f"sheet is {length:.6g} mm by {width:.6g} mm, but must"
    if most > MOST_BLANKS:
        raise InputError(f"{sheet} be one of at most {MOST_BLANKS} blanks: give its size in mm.")
    turns = (0.0, math.pi / 2, box.angle, box.angle + math.pi / 2)
    best = max((_rows(points, turn, length, width, space) for turn in turns), key=lambda layout: layout.count)
    if not best.count:
        raise InputError(f"{sheet} hold a blank of at least {box.length:.6g} mm by {box.width:.6g} mm: "
                         "take a larger sheet.")
    return best


def _rows(points: Polyline, turn: float, length: float, width: float, space: float) -> BlanksOnSheet:
    """Return columns along the length of nested blanks, turned by an angle."""
    spin = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    turned = points @ spin
    turned = turned - turned.min(axis=0)
    across, high = np.ptp(turned, axis=0).tolist()
    step_x, step_y = across + space, _tallest_slice(turned) + space
    slack = 1e-9 * (length + width)
    columns = math.floor((length - across + slack) / step_x) + 1 if length + slack >= across else 0
    rows = math.floor((width - high + slack) / step_y) + 1 if width + slack >= high else 0
    x, y = np.meshgrid(step_x * np.arange(columns), step_y * np.arange(rows))
    places = np.stack([x.ravel(), y.ravel()], axis=1)
    used = len(places) * enclosed_area(points)
    return BlanksOnSheet(turned, places, columns, rows, turn, 1 - used / (length * width))


def _tallest_slice(outline: Polyline) -> float:
    """Return the greatest height between the lowest and highest point of the outline above one x."""
    x0, y0 = outline[:-1].T
    x1, y1 = outline[1:].T
    x = outline[:, :1]  # (places, 1) against (1, sides)
    inside = (np.minimum(x0, x1) <= x) & (x <= np.maximum(x0, x1))
    share = np.divide(x - x0, x1 - x0, out=np.zeros_like(x - x0), where=x1 != x0)
    y = y0 + share * (y1 - y0)  # of an upright side its first end; the last is the first of the next side
    return float(np.max(np.where(inside, y, -np.inf).max(axis=1) - np.where(inside, y, np.inf).min(axis=1)))


def _hull(points: Polyline) -> Polyline:
    """Return the corners of the convex hull, anticlockwise."""
    ordered, corners = np.unique(points, axis=0).tolist(), []
    for half in (ordered, ordered[::-1]):
        chain: list[list[float]] = []
        for x, y in half:
            while len(chain) > 1 and ((chain[-1][0] - chain[-2][0]) * (y - chain[-2][1])
                                      <= (chain[-1][1] - chain[-2][1]) * (x - chain[-2][0])):
                chain.pop()
            chain.append([x, y])
        corners += chain[:-1]
    return np.array(corners)
