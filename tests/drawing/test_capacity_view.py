"""The capacity chart shows the library's limits, and its sentence the library's verdict."""

from dataclasses import replace

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.machine.capacity_view import capacity_view, chart_ends
from rollcalc.rolling.limits.check import LAST_WORD
from rollcalc.rolling.limits.thickness import thickness_limits
from tests.drawing.layout import clipped, overlaps

MACHINE = rc.DEMO_MACHINE
STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
BAR = rc.MATERIALS["mild steel bar, hot rolled"]
STAINLESS = rc.MATERIALS["stainless 304, annealed"]
BRASS = rc.MATERIALS["brass C260, half hard"]
CASES = [(rc.Sheet(thickness=1, width=1), STEEL, 90.0), (rc.FlatBar(1, 1), BAR, 92.0),
         (rc.Sheet(thickness=1, width=1), STAINLESS, 37.0),
         (rc.Sheet(thickness=1, width=1), BRASS, 38.0),
         (rc.Sheet(thickness=1, width=1), rc.MATERIALS["aluminium 1100-O"], 90.0)]
WIDTHS = np.array([10.0, 25.0, 60.0, 240.0, 500.0, 760.0])


def asked(kind, material, radius: float, thickness: float, width: float, machine=MACHINE):
    """Return the capacity of one piece."""
    return rc.check_capacity(machine, type(kind)(thickness=thickness, width=width), material, radius + thickness / 2)


@pytest.mark.parametrize(("kind", "material", "radius"), CASES)
def test_the_word_changes_at_the_curves(kind, material, radius):
    limits = thickness_limits(MACHINE, kind, material, radius, WIDTHS)
    for width, over, ask, under, name in zip(
        WIDTHS, limits.thickest, limits.asking, limits.thinnest, limits.binding, strict=True
    ):
        if under < 0.998 * over:
            assert asked(kind, material, radius, 1.002 * over, width)[name].ratio > 1
            assert asked(kind, material, radius, 1.002 * over, width).word == "beyond the machine's rating"
        if max(under, ask) < 0.98 * over:
            assert asked(kind, material, radius, 0.998 * over, width).word == "close to the machine's rating"
        if under < 0.98 * ask:
            assert asked(kind, material, radius, 0.995 * ask, width).word == "within the machine's rating"
            assert asked(kind, material, radius, 1.005 * ask, width).word != "within the machine's rating"
        if 0 < under < np.inf:
            assert asked(kind, material, radius, 0.99 * under, width)["smallest ring"].ratio > 1
            assert asked(kind, material, radius, 1.01 * under, width)["smallest ring"].ratio < 1


def test_by_moment_alone_the_curve_is_width_times_thickness_squared():
    stiff = replace(MACHINE, bending_roll_diameter=50, rated_material=STEEL.name)
    limits = thickness_limits(stiff, rc.Sheet(thickness=1, width=1), STEEL, 90, np.array([500.0, 600.0, 760.0]))
    assert limits.binding == ("bending moment",) * 3
    assert limits.widths * limits.thickest**2 == pytest.approx(760 * 0.76**2, rel=1e-9)


def test_stock_beyond_the_rolls_has_no_thickness():
    limits = thickness_limits(MACHINE, rc.Sheet(thickness=1, width=1), STEEL, 90, np.array([760.0, 761.0]))
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
    if units == "mm" or found.binding.unit != "mm":
        assert found.binding.message in picture.sentence
    assert found["roll stress"].message[1:] in picture.sentence
    assert picture.sentence.endswith(LAST_WORD)
    assert overlaps(picture) == clipped(picture) == []


def test_the_reason_is_in_the_units_that_were_chosen():
    narrow, wide = rc.Sheet(thickness=0.76, width=240), rc.Sheet(thickness=0.76, width=790)
    assert "Reason: width 790 of 760 mm (104 %)" in capacity_view(MACHINE, wide, STEEL, 90).sentence
    sentence = capacity_view(MACHINE, wide, STEEL, 90, "inch").sentence
    assert "Reason: width 31.1 of 29.9 in (104 %)" in sentence
    for piece in (narrow, wide):
        assert " mm" not in capacity_view(MACHINE, piece, STEEL, 90, "inch").sentence
    heavy = capacity_view(MACHINE, rc.FlatBar(6.0, 10), BAR, 92, "inch").sentence
    assert asked(rc.FlatBar(1, 1), BAR, 92, 6.0, 10).binding.message in heavy  # no length, and as it was


def test_the_areas_are_named_and_not_only_coloured():
    picture = capacity_view(MACHINE, rc.Sheet(thickness=0.76, width=240), STEEL, 90)
    words = {mark.words for mark in picture.marks if isinstance(mark, Text)}
    assert {"within the rating", "close to the rating", "beyond the rating",
            "your piece", "bending moment",
            "blue: the pinch cannot hold it", "ends of the rolls"} <= words
    assert sum(mark.role == "hatch" for mark in picture.marks if isinstance(mark, Line)) == 2
    assert sum(mark.role == "roll" for mark in picture.marks if isinstance(mark, Line)) == 1
    tight = capacity_view(MACHINE, rc.Sheet(thickness=0.76, width=60), BRASS, 38)
    assert any(mark.words == "springs back too far" for mark in tight.marks if isinstance(mark, Text))
    assert "it springs back too far for this radius" in tight.sentence


@pytest.mark.parametrize(("machine", "radius"), [(MACHINE, 90), (replace(MACHINE, pinch_force=1000), 45)])
def test_where_the_pinch_cannot_hold_the_moment_chart_and_sentence_say_so(machine, radius):
    """2 mm sheet over most of the rolls: the forces that would hold it are beyond 1 kN, and nothing is computed."""
    limits = thickness_limits(machine, rc.Sheet(thickness=1, width=1), STEEL, radius, WIDTHS)
    for width, end in zip(WIDTHS[3:], limits.held[3:], strict=True):
        below, above = (asked(rc.Sheet(thickness=1, width=1), STEEL, radius, share * end, width,
                              machine) for share in (0.997, 1.003))
        assert np.isfinite(below.setting.travel)
        assert np.isinf(above.setting.travel)
        with pytest.raises(rc.InputError, match="pinch harder"):
            rc.setting_for_radius(machine, rc.Sheet(thickness=1.003 * end, width=width), STEEL,
                                  radius + 1.003 * end / 2)
    picture = capacity_view(machine, rc.Sheet(thickness=1.01 * limits.held[-1], width=760), STEEL, radius)
    assert "The pinch cannot hold it: pinch harder, or ask for a larger radius." in picture.sentence
    assert f"From {limits.held[-1]:.2f} mm the pinch cannot hold it." in picture.sentence
    assert any(mark.words == "blue: the pinch cannot hold it" for mark in picture.marks if isinstance(mark, Text))
    blue = next(mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == "roll")
    assert np.interp(500, blue[: len(blue) // 2, 0], blue[: len(blue) // 2, 1]) == pytest.approx(
        limits.held[-2], rel=6e-3
    )


def test_where_the_rolls_stand_too_far_apart_nobody_is_told_to_pinch_harder():
    wide = rc.PyramidMachine(top_roll_diameter=80, bottom_roll_diameter=70, bottom_roll_spacing=400, screw_pitch=2,
                             working_width=600)
    picture = capacity_view(wide, rc.Sheet(thickness=1.0, width=400), STEEL, 60)
    assert "No travel holds it: ask for a larger radius." in picture.sentence
    assert "pinch" not in picture.sentence


def test_pinching_harder_asks_at_any_thickness_since_the_front_rolls_bow():
    hard = replace(MACHINE, pinch_force=5000)
    limits = thickness_limits(hard, rc.FlatBar(1, 1), BAR, 92, np.array([25.0]))
    assert (limits.asking[0], limits.thinnest[0], limits.doubtful) == (0, 0, ("front-roll bow",))
    for thickness in (0.5, 3.0):
        assert asked(rc.FlatBar(1, 1), BAR, 92, thickness, 25, hard).word == "close to the machine's rating"
    picture = capacity_view(hard, rc.FlatBar(3, 25), BAR, 92)
    assert "At this width: close at any thickness (front-roll bow), beyond from" in picture.sentence
    assert overlaps(picture) == clipped(picture) == []


def test_a_check_without_an_end_or_without_a_groove_is_weighed_without_a_warning():
    apart = replace(MACHINE, guide_distance=200, guide_angle_degrees=90)
    assert not np.isfinite(rc.check_capacity(apart, rc.Sheet(thickness=0.76, width=240), STEEL, 60).binding.ratio)
    bare = replace(MACHINE, groove_diameters=(), groove_depths=(), groove_positions=())
    assert rc.check_capacity(bare, rc.RoundBar(5), BAR, 60).binding.name == "groove"


def test_without_a_plate_the_rolls_own_steel_is_the_first_limit():
    """Thicker sheet asks more of the pinch, until the upper front roll has all that its steel takes."""
    bare = replace(MACHINE, rated_thickness=None)
    limits = thickness_limits(bare, rc.Sheet(thickness=1, width=1), STAINLESS, 90, np.array([300.0, 600.0]))
    assert limits.binding == ("roll stress", "roll stress")
    for width, end in zip(limits.widths, limits.thickest, strict=True):
        stress = asked(rc.Sheet(thickness=1, width=1), STAINLESS, 90, end, width, bare)["roll stress"]
        assert stress.demand == pytest.approx(100, rel=2e-3)


def test_no_name_stands_in_the_wrong_area():
    """Where the metal is so soft that the chart ends before the limit, nothing is called beyond."""
    strong = replace(MACHINE, rated_thickness=2.0)
    picture = capacity_view(strong, rc.Sheet(thickness=1, width=60), rc.MATERIALS["aluminium 1100-O"], 90)
    assert all(mark.words != "beyond the machine's rating" for mark in picture.marks if isinstance(mark, Text))
    assert overlaps(picture) == clipped(picture) == []


def test_a_machine_without_a_plate_is_told_to_ask():
    picture = capacity_view(replace(MACHINE, rated_thickness=None), rc.Sheet(thickness=0.5, width=100), STEEL, 90)
    assert picture.sentence.startswith("Close to the machine's rating.")
    assert "Not checked: the machine has no rated_thickness" in picture.sentence
    assert "Reason" not in picture.sentence


def test_the_chart_grows_with_the_machine():
    heavy = rc.PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                              working_width=1500, rated_thickness=6)
    assert chart_ends(heavy) == (1580, 18)
    picture = capacity_view(heavy, rc.Sheet(thickness=6, width=1000), STEEL, 400)
    assert picture.axes.y_range == (0, 18)
    assert overlaps(picture) == clipped(picture) == []
