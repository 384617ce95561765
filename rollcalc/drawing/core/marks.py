"""The shapes a shop drawing is made of, each returned as a tuple of marks.

They belong in drawings to scale, and refuse numbers that are not finite. Lengths in px stay the same on
the page at every scale; all others are in the drawing's own units.
Put marks together with a star: ``marks = (*circle(…), *centre_lines(…), *dimension(…))``.
"""

import math

import numpy as np
from numpy.typing import ArrayLike

from .scene import Line, Pair, Points


def on_circle(centre: Pair, radius: float, angle: Points) -> Points:
    """Return points of a circle at the given angles, shape (n, 2)."""
    return np.column_stack([centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)])


def circle(centre: Pair, radius: float, role: str, points: int = 96) -> tuple[Line]:
    """Return a full circle."""
    angle = np.linspace(0, 2 * math.pi, points, endpoint=False)
    return (Line(on_circle(centre, radius, angle), role, closed=True),)


def arc(centre: Pair, radius: float, start: float, stop: float, role: str, points: int = 96,
        arrows: str = "") -> tuple[Line]:
    """Return part of a circle."""
    return (Line(on_circle(centre, radius, np.linspace(start, stop, points)), role, arrows=arrows),)


def bent_line(along: Points, radius: float, start: Pair = (0.0, 0.0), slope: float = 0.0) -> Points:
    """Return points at lengths along an arc from a place where it has a slope; an infinite radius is straight."""
    middle = slope + along / 2 / radius
    chord = along * np.sinc(along / (2 * math.pi * radius))  # sinc, so that a straight line is no special case
    return np.column_stack([start[0] + chord * np.cos(middle), start[1] + chord * np.sin(middle)])


def strip(middle: ArrayLike, thickness: float, role: str = "section") -> tuple[Line]:
    """Return the outline of a strip of even thickness, such as a sheet seen from its edge."""
    line = Line(middle, role).points
    along = np.gradient(line, axis=0)
    along = along / np.hypot(*along.T)[:, None]  # (n, 2), unit length
    out = thickness / 2 * np.column_stack([-along[:, 1], along[:, 0]])
    return (Line(np.concatenate([line + out, (line - out)[::-1]]), role, closed=True),)


def slab(start: Pair, stop: Pair, height: float, role: str) -> tuple[Line]:
    """Return a four-sided figure with upright ends that stands on a line: a box, or a roll from the front."""
    return (Line([start, stop, (stop[0], stop[1] + height), (start[0], start[1] + height)], role, closed=True),)


def hatch(region: ArrayLike, role: str = "hatch") -> tuple[Line]:
    """Return 45° hatching of an area, without an outline; its lines are as far apart at every scale."""
    return (Line(region, role, closed=True),)


def centre_lines(centre: Pair, radius: float, beyond: float = 8.0) -> tuple[Line, Line]:
    """Return the cross of thin long-dash lines through a circle."""
    x, y = centre
    return (Line([(x - radius, y), (x + radius, y)], "centre", offset=[(-beyond, 0), (beyond, 0)]),
            Line([(x, y - radius), (x, y + radius)], "centre", offset=[(0, -beyond), (0, beyond)]))
