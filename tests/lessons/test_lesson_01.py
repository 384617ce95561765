"""Every number that lesson 01 says in words is worked out again here, and its derivations are the library's."""

import math
import re
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import nbformat
import pytest

import rollcalc as rc
from rollcalc.lessons.lesson01 import derivations as told
from rollcalc.lessons.lesson01 import panels as panels_capacity
from rollcalc.lessons.lesson01.panels import bow_picture, capacity_picture
from rollcalc.rolling.deflection import unit_moment
from rollcalc.rolling.effort import KEEP_MOVING, SHORT_TIME_CEILING

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "01_ask_may_it_roll.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "".join(output.get("text", "") or output.data.get("text/plain", "")
                  for cell in BOOK.cells for output in cell.get("outputs", []))
MACHINE = rc.DEMO_MACHINE
SHEET, BAR, STAINLESS = "low-carbon steel, cold rolled", panels_capacity.BAR_METAL, "stainless 304, annealed"
STEEL, BARS = rc.MATERIALS[SHEET], rc.MATERIALS[BAR]


def word(metal: str, thickness: float, width: float, radius: float) -> str:
    """Return the verdict of the first panel, in lower case."""
    sentence = capacity_picture(metal, thickness, width, radius, "mm").sentence
    return re.match(r"((?:Within|Close to|Beyond) the machine's rating)\. Your piece: ", sentence)[1].lower()


def room(metal: str, thickness: float, width: float, radius: float) -> tuple[str, str]:
    """Return from where the first panel says close, and from where beyond."""
    sentence = capacity_picture(metal, thickness, width, radius, "mm").sentence
    return re.search(r"close from (\S+ mm) \([^)]*\), beyond from (\S+ mm) \(", sentence).groups()


def loose(metal: str, width: float, radius: float) -> str:
    """Return the thickness from which the first panel says that the pinch cannot hold it."""
    return re.search(r"From (\S+ mm) the pinch cannot hold it", capacity_picture(metal, 0.76, width, radius,
                                                                                 "mm").sentence)[1]


def hardest(metal: str, thickness: float, width: float, radius: float) -> tuple[str, str]:
    """Return the roll that the first panel says works hardest, and its stress."""
    sentence = capacity_picture(metal, thickness, width, radius, "mm").sentence
    stress, roll = re.search(r"Roll stress (\S+) of 100 MPa .*?, in the ([a-z ]+ roll), which works hardest",
                             sentence).groups()
    return roll, f"{stress} MPa"


def nearest(metal: str, thickness: float, width: float, radius: float) -> tuple[str, str]:
    """Return the check that the first panel names, and its share."""
    return re.search(r"(?:limit|Reason): (\D+) .*?\((\d+) %\)", capacity_picture(metal, thickness, width, radius,
                                                                             "mm").sentence).groups()


class Bowed(NamedTuple):
    """What the second panel says: stress and bow of each roll, factor, radius in the middle."""

    upper: str
    upper_bow: str
    lower: str
    lower_bow: str
    bending: str
    factor: str
    middle: str
    larger: str


def bowed(width: float, place: float = 0, pinch: float = 2500) -> Bowed:
    """Return the numbers in the sentence of the second panel."""
    sentence = bow_picture(pinch, 0.76, width, place, "mm").sentence
    assert f"pinched with {pinch} N" in sentence
    pattern = (r"upper front roll has (\S+) MPa and bows (\S+) mm, the lower (\S+) MPa and bows (\S+) mm; the bending "
               r"roll, .* has (\S+) MPa .* strains a roll (\S+) times .* up to (\S+) mm, (\S+) %")
    return Bowed(*re.search(pattern, sentence).groups())


def band(pinch: float, thickness: float = 3) -> rc.rolling.Capacity:
    """Return the capacity for a bar like the band, in the middle of the bench roll with this pinch."""
    return rc.check_capacity(replace(MACHINE, pinch_force=pinch), rc.FlatBar(thickness, 25), BARS, 92 + thickness / 2)


BY_MOMENT = math.sqrt(0.76**2 * rc.plastic_moment(rc.Sheet(thickness=1, width=760),
                                                  STEEL) / rc.plastic_moment(rc.FlatBar(1, 25), BARS))
SAVED = 100 * (1 - rc.plastic_moment(rc.FlatBar(1, 25), BARS) / rc.plastic_moment(rc.Sheet(thickness=1, width=25),
                                                                                  BARS))
FULL = rc.check_capacity(MACHINE, rc.Sheet(thickness=0.76, width=760), STEEL, 90.38)

SAID = [
    (f"{BARS.first_yield:.0f} MPa against {STEEL.first_yield:.0f}, going by the names", "yields"),
    (f"which gives back {SAVED:.0f} %", "bar and sheet"),
    (f"By moment alone, {BY_MOMENT:.1f} mm of bar would do", "bar by moment"),
    (f"on the bench roll with {MACHINE.pinch_force:.0f} N, invented like all of it", "the nip"),
    ("may give {:.0f} to {:.0f} N".format(*panels_capacity.HAND_PINCH), "pinch by hand"),
    (f"beyond the {MACHINE.roll_stress_limit:.0f} MPa that we allow rolls (our own choice)", "steel of the rolls"),
    ("At 2500 N the moment: *close* from {}, beyond from {}.".format(
        *room(BAR, 3, 25, 92)), "bar at 2500 N"),
    ("1. The {}: {} of the 100 MPa".format(*hardest(SHEET, 0.76, 240, 90)), "panel 1, start"),
    ("may have any yield from {:.0f} to {:.0f} MPa".format(*STEEL.yield_range), "panel 1, range"),
    (f"The roll has only {hardest(SHEET, 0.76, 760, 90)[1]} now", "panel 1, wide"),
    (f"3. The pinch. From {loose(SHEET, 760, 90)}, 2500 N cannot hold so large a moment", "panel 1, blue"),
    (f"4. From {room(BAR, 3, 25, 92)[1]}, by its moment; from {room(BAR, 3, 25, 92)[0]} it is *close*. With "
     f"{hardest(BAR, 3, 25, 92)[1]}, the 3 mm band", "band"),
    (f"It is beyond at {nearest(STAINLESS, 0.76, 760, 90)[1]} % of the moment, and no more from 550 mm down. "
     "There it is *close*, and within from 455 mm.", "panel 1, stainless"),
    (f"takes {FULL['crank force'].demand:.0f} N at the crank, where a person keeps up "
     f"{rc.rolling.crank_force_limit(MACHINE):.0f} N", "panel 1, crank"),
    (f"A person keeps up {rc.rolling.crank_force_limit(MACHINE):.0f} N (our own choice)", "crank, kept up"),
    (f"The smallest ring, at {nearest(STAINLESS, 0.6, 40, 37.5)[1]} %", "panel 1, collar"),
    ("from 0.81 mm it would do", "panel 1, thicker collar"),
    (f"the upper goes from {bowed(240).upper} to {bowed(240, pinch=5000).upper} MPa, and its bow from "
     f"{bowed(240).upper_bow} to {bowed(240, pinch=5000).upper_bow} mm. The bending roll stays near "
     f"{float(bowed(240).bending):.0f} MPa", "panel 2, pinch"),
    (f"The factor grows from {bowed(240).factor} to {bowed(20).factor}, nearly twice, and falls to "
     f"{bowed(20, 100).factor} at the end", "panel 2, strip"),
    (f"up to {bowed(760).middle} mm against 90 mm at the edges", "panel 2, wide"),
    (f"At 5000 N it is up to {bowed(760, pinch=5000).middle} mm", "panel 2, wide and pinched hard"),
    (f"0.76 × √(760/120) = 0.76 × {math.sqrt(760 / 120):.2f} =", "solution 01.1"),
    (f"For a short time, an old published ceiling is {SHORT_TIME_CEILING:.0f} N", "crank"),
    (f"agrees for men and gives women {KEEP_MOVING['women']:.0f} N", "guideline"),
    (f"The yields are {rc.MATERIALS[STAINLESS].first_yield:.0f} and 210 MPa: 0.76 × √(210/290)", "01.2"),
    (f"{0.76 * math.sqrt(760 / 25):.1f} mm in the plate's steel, {BY_MOMENT:.1f} mm in bar steel, pinched with 2500 N; "
     f"*close* from {float(room(SHEET, 3, 25, 92)[0][:-3]):.1f} and {float(room(BAR, 3, 25, 92)[0][:-3]):.1f} mm",
     "what we learned"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_where_the_word_of_the_first_panel_changes():
    assert [word(BAR, t, 25, 92) == "beyond the machine's rating" for t in (3.92, 3.94)] == [False, True]
    assert nearest(BAR, 3.94, 25, 92)[0] == "bending moment"
    assert [word(STAINLESS, 0.76, w, 90) == "beyond the machine's rating" for w in (555, 550)] == [True, False]
    words = [word(STAINLESS, 0.76, w, 90).split(" the")[0] for w in (550, 460, 455)]
    assert words == ["close to", "close to", "within"]
    assert word(SHEET, 0.76, 760, 90) == "close to the machine's rating"
    assert rc.check_capacity(MACHINE, rc.Sheet(thickness=0.76, width=760), STEEL,
                             90.38)["bending moment"].exceeded == 1  # if hard
    assert nearest(STAINLESS, 0.76, 760, 90)[0] == "bending moment"
    assert "The pinch cannot hold it: pinch harder" in capacity_picture(SHEET, 2.1, 760, 90, "mm").sentence
    assert "The pinch cannot hold it" not in capacity_picture(SHEET, 2.08, 760, 90, "mm").sentence
    held = rc.check_capacity(replace(MACHINE, pinch_force=5000), rc.Sheet(thickness=2.1, width=760), STEEL, 91.05)
    assert math.isfinite(held.setting.travel)  # pinching harder would hold it
    assert room(SHEET, 1.9, 120, 90)[1] == "1.91 mm"  # the solution of 01.1
    assert 0.4 < rc.check_capacity(MACHINE, rc.Sheet(thickness=1.91, width=120), STEEL,
                                   90.96)["roll stress"].ratio < 0.6


def test_the_front_rolls_work_hardest_and_pinching_harder_works_them_alone():
    """What cell, prose and summary say of the band at two pinches."""
    own, hard = band(2500), band(6000)
    assert repr(own) in PRINTED
    for name in ("bending-roll force", "roll stress", "front-roll bow"):
        assert repr(hard[name]) in PRINTED
    for found in (own, hard):
        behind = rc.rolling.roll_stress(MACHINE, found.setting.stock, found.setting.bending_roll_force)
        assert "in the upper front roll" in found["roll stress"].message
        assert found["roll stress"].demand > 2.5 * behind
    for name in ("roll stress", "front-roll bow"):
        assert hard[name].demand > 2 * own[name].demand
    assert 0.9 < hard["bending-roll force"].demand / own["bending-roll force"].demand < 1
    assert own["roll stress"].ratio < 1 < hard["roll stress"].ratio
    assert own["roll bending"].ratio > 1
    assert own.word == "within the machine's rating"  # for roll bending only compares with the plate


def test_too_light_a_pinch_tilts_the_sheet_and_the_bending_roll_pushes_harder():
    light, own = (rc.setting_for_radius(replace(MACHINE, pinch_force=pinch), rc.Sheet(thickness=0.76, width=240),
                                        STEEL, 90)
                  for pinch in (1000, 2500))
    assert light.tilt > 2 * own.tilt > 0
    assert light.bending_roll_force > 1.05 * own.bending_roll_force


def test_which_limit_comes_first_is_a_matter_of_the_pinch():
    thickest = [band(2500, thickness) for thickness in (3.9, 3.95)]
    assert [found.word == "beyond the machine's rating" for found in thickest] == [False, True]
    assert thickest[1].binding.name == "bending moment"
    assert thickest[1]["roll stress"].ratio < 0.6
    for thickness in (0.3, 1.0, 3.0):
        assert band(5000, thickness)["front-roll bow"].ratio > 1
        assert band(5000, thickness).word == "close to the machine's rating"


def test_the_collar_nears_the_smallest_ring_and_thicker_sheet_springs_back_less():
    assert nearest(STAINLESS, 0.6, 40, 37.5)[0] == nearest(STAINLESS, 0.6, 60, 30)[0] == "smallest ring"
    assert word(STAINLESS, 0.6, 60, 37) == "within the machine's rating"
    assert word(STAINLESS, 0.6, 60, 30) == word(STAINLESS, 0.8, 60, 30) == "beyond the machine's rating"
    assert word(STAINLESS, 0.82, 60, 30) == "within the machine's rating"
    assert "Below 0.81 mm it springs back too far" in capacity_picture(STAINLESS, 0.6, 60, 30, "mm").sentence


def test_a_strip_at_the_end_of_the_rolls_hardly_bows_them_and_comes_out_of_true():
    assert float(bowed(20, 100).upper_bow) < 0.05 < 0.4 < float(bowed(20).upper_bow)
    assert float(bowed(20, 100).larger) > 1  # the rolls slope near their ends
    assert float(bowed(760).larger) < 0.5 * float(bowed(760, pinch=5000).larger)


def test_what_the_cells_show():
    parts = {"body": (rc.Sheet(thickness=0.76, width=240), STEEL, 90.4),
             "skirt": (rc.Sheet(thickness=0.8, width=104), rc.MATERIALS["aluminium 3003-H14"], 80),
             "collar": (rc.Sheet(thickness=0.6, width=40), rc.MATERIALS[STAINLESS], 37.8),
             "band": (rc.FlatBar(3, 25), BARS, 93.5), "hanging ring": (rc.RoundBar(6), BARS, 48)}
    found = {part: rc.check_capacity(MACHINE, *job) for part, job in parts.items()}
    for part, capacity in found.items():
        assert f"'{part}': {capacity.binding.row}" in PRINTED
        assert capacity.word == "within the machine's rating"
    assert [capacity.binding.name for capacity in found.values()] == [
        "front-roll bow", "travel", "smallest ring", "front-roll bow", "groove"]
    assert repr(found["hanging ring"]["crank force"]) in PRINTED
    assert found["hanging ring"]["crank force"].counts == 0
    assert f"by hand {0.76 * math.sqrt(760 / 25):.2f} mm" in PRINTED
    assert "bending moment 26.6 of 26.6 N m (100 %)" in PRINTED
    assert "bending moment 17.6 of 38.2 N m (46 %)" in PRINTED
    assert re.search(r"bending moment 52.7 of 38.2 N m \(138 %\), .*; too much", PRINTED)
    assert "a comparison with the plate, not a limit" in PRINTED
    assert repr(rc.groove_for(MACHINE, rc.RoundBar(5.5))) in PRINTED
    assert "bar diameter is 8.5 mm, but must be at most 8 mm" in PRINTED


def test_thick_narrow_bar_passes_where_stainless_of_the_rated_thickness_does_not():
    """Common practice, no source: 3.2 × 25 mm flat bar on a machine rated 0.91 mm over 760 mm."""
    heavier = replace(MACHINE, rated_thickness=0.91)
    found = rc.check_capacity(heavier, rc.FlatBar(3.2, 25), BARS, 95)
    assert found.word != "beyond the machine's rating"
    assert found["roll bending"].ratio > 1 > 2 * found["roll stress"].ratio - 0.1  # a comparison; the steel has room
    assert found["roll bending"].counts == 0
    wide = rc.check_capacity(heavier, rc.Sheet(thickness=0.91, width=760), rc.MATERIALS[STAINLESS], 95)
    own = rc.check_capacity(heavier, rc.Sheet(thickness=0.91, width=760), STEEL, 95)
    assert wide.word == "beyond the machine's rating"
    assert wide["roll stress"].ratio < 0.6  # room for both
    assert wide.setting.bending_roll_force > own.setting.bending_roll_force  # stainless pushes harder
    assert f"The {wide['roll bending'].limit:.0f} MPa are for the plate's sheet of 0.91 mm" in PROSE
    assert f"the {FULL['roll stress'].demand:.0f} MPa above were for 0.76 mm at R 90" in PROSE


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
             told.sigma: rc.MATERIALS[metal].first_yield}
    thickness = float(steps[3].equation.rhs.subs(given))
    found = rc.check_capacity(MACHINE, rc.Sheet(thickness=thickness, width=120), rc.MATERIALS[metal], 90)
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


def test_the_panels_take_the_folder_s_machine_and_say_so(own_machine):
    small = replace(MACHINE, name="my rolls", working_width=200, bearing_span=230, groove_positions=())
    own_machine(small)
    panel = panels_capacity.capacity()
    assert panel.sentence.endswith("Machine: my rolls, a pinch of 2500 N.")
    assert panel.start["width"] == 200
    panel.set(width=210, thickness=0.3)
    assert "Reason: width" in panel.sentence
    own_machine(replace(MACHINE, name="my rolls", pinch_force=4040))
    assert panels_capacity.bow().sentence.endswith("Machine: my rolls, a pinch of 4000 N.")  # steps of 100 N
    own_machine(replace(MACHINE, name="my rolls", pinch_force=None, nip_slack=0.02))
    assert panels_capacity.bow().sentence.endswith("Machine: my rolls, a pinch of 2500 N.")
