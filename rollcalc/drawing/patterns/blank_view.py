"""A cylinder and its blank, to one scale: the ring from its end, and the flat piece that makes it."""

import math

import numpy as np

from rollcalc.layout import CylinderBlank
from rollcalc.stock import format_length

from ..core.dimensions import dimension, leader
from ..core.marks import centre_lines, circle, on_circle, strip
from ..core.picture import Line, Mark, Picture, pair

FRAME = (-20.0, -70.0, 780.0, 470.0)  # left, bottom, right and top of what the picture shows [mm]


def blank_view(blank: CylinderBlank, units: str = "mm") -> Picture:
    """Return the ring above and its blank below, with the lengths that make the blank."""
    length, width = blank.length, blank.width
    first, last = (blank.trim / 2 + max(edge, 0.0) for edge in blank.edge_allowances)
    start, stop = (first, width), (length - last, width)
    marks: list[Mark] = [
        *_ring(blank, (380.0, 330.0), units), Line(blank.outline(), "outline", closed=True),
        *(Line(line, "hidden") for line in blank.folds()), *(Line(line, "centre") for line in blank.marks()),
        *dimension((0, 0), (length, 0), f"cut {format_length(length, units)}", -24),
        *dimension(start, stop, f"ring {format_length(blank.developed_length, units)}", 22)]
    seam, trim = blank.seam_allowance, blank.trim
    parts = [f"{format_length(blank.developed_length, units)} for the ring"]
    if seam:
        parts.append(f"{format_length(abs(seam), units)} {'for the seam' if seam > 0 else 'less for the gap'}")
    if trim:
        parts.append(f"{format_length(trim, units)} to trim")
    short = blank.developed_length - math.pi * blank.inside_diameter  # what the usual slip would cost
    return Picture(
        f"Cut {format_length(length, units)}: {', '.join(parts)}. Measured by the inside diameter, the ring would be "
        f"{format_length(short, units)} short.", marks, size=(660, 470), alt="A ring and its blank", frame=FRAME)


def _ring(blank: CylinderBlank, centre: tuple[float, float], units: str) -> tuple[Mark, ...]:
    """Return the ring from its end: cut metal, the middle of the thickness, and which diameter is which."""
    middle = on_circle(centre, blank.mean_radius, np.linspace(0, 2 * math.pi, 181) + math.pi / 2)
    (at,) = on_circle(centre, blank.mean_radius, np.array([0.5]))
    (within,) = on_circle(centre, blank.inside_diameter / 2, np.array([math.pi - 0.5]))
    return (*strip(middle, blank.thickness, "section"), *circle(centre, blank.mean_radius, "centre", points=180),
            *centre_lines(centre, blank.outside_diameter / 2),
            *leader(pair(within), f"inside {format_length(blank.inside_diameter, units)}", (-46, 22)),
            *leader(pair(at), f"middle {format_length(blank.mean_diameter, units)}", (46, 22)))
