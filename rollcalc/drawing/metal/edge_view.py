"""A flat bar lying flat and standing on edge, to one scale, and the moment each way asks of the machine."""

import math

from rollcalc.bending import bending_stiffness, plastic_moment
from rollcalc.rolling import Machine
from rollcalc.rolling.limits.rated_load import RatedLoad
from rollcalc.stock import FlatBar, Material, format_length

from ..core.marks import slab
from ..core.picture import Line, Mark, Picture, Text

SIZE = (660, 470)
FRAME = (0.0, -33.0, 110.0, 41.0)  # left, bottom, right, top; a section up to 40 mm high stands on the line at 0 [mm]
LONGEST, BAR_START, ROW = 54.0, 27.0, 9.0  # the longest bar of the chart, where bars begin, and from row to row [mm]


def edge_view(bar: FlatBar, material: Material, machine: Machine, units: str = "mm") -> Picture:
    """Return the section of a flat bar, the easy and the hard way, and the moments that bend it right through."""
    edge = FlatBar(thickness=bar.width, width=bar.thickness)
    flat_moment, edge_moment = (float(plastic_moment(piece, material)) / 1000 for piece in (bar, edge))
    rows = [("lying flat", flat_moment, "released piece"), ("on edge", edge_moment, "released piece")]
    rated, plate = RatedLoad.of(machine, math.inf), ""
    if rated is not None:
        allowed = rated.moment / 1000
        rows.insert(1, ("the plate", allowed, "roll"))
        flat, upright = (100 * moment / allowed for moment in (flat_moment, edge_moment))
        plate = f" The plate allows {allowed:.3g} N m: {flat:.0f} % of it flat, {upright:.0f} % of it on edge."
    marks = [*_section(bar, 26.0, "the easy way: lying flat", units),
             *_section(edge, 82.0, "the hard way: on edge", units)]
    most = max(moment for _, moment, _ in rows)
    for number, (name, moment, role) in enumerate(rows):
        level, end = -11.0 - ROW * number, BAR_START + LONGEST * moment / most
        marks += [*slab((BAR_START, level - 2), (end, level - 2), 4, role),
                  Text((BAR_START, level), name, "outline", "end", (-10, -5)),
                  Text((end, level), f"{moment:.3g} N m", "outline", "start", (10, -5))]
    stiffer = float(bending_stiffness(edge, material)) / float(bending_stiffness(bar, material))
    return Picture(
        f"A bar {format_length(float(bar.width), units)} by {format_length(float(bar.thickness), units)}, "
        f"{material.name}: its full plastic moment is {flat_moment:.3g} N m lying flat and {edge_moment:.3g} N m "
        f"on edge, {edge_moment / flat_moment:.3g} times as much; on edge it is {stiffer:.3g} times as stiff."
        f"{plate}",
        marks, size=SIZE, alt="A flat bar lying flat and on edge", frame=FRAME)


def _section(bar: FlatBar, middle: float, way: str, units: str) -> list[Mark]:
    """Return a section on the roll's face, the line that keeps its length, and the name of the way."""
    half, high = float(bar.width) / 2, float(bar.depth)
    return [
        *slab((middle - 25, -3), (middle + 25, -3), 3, "roll"),
        *slab((middle - half, 0), (middle + half, 0), high, "section"),
        Line([(middle - half, high / 2), (middle + half, high / 2)], "centre", offset=[(-12, 0), (12, 0)]),
        Text((middle + half, high / 2), f"{format_length(high, units)} deep", "dimension", "start",
             (18, -5 if high > 3 else 3)),
        Text((middle, FRAME[3]), way, "outline", "middle", (0, 14))]
