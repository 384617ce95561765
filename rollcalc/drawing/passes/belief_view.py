"""What is believed of yield, pinch and touch: before anything was measured, and now."""

from __future__ import annotations

from rollcalc.job import Estimate
from rollcalc.job.learning.reading import Band

from ..core.marks import slab
from ..core.picture import Line, Mark, Picture, Text

SIZE = (640, 250)
ROOM = 0.12
"""White beyond what was believed before, at both ends of a row. [-]"""

LONG, HIGH = 300.0, 60.0
"""Length and height of a row. [px]"""


def belief_view(now: Estimate, before: Estimate) -> Picture:
    """Return a row for each thing that nobody knows: a pale bar for what was believed before, a dark one for now."""
    rows = (("yield", now.yield_strength, before.yield_strength, "MPa", 0),
            ("pinch", now.pinch_force, before.pinch_force, "N", 0),
            ("touch", now.touch_turns, before.touch_turns, "turns", 2))
    marks: list[Mark] = []
    said = []
    for number, (name, known, prior, unit, digits) in enumerate(row for row in rows if row[1] and row[2]):
        assert known is not None and prior is not None  # noqa: PT018
        marks += _row(name, known, prior, unit, digits, -HIGH * number)
        said.append(f"{name} {_number(known.low, digits)} to {_number(known.high, digits)} {unit}")
    readings = len(now.readings)
    count = "1 reading" if readings == 1 else f"{readings} readings"
    return Picture(f"Believed after {count}, four times in five: {', '.join(said)}. The pale bars are what was "
                   "believed before anything was measured; the narrower the dark bar, the surer.", marks, size=SIZE,
                   alt="What is believed of yield, pinch and touch",
                   frame=(-60.0, -2.5 * HIGH, LONG + 190.0, 0.75 * HIGH))


def _row(name: str, known: Band, prior: Band, unit: str, digits: int, level: float) -> list[Mark]:
    """Return one row: both bars, the mean, and the numbers."""
    low, high = min(known.low, prior.low), max(known.high, prior.high)
    room = ROOM * (high - low) or 1.0

    def at(value: float) -> float:
        """Return where a value lies along the row."""
        return LONG * (value - low + room) / (high - low + 2 * room)

    pale, dark = (((at(one.low), level - below), (at(one.high), level - below)) for one, below in
                  ((prior, 14.0), (known, 8.0)))
    half = _number((known.high - known.low) / 2, digits, plain=True)
    about = f"{_number(known.mean, digits)} {unit}, give or take {half}"
    return [Line([(0.0, level), (LONG, level)], "grid"), *slab(*pale, 28.0, "band"),
            *slab(*dark, 16.0, "released piece"),
            Line([(at(known.mean), level - 14), (at(known.mean), level + 14)], "sheet"),
            Text((0.0, level), name, "outline", "end", (-10, -5)),
            Text((at(prior.low), level + 14), _number(prior.low, digits), "dimension", "middle", (0, 5)),
            Text((at(prior.high), level + 14), _number(prior.high, digits), "dimension", "middle", (0, 5)),
            Text((LONG, level), about, "outline", "start", (10, -5))]


def _number(value: float, digits: int, plain: bool = False) -> str:
    """Return a number as a row shows it, with a sign where it may have either."""
    rounded = round(value, digits) + 0.0
    return f"{rounded:{'' if plain or not digits else '+'}.{digits}f}".replace("-", "−")
