"""How two rolls are made parallel, as a strip of small front views with what to do beside each."""

import textwrap
from collections.abc import Sequence
from fractions import Fraction

from rollcalc.rolling import ZeroingStep

from ..core.marks import slab
from ..core.picture import Line, Mark, Picture, Text

SIZE = (680, 495)
ROW = 83.0  # height of a row; the frame is drawn at 1 px to the unit [px]
TURN = 26.0  # how wide a gap of one turn is drawn [px]
ROLLS = (34.0, 214.0)  # where the rolls begin and end across the page [px]
ROLL, STRIP = 15.0, 4.0  # diameter of a roll, and thickness of a strip [px]
LETTERS = 48  # letters in a line of words


def zeroing_view(steps: Sequence[ZeroingStep]) -> Picture:
    """Return the steps that make two rolls parallel, one below the other."""
    marks: list[Mark] = []
    for row, step in enumerate(steps):
        before = steps[row - 1] if row else step
        marks += _rolls(step, -ROW * row, (before.gap_left, before.gap_right))
        marks.append(Text((8, -ROW * row), f"{row + 1}", "outline", "middle", (0, -18)))
        for line, words in enumerate(textwrap.wrap(step.words, LETTERS)):
            marks.append(Text((246, -ROW * row), words, "outline", "start", (0, -12 - 18 * line)))
    first, count = steps[0], {4: "Four", 5: "Five", 6: "Six"}.get(len(steps), str(len(steps)))
    told = " ".join(f"{number}: {step.words}" for number, step in enumerate(steps, 1))
    return Picture(
        f"Two rolls made parallel, from {_open(first.gap_left)} open at the left and {_open(first.gap_right)} at the "
        f"right; the gaps are drawn large. {told}",
        marks, size=SIZE, alt=f"{count} steps that make two rolls parallel",
        frame=(0, -ROW * len(steps) + 5, 600, 5))


def _rolls(step: ZeroingStep, top: float, before: tuple[float, float]) -> list[Mark]:
    """Return the two rolls at a step, the strips between them, and which way each screw has been turned."""
    left, right = ROLLS
    under = top - ROLL - STRIP
    low = [under - TURN * step.gap_left, under - TURN * step.gap_right]
    marks: list[Mark] = [
        *slab((left, top - ROLL), (right, top - ROLL), ROLL, "roll"),
        *slab((left, low[0] - ROLL), (right, low[1] - ROLL), ROLL, "roll")]
    ends = ((left, low[0], step.gap_left, before[0], 1), (right, low[1], step.gap_right, before[1], -1))
    for edge, level, gap, earlier, way in ends:
        rest = level + (low[1] - low[0]) * 22 / (right - left) * way + STRIP  # where the strip lies on the lower roll
        side = "start" if way > 0 else "end"
        marks += [Line([(edge + 12 * way, rest - STRIP / 2), (edge + 32 * way, rest - STRIP / 2)], "sheet"),
                  Text((edge + 16 * way, level - ROLL), _open(gap), "dimension", side, (0, -17))]
        if gap != earlier:
            tail, tip = (-24, -4) if gap < earlier else (-4, -24)
            marks.append(Line([(edge + 4 * way, level - ROLL)] * 2, "released", arrows="end",
                              offset=[(0, tail), (0, tip)]))
    return marks


def _open(gap: float) -> str:
    """Return how far an end stands open."""
    if gap == 0:
        return "snug"
    known = {Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾"}
    return f"{known.get(Fraction(gap), f'{gap:g}')} turn"
