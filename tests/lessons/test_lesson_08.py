"""Every number that lesson 08 says in words is worked out again here."""

import ast
import math
from pathlib import Path

import nbformat
import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.patterns.cone_view import cone_view
from rollcalc.layout.bench import stepped_arc_error
from rollcalc.layout.rolling_up import partly_rolled
from rollcalc.lessons.lesson08.derivations import frustum_radii, large, slant, small
from rollcalc.stock import format_length

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "08_lay_out_a_cone.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "\n".join(output.get("text") or output["data"]["text/plain"]
                    for cell in BOOK.cells for output in cell.get("outputs", []))
ROOF = rc.frustum_pattern(220, 60, 80)
SKIRT = rc.frustum_pattern(220, 160, 100)
STEEP = rc.frustum_pattern(220, 60, 120)
CHORDS = 12 * 2 * 300 * math.sin(math.radians(5))
END_CHORD = 200 * math.sin(math.radians(15))
WALKED = 12 * 2 * 300 * math.asin(END_CHORD / (2 * 300))

SAID = [
    (f"The roof's pattern is {math.degrees(ROOF.sector_angle):.1f}° wide", "roof"),
    (f"The skirt's outer radius is {SKIRT.outer_radius:.0f} mm", "skirt"),
    (f"the roof leans {math.degrees(ROOF.half_angle):.0f}°", "roof's lean"),
    (f"the skirt leans {math.degrees(SKIRT.half_angle):.0f}°", "skirt's lean"),
    (f"√(120² + 80²) = {STEEP.slant:.1f} mm", "solution 08.1"),
    (f"√(100² + 30²) = {SKIRT.slant:.1f} mm", "solution 08.2"),
    (f"= {CHORDS:.1f} mm; the arc is {math.pi * 200:.1f} mm", "solution 08.3"),
    (f"200 × sin 15° = {END_CHORD:.1f} mm; twelve of them along this flatter arc reach {WALKED:.1f} mm", "dividers"),
    (f"would come out {math.pi * 200 - WALKED:.1f} mm short", "dividers on the end"),
    (f"A rectangle, {math.pi * 160:.1f} mm long", "cylinder"),
    ("legs of 1 1/2 and 3 inches", "book"),
]


def test_dividers_set_on_the_end_are_short_by_what_the_library_says():
    error = stepped_arc_error(rc.frustum_pattern(200, 0, slant=300), 12)
    assert WALKED / (math.pi * 200) - 1 == pytest.approx(error, rel=1e-12)


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_the_roof_is_shown_and_the_skirt_s_chord_and_ordinates():
    assert repr(ROOF) in PRINTED
    (place,) = (cell for cell in BOOK.cells if "arc_ordinates" in cell.source)
    shown = np.array(ast.literal_eval(place.outputs[0]["data"]["text/plain"].removeprefix("array(").removesuffix(")")))
    chord = 2 * SKIRT.outer_radius * math.sin(SKIRT.sector_angle / 8)
    assert np.ptp(shown[:, 0]) == pytest.approx(chord, abs=0.1)
    assert shown[:, 1].max() == pytest.approx(SKIRT.outer_radius * (1 - math.cos(SKIRT.sector_angle / 8)), abs=0.05)


def test_the_radii_are_the_derived_ones():
    sizes = {large: 220, small: 60, slant: ROOF.slant}
    outer, inner = (step.equation.rhs for step in frustum_radii().steps[-2:])
    assert ROOF.outer_radius == pytest.approx(float(outer.subs(sizes)))
    assert ROOF.inner_radius == pytest.approx(float(inner.subs(sizes)))
    angle = frustum_radii().steps[-3].equation.rhs
    assert ROOF.sector_angle == pytest.approx(float(angle.subs(sizes)))


def test_the_skirt_is_a_gentle_cone_and_the_roof_is_none():
    aluminium, steel = rc.MATERIALS["aluminium 3003-H14"], rc.MATERIALS["low-carbon steel, cold rolled"]
    skirt = rc.cone_setting(rc.DEMO_MACHINE, rc.Sheet(thickness=0.8, width=SKIRT.slant), aluminium, 220, 160)
    roof = rc.cone_setting(rc.DEMO_MACHINE, rc.Sheet(thickness=0.76, width=ROOF.slant), steel, 220, 60)
    assert skirt.verdict.startswith("a gentle cone, as far as checked")
    assert roof.verdict.startswith("not a gentle cone")


@pytest.mark.parametrize(("pattern", "arcs"), [(ROOF, 2), (SKIRT, 2), (rc.frustum_pattern(220, 0, 80), 1),
                                               (rc.frustum_pattern(160, 160, 80), 0)])
def test_the_picture_writes_each_radius_at_its_own_arc(pattern, arcs):
    picture = cone_view(pattern)
    labels = {
        mark.words: mark.at for mark in picture.marks if isinstance(mark, Text) and mark.words[:2] in ("R ", "r ")
    }
    assert len(labels) == arcs
    outline = [mark for mark in picture.marks if isinstance(mark, Line) and mark.closed][1].points
    for words, at in labels.items():
        radius = pattern.outer_radius if words.startswith("R") else pattern.inner_radius
        assert words == f"{words[0]} {format_length(radius)}"
        assert format_length(radius) in picture.sentence
        assert np.min(np.hypot(*(outline - at).T)) < 4  # it stands on the arc it measures, between two corners
    assert any(
        isinstance(mark, Text) and mark.words == f"slant {format_length(pattern.slant)}" for mark in picture.marks
    )


def test_half_rolled_the_lines_still_run_to_one_point():
    ends = partly_rolled(ROOF, np.concatenate([ROOF.at([x] * 2, [0.0, ROOF.slant]) for x in (-200.0, 0.0, 150.0)]), 0.5)
    points = [top + (top - foot) * ROOF.inner_radius / ROOF.slant for foot, top in ends.reshape(3, 2, 3)]
    assert np.ptp(points, axis=0).max() < 1e-9
    assert "1. To one point, as before." in PROSE
