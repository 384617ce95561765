"""A sheet fed out of square, and the ring whose edges then miss each other at the seam; both to one scale."""

import math

import numpy as np

from rollcalc.rolling import seam_offset
from rollcalc.stock import format_length

from ..core.dimensions import leader
from ..core.picture import Line, Mark, Picture, Points, Text

SIZE = (680, 500)


def askew_view(released_radius: float, width: float, skew_degrees: float, units: str = "mm") -> Picture:
    """Return the sheet in front of the nip from above, and the ring above it with its seam to the front."""
    offset = float(seam_offset(released_radius, skew_degrees))
    lag = width * math.tan(math.radians(skew_degrees))
    marks = [*_sheet(width, skew_degrees, lag, released_radius, units), *_ring(released_radius, width, offset, units)]
    return Picture(
        f"Fed {skew_degrees:g}° out of square, one corner of the sheet lags {format_length(lag, units)} behind the "
        f"other at the nip. Round the ring that grows to {format_length(offset, units)} between the edges of the "
        "seam. All true to scale.",
        marks, size=SIZE, alt="A sheet fed out of square, and its ring",
        frame=(-1.02 * width, -1.0 * released_radius, 1.02 * width, 2.6 * released_radius))


def _sheet(width: float, skew_degrees: float, lag: float, radius: float, units: str) -> list[Mark]:
    """Return the sheet's front end from above, its left corner in the nip."""
    turn = math.radians(skew_degrees)
    long = 0.95 * radius
    left, right = np.array([-width / 2, 0.0]), np.array([width / 2, -lag])
    back = np.array([-long * math.sin(turn), -long * math.cos(turn)])
    return [
        Line([(-0.75 * width, 0), (0.75 * width, 0)], "roll"), Text((-0.75 * width, 0), "nip", "roll", "end", (-6, -5)),
        Line([left + back, left, right, right + back], "outline"),
        Text((0, -long / 2), "sheet, from above", "outline", "middle", (0, 0)),
        *leader((float(right[0]), -lag / 2), f"{format_length(lag, units)} behind", (24, -34))]


def _ring(radius: float, width: float, offset: float, units: str) -> list[Mark]:
    """Return the ring from outside, its axle along the rolls: each edge wanders as it goes round."""
    centre, half = 1.55 * radius, np.array([width / 2, 0.0])
    edges = (_edge(radius, offset, np.linspace(start, start + math.pi / 2, 31), centre) for start in (0, 1.5 * math.pi))
    return [
        *(Line(np.concatenate([edge - half, (edge + half)[::-1]]), "sheet", closed=True) for edge in edges),
        *leader((width / 2 + offset / 2, centre), f"miss by {format_length(offset, units)}", (16, 30), "released"),
        Text((0, centre + radius / 2), "ring, from outside", "sheet", "middle", (0, -5)),
        Text((-width / 2, centre), "seam", "sheet", "end", (-8, -5))]


def _edge(radius: float, offset: float, angle: Points, centre: float) -> Points:
    """Return one edge of the ring between two angles round it, counted from the seam."""
    return np.column_stack([offset * angle / (2 * math.pi) - offset / 2, centre + radius * np.sin(angle)])
