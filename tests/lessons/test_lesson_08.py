"""Every number that lesson 08 says in words is worked out again here."""

import math
from pathlib import Path

import nbformat
import pytest

import rollcalc as rc
from rollcalc.lessons.derivations_layout import frustum_radii, large, slant, small

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "08_lay_out_a_cone.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
ROOF = rc.frustum_pattern(220, 60, 80)
SKIRT = rc.frustum_pattern(220, 160, 100)
STEEP = rc.frustum_pattern(220, 60, 120)
CHORDS = 12 * 2 * 300 * math.sin(math.radians(5))

SAID = [
    (f"The roof's pattern is {math.degrees(ROOF.sector_angle):.1f}° wide", "roof"),
    (f"The skirt's outer radius is {SKIRT.outer_radius:.0f} mm", "skirt"),
    (f"the roof leans {math.degrees(ROOF.half_angle):.0f}°", "roof's lean"),
    (f"the skirt leans {math.degrees(SKIRT.half_angle):.0f}°", "skirt's lean"),
    (f"√(120² + 80²) = {STEEP.slant:.1f} mm", "solution 08.1"),
    (f"√(100² + 30²) = {SKIRT.slant:.1f} mm", "solution 08.2"),
    (f"= {CHORDS:.1f} mm; the arc is {math.pi * 200:.1f} mm", "solution 08.3"),
    (f"would come out {math.pi * 200 - 12 * 200 * math.sin(math.radians(15)):.1f} mm short", "dividers on the end"),
    (f"A rectangle, {math.pi * 160:.1f} mm long", "cylinder"),
    ("legs of 1 1/2 and 3 inches", "book"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_the_radii_are_the_derived_ones():
    sizes = {large: 220, small: 60, slant: ROOF.slant}
    outer, inner = (step.equation.rhs for step in frustum_radii().steps[-2:])
    assert ROOF.outer_radius == pytest.approx(float(outer.subs(sizes)))
    assert ROOF.inner_radius == pytest.approx(float(inner.subs(sizes)))
    angle = frustum_radii().steps[-3].equation.rhs
    assert ROOF.sector_angle == pytest.approx(float(angle.subs(sizes)))
