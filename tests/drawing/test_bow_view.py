"""The front view of the rolls shows the library's bows, a hundred times too large."""

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.machine.bow_view import ENLARGED, bow_view
from tests.drawing.layout import clipped, overlaps

STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
PRESSED = rc.DEMO_MACHINE


def setting(width: float) -> rc.Setting:
    """Return a sheet of this width in the pressed nip."""
    return rc.setting_for_radius(PRESSED, rc.Sheet(thickness=0.76, width=width), STEEL, 90)


@pytest.mark.parametrize(("width", "position"), [(240, 0), (20, 0), (20, 370), (760, 0), (100, -200)])
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_rolls_bow_as_the_library_says(width, position, units):
    found = setting(width)
    picture = bow_view(found, position, units)
    rolls = [mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == "roll"]
    straight = [mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == "centre"]
    forces = {"upper": found.inside_roll_force, "lower": found.front_roll_force, "bending": found.bending_roll_force}
    said = [mark.words for mark in picture.marks if isinstance(mark, Text) and mark.words.startswith("bows ")]
    for roll, line, words, (name, force) in zip(rolls, straight, said, forces.items(), strict=True):
        half = len(roll) // 2
        axle = (roll[:half] + roll[half:][::-1]) / 2
        place = np.linspace(-410, 410, half)
        bow = rc.roll_bow(PRESSED, found.stock, force, position=position, place=place, roll=name)
        way = 1 if name == "upper" else -1
        assert axle[:, 1] - line[0, 1] == pytest.approx(way * ENLARGED * bow, abs=1e-6)
        here = rc.roll_bow(PRESSED, found.stock, force, position=position, roll=name) / (25.4 if units == "inch" else 1)
        least, unit = (1e-4, "in") if units == "inch" else (1e-3, "mm")
        stress = rc.rolling.roll_stress(PRESSED, found.stock, force, position=position, roll=name)
        bows = f"bows {here:.2g} {unit}" if here >= least else f"bows below {least:g} {unit}"
        assert words == f"{bows}, {stress:.2g} MPa"
    assert overlaps(picture) == clipped(picture) == []


def test_the_sentence_says_what_every_roll_bears_and_that_the_front_rolls_work_hardest():
    found = setting(240)
    sentence = bow_view(found).sentence
    said = {}
    for name, force, words in (("upper", found.inside_roll_force, "the upper front roll has"),
                               ("lower", 2500.0, "the lower"),
                               ("bending", found.bending_roll_force, "N, has")):
        stress = rc.rolling.roll_stress(PRESSED, found.stock, force, roll=name)
        bow = rc.roll_bow(PRESSED, found.stock, force, roll=name)
        assert f"{words} {stress:.2g} MPa and bows {bow:.2g} mm" in sentence
        said[name] = stress
    assert "pinched with 2500 N" in sentence
    assert said["upper"] > said["lower"] > 10 * said["bending"]


def test_the_sentence_says_factor_and_radii():
    found = setting(240)
    force = found.bending_roll_force
    factor, whole = (rc.rolling.roll_stress(PRESSED, stock, force) for stock in (found.stock,
                                                                                 rc.Sheet(thickness=0.76, width=760)))
    factor /= whole
    sentence = bow_view(found).sentence
    assert f"Here a force strains a roll {factor:.2f} times as hard as over the full width" in sentence
    assert f"the bending roll, under {force:.0f} N, has" in sentence
    assert "bows are drawn 100 times too large" in sentence
    middle = rc.rolling.bowed_radii(found).middle_radius
    assert f"R 90.0 mm, the middle has up to {middle:.1f} mm, {100 * (middle / 90 - 1):.1f} % larger" in sentence


def test_the_stock_lies_where_it_was_put():
    picture = bow_view(setting(100), -200.0)
    sheets = [mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == "sheet"]
    assert len(sheets) == 2
    for sheet in sheets:
        assert sheet[:, 0] == pytest.approx([-250, -150])
    with pytest.raises(rc.InputError, match="position is 400 mm"):
        bow_view(setting(100), 400.0)
