"""Every number that lesson 05 says in words is worked out again here, and its derivations are the library's."""

import math
from dataclasses import replace
from pathlib import Path

import nbformat
import numpy as np
import pytest
import sympy as sp

import rollcalc as rc
from rollcalc.lessons.lesson05 import derivations as told
from rollcalc.lessons.lesson05 import panels as panels_span

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "05_see_the_real_curve.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "".join(output.get("text", "") or output.data.get("text/plain", "")
                  for cell in BOOK.cells for output in cell.get("outputs", []))
METAL = "low-carbon steel, cold rolled"
STEEL, BODY, MACHINE = rc.MATERIALS[METAL], rc.Sheet(thickness=0.76, width=240), rc.DEMO_MACHINE
IDEAL = MACHINE.with_perfect_nip()
LANTERN = (180 + 0.76) / 2
FULL = rc.setting_for_radius(IDEAL, BODY, STEEL, LANTERN)
REAL = rc.setting_for_radius(MACHINE, BODY, STEEL, LANTERN)
HELD = rc.loaded_radius(BODY, STEEL, LANTERN)
STUDENT = rc.circle_travel(MACHINE, BODY, HELD)
MOMENT = rc.bending_moment(BODY, STEEL, 1 / HELD)


def left(turns: float, metal: str = METAL, machine: rc.PinchMachine = MACHINE) -> float:
    """Return the radius that the first panel's sheet has after the rolls. [mm]"""
    return rc.radius_for_travel(machine, BODY, rc.MATERIALS[metal], 1.5 * turns)


def circle(turns: float) -> float:
    """Return the radius of the first panel's circle. [mm]"""
    return rc.circle_radius(MACHINE, BODY, 1.5 * turns)


def pinched(radius: float, force: float) -> float:
    """Return the radius that comes out under a pinch force, set for a perfect nip. [mm]"""
    travel = rc.setting_for_radius(IDEAL, BODY, STEEL, radius).travel
    return rc.radius_for_travel(replace(MACHINE, pinch_force=force), BODY, STEEL, travel)


def loose(radius: float, slack: float, sheet: rc.Sheet = BODY, metal: str = METAL) -> float:
    """Return the radius that comes out of a loose nip set for a perfect one. [mm]"""
    material = rc.MATERIALS[metal]
    travel = rc.setting_for_radius(IDEAL, sheet, material, radius).travel
    return rc.radius_for_travel(replace(IDEAL, nip_slack=slack), sheet, material, travel)


PROMISED = rc.released_radius(BODY, STEEL, rc.circle_radius(MACHINE, BODY, FULL.travel))
START = rc.setting_for_travel(MACHINE, BODY, STEEL, 19.35)
HARD, SOFT = (rc.radius_for_travel(replace(MACHINE, pinch_force=force), BODY, STEEL, REAL.travel) / LANTERN
              for force in (6000, 1000))
AXLES = (MACHINE.upper_roll_diameter + MACHINE.lower_roll_diameter) / 2 + 0.76
STAYS, LIFTS = 1 / LANTERN, 1 / HELD - 1 / LANTERN

SAID = [
    (f"at a radius of {LANTERN:.1f} mm, to the middle", "the body"),
    (f"the rolls must hold: {HELD:.1f} mm", "lesson 04's answer"),
    (f"curvatures for the lantern's body: 1/{HELD:.1f} while held, 1/{LANTERN:.1f} after", "by hand"),
    (f"differ by {100 * (1 - rc.rolling.two_thirds_travel(IDEAL, BODY, STEEL, LANTERN) / FULL.travel):.1f} %",
     "rule, span"),
    (f"circle of {HELD:.1f} mm needs {STUDENT / 1.5:.2f} turns, and in a perfect nip that gives "
     f"{left(STUDENT / 1.5, machine=IDEAL):.1f} mm instead of {LANTERN:.1f}", "the student"),
    (f"it leans by {math.degrees(START.tilt):.1f}°", "panel 1, start"),
    (f"the circle, {circle(12.9):.1f} mm, is tighter than the sheet is anywhere: {START.loaded_radius:.1f} mm "
     "in the nip", "panel 1, circle and sheet"),
    (f"The circle has {circle(6):.1f} mm, the sheet {left(6):.1f} mm; a perfect nip would leave "
     f"{left(6, machine=IDEAL):.1f} mm", "panel 1, gentle"),
    (f"comes out at {left(12.9, 'brass C260, half hard'):.1f} mm, the soft aluminium at "
     f"{left(12.9, 'aluminium 1100-O'):.1f} mm", "panel 1, metals"),
    (f"the lantern's {MOMENT / 1000:.1f} N m need them {MOMENT / 2500:.1f} mm apart", "couple"),
    (f"$D = {AXLES:.2f}$ mm from axle to axle of the front rolls. That is {math.degrees(MOMENT / 2500 / AXLES):.1f}°; "
     f"the bend between the contacts makes it {math.degrees(REAL.tilt):.1f}°", "tilt"),
    (f"{pinched(90, 2500):.1f} mm: {100 * (pinched(90, 2500) / 90 - 1):.0f} % larger. {pinched(90, 1000):.1f} mm, "
     f"{pinched(90, 5000):.1f} mm, {pinched(90, 10_000):.1f} mm", "panel 2, start"),
    (f"At 2500 N 60 mm becomes {pinched(60, 2500):.1f} mm, 200 mm becomes {pinched(200, 2500):.1f} mm",
     "panel 2, radii"),
    (f"With the turns for 200 mm in a perfect nip, $e = 0.02$ mm, a third of a hair, leaves {loose(200, 0.02):.1f} mm",
     "slack"),
    (f"Pinched with 2500 N he finds {left(12.45):.1f} mm, too large: take **{REAL.turns:.2f}** turns in a single pass",
     "the student on the bench, and the turns"),
    (f"pinch not known, 1000 to 6000 N, {REAL.turns:.2f} turns | {100 * (1 - HARD):.0f} % too tight to "
     f"{100 * (SOFT - 1):.0f} % too large", "table, pinch"),
    (f"sprung back, lantern's body, perfect nip | {100 * (PROMISED / LANTERN - 1):.0f} % too large", "table"),
    (f"The travel is {rc.setting_for_radius(MACHINE, BODY, STEEL, 120).travel:.2f} mm", "solution 05.1, travel"),
    (f"In a perfect nip, a teaching ideal, {rc.setting_for_radius(IDEAL, BODY, STEEL, 120).turns:.2f} turns would do",
     "solution 05.1, ideal"),
    (f"1/80 = {1 / 80:.5f} 1/mm held, 1/120 = {1 / 120:.5f} 1/mm stay. What springs back is {1 / 80 - 1 / 120:.5f}; "
     f"two thirds of it is {2 / 3 * (1 / 80 - 1 / 120):.5f}", "solution 05.2"),
    (f"{100 * (pinched(120, 4000) / 120 - 1):.0f} % larger. At the machine", "solution 05.3"),
    (f"and the ring is too tight: {left(STUDENT / 1.5, machine=IDEAL):.1f} mm instead of 90.4",
     "last section"),
    (f"the student's 12.45 turns leave {left(12.45):.1f} mm", "last section, pinch"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_by_hand_is_the_library_and_what_is_printed():
    radius = 1 / (STAYS + 2 / 3 * LIFTS)
    travel = rc.rolling.two_thirds_travel(IDEAL, BODY, STEEL, LANTERN)
    assert rc.circle_travel(MACHINE, BODY, radius) == pytest.approx(travel, rel=1e-12)
    assert f"circle {radius:.1f} mm, travel {travel:.2f} mm, {travel / 1.5:.2f} turns" in PRINTED
    assert repr(FULL) in PRINTED
    assert f"turns               {FULL.turns:.2f} turns" in PRINTED  # the chart's, and the prose's


def test_the_turns_for_each_pinch_are_printed_and_two_wrongs_cancel_near_4000_newtons():
    nips = replace(MACHINE, pinch_force=[1000, 2500, 5000, 10_000])
    turns, found = rc.setting_for_radius(nips, BODY, STEEL, LANTERN).turns, left(12.45, machine=nips)
    assert f"'turns for 90.4 mm': {turns.round(2)!r}" in PRINTED
    assert f"'mm after 12.45 turns': {found.round(1)!r}" in PRINTED
    assert repr(REAL) in PRINTED
    assert left(12.45, machine=replace(MACHINE, pinch_force=4000)) == pytest.approx(LANTERN, abs=1)
    assert "Near 4000 N" in PROSE


def test_a_second_pass_needs_a_little_more_than_a_single_one():
    entering = rc.setting_for_radius(MACHINE, BODY, STEEL, LANTERN, entering_radius=120)
    assert REAL.turns < entering.turns < 1.05 * REAL.turns


def test_the_circle_is_flatter_than_the_nip_only_where_the_nip_is_perfect():
    for setting, machine in ((FULL, IDEAL), (REAL, MACHINE)):
        assert (rc.circle_radius(machine, BODY, setting.travel) > setting.loaded_radius) == machine.nip_is_perfect


def test_no_symbol_of_the_lesson_means_two_things():
    meanings: dict[str, set[str]] = {}
    for derive in told.ALL:
        for symbol, meaning in derive().symbols.items():
            meanings.setdefault(symbol.name, set()).add(meaning)
    assert all(len(found) == 1 for found in meanings.values())
    assert not meanings.keys() & {"T", "g", "c", "alpha", "b", "R"}  # these are the guide's and the circle's, by hand
    assert " kN" not in PROSE


@pytest.mark.parametrize("nip", [IDEAL, MACHINE])
def test_the_inside_roll_s_limit_is_the_same_in_any_nip(nip):
    with pytest.raises(rc.InputError, match=f"{rc.loaded_radius(BODY, STEEL, 26):.6g} mm, and the inside roll") as said:
        rc.setting_for_radius(nip, BODY, STEEL, 26)
    assert str(said.value) in PRINTED


def test_wide_sheet_comes_out_larger_than_a_narrow_strip():
    radii = [rc.radius_for_travel(MACHINE, rc.Sheet(thickness=0.76, width=width), STEEL, 12.89 * 1.5)
             for width in (30, 240, 760)]
    assert radii == sorted(radii)
    assert f"'mm after 12.89 turns, by width': {np.round(radii, 1)!r}" in PRINTED


def test_the_gap_alone_decides_what_a_loose_nip_does():
    radii = [loose(200, 0.02, rc.Sheet(thickness=thickness, width=240), metal) for thickness in (0.6, 1.0, 1.6)
             for metal in panels_span.SPAN_METALS[:5]]
    assert max(radii) / min(radii) < 1.01
    apart = MACHINE.upper_roll_diameter / 2 + MACHINE.lower_roll_diameter / 2 + 0.76
    travel = rc.setting_for_radius(IDEAL, BODY, STEEL, 200).travel
    tilt = rc.setting_for_travel(replace(IDEAL, nip_slack=0.02), BODY, STEEL, travel).tilt
    simple = told.tilt_of_the_nip().steps[2].equation.rhs.subs({told.slack: 0.02, told.apart: apart})
    assert float(simple) < tilt < 1.1 * float(simple)  # the curve between the two contacts adds the rest


def test_the_table_of_the_lesson_is_true():
    radii = np.array([45, 60, 90, 150, 240, 400])
    for metal in panels_span.SPAN_METALS[:4]:
        sheet, material = rc.Sheet(thickness=0.9, width=240), rc.MATERIALS[metal]
        full = rc.setting_for_radius(IDEAL, sheet, material, radii)
        rule = rc.rolling.two_thirds_travel(IDEAL, sheet, material, radii)
        assert np.all(np.abs(rule / full.travel - 1)[full.contact_angle < 0.9] < 0.01)
    assert "15 %" in PROSE
    assert "never put it on a setup card" in PROSE


def numbers(setting: rc.Setting) -> dict[sp.Symbol, float]:
    """Return the symbols of the derivations for a setting."""
    kept, held = 1 / setting.released_radius, 1 / setting.loaded_radius
    return {told.kappa_r: kept, told.kappa_0: held, told.stiffness: rc.bending.bending_stiffness(BODY, STEEL),
            told.top_moment: rc.bending_moment(BODY, STEEL, held), told.end_slope: setting.contact_angle}


@pytest.mark.parametrize("radius", [45.0, LANTERN, 300.0])
def test_the_force_is_the_library_s(radius):
    setting = rc.setting_for_radius(MACHINE, BODY, STEEL, radius)
    line = float(told.bending_roll_force().result.rhs.subs(numbers(setting)))
    assert setting.bending_roll_force == pytest.approx(line, rel=1e-9)


@pytest.mark.parametrize("slack", [0.0, 0.03])
def test_the_drive_is_the_plastic_work_and_the_nip_pushes_forward(slack):
    setting = rc.setting_for_radius(replace(IDEAL, nip_slack=slack), BODY, STEEL, LANTERN)
    held = 1 / setting.loaded_radius
    given = numbers(setting)
    stored = rc.bending_moment(BODY, STEEL, held) * held - rc.bending.energy.complementary_energy(BODY, STEEL, held)
    steps = told.drive_is_plastic_work().steps
    area = next(iter(steps[3].equation.rhs.free_symbols - set(given)))
    assert setting.drive_force == pytest.approx(float(steps[3].equation.rhs.subs({**given, area: stored})), rel=1e-9)
    assert setting.drive_force == pytest.approx(rc.bending.plastic_work(BODY, STEEL, held), rel=1e-9)
    back = setting.bending_roll_force * math.sin(setting.contact_angle)
    assert back > setting.drive_force
    if slack:  # two contacts that the library knows: what they push forward is what the derivation says
        forward = setting.front_roll_force * math.sin(setting.front_angle)
        assert back - forward == pytest.approx(setting.drive_force, rel=1e-9)


@pytest.mark.parametrize("radius", [60.0, LANTERN, 300.0])
def test_the_two_thirds_rule_is_the_library_s(radius):
    setting = rc.setting_for_radius(IDEAL, BODY, STEEL, radius)
    curvature = float(told.two_thirds_rule().result.rhs.subs(numbers(setting)))
    travel = rc.rolling.two_thirds_travel(IDEAL, BODY, STEEL, radius)
    assert rc.circle_radius(MACHINE, BODY, travel) == pytest.approx(1 / curvature, rel=1e-9)


def test_the_formula_in_words_is_the_derived_one():
    assert r"\frac{1}{R_\text{circle}} = \kappa_r + \frac{2}{3}\,\frac{M_0}{E'I}" in PROSE
    assert (
        sp.simplify(told.two_thirds_rule().result.rhs - told.kappa_r - 2 * told.top_moment / (3 * told.stiffness)) == 0
    )
    assert r"$\sqrt{2e/D}$" in PROSE
    assert r"$$ \varphi = \frac{M_0}{N\,D} $$" in PROSE.replace("$$\\varphi", "$$ \\varphi").replace("D}$$", "D} $$")
    assert told.tilt_of_the_nip().steps[2].equation.rhs.equals(sp.sqrt(2 * told.slack / told.apart))


@pytest.mark.parametrize("force", [2500, 50_000, 200_000])
def test_the_tilt_under_a_pinch_force_is_nearly_the_derived_one(force):
    setting = rc.setting_for_radius(replace(MACHINE, pinch_force=force), BODY, STEEL, LANTERN)
    line = told.tilt_of_the_nip().result.rhs.subs({**numbers(setting), told.pinch: force, told.apart: 50.76})
    assert float(line) < setting.tilt < 1.1 * float(line)  # as with slack: the curve between the contacts adds the rest


def test_a_machine_without_a_nip_is_told_and_the_lessons_own_is_shown(own_machine):
    pyramid = rc.PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240,
                                screw_pitch=6, working_width=1500)
    own_machine(pyramid)
    assert panels_span.span().sentence.endswith("as yours has no nip.")
    own_machine(replace(IDEAL, name="my rolls", nip_slack=0.02))
    panel = panels_span.span()
    assert panel.sentence.endswith("Machine: my rolls, a nip 0.02 mm wider than the stock.")
    own = rc.radius_for_travel(replace(IDEAL, nip_slack=0.02), BODY, STEEL, 12.9 * 1.5)
    assert f"leaves it at {own:.1f} mm" in panel.sentence  # its own slack counts
