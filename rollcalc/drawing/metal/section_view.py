"""A cut through a bent sheet: what yielded, and beside it strain and stress at the same heights."""

import numpy as np

from rollcalc.bending import elastic_core, loaded_stress, yield_curvature
from rollcalc.stock import Material, Stock, format_length

from ..core.marks import slab
from ..core.picture import Line, Mark, Pair, Picture, Text
from .bend_view import piece_words

HALF = 100.0  # half the thickness on the page, whatever it is in mm [px]
SHEET, STRAIN, STRESS = 20.0, 285.0, 470.0  # left edge of the cut, and the zeros of the two graphs [px]
CUT, REACH = 110.0, 82.0  # how broad the cut is, and how far a graph reaches to each side [px]


def section_view(stock: Stock, material: Material, loaded_radius: float, units: str = "mm") -> Picture:
    """Return the cut, and how strain and stress run through the thickness while the piece is held."""
    depth, first = float(stock.depth), 1 / float(yield_curvature(stock, material))
    core = float(elastic_core(stock, material, 1 / loaded_radius))
    edge = HALF * core / depth
    strain, at_yield = 50 * depth / loaded_radius, 50 * depth / first  # in per cent from here on
    height = np.array([-1, -core / depth, core / depth, 1]) * depth / 2
    stress = np.asarray(loaded_stress(stock, material, 1 / loaded_radius, height))
    spring = stress[2] * depth / core  # what a spring would carry at the surface
    most, widest = 1.25 * max(stress[-1], spring * at_yield / strain), max(strain, at_yield)
    shown, x = min(1.0, most / spring), REACH * at_yield / widest
    marks: list[Mark] = [
        *(layer for low, high in ((edge, HALF), (-HALF, -edge)) if high - low > 0.5
          for layer in slab((SHEET, low), (SHEET + CUT, low), high - low, "section")),
        *slab((SHEET, -HALF), (SHEET + CUT, -HALF), 2 * HALF, "outline"),
        Line([(SHEET - 12, 0), (STRESS + REACH, 0)], "centre"),
        *(Line([(SHEET, y), (STRESS + REACH, y)], "hidden") for y in (edge, -edge) if HALF - edge > 0.5),
        *(Line([(zero, -HALF - 8), (zero, HALF + 8)], "guide") for zero in (STRAIN, STRESS)),
        *(Line([(STRAIN + side * x, -HALF), (STRAIN + side * x, HALF)], "hidden") for side in (-1, 1)),
        Line(np.array([(-1, -1), (1, 1)]) * (REACH * strain / widest, HALF) + (STRAIN, 0), "loaded"),
        Line(np.array([(-1, -1), (1, 1)]) * shown * (REACH * spring / most, HALF) + (STRESS, 0), "guide"),
        Line(np.column_stack([STRESS + REACH * stress / most, 2 * HALF * height / depth]), "sheet"),
        *_words((SHEET + CUT / 2, HALF), "cut", "outside: stretched"),
        *_words((STRAIN, HALF), "strain", f"{strain:.2f} %"),
        *_words((STRESS, HALF), "stress", f"{stress[-1]:.0f} MPa"),
        Text((SHEET + CUT, 0), "spring", "outline", "start", (10, -5)),
        Text((SHEET + CUT / 2, -HALF), "inside: squeezed", "outline", "middle", (0, -24)),
        Text((STRAIN, -HALF), f"yields at {at_yield:.2f} %", "dimension", "middle", (0, -24)),
        Text((STRESS, -HALF), "thin line: if all spring", "guide", "middle", (0, -24))]
    return Picture(_sentence(stock, material, loaded_radius, units, core, first), marks, size=(640, 340),
                   alt="Cut through the bent sheet, with strain and stress", frame=(0, -130, 560, 130))


def _words(at: Pair, title: str, below: str) -> tuple[Mark, ...]:
    """Return a title above a column, and what is said below it."""
    return (Text(at, title, "outline", "middle", (0, 38)), Text(at, below, "outline", "middle", (0, 16)))


def _sentence(stock: Stock, material: Material, radius: float, units: str, core: float, first: float) -> str:
    """Return what the cut shows, with its numbers."""
    depth = float(stock.depth)
    start = (f"{piece_words(stock, material, units)}, held at a radius of {format_length(radius, units)}: "
             f"the surfaces are stretched and squeezed by {50 * depth / radius:.2f} %")
    if radius >= first:
        return (f"{start}, and yield only at {50 * depth / first:.2f} %. All of it is spring; it begins to stay bent "
                f"at a radius of {format_length(first, units)}.")
    return (f"{start}, {first / radius:.1f} times the strain at which they yield. Only the middle "
            f"{format_length(core, units, 2 if units == 'mm' else 3)}, {100 * core / depth:.0f} % of the thickness, is "
            "still spring; the hatched rest has yielded.")
