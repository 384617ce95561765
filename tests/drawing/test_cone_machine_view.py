"""What the pictures of a cone on the machine draw is what the library computed."""

import math

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.machine.cone_machine_view import cone_feed_view, cone_on_rolls_view

SKIRT = rc.cone_setting(
    rc.DEMO_MACHINE, rc.Sheet(thickness=0.8, width=math.hypot(100, 30)), rc.MATERIALS["aluminium 3003-H14"], 220, 160
)
PATTERN = rc.frustum_pattern(220, 160, 100)


def lines(picture, role):
    return [mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == role]


def words(picture):
    return [mark.words for mark in picture.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_roll_stands_its_travel_above_touch_at_both_screws(side):
    made = rc.cone_setting(
        rc.DEMO_MACHINE,
        rc.Sheet(thickness=0.8, width=math.hypot(100, 30)),
        rc.MATERIALS["aluminium 3003-H14"],
        220,
        160,
        small_end=side,
    )
    picture = cone_on_rolls_view(rc.DEMO_MACHINE, made, small_end=side)
    axle = lines(picture, "centre")[0]
    touch = np.mean(lines(picture, "hidden")[0][:, 1])
    assert axle[:, 0].tolist() == [-410, 410]
    assert axle[:, 1] - touch == pytest.approx([made.travel_left, made.travel_right])
    wall = lines(picture, "sheet")[0]
    assert wall[1, 0] - wall[0, 0] == pytest.approx(made.places[-1])
    named = [text for text in words(picture) if text.endswith("end")]
    assert named == (["large end", "small end"] if side == "right" else ["small end", "large end"])


def test_the_cone_drawn_is_the_one_wanted_and_the_one_rolled():
    picture = cone_on_rolls_view(rc.DEMO_MACHINE, SKIRT)
    for role, radii in (("outline", SKIRT.wanted_radii), ("released", SKIRT.released_radii)):
        shape = lines(picture, role)[0]
        widths = np.array([np.ptp(shape[np.isclose(shape[:, 1], height), 0]) for height in np.unique(shape[:, 1])])
        scale = widths[0] / 220
        assert widths[::-1] == pytest.approx(2 * radii * math.cos(SKIRT.half_angle) * scale)
        assert np.ptp(shape[:, 1]) == pytest.approx(100 * scale)
    rows = [text for text in words(picture) if ", rolled" in text]
    assert rows[0] == f"{SKIRT.wanted_radii[-1]:.1f} mm, rolled {SKIRT.released_radii[-1]:.1f} mm"
    assert rows[2] == f"{SKIRT.wanted_radii[10]:.1f} mm, rolled {SKIRT.released_radii[10]:.1f} mm"


def test_the_verdict_ends_the_sentence():
    assert cone_on_rolls_view(rc.DEMO_MACHINE, SKIRT).sentence.endswith(f"Verdict: {SKIRT.verdict}")
    assert SKIRT.verdict.endswith("stop.")


@pytest.mark.parametrize("share", [0.0, 0.3, 1.0])
def test_the_pattern_turns_about_the_cones_point(share):
    picture = cone_feed_view(PATTERN, share)
    tip = np.array([PATTERN.outer_radius, 0.0])
    for role in ("hidden", "sheet"):
        reach = np.hypot(*(lines(picture, role)[0] - tip).T)
        assert np.minimum(np.abs(reach - PATTERN.outer_radius), np.abs(reach - PATTERN.inner_radius)).max() < 1e-9
    through = lines(picture, "hidden")[0]
    lead = through[0] - tip
    turned = math.pi - math.atan2(lead[1], lead[0]) if share else 0.0
    assert turned == pytest.approx(share * PATTERN.sector_angle)


def test_the_bars_are_as_long_as_the_ends_have_gone():
    picture = cone_feed_view(PATTERN, 0.6)
    whole, _ = (np.ptp(box[:, 0]) for box in lines(picture, "guide") if len(box) == 4)
    large, small = (np.ptp(box[:, 0]) for box in lines(picture, "roll") if len(box) == 4)
    (slip,) = (np.ptp(box[:, 0]) for box in lines(picture, "released piece"))
    assert [large / whole, small / large, (small + slip) / large] == pytest.approx([0.6, 160 / 220, 1])
    assert f"{0.6 * math.pi * 60:.1f} mm" in picture.sentence


def test_equal_ends_do_not_slip():
    picture = cone_feed_view(rc.frustum_pattern(200, 200, 80), 0.5)
    assert picture.sentence == "Equal ends: both have gone 314.2 mm, and nothing slips."
    assert not lines(picture, "released piece")
