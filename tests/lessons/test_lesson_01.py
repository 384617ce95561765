"""Every number that lesson 01 says in words is worked out again here, and its derivations are the library's."""

import math
import re
from dataclasses import replace
from pathlib import Path

import nbformat
import pytest

import rollcalc as rc
from rollcalc.lessons import derivations_capacity as told
from rollcalc.lessons import panels_capacity, panels_span
from rollcalc.lessons.panels_capacity import bow_picture, capacity_picture
from rollcalc.rolling.effort import KEEP_MOVING, KEPT_UP, SHORT_TIME_CEILING
from rollcalc.rolling.roll_bow import unit_moment

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "01_ask_may_it_roll.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "".join(output.get("text", "") for cell in BOOK.cells for output in cell.get("outputs", []))
MACHINE = rc.DEMO_MACHINE
SHEET, BAR, STAINLESS = "low-carbon steel, cold rolled", panels_capacity.BAR_METAL, "stainless 304, annealed"
STEEL, BARS = rc.MATERIALS[SHEET], rc.MATERIALS[BAR]


def word(metal: str, thickness: float, width: float, radius: float) -> str:
    """Return the verdict of the first panel, in lower case."""
    sentence = capacity_picture(metal, thickness, width, radius, "mm").sentence
    return re.match(r"(Within the plate|At the plate: ask|Beyond the plate)\. Your piece: ", sentence)[1].lower()


def room(metal: str, thickness: float, width: float, radius: float) -> tuple[str, str]:
    """Return from where the first panel asks, and from where it is beyond."""
    sentence = capacity_picture(metal, thickness, width, radius, "mm").sentence
    return re.search(r"ask from (\S+ mm), beyond from (\S+ mm)\.", sentence).groups()


def nearest(metal: str, thickness: float, width: float, radius: float) -> tuple[str, str]:
    """Return the check that the first panel names, and its share."""
    return re.search(r"(?:limit|Reason): ([^,]+), .*?, (\d+) %", capacity_picture(metal, thickness, width, radius,
                                                                                  "mm").sentence).groups()  # fmt: skip


def bowed(width: float, place: float) -> re.Match[str]:
    """Return what the second panel says of upper roll, lower roll, factor and radius in the middle."""
    pattern = r"bow by (\S+) mm and (\S+) mm .* MPa, (\S+) times .* up to (\S+) mm, (\S+) %"
    return re.search(pattern, bow_picture(SHEET, 0.76, width, place, "mm").sentence)


BY_MOMENT = math.sqrt(0.76**2 * rc.plastic_moment(rc.Sheet(1, 760), STEEL) / rc.plastic_moment(rc.FlatBar(1, 25), BARS))
SAVED = 100 * (1 - rc.plastic_moment(rc.FlatBar(1, 25), BARS) / rc.plastic_moment(rc.Sheet(1, 25), BARS))

HARDER = rc.check_capacity(replace(MACHINE, pinch_force=5000), rc.FlatBar(3, 25), BARS, 93.5)

SAID = [
    (f"{BARS.first_yield:.0f} MPa against {STEEL.first_yield:.0f}, going by the names", "yields"),
    (f"which saves {SAVED:.0f} % against wide sheet", "bar and sheet"),
    (f"By moment alone, {BY_MOMENT:.1f} mm will do; it says *ask* from {room(BAR, 3, 25, 92)[0]}", "bar by moment"),
    (f"Its steel takes about {MACHINE.roll_stress_limit:.0f} MPa", "roll's steel"),
    (f"most of it is the pinch**: {rc.roll_stress(MACHINE, rc.FlatBar(3, 25), 2500, roll='upper'):.0f} MPa", "pinch"),
    (f"with 5000 N, and the middle has {HARDER['roll stress'].demand:.0f} MPa", "pinch twice as hard"),
    (f"The bow of a front roll, at {nearest(SHEET, 0.76, 240, 90)[1]} %", "panel 1, start"),
    (f"the bow of the front roll stays near {nearest(BAR, 3, 25, 92)[1]} %", "panel 1, band's roll"),
    ("may have any yield from {:.0f} to {:.0f} MPa".format(*STEEL.yield_range), "panel 1, range"),
    ("*Ask* from {}, *beyond* from {}.".format(*room(BAR, 3, 25, 92)), "panel 1, band"),
    (f"It is beyond at {nearest(STAINLESS, 0.76, 760, 90)[1]} % of the moment. From 550 mm down it says *ask*, from "
     "455 mm down *within*", "panel 1, stainless"),
    (f"The smallest ring, at {nearest(STAINLESS, 0.6, 40, 37.5)[1]} %", "panel 1, collar"),
    ("from 0.81 mm it would do", "panel 1, thicker collar"),
    (f"The factor grows from {bowed(240, 0)[3]} to {bowed(20, 0)[3]}, nearly twice", "panel 2, strip"),
    (f"The factor falls to {bowed(20, 100)[3]}", "panel 2, end of the rolls"),
    (f"up to {bowed(760, 0)[4]} mm against 90 mm at the edges", "panel 2, wide"),
    (f"0.76 × √(760/120) = 0.76 × {math.sqrt(760 / 120):.2f} =", "solution 01.1"),
    (f"The panel says *ask* from {room(SHEET, 1.9, 120, 90)[0]}", "solution 01.1, panel"),
    (f"{KEPT_UP:.0f} N is what one person keeps up, our own choice; for a short time an old published value has "
     f"{SHORT_TIME_CEILING:.0f} N", "crank"),
    (f"gives men {KEEP_MOVING['men']:.0f} N and women {KEEP_MOVING['women']:.0f} N", "guideline"),
    (f"The yields are {rc.MATERIALS[STAINLESS].first_yield:.0f} and 210 MPa: 0.76 × √(210/290)", "01.2"),
    (f"{0.76 * math.sqrt(760 / 25):.1f} mm in the plate's steel, {BY_MOMENT:.1f} mm in bar steel, and *ask* from "
     f"{room(BAR, 3, 25, 92)[0]}", "what we learned"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_where_the_word_of_the_first_panel_changes():
    assert [word(BAR, t, 25, 92) for t in (3.44, 3.48, 3.92, 3.95)] == [
        "within the plate", "at the plate: ask", "at the plate: ask", "beyond the plate"]  # fmt: skip
    assert nearest(BAR, 3.48, 25, 92)[0] == nearest(BAR, 3.95, 25, 92)[0] == "bending moment"
    assert nearest(BAR, 3.0, 25, 92)[0] == nearest(SHEET, 0.76, 240, 90)[0] == "front-roll bow"
    assert [word(STAINLESS, 0.76, w, 90) for w in (555, 550, 460, 455)] == [
        "beyond the plate", "at the plate: ask", "at the plate: ask", "within the plate"]  # fmt: skip
    assert word(SHEET, 0.76, 760, 90) == "at the plate: ask"
    assert nearest(STAINLESS, 0.76, 760, 90)[0] == "bending moment"


def test_the_upper_front_roll_works_hardest_and_a_harder_pinch_bows_it_by_a_millimetre():
    found = rc.check_capacity(MACHINE, rc.FlatBar(3, 25), BARS, 93.5)
    assert "upper front roll" in found["roll stress"].message
    assert 0.4 < found["roll stress"].ratio < 0.5, "the lesson says: half of what the steel takes"
    assert HARDER["front-roll bow"].demand == pytest.approx(1, abs=0.05)
    sentence = bow_picture(SHEET, 0.76, 240, 0, "mm").sentence
    body = rc.check_capacity(MACHINE, rc.Sheet(0.76, 240), STEEL, 90)
    assert f"The upper roll works hardest: it is strained to {body['roll stress'].demand:.2g} MPa" in sentence
    for thick in (3.0, 3.2, 3.6, 4.0):
        middle, end = (rc.check_capacity(MACHINE, rc.FlatBar(thick, 25), BARS, 92 + thick / 2, position=place)
                       for place in (0, 340))  # fmt: skip
        row = (f"{thick:.1f} mm{middle['bending moment'].ratio:9.0%}{middle['roll stress'].demand:16.0f} MPa"
               f"{end['roll stress'].demand:6.0f} MPa   {middle.word}")  # fmt: skip
        assert row in PRINTED


def test_the_collar_nears_the_smallest_ring_and_thicker_sheet_springs_back_less():
    assert nearest(STAINLESS, 0.6, 40, 37.5)[0] == nearest(STAINLESS, 0.6, 60, 30)[0] == "smallest ring"
    assert word(STAINLESS, 0.6, 60, 37) == "within the plate"
    assert word(STAINLESS, 0.6, 60, 30) == word(STAINLESS, 0.8, 60, 30) == "beyond the plate"
    assert word(STAINLESS, 0.82, 60, 30) == "within the plate"
    assert "Below 0.81 mm it springs back too far" in capacity_picture(STAINLESS, 0.6, 60, 30, "mm").sentence


def test_the_pinch_bows_the_front_rolls_by_half_a_millimetre_strip_or_sheet():
    for width in (20, 240):
        assert all(0.4 < float(bowed(width, 0)[roll]) < 0.5 for roll in (1, 2))
    assert float(bowed(20, 100)[1]) < 0.05
    assert float(bowed(20, 100)[5]) > 1  # the rolls slope near their ends


def test_what_the_cells_print():
    for part, near in (("body", "front-roll bow, 58%"), ("skirt", "travel, 58%"), ("collar", "smallest ring, 88%"),
                       ("band", "front-roll bow, 64%"), ("hanging ring", "groove, 75%")):  # fmt: skip
        assert f"{part:13} within the plate; nearest to its limit: {near}" in PRINTED
    assert "17.6 N m of 38.2 N m, 46 %." in PRINTED
    assert "52.7 N m of 38.2 N m, 138 %; too much" in PRINTED
    assert "5.5 mm bar: groove for 6 mm" in PRINTED
    assert "bar diameter is 8.5 mm, but must be at most 8 mm" in PRINTED


def test_thick_narrow_bar_passes_where_stainless_of_the_rated_thickness_does_not():
    """Common practice, no source: 3.2 × 25 mm flat bar on a machine rated 0.91 mm over 760 mm."""
    heavier = replace(MACHINE, rated_thickness=0.91)
    assert rc.check_capacity(heavier, rc.FlatBar(3.2, 25), BARS, 95).word == "within the plate"
    assert rc.check_capacity(heavier, rc.Sheet(0.91, 760), rc.MATERIALS[STAINLESS], 95).word == "beyond the plate"


def test_no_word_of_the_lesson_promises_that_nothing_happens():
    assert not re.search(r"\bsafe", PROSE + PRINTED, re.IGNORECASE)


def test_the_moment_is_the_library_s():
    line = told.same_moment().steps[1].equation.rhs
    given = {told.sigma: BARS.first_yield, told.width: 25, told.thickness: 3}
    assert rc.plastic_moment(rc.FlatBar(3, 25), BARS) == pytest.approx(float(line.subs(given)), rel=1e-12)


@pytest.mark.parametrize("metal", [SHEET, STAINLESS])
def test_the_thickness_of_equal_moment_is_where_the_check_says_100_percent(metal):
    steps = told.same_moment().steps
    given = {told.rated_thickness: 0.76, told.rated_width: 760, told.width: 120, told.rated_sigma: STEEL.first_yield,
             told.sigma: rc.MATERIALS[metal].first_yield}  # fmt: skip
    thickness = float(steps[3].equation.rhs.subs(given))
    found = rc.check_capacity(MACHINE, rc.Sheet(thickness, 120), rc.MATERIALS[metal], 90)
    assert found["bending moment"].ratio == pytest.approx(1, rel=1e-9)
    if metal == SHEET:
        assert float(steps[4].equation.rhs.subs(given)) == pytest.approx(thickness)


@pytest.mark.parametrize("spread", [1e-6, 25.0, 240.0, 820.0])
def test_the_moment_in_the_roll_is_the_library_s(spread):
    steps = told.strip_in_the_middle().steps
    line = steps[1].equation.rhs.subs({told.force: 1, told.span: 820, told.spread: spread})
    arm = unit_moment((410 - spread / 2, 410 + spread / 2), 820.0)
    assert arm == pytest.approx(float(line), rel=1e-9)
    assert unit_moment((410 - 1e-9, 410 + 1e-9), 820.0) / unit_moment((0.0, 820.0), 820.0) == pytest.approx(
        float(told.strip_in_the_middle().result.rhs / told.full)
    )


def test_the_formula_in_words_is_the_derived_one():
    assert r"w\,t^2\,\sigma_y \;\le\; w_r\,t_r^2\,\sigma_r" in PROSE
    line = told.same_moment().steps[1].equation.rhs
    assert line.equals(told.width * told.thickness**2 * told.sigma / 4)


def test_the_panels_take_the_folder_s_machine_and_say_so(monkeypatch):
    small = replace(MACHINE, name="my rolls", working_width=200, bearing_span=230, groove_positions=())
    monkeypatch.setattr(panels_capacity, "load_machine", lambda: small)
    panel = panels_capacity.capacity()
    assert panel.sentence.endswith("Machine: my rolls, a pinch of 2500 N.")
    assert panel.start["width"] == 200
    panel.set(width=210, thickness=0.3)
    assert "Reason: width" in panel.sentence
    monkeypatch.setattr(panels_span, "load_machine", lambda: replace(MACHINE, name="my rolls", pinch_force=3000))
    assert panels_capacity.bow().sentence.endswith("Machine: my rolls, a pinch of 3000 N.")
