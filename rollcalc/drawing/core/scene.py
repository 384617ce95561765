"""What a picture is made of: lines and words in named roles, axes, and the one sentence that says what they show.

Every place in a picture is a point of the drawing (in mm, or in the units of the axes) plus an offset
on the page (in px, to the right and up). Points grow with the drawing; offsets do not. That is all a
dimension line, a leader or a label needs in order to look the same at every scale.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Points = NDArray[np.float64]
Pair = tuple[float, float]
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Role:
    """How one kind of line looks: colour, and a second cue for eyes that do not see the colour."""

    colour: str
    width: float  # 0 draws no outline [px]
    dash: tuple[float, ...] = ()  # dash, gap, dash, gap …; empty for a solid line [px]
    fill: float = 0  # strength of the colour inside a closed line, 0 to 1
    hatch: float = 0  # distance between hatching lines inside a closed line; 0 for none [px]
    slope: float = 45  # direction of the hatching, from the horizontal [deg]


ROLES: dict[str, Role] = {
    # What the lesson is about.
    "sheet": Role("#222222", 3),
    "roll": Role("#0072B2", 1.2, fill=0.07, hatch=9, slope=135),
    "released": Role("#C24E00", 2.2, dash=(9, 5)),
    "loaded": Role("#8A3F7A", 2.2, dash=(11, 4, 2, 4)),
    "held piece": Role("#8A3F7A", 1.2, dash=(14, 3, 2, 3, 2, 3)),  # a position it passes through, ISO 128 kind 05.1
    "released piece": Role("#C24E00", 1.6, fill=0.12, hatch=6),
    "band": Role("#C24E00", 1, fill=0.12),
    # The kinds of line of a technical drawing.
    "outline": Role("#222222", 2),
    "section": Role("#222222", 2, hatch=7),
    "hidden": Role("#555555", 1, dash=(6, 3)),
    "centre": Role("#555555", 1, dash=(18, 3, 3, 3)),
    "dimension": Role("#444444", 1),
    "hatch": Role("#555555", 0, hatch=7),
    "guide": Role("#767676", 1),
    "grid": Role("#DDDDDD", 1),
}
"""The one table of looks. Only the grid may be paler than text."""


@dataclass(frozen=True, eq=False)
class Line:
    """A line through points in the drawing's own units, or the closed outline of an area, filled as its role says."""

    points: Points
    role: str
    closed: bool = False
    arrows: str = ""  # which ends carry an arrowhead: "", "start", "end" or "both"
    offset: Points = field(default_factory=lambda: np.zeros(2))  # of all points, or of each [px]

    def __init__(self, points: ArrayLike, role: str, closed: bool = False, arrows: str = "",
                 offset: ArrayLike = (0.0, 0.0)) -> None:
        array, shift = np.asarray(points, dtype=float), np.asarray(offset, dtype=float)
        if array.ndim != 2 or array.shape[1] != 2 or len(array) < 2 or not np.isfinite(array).all():
            raise ValueError(f"A line in role {role!r} needs two or more finite points, shape (n, 2).")
        if shift.shape not in ((2,), array.shape) or not np.isfinite(shift).all():
            raise ValueError(f"The offset of a line in role {role!r} must be one px pair, or one for each point.")
        if arrows not in ("", "start", "end", "both"):
            raise ValueError(f"arrows is {arrows!r}, but must be '', 'start', 'end' or 'both'.")
        for name, value in (("points", array), ("role", _known(role)), ("closed", closed),
                            ("arrows", arrows), ("offset", shift)):
            object.__setattr__(self, name, value)


@dataclass(frozen=True)
class Text:
    """Words on their baseline, at a place of the drawing."""

    at: Pair
    words: str
    role: str = "outline"  # gives the colour
    anchor: str = "start"  # which part stands at the place: "start", "middle" or "end"
    offset: Pair = (0.0, 0.0)  # [px]
    angle: float = 0.0  # turn, counter-clockwise [deg]

    def __post_init__(self) -> None:
        if not np.isfinite([*self.at, *self.offset, self.angle]).all():
            raise ValueError(f"The words {self.words!r} need a finite place.")
        if self.anchor not in ("start", "middle", "end"):
            raise ValueError(f"anchor is {self.anchor!r}, but must be 'start', 'middle' or 'end'.")
        _known(self.role)


Mark = Line | Text


@dataclass(frozen=True)
class Axes:
    """The two axes of a graph, each by its quantity and unit; lines are cut off at their limits, words are not."""

    x: str
    y: str
    x_range: Pair | None = None  # lower and upper limit; None fits the marks and rounds out to whole ticks
    y_range: Pair | None = None

    def __post_init__(self) -> None:
        for limits in (self.x_range, self.y_range):
            if limits is not None and not (np.isfinite(limits).all() and limits[0] < limits[1]):
                raise ValueError(f"An axis runs from a lower to a higher number, not {limits}.")


@dataclass(frozen=True, eq=False)
class Scene:
    """A picture before it can show itself: what is laid out on a page and written."""

    sentence: str
    marks: Sequence[Mark] = ()
    axes: Axes | None = None
    size: tuple[int, int] = (640, 400)
    alt: str = ""
    frame: Box | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "marks", tuple(self.marks))
        if not self.sentence or not self.alt:
            raise ValueError("A picture needs a sentence, and a short alt text for screen readers.")
        if not self.marks:
            raise ValueError("A picture needs at least one mark.")
        if self.frame is not None:
            left, bottom, right, top = self.frame
            if self.axes is not None or not (np.isfinite(self.frame).all() and left < right and bottom < top):
                raise ValueError("A frame is (left, bottom, right, top) of a drawing; a graph has ranges in its Axes.")


def pair(place: Iterable[Any]) -> Pair:
    """Return a place as two floats."""
    x, y = (float(np.asarray(number)) for number in place)
    return x, y


def _known(role: str) -> str:
    """Return the role, or raise the sentence that lists the roles there are."""
    if role not in ROLES:
        raise ValueError(f"There is no role {role!r}; the roles are {', '.join(ROLES)}.")
    return role
