"""Every number that lesson 09 says in words is worked out again here."""

import math
from dataclasses import replace
from pathlib import Path

import nbformat
import pytest

import rollcalc as rc
from rollcalc.lessons.lesson09 import derivations as told
from rollcalc.lessons.lesson09.panels import METAL, THICKNESS, cone_feed_picture, cone_on_rolls_picture
from rollcalc.rolling.cone_checks import FAN_DEGREES, SLIP_SHARE, STRIP_SHARE

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "09_roll_a_gentle_cone.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "\n".join(output.get("text") or output["data"]["text/plain"]
                    for cell in BOOK.cells for output in cell.get("outputs", []))
SOFT = rc.MATERIALS[METAL]
SLANT = math.hypot(30, 100)


def skirt(position=0.0):
    return rc.cone_setting(rc.DEMO_MACHINE, rc.Sheet(thickness=THICKNESS, width=SLANT), SOFT, 220, 160,
                           position=position)


def cone(large, small, height):
    slant = math.hypot(height, (large - small) / 2)
    return rc.cone_setting(rc.DEMO_MACHINE, rc.Sheet(thickness=THICKNESS, width=slant), SOFT, large, small)


LEFT, MIDDLE, RIGHT = skirt(-260), skirt(), skirt(260)
SHADE = rc.frustum_pattern(220, 180, 60)
WALL = rc.Sheet(thickness=THICKNESS, width=SLANT)
TRAVELS = [rc.setting_for_radius(rc.DEMO_MACHINE, WALL, SOFT, bend).travel for bend in MIDDLE.wanted_radii[[-1, 0]]]
LIGHT = [rc.radius_for_travel(replace(rc.DEMO_MACHINE, pinch_force=1500), WALL, SOFT, travel) for travel in TRAVELS]
PERFECT = rc.cone_setting(rc.DEMO_MACHINE.with_perfect_nip(), WALL, SOFT, 220, 160)
SAID = [
    (f"two screws are {rc.DEMO_MACHINE.bearing_span:.0f} mm apart", "screws"),
    (f"wall is {SLANT:.0f} mm long", "slant"),
    (
        f"for the skirt {MIDDLE.turns_right - MIDDLE.turns_left:.1f} turns apart, pinched with "
        f"{rc.DEMO_MACHINE.pinch_force:.0f} N (in a perfect nip {PERFECT.turns_right - PERFECT.turns_left:.1f})",
        "turns apart",
    ),
    (f"right screw climbs to {LEFT.turns_right:.1f} turns", "far left"),
    (f"almost meets the front rolls, {100 * LEFT['travel'].ratio:.0f} % of the way", "rolls meet"),
    (f"near touch, at {RIGHT.turns_left:.1f} turns", "far right"),
    (f"{MIDDLE.slip:.1f} mm for one turn of the skirt", "slip"),
    (f"{100 * (1 - 60 / 220):.0f} %: it hardly goes forward", "roof's slip"),
    (
        f"1500 N leaves bends of {LIGHT[0]:.1f} and {LIGHT[1]:.1f} mm at these turns, instead of "
        f"{MIDDLE.wanted_radii[-1]:.1f} and {MIDDLE.wanted_radii[0]:.1f} at 2500 N",
        "another pinch",
    ),
    (f"a strip strays {100 * STRIP_SHARE:.0f} % at most", "even curve"),
    (f"lines turn {FAN_DEGREES:.0f}° at most", "fan"),
    (f"20/60: {math.degrees(SHADE.half_angle):.1f}°", "solution 09.1, lean"),
    (f"cos 18.4° = {math.cos(SHADE.half_angle):.3f}", "solution 09.1, cosine"),
    (f"13.98 − 12.13 = {13.98 - 12.13:.2f}", "solution 09.2, difference"),
    (f"820/104.4 = {820 / 104.4:.2f}", "solution 09.2, ratio"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_ends_waists_and_verdicts_are_shown_as_the_library_has_them():
    roof = rc.cone_setting(rc.DEMO_MACHINE, rc.Sheet(thickness=0.76, width=math.hypot(80, 80)),
                           rc.MATERIALS["low-carbon steel, cold rolled"], 220, 60)
    ends = [rc.setting_for_radius(rc.DEMO_MACHINE, WALL, SOFT, bend) for bend in MIDDLE.wanted_radii[[-1, 0]]]
    for shown in (*ends, MIDDLE["even curve"], roof["even curve"]):
        assert repr(shown) in PRINTED
    assert f"the screws differ by {MIDDLE.turns_right - MIDDLE.turns_left:.1f} turns" in PRINTED
    assert f"{rc.cone_waist(220, 160):.1%} and {rc.cone_waist(220, 60):.1%}" in PRINTED
    assert f"{MIDDLE.verdict}\n\n{roof}" in PRINTED
    assert not any(check.exceeded for check in MIDDLE.checks)


def test_the_rule_to_remember_keeps_every_limit():
    """Small end two thirds of the large one, a lean of 20 degrees."""
    assert pytest.approx(1 / 3) == SLIP_SHARE, "the lesson says: a third of its way"
    for large in (180, 220, 300):
        small = large * 2 / 3 + 0.1
        remembered = cone(large, small, (large - small) / 2 / math.tan(math.radians(20)))
        assert not any(remembered[name].exceeded for name in ("even curve", "feed", "fan")), large


def test_a_wall_that_enters_curved_comes_out_some_one_per_cent_larger():
    for bend, travel in zip(MIDDLE.wanted_radii[[-1, 0]], TRAVELS, strict=True):
        for before in (1.25, 1.5, 2):
            out = rc.radius_for_travel(rc.DEMO_MACHINE, WALL, SOFT, travel, entering_radius=before * bend)
            assert 1.005 < out / bend < 1.015


def test_the_rule_of_thumb_promises_a_sixth_too_much():
    roof = cone(220, 60, 80)
    for made, ends in ((MIDDLE, (220, 160)), (roof, (220, 60))):
        assert 0.10 < 1 - -made.deviation.min() / rc.cone_waist(*ends) < 0.20


def test_the_panel_answers_its_own_questions():
    assert "Both ends are alike: a cylinder" in cone_on_rolls_picture(200, 200, 100, 0, "mm").sentence
    assert "Too much: even curve, feed, fan, travel." in cone_on_rolls_picture(220, 60, 80, 0, "mm").sentence
    assert "a gentle cone, as far as checked" in cone_on_rolls_picture(220, 160, 100, 0, "mm").sentence
    assert f"run on by {MIDDLE.slip:.1f} mm" in cone_feed_picture(220, 160, 100, 100, "mm").sentence


def test_both_rules_are_the_library_s():
    bend = told.bend_of_a_cone().result.rhs.subs({told.radius: 80, told.lean: math.atan(30 / 100)})
    assert MIDDLE.wanted_radii[0] == pytest.approx(float(bend))
    waist = told.waist_of_a_cone().result.rhs.subs({told.large_diameter: 220, told.small_diameter: 160})
    assert rc.cone_waist(220, 160) == pytest.approx(float(waist))


def test_a_screw_below_touch_is_called_so():
    sentence = cone_on_rolls_picture(300, 60, 60, 0, "mm").sentence
    assert "Left screw 10.1 turns below touch, right screw 34.0 turns" in sentence
    assert "-" not in sentence.replace("3003-H14", "")
