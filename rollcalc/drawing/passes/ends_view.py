"""The start of a ring: the curvature that stays along the strip, from the tip on, and what a remedy makes of it."""

import numpy as np

from rollcalc.rolling import FlatEnds, Remedy
from rollcalc.rolling.shape import span_lengths
from rollcalc.stock import format_length
from rollcalc.stock.labels import length_scale

from ..core.picture import Axes, Line, Mark, Picture, Text, pair
from ..machine.machine_view import machine_note

SPANS = 3.6  # how much of the strip is drawn, in spans behind the inside roll [-]


def ends_view(ends: FlatEnds, remedy: Remedy | None = None, units: str = "mm") -> Picture:
    """Return a graph of the curvature that stays along the first stretch of a ring."""
    scale, unit = length_scale(units)
    far = SPANS * float(span_lengths(ends.settings[-1])[1])
    once = "one pass" if len(ends.settings) == 1 else f"{len(ends.settings)} passes"
    strips: list[tuple[str, str, FlatEnds | Remedy]] = [(once, "sheet", ends)]
    if remedy is not None:
        strips.append((remedy.name, "released", remedy))
    drawn = [(name, role, np.column_stack([strip.distance / scale, strip.curvature * ends.steady_radius])[
        strip.distance <= far]) for name, role, strip in strips]
    top, end = 1.12 * max(line[:, 1].max() for *_, line in drawn), far / scale
    marks: list[Mark] = [Line([(0, 1), (end, 1)], "guide")]
    for number, (name, role, line) in enumerate(drawn):
        height = top * (0.94 - 0.09 * number)
        marks += [Line(line, role), Line([(0.5 * end, height), (0.58 * end, height)], role),
                  Text((0.58 * end, height), name, role, "start", (8, -5))]
    line, flat, kink = drawn[0][-1], ends.leading / scale, ends.kink_position / scale
    behind = line[line[:, 0] > kink]
    marks += [Line([(0, 0), (flat, 0)], "dimension", arrows="both"),
              Text((flat / 2, 0), "flat", "dimension", "middle", (0, 8)),
              Text((kink, ends.kink_ratio), "kink", "sheet", "start", (12, -8)),
              Text(pair(behind[np.argmin(behind[:, 1])]), "dip", "sheet", "middle", (0, -20)),
              Text((end, 1), "steady", "guide", "end", (-4, -18))]
    start = "laid over the roll before it rises" if ends.laid else "pushed on to the roll as it is set"
    better = "" if remedy is None else (
        f"{remedy.name.capitalize()}: the largest curvature is {remedy.kink_ratio:.1f} times the steady one. ")
    return Picture(
        f"In {once}, with the tip {start}, {format_length(ends.leading, units)} stay flat. Then comes a kink of "
        f"{ends.kink_ratio:.1f} times the curvature, {format_length(ends.kink_position, units)} from the tip, and a "
        f"dip. To be round within {100 * ends.tolerance:.0f} %, cut off {format_length(ends.trim, units)} here and "
        f"{format_length(ends.trailing_trim, units)} at the other end. "
        f"{better}{machine_note(ends.settings[-1].machine)}",
        marks, Axes(f"way from the tip, {unit}", "curvature that stays, in steady ones", (0, end), (-0.08 * top, top)),
        alt="Graph of the curvature that stays at the start of a ring")
