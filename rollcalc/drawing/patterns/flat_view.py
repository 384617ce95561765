"""Any flat pattern on the screen: lines to cut, to fold and to mark, and how much sheet it needs."""

from rollcalc.layout import FlatPattern, Layout
from rollcalc.stock import format_length

from ..core.dimensions import dimension
from ..core.picture import Line, Mark, Picture, Text


def flat_view(pattern: FlatPattern | Layout, units: str = "mm") -> Picture:
    """Return a flat pattern with its breadth and height."""
    flat = pattern if isinstance(pattern, FlatPattern) else pattern.flat_pattern()
    left, bottom, right, top = flat.bounds
    marks: list[Mark] = [
        *(Line(line, "outline", closed=True) for line in flat.cut), *(Line(line, "hidden") for line in flat.folds),
        *(Line(line, "centre") for line in flat.marks),
        *dimension((left, bottom), (right, bottom), format_length(right - left, units), -24),
        *dimension((left, bottom), (left, top), format_length(top - bottom, units), 24)]
    if len(flat.labels) == 1:
        marks.append(Text(flat.labels[0].at, flat.labels[0].words, "outline", "middle", (0, 6)))
    pad = 0.08 * max(right - left, top - bottom)
    return Picture(
        f"{flat.title}: the pattern needs {format_length(right - left, units)} by {format_length(top - bottom, units)} "
        "of sheet. Thick lines are cut, dashed lines folded, chain lines only marked.",
        marks, size=(660, 400), alt="Flat pattern", frame=(left - pad, bottom - pad, right + pad, top + pad))
