"""A ring with chord and rise, and the rings it might be if the rise is misread."""

import math

import numpy as np

from rollcalc.rolling import radius_from_chord, rise_of_chord
from rollcalc.stock import format_length

from ..core.dimensions import dimension
from ..core.marks import bent_line
from ..core.picture import Line, Mark, Picture, Text

THICKNESS = 0.76
"""Thickness of the lantern's body. [mm]"""


def chord_view(released_radius: float, chord: float, misread: float, units: str = "mm") -> Picture:
    """Return the lantern's sheet at a radius, measured inside, and as it seems with the rise misread either way."""
    inside = released_radius - THICKNESS / 2
    rise = float(rise_of_chord(inside, chord))
    tight, wide = _seems(chord, rise + misread), _seems(chord, rise - misread)
    along = np.linspace(-math.pi, math.pi, 241) * released_radius
    off = format_length(misread, units, 2)
    lines = (f"rise {format_length(rise, units)}", f"{off} more: {_radius_words(tight, units)}",
             f"{off} less: {_radius_words(wide, units)}")
    marks: list[Mark] = [
        *(Line(bent_line(along, radius), "released") for radius in (tight, wide)),
        Line(bent_line(along, released_radius), "sheet"),
        *dimension((-chord / 2, rise), (chord / 2, rise), f"chord {format_length(chord, units)}", 12),
        Text((0, released_radius), _radius_words(released_radius, units), "sheet", "middle", (0, 24)),
        *(Text((0, 0), words, "outline" if not place else "released", "middle", (0, -24 - 18 * place))
          for place, words in enumerate(lines))]
    frame = tuple(share * released_radius for share in (-1.9, -0.55, 1.9, 2.2))
    return Picture(_sentence(released_radius, chord, rise, tight, wide, off, units), marks, size=(640, 420),
                   alt="A ring with chord and rise, and what it seems where the rise is misread",
                   frame=frame)  # type: ignore[arg-type]


def _seems(chord: float, rise: float) -> float:
    """Return the radius to mid-thickness that a rise stands for; infinite where there is none. [mm]"""
    return float(radius_from_chord(chord, rise)) + THICKNESS / 2 if rise > 1e-3 else math.inf


def _radius_words(radius: float, units: str) -> str:
    """Return a radius in words."""
    return f"R {format_length(radius, units)}" if math.isfinite(radius) else "flat"


def _sentence(radius: float, chord: float, rise: float, tight: float, wide: float, off: str, units: str) -> str:
    """Return what it shows, with its numbers."""
    said = (f"Sheet of {format_length(THICKNESS, units)} at {_radius_words(radius, units)} has a rise of "
            f"{format_length(rise, units)} over a chord of {format_length(chord, units)}, measured inside. A rule that "
            f"is {off} off makes it {_radius_words(tight, units)} to ")
    if not math.isfinite(wide):
        return f"{said}flat: this chord tells nothing."
    less, more = (100 * (one / radius - 1) for one in (tight, wide))
    return f"{said}{_radius_words(wide, units)}: {less:+.1f} to {more:+.1f} %."
