"""What an error of each reading does to a radius, as bars."""

import math

from rollcalc.rolling import ReadingError, ReadingErrors
from rollcalc.rolling.machine.keys import MACHINE_KEYS
from rollcalc.stock import format_length
from rollcalc.stock.labels import length_scale
from rollcalc.stock.record import said

from ..core.marks import slab
from ..core.picture import Line, Mark, Picture, Text
from ..metal.bend_view import piece_words

ROWS, ROW, HALF = 8, 9.0, 40.0
"""Most bars, how far apart they are, and how long the longest is."""


def errors_view(errors: ReadingErrors, units: str = "mm") -> Picture:
    """Return a bar for each reading: how far off the radius comes out, to the right where it is larger."""
    longest = min(1.0, max(abs(one.change) for one in errors.errors)) or 1.0  # a longer bar is cut off
    marks: list[Mark] = [Line([(0.0, 0.55 * ROW), (0.0, -(len(errors.errors) - 0.4) * ROW)], "guide"),
                         Text((0.0, 0.55 * ROW), "smaller ring ◂ 0 ▸ larger ring", "dimension", "middle", (0, 8))]
    for number, one in enumerate(errors.errors):
        level, length = -ROW * number, HALF * min(one.change / longest, 1.0)
        if abs(length) > 0.05:
            marks += slab((min(length, 0.0), level - 0.3 * ROW), (max(length, 0.0), level - 0.3 * ROW), 0.6 * ROW,
                          "released piece")
        side = ("start", (7.0, -5.0)) if length >= 0 else ("end", (-7.0, -5.0))
        marks += [Text((-2.15 * HALF, level), _error_words(one, units), "outline", "start", (0, -5)),
                  Text((length, level), one.in_percent, "released", *side)]
    worst = max((one for one in errors.errors if one.reading != "pinch_force"), key=lambda one: abs(one.change))
    return Picture(
        f"{errors.turns:.2f} turns are meant to give {format_length(errors.released_radius, units)} "
        f"({piece_words(errors.stock, errors.material, units, width_too=True)}). Of the readings, the worst is "
        f"{_error_words(worst, units)}: {format_length(worst.released_radius, units)} comes out, {worst.in_percent}."
        f"{_pinch_words(errors, units)}",
        marks, size=(640, 420), alt="Bars: how far off the radius comes out for each reading",
        frame=(-2.15 * HALF, -ROWS * ROW, 1.35 * HALF, ROW))


def _error_words(one: ReadingError, units: str) -> str:
    """Return a reading and how far off it is."""
    key = MACHINE_KEYS[one.reading]
    if key.unit == "N":
        return f"pinch {said(one.value + one.error, 'N')}"
    scale, unit = length_scale(units) if key.unit == "mm" else (1.0, key.unit)
    return f"{key.words.removesuffix(' diameter')} +{said(float(f'{one.error / scale:.2g}'), unit)}"


def _pinch_words(errors: ReadingErrors, units: str) -> str:
    """Return what the pinch does, where there is one."""
    ends = [one for one in errors.errors if one.reading == "pinch_force" and math.isfinite(one.released_radius)]
    said_of = [f"{said(one.value + one.error, 'N')} gives {format_length(one.released_radius, units)}" for one in ends]
    return f" A pinch of {' and of '.join(said_of)}." if said_of else ""
