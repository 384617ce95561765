"""A piece as the rule says it is, above the ring that is wanted, and in truth once that may be seen."""

import math

import numpy as np

from rollcalc.stock import format_length

from ..core.marks import bent_line
from ..core.picture import Line, Mark, Picture, Text

FRAME = (-300.0, -72.0, 300.0, 196.0)


def trial_view(sentence: str, wanted: float, read_radius: float | None, true_radius: float | None = None,
               chord: float | None = None, rise: float = 0.0, units: str = "mm") -> Picture:
    """Return a blank as long as the wanted ring goes round, its middle held; infinite radii are flat."""
    along = np.linspace(-math.pi, math.pi, 241) * wanted
    marks: list[Mark] = [Line(bent_line(along, wanted), "guide"),
                         Text((0, wanted), f"wanted {_words(wanted, units)}", "guide", "middle", (0, -5))]
    if read_radius is not None:
        marks += [Line(bent_line(along, read_radius), "released"),
                  Text((0, 0), f"as read: {_words(read_radius, units)}", "released", "middle", (0, -42))]
    if true_radius is not None or read_radius is None:
        radius = math.inf if true_radius is None else true_radius
        label = "flat" if true_radius is None else f"in truth: {_words(radius, units)}"
        marks += [Line(bent_line(along, radius), "sheet"), Text((0, 0), label, "sheet", "middle", (0, -24))]
    if chord is not None:
        marks += [Line([(-chord / 2, rise), (chord / 2, rise)], "dimension", arrows="both"),
                  Text((0, rise), f"rise {rise_words(rise, units)}", "dimension", "middle", (0, 5))]
    return Picture(sentence, marks, size=(640, 350), alt="The piece after the last pass, and the wanted ring",
                   frame=FRAME)


def rise_words(rise: float, units: str) -> str:
    """Return a rise to a tenth of a millimetre."""
    return format_length(rise, units, 1 if units == "mm" else 3)


def _words(radius: float, units: str) -> str:
    """Return a radius in words."""
    return f"R {format_length(radius, units)}" if math.isfinite(radius) else "flat"
