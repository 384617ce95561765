"""A frustum from the side beside its flat pattern, and the pattern rolling up in space."""

import math

import numpy as np

from rollcalc.layout import FrustumPattern
from rollcalc.layout.rolling_up import partly_rolled
from rollcalc.stock import format_length

from ..core.dimensions import dimension
from ..core.picture import Line, Mark, Picture, Points, Text, pair

GAP = 60.0  # distance between side view and pattern [mm]
LOOK_DOWN = math.radians(32)  # how far from above the picture in space is seen [rad]


def cone_view(pattern: FrustumPattern, units: str = "mm") -> Picture:
    """Return the frustum from the side, and the pattern that makes it, to one scale."""
    large, small, height = pattern.large_diameter / 2, pattern.small_diameter / 2, pattern.height
    side = np.array([(-large, 0), (large, 0), (small, height), (-small, height)])
    flat = pattern.outline()
    shift = np.array([large + GAP - flat[:, 0].min(), -flat[:, 1].min()])
    marks: list[Mark] = [
        Line(side, "outline", closed=True), Line([(0, 0), (0, height)], "centre", offset=[(0, -12), (0, 12)]),
        *dimension((-large, 0), (large, 0), format_length(2 * large, units), -26),
        *dimension((-large, 0), (-large, height), format_length(height, units), 26),
        Line(flat + shift, "outline", closed=True), *(Line(line + shift, "centre") for line in pattern.marks()),
        *dimension((large, 0), (small, height), f"slant {format_length(pattern.slant, units)}", -24),
        *_radius_labels(pattern, shift, units)]
    if small:
        marks += dimension((-small, height), (small, height), format_length(2 * small, units), 26)
    right, top = float((flat + shift)[:, 0].max()), max(height, float((flat + shift)[:, 1].max()))
    pad = 0.09 * (right + large)  # room for the dimensions at the edges
    return Picture(
        _sentence(pattern, units), marks, size=(680, 420), alt="A cone from the side, and its flat pattern",
        frame=(-large - pad, -pad, right + pad, top + pad))


def rolling_up_view(pattern: FrustumPattern, share: float, units: str = "mm") -> Picture:
    """Return the pattern on its way from flat to closed, seen from above and in front."""
    elements = [pattern.at([place * pattern.arc()] * 2, [0.0, pattern.slant])
                for place in np.linspace(-0.5, 0.5, 13)[1:-1]]
    flat, half, closed, now = (_seen(partly_rolled(pattern, pattern.outline(), part)) for part in (0, 0.5, 1, share))
    marks: list[Mark] = [Line(_seen(partly_rolled(pattern, line, share)), "guide") for line in elements]
    marks += [Line(flat, "hidden", closed=True), Line(now, "sheet", closed=True)]
    swept = np.concatenate([flat, half, closed])
    (left, bottom), (right, top) = swept.min(axis=0).tolist(), swept.max(axis=0).tolist()
    far = "all the way" if share == 1 else f"{100 * share:.0f} % of the way"
    start = f"Rolled up {far}; dashed, as it lay flat" if share else "The flat pattern"
    ends = f"{format_length(pattern.large_diameter, units)} across at the large end"
    if pattern.small_diameter:
        ends += f", {format_length(pattern.small_diameter, units)} at the small end"
    return Picture(
        f"{start}. Every length on the sheet stays as it was. Closed, it is {format_length(pattern.height, units)} "
        f"high, {ends}.", marks, size=(680, 440),
        alt="The pattern rolling up, seen from above and in front", frame=(left - 5, bottom - 5, right + 5, top + 5))


def _radius_labels(pattern: FrustumPattern, shift: Points, units: str) -> list[Mark]:
    """Return the radii of the two arcs, each written at the middle of its arc; none on a rectangle."""
    if not pattern.curvature:
        return []
    outer, inner = pattern.at([0.0, 0.0], [0.0, pattern.slant]) + shift
    words = [(outer, f"R {format_length(pattern.outer_radius, units)}", 8),
             (inner, f"r {format_length(pattern.inner_radius, units)}", -19)]
    return [Text(pair(at), said, "outline", "middle", (0, up))
            for at, said, up in (words if pattern.small_diameter else words[:1])]


def _seen(places: Points) -> Points:
    """Return points in space as seen from above and in front, shape (n, 2)."""
    x, y, z = places.T
    return np.column_stack([x, y * math.sin(LOOK_DOWN) + z * math.cos(LOOK_DOWN)])


def _sentence(pattern: FrustumPattern, units: str) -> str:
    """Return the numbers to lay the pattern out with."""
    if not pattern.curvature:
        return f"Equal ends: the pattern is a rectangle, {format_length(pattern.arc(), units)} long."
    outer, inner = (format_length(radius, units) for radius in (pattern.outer_radius, pattern.inner_radius))
    kind = f"its arcs have radii of {outer} and {inner} and are"
    if not pattern.small_diameter:
        kind = f"its one arc has a radius of {outer} round the point and is"
    return (f"The pattern is part of a ring: {kind} {math.degrees(pattern.sector_angle):.1f}° wide. "
            f"The wall leans {math.degrees(pattern.half_angle):.1f}° from the axis.")
