"""A round bar inside a square one: how much metal, moment and stiffness the corners hold."""

import math

from rollcalc.bending import bending_stiffness, plastic_moment
from rollcalc.stock import MATERIALS, FlatBar, RoundBar, format_length

from ..core.marks import circle, slab
from ..core.picture import Line, Mark, Picture, Text

SIZE = (660, 280)
FRAME = (0.0, 0.0, 110.0, 38.0)  # left, bottom, right and top; the square is drawn 36 wide whatever its size [-]
SIDE, BAR_START, FULL, ROW = 36.0, 66.0, 30.0, 12.0  # the square, where bars begin, a whole one, and row to row [-]


def corner_view(depth: float, units: str = "mm") -> Picture:
    """Return a square bar with its corners filed off, and what is left of it; the moment bends a bar right through."""
    around, square, metal = RoundBar(depth), FlatBar(depth, depth), MATERIALS["mild steel bar, hot rolled"]
    moment = float(plastic_moment(around, metal)) / float(plastic_moment(square, metal))
    stiffness = float(bending_stiffness(around, metal)) / float(bending_stiffness(square, metal))
    rows = (("metal", math.pi / 4), ("moment", moment), ("stiffness", stiffness))
    middle = SIDE / 2 + 4
    marks: list[Mark] = [
        *slab((middle - SIDE / 2, 19 - SIDE / 2), (middle + SIDE / 2, 19 - SIDE / 2), SIDE, "hidden"),
        *circle((middle, 19), SIDE / 2, "section"),
        Line([(middle - SIDE / 2, 19), (middle + SIDE / 2, 19)], "centre", offset=[(-14, 0), (14, 0)])]
    for number, (name, share) in enumerate(rows):
        level = 19 + ROW * (1 - number)
        for length, role in ((FULL, "hidden"), (FULL * share, "released piece")):
            marks += slab((BAR_START, level - 3), (BAR_START + length, level - 3), 6, role)
        marks += [Text((BAR_START, level), name, "outline", "end", (-10, -5)),
                  Text((BAR_START + FULL, level), f"{100 * share:.0f} %", "outline", "start", (10, -5))]
    return Picture(
        f"File the corners off a {format_length(float(square.depth), units)} square bar (dashed), and "
        f"{100 * math.pi / 4:.0f} % of its metal is left, but only {100 * moment:.0f} % of its moment and "
        f"{100 * stiffness:.0f} % of its stiffness. Moment over stiffness is what springs back: "
        f"{100 * (moment / stiffness - 1):.0f} % more.",
        marks, size=SIZE, alt="A round bar inside a square one", frame=FRAME)
