"""Lengths, radii and angles written into a drawing, and words that point at things; tuples of marks.

Like the shapes of `marks`, they belong in drawings to scale and refuse numbers that are not finite.
"""

import math
from collections.abc import Iterable
from typing import Any

import numpy as np

from .marks import arc
from .page import HALF_CAPITAL
from .scene import Line, Mark, Pair, Points, Text, pair

GAP, OVERSHOOT = 3.0, 6.0  # how far extension lines start from the object and reach beyond the dimension line [px]


def dimension(start: Pair, stop: Pair, words: str, distance: float = 26.0, *, outside: bool = False,
              role: str = "dimension") -> tuple[Mark, ...]:
    """Return a length between two points: extension lines, dimension line, arrowheads, words above and along it."""
    way = np.subtract(stop, start)
    along = way / math.hypot(*way) if way.any() else np.array([1.0, 0.0])  # words of no length lie level
    away = np.array([-along[1], along[0]]) * math.copysign(1.0, distance)
    ends = abs(distance) * away
    lines = [Line([point, point], role, offset=[GAP * away, ends + OVERSHOOT * away]) for point in (start, stop)]
    if not outside:
        label = _along(np.add(start, stop) / 2, words, along, ends, role)
        return (*lines, Line([start, stop], role, arrows="both", offset=ends), label)
    arrows = (Line([at, at], role, arrows="end", offset=[ends + away_from * along, ends])
              for at, away_from in ((start, -24), (stop, 24)))
    return (*lines, *arrows, _beside(stop, words, ends + 28 * along, along, role))


def radius_dimension(centre: Pair, radius: float, angle: float, words: str, *, reach: float | None = None,
                     role: str = "dimension") -> tuple[Mark, ...]:
    """Return a radius: a line from the centre with its arrowhead on the arc, and words along it."""
    out = np.array([math.cos(angle), math.sin(angle)])
    middle, tip = np.array(centre, dtype=float), centre + radius * out
    if reach is None:
        return (Line([middle, tip], role, arrows="end"), _along((middle + tip) / 2, words, out, 0 * out, role))
    line = Line([tip, tip], role, arrows="end", offset=[-reach * out, 0 * out])
    return (line, _along(tip, words, out, -0.55 * reach * out, role))


def angle_dimension(centre: Pair, radius: float, start: float, stop: float, words: str, *,
                    role: str = "dimension") -> tuple[Mark, ...]:
    """Return an angle: an arc with two arrowheads, and words beside its middle."""
    middle = (start + stop) / 2
    out = np.array([math.cos(middle), math.sin(middle)])
    lines = arc(centre, radius, start, stop, role, points=24, arrows="both")
    return (*lines, _beside(centre + radius * out, words, 8 * out, out, role))


def arrow(start: Pair, stop: Pair, role: str = "dimension") -> tuple[Line]:
    """Return a straight arrow."""
    return (Line([start, stop], role, arrows="end"),)


def leader(at: Pair, words: str, offset: Pair, role: str = "dimension") -> tuple[Mark, ...]:
    """Return words with a thin line that points to a place; they stand beyond its bend, where it leans to."""
    side, bend = np.array([math.copysign(1.0, offset[0]), 0.0]), np.array(offset, dtype=float)
    line = Line([at, at, at], "dimension", arrows="start", offset=[(0.0, 0.0), bend, bend + 12 * side])
    return (line, _beside(at, words, bend + 16 * side, side, role))


def _along(at: Points, words: str, along: Points, offset: Points, role: str) -> Text:
    """Return words centred above a line, running with it, read from below or from the right."""
    angle = math.degrees(math.atan2(along[1], along[0]))
    angle = (angle + 89.9) % 180 - 89.9
    up = np.array([-math.sin(math.radians(angle)), math.cos(math.radians(angle))])
    return Text(pair(at), words, role, "middle", pair(offset + 5 * up), angle)


def _beside(at: Iterable[Any], words: str, offset: Points, out: Points, role: str) -> Text:
    """Return level words that stand clear of a place, on the side ``out`` points to."""
    anchor = "middle" if abs(out[0]) < 0.35 else "start" if out[0] > 0 else "end"
    down = HALF_CAPITAL * (1 - float(out[1]))
    return Text(pair(at), words, role, anchor, pair(offset - np.array([0.0, down])))
