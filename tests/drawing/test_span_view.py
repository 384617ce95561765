"""The side view of the sheet between the rolls is true: it touches what it should, and says what it drew."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.machine.span_view import FURTHEST, sheet_line, span_view
from tests.drawing.layout import clipped, overlaps

STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
SHEET = rc.Sheet(thickness=0.76, width=240)
TIGHT = rc.DEMO_MACHINE.with_perfect_nip()
LOOSE = replace(TIGHT, nip_slack=0.2)
TRAVELS = [0.5, 2.0, 6.0, 10.0, 17.5, 25.0, 31.0]


def gap(line, centre, radius: float) -> float:
    """Return how near a line comes to a roll's surface, less half the thickness. [mm]"""
    fine = np.concatenate([np.linspace(a, b, 60) for a, b in itertools.pairwise(line)])
    return float(np.hypot(*(fine - np.array(centre, dtype=float)).T).min() - radius - 0.38)


def words(picture) -> str:
    """Return all words of a picture."""
    return " / ".join(mark.words for mark in picture.marks if isinstance(mark, Text))


@pytest.mark.parametrize("machine", [TIGHT, LOOSE], ids=["tight", "loose"])
@pytest.mark.parametrize("travel", TRAVELS)
def test_the_sheet_touches_all_three_rolls_and_enters_none(machine, travel):
    line = sheet_line(rc.setting_for_travel(machine, SHEET, STEEL, travel))
    upper = gap(line, machine.upper_roll_centre(0.76), 25)
    assert upper == pytest.approx(0, abs=0.02) or (machine is LOOSE and travel <= 2 and upper > 0)
    assert gap(line, machine.lower_roll_centre(0.76), 25) == pytest.approx(0, abs=0.02)
    assert gap(line, machine.bending_roll_centre(0.76, travel), 25) == pytest.approx(0, abs=0.02)


@pytest.mark.parametrize("travel", TRAVELS)
def test_behind_the_rolls_it_has_the_released_radius(travel):
    setting = rc.setting_for_travel(TIGHT, SHEET, STEEL, travel)
    (x0, y0), (x1, y1), (x2, y2) = sheet_line(setting)[[-120, -60, -1]]
    twice_area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
    sides = np.hypot(x1 - x0, y1 - y0) * np.hypot(x2 - x1, y2 - y1) * np.hypot(x2 - x0, y2 - y0)
    assert 2 * twice_area / sides == pytest.approx(1 / setting.released_radius, abs=1e-9)


def test_the_line_has_no_corner():
    line = sheet_line(rc.setting_for_travel(LOOSE, SHEET, STEEL, 17.5))
    steps = np.diff(line, axis=0)
    turns = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
    assert turns.max() < 0.08


def test_the_circle_is_the_one_through_the_rolls():
    picture = span_view(TIGHT, SHEET, STEEL, 17.5)
    (drawn,) = [
        mark for mark in picture.marks if isinstance(mark, Line) and mark.role == "loaded" and len(mark.points) > 9
    ]
    circle = rc.circle_radius(TIGHT, SHEET, 17.5)
    assert np.hypot(*(drawn.points - (0, circle)).T) == pytest.approx(circle)


def test_the_sentence_and_the_key_say_what_the_library_computes():
    setting = rc.setting_for_travel(TIGHT, SHEET, STEEL, 17.5)
    picture = span_view(TIGHT, SHEET, STEEL, 17.5)
    assert f"R {setting.loaded_radius:.1f} mm in the nip" in words(picture)
    assert f"R {setting.released_radius:.1f} mm let go" in words(picture)
    assert f"radius of {rc.circle_radius(TIGHT, SHEET, 17.5):.1f} mm" in picture.sentence
    assert f"leaves it at {setting.released_radius:.1f} mm" in picture.sentence
    inch = span_view(TIGHT, SHEET, STEEL, 17.5, "inch")
    assert f"leaves it at {setting.released_radius / 25.4:.2f} in" in inch.sentence


def test_a_sheet_that_stays_flat_is_told():
    assert "there is no circle yet. Nothing bends." in span_view(TIGHT, SHEET, STEEL, 0).sentence
    assert "sheet: flat" in words(span_view(TIGHT, SHEET, STEEL, 0))
    touched = span_view(TIGHT, SHEET, STEEL, 2)
    assert "has not yielded there, and leaves the rolls flat" in touched.sentence
    assert "flat let go" in words(touched)
    assert rc.radius_for_travel(TIGHT, SHEET, STEEL, 2) > FURTHEST


@pytest.mark.parametrize("travel", [0.0, *TRAVELS])
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_all_words_have_room(travel, units):
    picture = span_view(LOOSE, SHEET, STEEL, travel, units)
    assert overlaps(picture) == clipped(picture) == []
