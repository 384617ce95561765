"""Every number that lesson 07 says in words is worked out again here."""

import math
import re
from pathlib import Path

import nbformat
import pytest

import rollcalc as rc
from rollcalc.layout.seams import FINISHED_SHARE, GROOVER_ROOM
from rollcalc.lessons.engine.published import PUBLISHED
from rollcalc.lessons.lesson07.derivations import ALL
from rollcalc.lessons.lesson07.panels import blank_picture

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "07_cut_the_blank.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "\n".join(output.get("text") or output["data"]["text/plain"]
                    for cell in BOOK.cells for output in cell.get("outputs", []))
BODY = rc.cylinder_blank(rc.Sheet(thickness=0.76, width=240), inside_diameter=180, seam=rc.GroovedSeam(6))
THICK = rc.cylinder_blank(rc.Sheet(thickness=4, width=240), inside_diameter=180)
DOUBLE = rc.cylinder_blank(rc.Sheet(thickness=0.76, width=240), inside_diameter=180, seam=rc.GroovedSeam(12))
FLAT = rc.flat_ends(
    rc.DEMO_MACHINE, rc.Sheet(thickness=0.76, width=240), rc.MATERIALS["low-carbon steel, cold rolled"],
    BODY.mean_radius
)
COLLAR = rc.cylinder_blank(rc.Sheet(thickness=0.6, width=40), inside_diameter=75, seam=rc.LapSeam(8))
COLLAR_FLAT = rc.flat_ends(rc.DEMO_MACHINE, rc.Sheet(thickness=0.6, width=40), rc.MATERIALS["stainless 304, annealed"],
                           COLLAR.mean_radius)
(COLLAR_TURNED,) = (way for way in COLLAR_FLAT.remedies if way.name == "turn end for end")
TRIMMED = rc.cylinder_blank(rc.Sheet(thickness=0.6, width=40), inside_diameter=75, seam=rc.LapSeam(8),
                            trim=math.ceil(COLLAR_FLAT.trim + COLLAR_FLAT.trailing_trim))
PINCH = f"{rc.DEMO_MACHINE.pinch_force:.0f} N"
INCH = 25.4
HOOP, TABLE = (rc.cylinder_blank(rc.Sheet(thickness=0.875 * INCH, width=50), outside_diameter=16.5 * INCH, rule=rule)
               for rule in ("middle", "table"))
PLATE = rc.cylinder_blank(rc.Sheet(thickness=10, width=2000), outside_diameter=650)
BOOK_SAYS = PUBLISHED["N2"].answers["length"].value
SEAMS = {"butt": rc.ButtSeam(), "lap": rc.LapSeam(8), "grooved": rc.GroovedSeam(6)}

SAID = [
    (f"The body's blank is {BODY.length:.1f} mm long", "body"),
    (f"pinched with {PINCH}, in one pass, the first {FLAT.leading:.0f} mm of the body stay flatter, with a kink behind "
     f"them, and it is round within {100 * FLAT.tolerance:.0f} % from {FLAT.trim:.0f} mm on", "flat end"),
    (f"On the bench roll, pinched with {PINCH}, in one pass and laid over the bending roll before that rises, its "
     f"first {COLLAR_FLAT.leading:.0f} mm stay flat, and it is round within {100 * COLLAR_FLAT.tolerance:.0f} % only "
     f"from {COLLAR_FLAT.trim:.0f} mm", "flat end of the collar"),
    (f"a kink {COLLAR_TURNED.kink_ratio:.1f} times too tight stays", "collar turned"),
    (f"with `trim={TRIMMED.trim:.0f}`. The pattern marks half of it at each end: cut {COLLAR_FLAT.trim:.0f} mm off the "
     f"lead end instead, and {COLLAR_FLAT.trailing_trim:.0f} mm off the other", "trim of the collar"),
    ("They differ by nearly five millimetres", "inside against outside"),
    (f"From {BODY.developed_length:.1f} mm to {THICK.developed_length:.1f} mm", "thick ring"),
    (f"{DOUBLE.length - BODY.length:.0f} mm more, three times the 6 mm", "double seam"),
    (f"which for the body is {math.pi * BODY.mean_diameter * math.tan(math.radians(0.5)):.0f} mm", "out of square"),
    (f"Mean diameter 75 + 0.6 = {75 + 0.6} mm, times π is {math.pi * 75.6:.1f} mm", "solution 07.1"),
    (f"the {4 - 0.76:.2f} mm that the thickness grew", "growth"),
    (f"the hoop above would come out {HOOP.length - TABLE.length:.0f} mm short", "table for dies"),
    (f"some {GROOVER_ROOM} mm (common practice", "groover"),
    ({1.5: "about one and a half thicknesses"}[FINISHED_SHARE], "finished seam"),
    (f"thicknesses, {BODY.seam.finished_width(0.76):.1f} mm instead of 6", "finished width"),
    (f"π times that is {math.pi * 640:.1f} mm; the page cuts 2011 mm", "plate"),
    (f"The book cuts whole inches, {BOOK_SAYS:.0f} of them, which is {BOOK_SAYS * INCH:.0f} mm", "hoop"),
    (f"190 − 3 = 187 mm, times π is **{math.pi * 187:.1f} mm** (plus what you trim)", "solution 07.2"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_blanks_are_shown_as_the_library_has_them():
    for blank in (BODY, PLATE, HOOP):
        assert repr(blank) in PRINTED
    assert abs(PLATE.length - 2011) < 1
    assert (HOOP.outside_diameter, HOOP.thickness) == (16.5 * INCH, 7 / 8 * INCH)


def test_the_two_people_differ_as_said():
    assert 4.5 < 2 * math.pi * 0.76 < 5


@pytest.mark.parametrize("name", SEAMS)
def test_the_table_of_remedies_is_the_library_s(name):
    row = re.search(rf"\| {name} \| ([^|]*) \| ([^|]*) \| ([^|]*) \|", PROSE)
    trim, first, turned = (cell.startswith("yes") for cell in row.groups())
    words = SEAMS[name].flat_end_remedy
    assert trim == SEAMS[name].can_be_trimmed == ("can be trimmed" in words)
    assert (first, turned) == ("pre-bend the ends" in words, "turn the blank end for end" in words) == (True, True)
    assert ("behind the folds" in row[2]) == ("behind the folds" in words)


def test_the_collar_is_laid_over_the_roll_and_its_pattern_halves_the_trim():
    assert COLLAR_FLAT.laid
    first, last = TRIMMED.marks()[:2]
    assert first[0, 0] == TRIMMED.length - last[0, 0] == TRIMMED.trim / 2


def test_a_lap_adds_its_width_once():
    assert rc.LapSeam(12).allowance(0.76) - rc.LapSeam(6).allowance(0.76) == pytest.approx(6)


def test_a_butt_seam_has_no_width():
    assert (
        blank_picture(0.76, "butt seam", 6, 180, "mm").sentence
        == blank_picture(0.76, "butt seam", 12, 180, "mm").sentence
    )


def test_the_mean_diameter_rule_is_the_library_s():
    line = ALL[0]().result.rhs
    assert BODY.developed_length == pytest.approx(float(line.subs({next(iter(line.free_symbols)): 180.76})))
