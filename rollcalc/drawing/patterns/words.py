"""What a pattern says about itself, and where on the piece there is room to say it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from rollcalc.layout import FlatPattern, Layout, Polyline, Size
from rollcalc.stock.labels import format_length
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError, checked_single, shown

from ..core.picture import Pair, pair

MARK_THIS_SIDE = "MARK THIS SIDE: INSIDE"
LABEL_SIZE = 3.0  # height of the letters of a label on the pattern [mm]
BROAD = 8.0  # how many times broader than tall the room for words should be [-]
CHECK_LINE = np.array([(0.0, -20.0), (100.0, -20.0)])  # below the pattern, to measure in files without pages [mm]
AMPLE = 8.0  # half the height of free room that is enough [mm]
CLEAR = 8.0  # how far words stay from where pages are joined [mm]
SIDE_NOTE = "The drawn side is the side to mark: up in the rolls, it becomes the inside."
ROLLS_NOTE = "Lay the middle and quarter lines along the rolls."
KEY = (("cut", "cut"), ("fold", "fold"), ("mark", "mark"))  # each pen, and what is done along its lines
KEY_NOTE = "True size, lengths in mm. Solid lines are cut, dashed lines folded, chain lines marked."


@dataclass(frozen=True)
class Inscription:
    """One line of words on or below a pattern."""

    words: str
    at: Pair  # middle of the words on the pattern, or their left end on the baseline below it [mm]
    size: float  # height of the letters' body [mm]
    angle: float = 0.0  # direction the words run in, anticlockwise from x [rad]
    bold: bool = False

    @property
    def length(self) -> float:
        """How long the words are, by the usual width of a letter. [mm]"""
        return 0.62 * self.size * len(self.words)

    @property
    def line(self) -> Polyline:
        """The line that the words on a pattern take up, from end to end. [mm]"""
        half = self.length / 2 * np.array([math.cos(self.angle), math.sin(self.angle)])
        return np.array([self.at - half, self.at + half])


@dataclass(frozen=True, eq=False)
class NamedPattern:
    """A flat pattern with all that its file shall say; what is empty or None gets a line to write it on."""

    flat: FlatPattern
    part: str = ""
    thickness: float | None = None  # [mm]
    material: str = ""

    @property
    def facts(self) -> tuple[str, str, str]:
        """Part, thickness and material, with a line to write on where one is not known."""
        line, thick = "____________", self.thickness
        return (f"Part: {self.part or line}", f"Thickness: {f'{thick:g}' if thick else '______'} mm",
                f"Material: {self.material or line}")

    @property
    def known(self) -> str:
        """Title and what is known of part, thickness and material, in one line."""
        thick = f"{self.thickness:g} mm" if self.thickness else ""
        return " · ".join(filter(None, (self.flat.title, self.part, thick, self.material)))

    def labels(self, avoid: Sequence[Polyline] = ()) -> tuple[Inscription, ...]:
        """Return the pattern's own words and MARK THIS SIDE where there is room, lines to avoid given. [mm]"""
        own = [_beside(Inscription(label.words, label.at, LABEL_SIZE, math.remainder(label.angle, math.pi)), avoid)
               for label in self.flat.labels]  # never upside down
        place, room = roomy_place(self.flat, [*avoid, *(label.line for label in own)])
        return (*own, Inscription(MARK_THIS_SIDE, place, min(5.0, max(2.0, room)), bold=True))

    def orders(self) -> list[str]:
        """Return which side is marked, and which lines lie along the rolls."""
        return [SIDE_NOTE, ROLLS_NOTE][: 1 + bool(self.flat.marks)]

    def notes(self) -> tuple[Inscription, ...]:
        """Return the lines of words below the pattern, for files that have no pages. [mm]"""
        lines = [(self.known, -8.0), (KEY_NOTE, -13.0), ("This line is 100 mm long: measure it before you cut.", -25.0)]
        rows = [*self.orders(), *(" ".join(filter(None, row)) for row in map(size_row, self.flat.sizes))]
        lines += [(words, -31.0 - 5 * place) for place, words in enumerate(rows)]
        return tuple(Inscription(words, (0.0, level), LABEL_SIZE) for words, level in lines)


def size_row(size: Size) -> tuple[str, str, str]:
    """Return the name of a size, and the size in mm and inches, or in degrees."""
    if size.unit != "mm":
        return size.words, f"{size.value:.1f}{size.unit}", ""
    return size.words, format_length(size.value), f"({format_length(size.value, 'inch')})"


def named_pattern(pattern: FlatPattern | Layout, part: Any = "", thickness: Any = None,
                  material: Any = "") -> NamedPattern:
    """Return a pattern, moved to the origin, with its names checked."""
    flat = pattern if isinstance(pattern, FlatPattern) else getattr(pattern, "flat_pattern", lambda: None)()
    if not isinstance(flat, FlatPattern):
        raise InputError(f"pattern is {shown(pattern)}, but must be a flat pattern: take one from rollcalc.layout.")
    if thickness is not None:
        thickness = checked_single("thickness", thickness, "mm", above=0, advice="measure the sheet")
    metal = material.name if isinstance(material, Material) else material
    return NamedPattern(flat.at_origin(), _one_line("part", part), thickness, _one_line("material", metal))


def roomy_place(flat: FlatPattern, avoid: Sequence[Polyline] = (), ample: float = AMPLE) -> tuple[Pair, float]:
    """Return a place on the piece with room for words, near its middle, and half the height free there. [mm]"""
    left, bottom, right, top = flat.bounds
    middle = np.array([left + right, bottom + top]) / 2
    ways = [low + (high - low) * (np.arange(60) + 0.5) / 60 for low, high in ((left, right), (bottom, top))]
    places = np.stack(np.meshgrid(*ways), axis=-1).reshape(-1, 2)  # (3600, 2), a grid of 60 by 60
    places = places[inside(flat.cut, places)]
    if not len(places):
        return pair(middle), 0.0
    squeeze = np.array([1 / BROAD, 1.0])
    lines = [line * squeeze for line in (*flat.cut, *flat.folds, *flat.marks, *avoid)]
    room = np.min([distance(places * squeeze, line) for line in lines], axis=0)  # (n,)
    good = np.flatnonzero(room >= min(ample, room.max()) - 1e-6)
    best = good[np.argmin(np.hypot(*(places[good] - middle).T).round(6))]
    return pair(places[best]), float(room[best])


def inside(outlines: Sequence[Polyline], places: Polyline) -> np.ndarray[Any, np.dtype[np.bool_]]:
    """Return for each place whether it lies inside the outlines, by the even–odd rule."""
    x, y = places[:, 0, None], places[:, 1, None]  # (n, 1)
    found = np.zeros(len(places), dtype=bool)
    for line in outlines:
        (x0, y0), (x1, y1) = line[:-1].T, line[1:].T  # (m - 1,)
        rise = np.where(y1 == y0, 1.0, y1 - y0)
        crossed = ((y0 <= y) != (y1 <= y)) & (x < x0 + (y - y0) * (x1 - x0) / rise)
        found ^= crossed.sum(axis=1) % 2 == 1
    return found


def open_line(line: Polyline) -> tuple[Polyline, bool]:
    """Return a polyline without the last point where that closes it, and whether it does."""
    closed = bool(np.array_equal(line[0], line[-1]))
    return line[: -1 if closed else None], closed


def distance(places: Polyline, line: Polyline) -> Polyline:
    """Return the distance of each place from a polyline, shape (n,). [mm]"""
    start, way = line[:-1], np.diff(line, axis=0)  # (m, 2)
    least = np.full(len(places), np.inf)
    for at, along in zip(start, way, strict=True):
        share = np.clip((places - at) @ along / max(float(along @ along), 1e-12), 0, 1)
        np.minimum(least, np.hypot(*(places - at - share[:, None] * along).T), out=least)
    return least


def _beside(label: Inscription, avoid: Sequence[Polyline]) -> Inscription:
    """Return a label slid along its own direction until it crosses none of the straight lines to avoid."""
    along = np.array([math.cos(label.angle), math.sin(label.angle)])
    half = float(np.hypot(*np.diff(label.line, axis=0)[0])) / 2 + CLEAR
    for start, stop in avoid:
        across = np.array([start[1] - stop[1], stop[0] - start[0]]) / np.hypot(*(stop - start))
        slope, gap = float(along @ across), float((label.at - start) @ across)
        if abs(slope) > 0.5 and abs(gap) < half * abs(slope):
            slide = (math.copysign(half * abs(slope), gap) - gap) / slope
            label = replace(label, at=pair(label.at + slide * along))
        elif abs(slope) < 0.01 and abs(gap) < label.size:  # beside the line: away from it
            label = replace(label, at=pair(label.at + (math.copysign(label.size, gap) - gap) * across))
    return label


def _one_line(name: str, text: Any) -> str:
    """Return a text of one line, or raise the sentence that says it is none."""
    if not isinstance(text, str) or not text.isprintable() or len(text) > 200:
        raise InputError(f"{name} is {shown(text)}, but must be a text of one line: write it in quotes.")
    return text.strip()
