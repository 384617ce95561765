"""A frustum from the side beside its flat pattern, and the pattern rolling up in space."""

from __future__ import annotations

import math

import numpy as np

from rollcalc.layout import FrustumPattern, partly_rolled
from rollcalc.stock import format_length

from .dimensions import dimension
from .picture import Line, Mark, Picture, Points, Text

GAP = 60.0
"""Distance between side view and pattern. [mm]"""
LOOK_DOWN = math.radians(32)
"""How far from above the picture in space is seen. [rad]"""


def cone_view(pattern: FrustumPattern, units: str = "mm") -> Picture:
    """Return the frustum from the side, and the pattern that makes it, to one scale.

    Parameters
    ----------
    pattern : FrustumPattern
        The frustum.
    units : str
        "mm" or "inch".

    Returns
    -------
    picture : Picture
        A drawing to scale.

    Raises
    ------
    None
        A pattern that could be made can be drawn.

    Notes
    -----
    Validity: one piece or one of several gores.

    Examples
    --------
    >>> from rollcalc.layout import frustum_pattern
    >>> cone_view(frustum_pattern(220, 160, 100)).alt
    'A cone from the side, and its flat pattern'
    """
    large, small, height = pattern.large_diameter / 2, pattern.small_diameter / 2, pattern.height
    side = np.array([(-large, 0), (large, 0), (small, height), (-small, height)])
    flat = pattern.outline()
    shift = np.array([large + GAP - flat[:, 0].min(), -flat[:, 1].min()])
    half = pattern.arc() / 2
    first, top = pattern.at([half] * 2, [0.0, pattern.slant]) + shift
    marks: list[Mark] = [
        Line(side, "outline", closed=True),
        Line([(0, 0), (0, height)], "centre", offset=[(0, -12), (0, 12)]),
        *dimension((-large, 0), (large, 0), format_length(2 * large, units), -26),
        *dimension((-large, 0), (-large, height), format_length(height, units), 26),
        Line(flat + shift, "outline", closed=True),
        *(Line(line + shift, "centre") for line in pattern.marks()),
        *dimension(_pair(first), _pair(top), f"slant {format_length(pattern.slant, units)}", -24),
        Text(_pair(pattern.at(0.0, pattern.slant / 2) + shift), "pattern", "outline", "middle", (0, -5)),
    ]
    if small:
        marks += dimension((-small, height), (small, height), format_length(2 * small, units), 26)
    right, top = float((flat + shift)[:, 0].max()), max(height, float((flat + shift)[:, 1].max()))
    pad = 0.09 * (right + large)  # room for the dimensions at the edges
    return Picture(
        _sentence(pattern, units),
        tuple(marks),
        size=(680, 420),
        alt="A cone from the side, and its flat pattern",
        frame=(-large - pad, -pad, right + pad, top + pad),
    )


def rolling_up_view(pattern: FrustumPattern, share: float, units: str = "mm") -> Picture:
    """Return the pattern on its way from flat to closed, seen from above and in front.

    Parameters
    ----------
    pattern : FrustumPattern
        The frustum.
    share : float
        How far it is rolled: 0 is flat, 1 is closed. [-]
    units : str
        "mm" or "inch".

    Returns
    -------
    picture : Picture
        A parallel projection in a frame that stays.

    Raises
    ------
    InputError
        If the share is not from 0 to 1.

    Notes
    -----
    Validity: see `partly_rolled`; lines behind others are drawn thin, not hidden.

    Examples
    --------
    >>> from rollcalc.layout import frustum_pattern
    >>> rolling_up_view(frustum_pattern(220, 160, 100), 1).sentence[:20]
    'Rolled up all the wa'
    """
    elements = [
        pattern.at([place * pattern.arc()] * 2, [0.0, pattern.slant]) for place in np.linspace(-0.5, 0.5, 13)[1:-1]
    ]
    flat, closed = (_seen(partly_rolled(pattern, pattern.outline(), part)) for part in (0.0, 1.0))
    now = _seen(partly_rolled(pattern, pattern.outline(), share))
    marks: list[Mark] = [Line(_seen(partly_rolled(pattern, line, share)), "guide") for line in elements]
    marks += [Line(flat, "hidden", closed=True), Line(now, "sheet", closed=True)]
    both = np.concatenate([flat, closed, _seen(partly_rolled(pattern, pattern.outline(), 0.5))])
    left, bottom = (float(low) for low in both.min(axis=0))
    right, top = (float(high) for high in both.max(axis=0))
    far = "all the way" if share == 1 else f"{100 * share:.0f} % of the way"
    start = "The flat pattern" if share == 0 else f"Rolled up {far}"
    return Picture(
        f"{start}: every length on the sheet stays as it was. Closed, it is "
        f"{format_length(pattern.height, units)} high and its ends are "
        f"{format_length(pattern.large_diameter, units)} and {format_length(pattern.small_diameter, units)} across.",
        tuple(marks),
        size=(680, 440),
        alt="The pattern rolling up, seen from above and in front",
        frame=(left - 5, bottom - 5, right + 5, top + 5),
    )


def _seen(places: Points) -> Points:
    """Return points in space as seen from above and in front, shape (n, 2)."""
    x, y, z = places.T
    return np.column_stack([x, y * math.sin(LOOK_DOWN) + z * math.cos(LOOK_DOWN)])


def _sentence(pattern: FrustumPattern, units: str) -> str:
    """Return the numbers to lay the pattern out with."""
    if not pattern.curvature:
        return f"Equal ends: the pattern is a rectangle, {format_length(pattern.arc(), units)} long."
    kind = f"arcs of {format_length(pattern.outer_radius, units)} and {format_length(pattern.inner_radius, units)}"
    if not pattern.small_diameter:
        kind = f"one arc of {format_length(pattern.outer_radius, units)} round the point"
    return (
        f"The pattern is part of a ring: {kind}, {math.degrees(pattern.sector_angle):.1f}° wide. "
        f"The wall leans {math.degrees(pattern.half_angle):.1f}° from the axis."
    )


def _pair(point: Points) -> tuple[float, float]:
    """Return a point as two floats."""
    return float(point[0]), float(point[1])
