"""A blank curling up pass by pass, true to scale, above what each pass asks of the crank."""

import math

import numpy as np

from rollcalc.rolling import Setting, crank_effort, crank_force_limit
from rollcalc.rolling.effort import Effort, crank_work
from rollcalc.stock import format_length

from ..core.marks import bent_line, slab
from ..core.picture import Line, Mark, Picture, Points, Text, pair
from ..metal.bend_view import piece_words

SIZE = (680, 530)
ROWS, ROW = 6, 0.27  # most passes that are drawn, and height of a row of bars in wanted radii [-]
BARS = (-0.85, 2.5)  # where the bars begin and end across the page, in wanted radii [-]


def pass_view(settings: Setting, units: str = "mm") -> Picture:
    """Return the piece after each pass, and the force at the crank as a range, against what one person keeps up."""
    turns, radii = np.atleast_1d(settings.turns), np.atleast_1d(settings.released_radius)
    effort, wanted, count = crank_effort(settings), float(radii[-1]), len(turns)
    marks = [*_curling(radii, units), *_bars(settings, effort, wanted, units)]
    frame = (-3.2 * wanted, -(0.72 + ROW * ROWS) * wanted, 3.2 * wanted, 2.15 * wanted)
    dialled = _listed([f"{one:.2f}" for one in turns.tolist()])
    out = _listed([format_length(one, units) for one in radii.tolist()])
    least, most = float(np.max(effort.crank_force_least)), float(np.max(effort.crank_force))
    metal, whole = (work / 1000 for work in crank_work(settings))
    held = np.all(np.asarray(effort.pull) <= np.asarray(effort.grip))
    return Picture(
        f"{piece_words(settings.stock, settings.material, units, yield_too=False, width_too=True)}, in {count} "
        f"{'pass' if count == 1 else 'passes'}: {dialled} turns give {out}. The hardest asks {_newtons(least)} N of "
        f"the crank for the metal alone and {most:.0f} N with greased bearings, which is not what you will feel; one "
        f"person keeps up {crank_force_limit(settings.machine):.0f} N. A whole ring takes {metal:.0f} J for the metal, "
        f"and {whole:.0f} J with the bearings.{'' if held else ' The rolls slip: pinch harder.'}",
        marks, size=SIZE, alt="The blank after each pass, and the crank", frame=frame)


def _curling(radii: Points, units: str) -> list[Mark]:
    """Return the blank flat and after each pass, its middle held, with the number of the pass at its right end."""
    *before, wanted = radii.tolist()
    size = 2 * math.pi * wanted  # the blank is as long as the ring goes round
    marks: list[Mark] = [
        Line([(-size / 2, 0), (size / 2, 0)], "hidden"), Text((size / 2, 0), "flat", "hidden", "end", (0, -18))]
    along = np.linspace(-size / 2, size / 2, 181)
    for number, radius in enumerate(before, 1):
        line = bent_line(along, radius)
        x, y = (line[-1] - line[-2]) / math.hypot(*(line[-1] - line[-2]))  # where its number stands
        marks += [Line(line, "released"), Text(pair(line[-1]), f"{number}", "released", "middle", (12 * x, 12 * y - 5))]
    return [*marks, Line(bent_line(along, wanted), "sheet"),
            Text((0, wanted), f"R {format_length(wanted, units)}", "sheet", "middle", (0, -5))]


def _bars(settings: Setting, effort: Effort, wanted: float, units: str) -> list[Mark]:
    """Return a row for each pass: what is dialled, what comes out, and the force at the crank."""
    limit = crank_force_limit(settings.machine)
    least, most = np.atleast_1d(effort.crank_force_least), np.atleast_1d(effort.crank_force)
    scale = (BARS[1] - BARS[0]) * wanted / max(1.3 * limit, 1.05 * float(most.max()))
    left, head = BARS[0] * wanted, -0.55 * wanted
    at = left + scale * limit
    bottom = head - ROW * len(most) * wanted
    marks: list[Mark] = [
        Line([(at, head), (at, bottom)], "outline"),
        Text((at, bottom), f"one person: {limit:.0f} N", "outline", "middle", (0, -18)),
        Text((left, head + 0.1 * wanted), "metal alone … with bearings", "dimension", "start", (0, 6))]
    rows = zip(np.atleast_1d(settings.turns).tolist(), np.atleast_1d(settings.released_radius).tolist(),
               least.tolist(), most.tolist(), strict=True)
    for number, (turns, radius, low, high) in enumerate(rows, 1):
        level, tall = head - ROW * (number - 0.5) * wanted, 0.32 * ROW * wanted
        for force, role in ((high, "held piece"), (low, "released piece")):
            marks += slab((left, level - tall), (left + scale * force, level - tall), 2 * tall, role)
        marks += [
            Text((left, level), f"{number}:  {turns:.2f} turns,  R {format_length(radius, units)}", "outline", "end",
                 (-8, -5)),
            Text((left + scale * high, level), f"{_newtons(low)} … {high:.0f} N", "outline", "start", (6, -5))]
    return marks


def _newtons(force: float) -> str:
    """Return a small force without its unit."""
    return f"{force:.1f}" if force >= 0.1 else "below 0.1"


def _listed(words: list[str]) -> str:
    """Return words as a list in a sentence."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
