"""The one shape that every flat pattern takes for the writers: lines to cut, to fold on, to mark, and words.

Each result of this room (`CylinderBlank`, `FrustumPattern`, …) has four methods: `outline()` gives the cut
edge as one closed polyline, `folds()` and `marks()` give lists of polylines, and `flat_pattern()` puts all of
them into a `FlatPattern`. A writer needs nothing else.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.quantities import InputError, checked_single, shown
from rollcalc.stock.record import Record, Shown, Written

BESIDE = 5.0  # words stand this far beside the line they name [mm]

Polyline = NDArray[np.float64]
"""Points joined by straight lines, shape (n, 2), in mm; a closed line ends on its first point again."""


@dataclass(frozen=True, eq=False, repr=False)
class Label(Written):
    """A few words on a pattern, in one plain line; the writer chooses the height of the letters.

    Parameters
    ----------
    words : str
        What is written.
    at : (float, float)
        Middle of the words, x and y. [mm]
    angle : float
        Direction the words run in, anticlockwise from x. [rad]
    """

    words: str
    at: tuple[float, float]
    angle: float = 0.0


@dataclass(frozen=True, eq=False, repr=False)
class Size(Written):
    """A number to lay a pattern out by, or to check it.

    Parameters
    ----------
    words : str
        What is measured; what stands before the first comma is enough on the piece.
    value : float
        How large it is, in the unit. [-]
    unit : str
        "mm", or "°".
    at : (float, float) or None
        For a line across a rectangle: one of its ends. [mm]
    """

    words: str
    value: float
    unit: str = "mm"
    at: tuple[float, float] | None = None


@dataclass(frozen=True, eq=False, repr=False)
class FlatPattern(Record):
    """A flat pattern at true size, as lines and words.

    x and y are in mm, y upwards, seen from the side that is marked, which becomes the inside. A layer is empty where
    there is nothing in it; a curve has as many points as its stated chord error asks for.

    Parameters
    ----------
    title : str
        What the piece is, such as "Frustum 220 to 160".
    cut, folds, marks : tuple of arrays, each shape (n, 2)
        Lines to cut, the outer edge first, each closed one ending on its first point; lines to fold on, never cut; and
        lines to scribe or draw: elements, seam lines, centre lines. [mm]
    labels : tuple of Label
        Words that belong to a place on the piece.
    sizes : tuple of Size
        Numbers to lay the piece out by, and to check it.
    """

    title: str
    cut: tuple[Polyline, ...]
    folds: tuple[Polyline, ...] = ()
    marks: tuple[Polyline, ...] = ()
    labels: tuple[Label, ...] = ()
    sizes: tuple[Size, ...] = ()

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"Flat pattern: {self.title}"

    def shown(self) -> Shown:
        """Return the size, and how many lines there are."""
        counts = ((name, f"{len(getattr(self, name))}") for name in ("cut", "folds", "marks", "labels"))
        return Shown(self.caption, (("size", " × ".join(f"{side:.4g}" for side in self.size) + " mm"), *counts))

    def __post_init__(self) -> None:
        for layer, verb in (("cut", "cut"), ("folds", "fold on"), ("marks", "mark")):
            self._keep(**{layer: tuple(checked_polyline(f"a line to {verb}", line) for line in getattr(self, layer))})
        self._keep(labels=tuple(self.labels), sizes=tuple(self.sizes))
        if not self.cut:
            raise InputError("a pattern has no line to cut, but must have its outer edge: give the outline.")

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of everything that is drawn. [mm]"""
        points = np.concatenate(self.cut + self.folds + self.marks)
        (left, bottom), (right, top) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        return left, bottom, right, top

    @property
    def size(self) -> tuple[float, float]:
        """Breadth along x and height along y. [mm]"""
        left, bottom, right, top = self.bounds
        return right - left, top - bottom

    def turned(self, angle: float) -> FlatPattern:
        """Return the pattern turned anticlockwise about the origin, angle in radians. [mm]"""
        angle = checked_single("angle", angle, "rad", advice="give the turn in radians")
        turn = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
        return self._changed(turn, np.zeros(2), angle)

    def moved(self, right: float, up: float) -> FlatPattern:
        """Return the pattern moved to the right and up. [mm]"""
        by = [checked_single(name, value, "mm", advice="give the shift")
              for name, value in (("shift right", right), ("shift up", up))]
        return self._changed(np.eye(2), np.array(by), 0.0)

    def at_origin(self) -> FlatPattern:
        """Return the pattern moved so that its left and bottom are zero. [mm]"""
        left, bottom, _, _ = self.bounds
        return self.moved(-left, -bottom)

    def _changed(self, turn: Polyline, shift: Polyline, angle: float) -> FlatPattern:
        """Return the pattern with every point turned and then shifted."""
        cut, folds, marks = (tuple(line @ turn + shift for line in lines)
                             for lines in (self.cut, self.folds, self.marks))

        def moved(at: tuple[float, float]) -> tuple[float, float]:
            return tuple((np.array(at) @ turn + shift).tolist())

        labels = tuple(replace(label, at=moved(label.at), angle=label.angle + angle) for label in self.labels)
        sizes = tuple(replace(size, at=size.at and moved(size.at)) for size in self.sizes)
        return replace(self, cut=cut, folds=folds, marks=marks, labels=labels, sizes=sizes)


class Layout:
    """What every result of this room can do, and all that a writer may ask of it."""

    def outline(self) -> Polyline:
        """Return the cut edge, closed. [mm]"""
        raise NotImplementedError

    def folds(self) -> list[Polyline]:
        """Return the lines to fold on; none unless the piece says otherwise. [mm]"""
        return []

    def marks(self) -> list[Polyline]:
        """Return the lines to mark. [mm]"""
        raise NotImplementedError

    def flat_pattern(self) -> FlatPattern:
        """Return all of it for a writer. [mm]"""
        raise NotImplementedError

    def rolled_up(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the flat pattern lie on the finished piece, shape (n, 3). [mm]"""
        raise NotImplementedError


def checked_polyline(name: str, points: ArrayLike) -> Polyline:
    """Return points as an array, or raise the sentence that says what is wrong."""
    try:
        read = np.asarray(points)
        array = np.array(points, dtype=np.float64) if read.dtype.kind in "iuf" else np.zeros(0)
    except (TypeError, ValueError, OverflowError):
        array = np.zeros(0)
    if array.ndim != 2 or array.shape[0] < 2 or array.shape[1] != 2 or not np.isfinite(array).all():
        raise InputError(f"{name} must be two or more points with a finite x and y in mm each: give rows of (x, y).")
    return array


def enclosed_area(outline: Polyline) -> float:
    """Return the area inside a closed outline. [mm²]"""
    x, y = (outline - outline[0]).T
    return float(abs(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1])) / 2)


def rectangle_sizes(length: float, width: float) -> list[Size]:
    """Return the sizes of a blank that is a rectangle."""
    return [Size("length", length), Size("width, along the rolls", width),
            Size("both diagonals, if square", math.hypot(length, width))]


def along_line(words: str, line: Polyline, beside: float = 0.0) -> Label:
    """Return words in the middle of a line that run along it, to the right of it by a distance."""
    start, end = line
    across, up = (end - start).tolist()
    x, y = ((start + end) / 2 + beside / math.hypot(across, up) * np.array([up, -across])).tolist()
    return Label(words, (x, y), math.atan2(up, across))


def rolled_up(pattern: Layout, points: ArrayLike) -> NDArray[np.float64]:
    """Return where points of a flat pattern lie on the finished piece.

    Parameters
    ----------
    pattern : CylinderBlank, FrustumPattern, ObliqueFrustumPattern or MitredCylinderPattern
        The pattern.
    points : array, shape (n, 2)
        Points on the flat pattern, in its own x and y. [mm]

    Returns
    -------
    places : array, shape (n, 3)
        The same points after rolling, at mid-thickness; z runs along the axis from the large or lower end, and the
        drawn side is the inside. [mm]

    Raises
    ------
    InputError
        If the points are not finite, or lie where the pattern cannot be rolled to, or the pattern is none.

    Notes
    -----
    The proof of a pattern: both edges of a seam must come to the same place. Lengths along the surface stay
    as they are. Validity: a sheet of no thickness that bends and does not stretch.
    Source: geometry; tests close every seam to 1e-9 mm.

    Examples
    --------
    >>> from rollcalc.layout import frustum_pattern
    >>> skirt = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
    >>> rolled_up(skirt, [(0, 0), (0, skirt.slant)]).round(3).tolist()
    [[110.0, 0.0, 0.0], [80.0, 0.0, 100.0]]
    """
    if not isinstance(pattern, Layout):
        raise InputError(f"pattern is {shown(pattern)}, but must be a blank or pattern of this library: lay it out "
                         "first.")
    return pattern.rolled_up(points) + 0.0  # no minus zero
