"""A blank curling up pass by pass, true to scale, above what each pass asks of the crank."""

from __future__ import annotations

import math

import numpy as np

from rollcalc.rolling import Setting, crank_effort, crank_force_limit
from rollcalc.rolling.effort import Effort, crank_work
from rollcalc.stock import RoundBar, format_length

from ..core.marks import slab
from ..core.picture import Line, Mark, Pair, Picture, Points, Text, pair
from ..metal.bend_view import piece_words

SIZE = (680, 530)
ROWS = 6
"""Most passes that are drawn."""
ROW = 0.27
"""Height of a row of bars, in wanted radii. [-]"""
BARS = (-0.85, 2.5)
"""Where the bars begin and end across the page, in wanted radii. [-]"""


def pass_view(settings: Setting, units: str = "mm") -> Picture:
    """Return the piece after each pass, and the force at the crank as a range, against what one person keeps up.

    The blank is as long as the ring goes round.
    """
    effort = crank_effort(settings)
    radii = np.atleast_1d(settings.released_radius)
    marks = [*_curling(radii, units), *_bars(settings, effort, float(radii[-1]), units)]
    wanted = float(radii[-1])
    frame = (-3.2 * wanted, -(0.72 + ROW * ROWS) * wanted, 3.2 * wanted, 2.15 * wanted)
    return Picture(_sentence(settings, effort, units), tuple(marks), size=SIZE,
                   alt="The blank after each pass, and the crank", frame=frame)


def _curling(radii: Points, units: str) -> list[Mark]:
    """Return the blank flat and after each pass, its middle held, with the number of the pass at its right end."""
    wanted = float(radii[-1])
    size = 2 * math.pi * wanted
    marks: list[Mark] = [
        Line([(-size / 2, 0), (size / 2, 0)], "hidden"),
        Text((size / 2, 0), "flat", "hidden", "end", (0, -18)),
    ]
    for number, radius in enumerate(radii.tolist(), 1):
        last = number == len(radii)
        line = _arc(size, radius)
        marks.append(Line(line, "sheet" if last else "released"))
        if not last:
            marks.append(Text(pair(line[-1]), f"{number}", "released", "middle", _outwards(line)))
    marks.append(Text((0, wanted), f"R {format_length(wanted, units)}", "sheet", "middle", (0, -5)))
    return marks


def _arc(length: float, radius: float) -> Points:
    """Return an arc whose lowest point is its middle, at the origin."""
    along = np.linspace(-length / 2, length / 2, 181)
    chord = along * np.sinc(along / (2 * math.pi * radius))
    return np.column_stack([chord * np.cos(along / 2 / radius), chord * np.sin(along / 2 / radius)])


def _outwards(line: Points) -> Pair:
    """Return where the number of a pass stands, beyond the end of its line. [px]"""
    way = line[-1] - line[-2]
    way = way / math.hypot(*way)
    return float(12 * way[0]), float(12 * way[1] - 5)


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
        Text((left, head + 0.1 * wanted), "metal alone … with bearings", "dimension", "start", (0, 6)),
    ]
    rows = zip(np.atleast_1d(settings.turns).tolist(), np.atleast_1d(settings.released_radius).tolist(),
               least.tolist(), most.tolist(), strict=True)
    for number, (turns, radius, low, high) in enumerate(rows, 1):
        level = head - ROW * (number - 0.5) * wanted
        tall = 0.32 * ROW * wanted
        marks += [
            *slab((left, level - tall), (left + scale * high, level - tall), 2 * tall, "held piece"),
            *slab((left, level - tall), (left + scale * low, level - tall), 2 * tall, "released piece"),
            Text((left, level), f"{number}:  {turns:.2f} turns,  R {format_length(radius, units)}", "outline", "end",
                 (-8, -5)),
            Text((left + scale * high, level), f"{_newtons(low)} … {high:.0f} N", "outline", "start", (6, -5)),
        ]
    return marks


def _newtons(force: float) -> str:
    """Return a small force without its unit."""
    return f"{force:.1f}" if force >= 0.1 else "below 0.1"


def _sentence(settings: Setting, effort: Effort, units: str) -> str:
    """Return what is dialled, what comes out, and what it asks of the crank."""
    turns, radii = np.atleast_1d(settings.turns).tolist(), np.atleast_1d(settings.released_radius).tolist()
    count = len(turns)
    dialled = _listed([f"{one:.2f}" for one in turns])
    out = _listed([format_length(one, units) for one in radii])
    least, most = float(np.max(effort.crank_force_least)), float(np.max(effort.crank_force))
    metal, whole = (work / 1000 for work in crank_work(settings))
    held = np.all(np.asarray(effort.pull) <= np.asarray(effort.grip))
    return (
        f"{piece_words(settings.stock, settings.material, units, yield_too=False)}{_wide(settings, units)}, in {count} "
        f"{'pass' if count == 1 else 'passes'}: {dialled} turns give {out}. The hardest asks {_newtons(least)} N of "
        f"the crank for the metal alone and {most:.0f} N with greased bearings, which is not what you will feel; one "
        f"person keeps up {crank_force_limit(settings.machine):.0f} N. A whole ring takes {metal:.0f} J for the metal, "
        f"and {whole:.0f} J with the bearings.{'' if held else ' The rolls slip: pinch harder.'}"
    )


def _wide(settings: Setting, units: str) -> str:
    """Return the width of sheet or flat bar, which the crank feels."""
    stock = settings.stock
    return "" if isinstance(stock, RoundBar) else f", {format_length(float(stock.width), units)} wide"


def _listed(words: list[str]) -> str:
    """Return words as a list in a sentence."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
