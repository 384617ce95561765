"""The capacity chart shows the library's limits, and its sentence the library's verdict."""

from dataclasses import replace

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing import Line, Text
from rollcalc.drawing.capacity_view import capacity_view, chart_ends
from rollcalc.rolling.thickness_limits import thickness_limits
from tests.drawing.layout import clipped, overlaps

MACHINE = rc.DEMO_MACHINE
STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
BAR = rc.MATERIALS["mild steel bar, hot rolled"]
STAINLESS = rc.MATERIALS["stainless 304, annealed"]
BRASS = rc.MATERIALS["brass C260, half hard"]
CASES = [(rc.Sheet(1, 1), STEEL, 90.0), (rc.FlatBar(1, 1), BAR, 92.0), (rc.Sheet(1, 1), STAINLESS, 37.0),
         (rc.Sheet(1, 1), BRASS, 38.0), (rc.Sheet(1, 1), rc.MATERIALS["aluminium 1100-O"], 90.0)]  # fmt: skip
WIDTHS = np.array([10.0, 25.0, 60.0, 240.0, 500.0, 760.0])


def asked(kind, material, radius: float, thickness: float, width: float, machine=MACHINE):
    """Return the capacity of one piece."""
    return rc.check_capacity(machine, type(kind)(thickness, width), material, radius + thickness / 2)


@pytest.mark.parametrize(("kind", "material", "radius"), CASES)
def test_the_word_changes_at_the_curves(kind, material, radius):
    limits = thickness_limits(MACHINE, kind, material, radius, WIDTHS)
    for width, over, ask, under, name in zip(
        WIDTHS, limits.thickest, limits.asking, limits.thinnest, limits.binding, strict=True
    ):
        if under < 0.998 * over:
            assert asked(kind, material, radius, 1.002 * over, width)[name].ratio > 1
            assert asked(kind, material, radius, 1.002 * over, width).word == "beyond the plate"
        if max(under, ask) < 0.98 * over:
            assert asked(kind, material, radius, 0.998 * over, width).word == "at the plate: ask"
        if under < 0.98 * ask:
            assert asked(kind, material, radius, 0.995 * ask, width).word == "within the plate"
            assert asked(kind, material, radius, 1.005 * ask, width).word != "within the plate"
        if under > 0:
            assert asked(kind, material, radius, 0.99 * under, width)["smallest ring"].ratio > 1
            assert asked(kind, material, radius, 1.01 * under, width)["smallest ring"].ratio < 1


def test_by_moment_alone_the_curve_is_width_times_thickness_squared():
    stiff = replace(MACHINE, bending_roll_diameter=50, rated_material=STEEL.name)
    limits = thickness_limits(stiff, rc.Sheet(1, 1), STEEL, 90, np.array([500.0, 600.0, 760.0]))
    assert limits.binding == ("bending moment",) * 3
    assert limits.widths * limits.thickest**2 == pytest.approx(760 * 0.76**2, rel=1e-9)


def test_stock_beyond_the_rolls_has_no_thickness():
    limits = thickness_limits(MACHINE, rc.Sheet(1, 1), STEEL, 90, np.array([760.0, 761.0]))
    assert limits.thickest[1] == 0
    assert limits.binding[1] == "width"


def test_a_nip_that_opens_so_far_is_a_level_line():
    limits = thickness_limits(replace(MACHINE, nip_opening=2.0), rc.FlatBar(1, 1), BAR, 92, np.array([10.0, 25.0]))
    assert limits.thickest == pytest.approx([2.0, 2.0])
    assert limits.binding == ("nip opening", "nip opening")


def test_a_round_bar_is_refused():
    with pytest.raises(rc.InputError, match="lay a round bar in its groove"):
        thickness_limits(MACHINE, rc.RoundBar(6), BAR, 60, WIDTHS)


@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize(("thickness", "width"), [(0.76, 240), (3.0, 25), (3.3, 25), (6.0, 10), (1.0, 790)])
def test_marks_stand_where_the_library_puts_them(thickness, width, units):
    scale = 25.4 if units == "inch" else 1.0
    picture = capacity_view(MACHINE, rc.FlatBar(thickness, width), BAR, 92, units)
    outline = next(mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == "outline") * scale
    if width < 80:  # a part of the chart, without the ends of the rolls
        assert picture.axes.x_range == pytest.approx((0, 160 / scale))
    else:
        assert outline[-1] == pytest.approx((760, 0))
        outline = outline[:-1]
    limits = thickness_limits(MACHINE, rc.FlatBar(1, 1), BAR, 92, outline[:, 0])
    assert outline[:, 1] == pytest.approx(np.minimum(limits.thickest, 12.0), rel=2e-3)
    ring = next(mark for mark in picture.marks if isinstance(mark, Line) and mark.role == "sheet")
    assert ring.points[0] * scale == pytest.approx((width, thickness))
    found = asked(rc.FlatBar(1, 1), BAR, 92, thickness, width)
    assert picture.sentence.startswith(found.word.capitalize() + ". ")
    assert found.binding.message.split(": ", 1)[1] in picture.sentence
    assert picture.sentence.endswith("Plate and instructor win; stop if you struggle.")
    assert overlaps(picture) == clipped(picture) == []


def test_the_areas_are_named_and_not_only_coloured():
    picture = capacity_view(MACHINE, rc.Sheet(0.76, 240), STEEL, 90)
    words = {mark.words for mark in picture.marks if isinstance(mark, Text)}
    assert {"within the plate", "at the plate: ask", "beyond the plate", "your piece", "bending moment",
            "ends of the rolls"} <= words  # fmt: skip
    assert sum(mark.role == "hatch" for mark in picture.marks if isinstance(mark, Line)) == 2
    tight = capacity_view(MACHINE, rc.Sheet(0.76, 60), BRASS, 38)
    assert any(mark.words == "springs back too far" for mark in tight.marks if isinstance(mark, Text))
    assert "it springs back too far for this radius" in tight.sentence


def test_no_name_stands_in_the_wrong_area():
    """Where the metal is so soft that the chart ends before the limit, nothing is called beyond."""
    strong = replace(MACHINE, rated_thickness=2.0)
    picture = capacity_view(strong, rc.Sheet(1, 60), rc.MATERIALS["aluminium 1100-O"], 90)
    assert all(mark.words != "beyond the plate" for mark in picture.marks if isinstance(mark, Text))
    assert overlaps(picture) == clipped(picture) == []


def test_a_machine_without_a_plate_is_told_to_ask():
    picture = capacity_view(replace(MACHINE, rated_thickness=None), rc.Sheet(0.5, 100), STEEL, 90)
    assert picture.sentence.startswith("At the plate: ask.")
    assert "Not checked: the machine has no rated_thickness" in picture.sentence
    assert "Reason" not in picture.sentence


def test_the_chart_grows_with_the_machine():
    heavy = rc.PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                              working_width=1500, rated_thickness=6)  # fmt: skip
    assert chart_ends(heavy) == (1580, 18)
    picture = capacity_view(heavy, rc.Sheet(6, 1000), STEEL, 400)
    assert picture.axes.y_range == (0, 18)
    assert overlaps(picture) == clipped(picture) == []
