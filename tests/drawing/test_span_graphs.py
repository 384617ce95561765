"""The graphs of the sheet between the rolls show the library's numbers."""

from dataclasses import replace

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.machine.span_graphs import along_picture, pinch_picture, rules_picture
from tests.drawing.layout import clipped, overlaps

STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
SHEET = rc.Sheet(thickness=0.76, width=240)
MACHINE = rc.DEMO_MACHINE.with_perfect_nip()
LOOSE = replace(MACHINE, nip_slack=0.02)


def lines(picture, role: str) -> list[np.ndarray]:
    """Return the points of the curves in a role; two points are a helping line."""
    return [mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == role]


@pytest.mark.parametrize("machine", [MACHINE, LOOSE], ids=["tight", "loose"])
@pytest.mark.parametrize("radius", [60, 90.38, 300])
def test_curvature_falls_from_the_loaded_to_the_released(machine, radius):
    picture = along_picture(machine, SHEET, STEEL, radius)
    setting = rc.setting_for_radius(machine, SHEET, STEEL, radius)
    (sheet,) = lines(picture, "sheet")
    top = sheet[:, 1].argmax()
    assert sheet[top] == pytest.approx((0, 1000 / setting.loaded_radius), rel=1e-9, abs=1e-9)
    assert sheet[-1, 1] == pytest.approx(1000 / radius)
    assert np.all(np.diff(sheet[top:, 1]) < 0)
    assert lines(picture, "released")[0][:, 1] == pytest.approx(1000 / radius)
    assert lines(picture, "loaded")[0][:, 1] == pytest.approx(1000 / rc.circle_radius(machine, SHEET, setting.travel))
    turned = np.trapezoid(sheet[top:, 1], sheet[top:, 0]) / 1000
    assert turned == pytest.approx(setting.contact_angle, rel=1e-3)  # the area under curvature is the slope
    assert f"falls from {rc.bending_moment(SHEET, STEEL, 1 / setting.loaded_radius) / 1000:.1f} N m" in picture.sentence
    assert overlaps(picture) == clipped(picture) == []


def test_the_height_above_what_stays_is_moment_over_stiffness():
    setting = rc.setting_for_radius(MACHINE, SHEET, STEEL, 90.38)
    shape = rc.span_shape(setting, points=40)
    (sheet,) = lines(along_picture(MACHINE, SHEET, STEEL, 90.38), "sheet")
    lifted = shape.moment / rc.bending.bending_stiffness(SHEET, STEEL)
    assert sheet[:, 1] - 1000 / 90.38 == pytest.approx(1000 * lifted, abs=1e-6)


def test_each_rule_s_curve_is_the_rule():
    picture = rules_picture(MACHINE, SHEET, STEEL, turns=11.65)
    travel = 11.65 * MACHINE.screw_pitch
    circle = rc.circle_radius(MACHINE, SHEET, travel)
    wanted = {
        "loaded": circle,
        "hidden": rc.released_radius(SHEET, STEEL, circle),
        "released": rc.rolling.two_thirds_radius(MACHINE, SHEET, STEEL, travel),
        "sheet": rc.radius_for_travel(MACHINE, SHEET, STEEL, travel),
    }
    for role, radius in wanted.items():
        (curve,) = lines(picture, role)
        assert np.interp(11.65, *curve.T) == pytest.approx(radius, rel=2e-3)
        assert f"{radius:.1f} mm" in picture.sentence
    assert overlaps(picture) == clipped(picture) == []


@pytest.mark.parametrize("radius", [60, 90, 300])
@pytest.mark.parametrize("force", [1000, 2500, 10_000])
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_curve_over_the_pinch_is_the_library_s(radius, force, units):
    picture = pinch_picture(LOOSE, SHEET, STEEL, radius, force, units)  # the machine's own slack does not count
    travel = rc.setting_for_radius(MACHINE, SHEET, STEEL, radius).travel
    scale = 25.4 if units == "inch" else 1.0
    curve = next(points for points in lines(picture, "released") if len(points) > 9)
    for pressed, drawn in curve[[0, len(curve) // 2, -1]]:
        machine = replace(MACHINE, pinch_force=float(pressed))
        assert drawn * scale == pytest.approx(rc.radius_for_travel(machine, SHEET, STEEL, travel))
    assert np.all(np.diff(curve[:, 1]) < 0)  # the harder the pinch, the nearer to the perfect nip
    assert curve[-1, 1] * scale > radius
    now = rc.radius_for_travel(replace(MACHINE, pinch_force=force), SHEET, STEEL, travel)
    if now < 100 * radius:
        shown = f"{now / 25.4:.2f} in" if units == "inch" else f"{now:.1f} mm"
        assert any(mark.words == shown for mark in picture.marks if isinstance(mark, Text))
        assert f"A pinch of {force} N makes it {shown}" in picture.sentence
    else:
        assert "cannot hold the moment" in picture.sentence
    assert overlaps(picture) == clipped(picture) == []
