"""Every number that lesson 04 says in words is worked out again here."""

import re
from pathlib import Path

import nbformat
import pytest

import rollcalc as rc
from rollcalc.lessons.engine.published import PUBLISHED
from rollcalc.lessons.lesson04 import panels

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "04_see_springback.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "".join(output.get("text", "") or output.data.get("text/plain", "")
                  for cell in BOOK.cells for output in cell.get("outputs", []))
STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
BODY = rc.Sheet(thickness=0.76, width=240)
BAND = rc.springback_band(BODY, STEEL, 60)


def opened(metal: str, thickness: float = 0.76, place: float = 50) -> float:
    """Return the radius the panel's sheet opens to from 60 mm. [mm]"""
    return rc.released_radius(rc.Sheet(thickness=thickness, width=300), panels.metal_with_yield_at(metal, place), 60)


def kept(radius: float) -> float:
    """Return the curvature that stays of a loaded radius. [1/mm]"""
    return rc.released_curvature(BODY, STEEL, 1 / radius)


STRENGTHS = rc.MATERIALS["aluminium 6061-T6"].first_yield, rc.MATERIALS["aluminium 1100-O"].first_yield

SAID = [
    (f"the {180 / 2 + 0.76 / 2:.1f} mm that the lantern needs", "radius of the body"),
    (f"it opens to {opened('low-carbon steel, cold rolled', 1.52):.1f} mm instead of", "double thickness"),
    (f"instead of {BAND.nominal:.1f} mm", "start of the panel"),
    (f"opens to {opened('aluminium 1100-O'):.1f} mm. 6061-T6", "1100-O"),
    (f"opens to {opened('aluminium 6061-T6'):.1f} mm", "6061-T6"),
    ({8: "about eight times the yield"}[round(STRENGTHS[0] / STRENGTHS[1])], "yield ratio"),
    (f"From {BAND.low:.1f} mm to {BAND.high:.1f} mm: over {int(BAND.high - BAND.low)} mm", "yield slider end to end"),
    (f"gives {BAND.low:.1f} mm at the weak end and {BAND.high:.1f} mm at the strong end", "solution 04.3"),
    (f"from 60 mm to about {BAND.nominal:.0f} mm", "back to the guess"),
    (f"can mean {BAND.high - BAND.low:.0f} mm of difference", "last bullet"),
    (f"anywhere between {STEEL.yield_range[0]:.0f} and {STEEL.yield_range[1]:.0f} MPa", "yield range"),
    (f"a sheet of 0.76 mm may be {rc.stock.thickness_tolerance(0.76):.2f} mm thicker or thinner", "EN 10131"),
    (f"1/45 = {1 / 45:.4f} 1/mm", "solution 04.1, held"),
    (f"60 mm is {1000 / 60:.1f} 1/m", "the graph's unit"),
    (f"takes away {1 / 45 - kept(45):.4f} 1/mm", "solution 04.1, springs back"),
    (f"leaves {kept(45):.4f} 1/mm", "solution 04.1, stays"),
    (f"hold it {90.38 - rc.loaded_radius(BODY, STEEL, 90.38):.0f} mm tighter", "solution 04.2"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_the_textbook_sheet_springs_back_as_said():
    book = PUBLISHED["S1"]
    share = 1 - book.given("loaded_radius") / book.answers["released_radius_unrounded"].house
    assert f"only {100 * share:.0f} % springs back" in PROSE
    assert f"{book.inputs['thickness'].value} in thick" in PROSE
    assert "yield 40 000 psi, E 29 million psi, held at 0.5 in" in PROSE


def test_by_hand_is_the_library_and_stands_beside_the_book():
    book = PUBLISHED["S1"]
    given = {name: book.given(name) for name in ("loaded_radius", "thickness", "yield_strength", "elastic_modulus")}
    x = given["loaded_radius"] * given["yield_strength"] / (given["elastic_modulus"] * given["thickness"])
    by_hand = given["loaded_radius"] / (4 * x**3 - 3 * x + 1)
    metal = rc.Material("the book's steel", given["elastic_modulus"], 0.3, yield_strength=given["yield_strength"])
    ours = rc.released_radius(rc.FlatBar(given["thickness"], width=25), metal, given["loaded_radius"])
    assert ours == pytest.approx(by_hand, abs=1e-9)
    said = (round(x, 4), round(by_hand, 3), round(ours, 3), book.answers["released_radius"].beside(ours))
    assert repr(said) in PRINTED


def test_the_heavy_bar_is_as_published_and_mostly_springs_back():
    for answer in (*PUBLISHED["B1"].answers.values(), PUBLISHED["B2"].answers["released_radius"]):
        if answer.unit in ("mm", "m"):
            assert answer.beside(answer.house) in PRINTED
    held, opened = PUBLISHED["B1"].answers["loaded_radius"].house, PUBLISHED["B2"].answers["released_radius"].house
    assert f"'springs back': '{1 - held / opened:.0%}'" in PRINTED


def test_the_last_formula_is_the_derived_one():
    assert r"\frac{R}{R_r} = 4x^3 - 3x + 1" in PROSE
    assert re.search(r"At \$x = 0.5\$ nothing stays", PROSE)


def test_the_plane_strain_factors_are_the_library_s():
    assert r"E' = E/(1-\nu^2)" in PROSE
    assert r"\sigma' = 2\sigma_y/\sqrt3" in PROSE
    bar = rc.FlatBar(0.76, 240)
    wide, narrow = (rc.bending.bending_stiffness(stock, STEEL) for stock in (BODY, bar))
    assert wide == pytest.approx(narrow / (1 - 0.3**2))
    assert rc.plastic_moment(BODY, STEEL) == pytest.approx(rc.plastic_moment(bar, STEEL) * 2 / 3**0.5)


def test_beyond_a_metre_no_tenths_are_promised():
    said = panels.springback_picture("low-carbon steel, cold rolled", 0.76, 50, 300, "mm").sentence
    high = rc.released_radius(rc.Sheet(thickness=0.76, width=300), STEEL, 300)
    assert high > 1000
    assert f"opens to {high:.0f} mm when" in said
    assert said.endswith("mm to flat.")


def test_the_moment_is_said_with_its_width():
    said = panels.release_picture("low-carbon steel, cold rolled", 0.76, 50, 60, "mm").sentence
    moment = rc.bending_moment(rc.Sheet(thickness=0.76, width=300), STEEL, 1 / 60) / 1000
    assert f", 300.0 mm wide, takes {moment:.1f} N m" in said
