"""The blank of a cylinder: lengths add up, folds and trims lie where they should, the seam closes."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rollcalc.layout import ButtSeam, GroovedSeam, LapSeam, bend_length, cylinder_blank, neutral_axis_factor, rolled_up
from rollcalc.layout.neutral import RULES
from rollcalc.stock import InputError, Sheet

BODY = Sheet(thickness=0.76, width=240)


@given(st.floats(0.3, 6), st.floats(1, 1000))
def test_rolled_work_is_pi_times_the_mean_diameter(thickness: float, ratio: float) -> None:
    inside, sheet = 2 * ratio * thickness, Sheet(thickness=thickness, width=100)
    blanks = [cylinder_blank(sheet, inside_diameter=inside), cylinder_blank(sheet, mean_diameter=inside + thickness),
              cylinder_blank(sheet, outside_diameter=inside + 2 * thickness)]
    for blank in blanks:
        assert blank.length == pytest.approx(math.pi * (inside + thickness), rel=1e-12)
        assert blank.mean_diameter_length == pytest.approx(blank.length, rel=1e-12)
        assert blank.mean_diameter == pytest.approx(inside + thickness, rel=1e-12)
        assert blank.outside_diameter == pytest.approx(inside + 2 * thickness, rel=1e-12)
        assert blank.seam_allowance == 0
        assert blank.width == 100


@given(st.floats(0.3, 6), st.floats(20, 1000))
def test_all_rules_agree_within_a_thousandth_from_twenty_thicknesses(thickness: float, ratio: float) -> None:
    sheet = Sheet(thickness=thickness, width=100)
    lengths = [cylinder_blank(sheet, inside_diameter=2 * ratio * thickness, rule=rule).length for rule in RULES]
    assert max(lengths) / min(lengths) - 1 <= 0.001


@given(st.floats(1, 1000), st.floats(0.3, 6))
def test_rolled_the_area_seen_from_the_side_is_kept(ratio: float, thickness: float) -> None:
    # Without tension the thickness stays (Hill, 1950, from memory), and metal keeps its volume.
    blank = cylinder_blank(Sheet(thickness=thickness, width=50), inside_diameter=2 * ratio * thickness)
    ring = math.pi / 4 * (blank.outside_diameter**2 - blank.inside_diameter**2)
    assert blank.developed_length * thickness == pytest.approx(ring, rel=1e-12)
    assert blank.neutral_axis_factor == 0.5


def test_without_pull_the_middle_keeps_its_length_in_first_order() -> None:
    # Plane strain, no hardening, both faces free: the radial stress is ∓1.155 σ_y ln(r/r_face), so it meets where
    # ln(b/r) = ln(r/a), r = √(a b). That fibre is not being stretched now; it is off the middle by (t/R)²/8 only.
    for ratio in (5, 10, 20, 40):
        inside, outside = ratio - 0.5, ratio + 0.5  # in thicknesses
        now = math.sqrt(inside * outside)
        assert math.log(outside / now) == pytest.approx(math.log(now / inside), rel=1e-12)
        assert 1 - now / ratio == pytest.approx(1 / (8 * ratio**2), rel=0.02)


@given(st.floats(1, 15.9))
def test_small_radii_pressed_in_a_die_take_less_than_the_mean_diameter(ratio: float) -> None:
    blank = cylinder_blank(Sheet(thickness=2, width=50), inside_diameter=4 * ratio, rule="table")
    assert 0.34 < blank.neutral_axis_factor < 0.5
    assert blank.length < blank.mean_diameter_length
    assert blank.length == pytest.approx(bend_length(2 * ratio, 2, 2 * math.pi, blank.neutral_axis_factor), rel=1e-12)


def test_factors_broadcast_and_rise() -> None:
    ratios = np.linspace(1, 30, 200)
    for rule in RULES:
        factors = np.asarray(neutral_axis_factor(ratios, 1.0, rule))
        assert factors.shape == (200,)
        assert (np.diff(factors) >= 0).all()
        assert factors[-1] == 0.5


@pytest.mark.parametrize(
    ("seam", "trim", "allowance", "folds", "marks"),
    [
        (ButtSeam(), 0, 0, 0, 0),
        (ButtSeam(gap=2), 0, -2, 0, 0),
        (ButtSeam(), 60, 0, 0, 2),
        (LapSeam(10), 0, 10, 0, 1),
        (LapSeam(10), 40, 10, 0, 3),
        (LapSeam(16, rivet_diameter=4), 0, 16, 0, 2),
        (GroovedSeam(6), 0, 18 + 2 * 0.76, 2, 0),
        (GroovedSeam(6, fold_allowance=1), 0, 19, 2, 0),
    ],
)
def test_the_length_adds_up(
    seam: ButtSeam | LapSeam | GroovedSeam, trim: float, allowance: float, folds: int, marks: int
) -> None:
    blank = cylinder_blank(BODY, inside_diameter=180, seam=seam, trim=trim)
    assert blank.seam_allowance == pytest.approx(allowance)
    assert blank.length == pytest.approx(math.pi * 180.76 + allowance + trim)
    assert (len(blank.folds()), len(blank.marks())) == (folds, marks)
    assert blank.flat_pattern().size == pytest.approx((blank.length, 240))
    assert blank.area == pytest.approx(blank.length * 240)


@pytest.mark.parametrize(
    ("seam", "trim"), [(ButtSeam(), 0.0), (ButtSeam(), 50.0), (LapSeam(12), 30.0), (GroovedSeam(6), 0.0)]
)
def test_rolled_up_the_ring_closes(seam: ButtSeam | LapSeam | GroovedSeam, trim: float) -> None:
    blank = cylinder_blank(BODY, inside_diameter=180, seam=seam, trim=trim)
    first = trim / 2 + blank.edge_allowances[0]
    last = blank.length - trim / 2 - blank.edge_allowances[1]
    one, two = rolled_up(blank, [(first, 70), (last, 70)])
    assert np.abs(one - two).max() < 1e-9
    assert np.hypot(*one[:2]) == pytest.approx(90.38, rel=1e-12)
    assert one == pytest.approx([90.38, 0, 70], abs=1e-9)  # the joint lies on x, whatever the seam adds


def test_a_gap_stays_open_by_its_width() -> None:
    blank = cylinder_blank(BODY, inside_diameter=180, seam=ButtSeam(gap=3))
    one, two = rolled_up(blank, [(0, 0), (blank.length, 0)])
    angle = math.acos(float(np.dot(one, two)) / blank.neutral_radius**2)
    assert angle * blank.neutral_radius == pytest.approx(3, rel=1e-6)


def test_hooks_of_a_lock_seam_cover_each_other() -> None:
    blank = cylinder_blank(BODY, inside_diameter=180, seam=GroovedSeam(6))
    up, down = (rolled_up(blank, line)[0] for line in blank.folds())
    angle = math.acos(float(np.dot(up[:2], down[:2])) / blank.neutral_radius**2)
    apart = angle * blank.neutral_radius
    assert apart == pytest.approx(6 + 2 * 0.76, rel=1e-6)
    assert apart == pytest.approx(blank.seam.finished_width(0.76), abs=0.5 * 0.76 + 1e-9)  # type: ignore[union-attr]


@given(st.floats(3, 20), st.floats(0.3, 1.5))
def test_both_widths_of_a_lock_seam_and_its_groover(width: float, thickness: float) -> None:
    seam = GroovedSeam(width)
    blank = cylinder_blank(Sheet(thickness=thickness, width=100), inside_diameter=300, seam=seam)
    up, down = (line[0][0] for line in blank.folds())
    assert (up, blank.length - down) == pytest.approx((width, width))  # what is turned over
    assert seam.finished_width(thickness) > width
    assert 0.5 < seam.groover_width(thickness) - seam.finished_width(thickness) < 3


@pytest.mark.parametrize("thickness", [0, -1, math.nan, "thick", None])
def test_widths_of_a_lock_seam_want_a_thickness(thickness: float) -> None:
    for width in (GroovedSeam(6).finished_width, GroovedSeam(6).groover_width):
        with pytest.raises(InputError, match=r"^thickness is "):
            width(thickness)


def test_rivet_rows_come_together() -> None:
    blank = cylinder_blank(BODY, inside_diameter=180, seam=LapSeam(16, rivet_diameter=4))
    one, two = (rolled_up(blank, line)[0] for line in blank.marks())
    assert np.abs(one - two).max() < 1e-9


def test_a_lap_line_marks_where_the_other_edge_comes() -> None:
    blank = cylinder_blank(BODY, inside_diameter=180, seam=LapSeam(12), trim=40)
    lap, edge = rolled_up(blank, [blank.marks()[2][0], blank.marks()[0][0]])
    assert np.abs(lap - edge).max() < 1e-9


def test_the_little_for_the_folds_is_what_tight_folds_take() -> None:
    thickness, width = 0.8, 6.0  # the width of the turned edge
    over_all = GroovedSeam(width).finished_width(thickness)
    inside = thickness / 2  # a hook closes on one thickness
    fold = bend_length(inside, thickness, math.pi, neutral_axis_factor(inside, thickness, "DIN 6935"))
    flange = over_all - 3 * thickness  # ends where the other's fold begins, and begins where its own fold ends
    assert flange + 1.5 * thickness == pytest.approx(width)  # from the outside of the fold to the raw edge
    straight = (over_all - 1.5 * thickness) + flange
    joint = 2 * (straight + float(fold)) - over_all
    step = 3 * thickness * (math.sqrt(2) - 1)
    assert (joint - 3 * width) / thickness == pytest.approx(0.2, abs=0.1)
    assert step / thickness == pytest.approx(1.2, abs=0.05)
    assert joint + step == pytest.approx(GroovedSeam(width).allowance(thickness), abs=0.6 * thickness)


def test_each_seam_says_what_it_leaves_open() -> None:
    seams = (ButtSeam(), LapSeam(10), GroovedSeam(6))
    assert [seam.can_be_trimmed for seam in seams] == [True, True, False]
    for seam in seams:
        assert ("can be trimmed" in seam.flat_end_remedy) == seam.can_be_trimmed
        assert "end for end" in seam.flat_end_remedy
        assert seam.flat_end_remedy.count(".") == seam.nip_advice.count(".") == 1
    assert "slacken the pinch" in GroovedSeam(6).nip_advice


def test_a_folded_seam_is_not_trimmed() -> None:
    with pytest.raises(InputError, match=r"^trim is 20 mm, but must be 0 mm with this seam: A lock seam folded"):
        cylinder_blank(BODY, inside_diameter=180, seam=GroovedSeam(6), trim=20)


def test_the_words_round_the_rolls_stand_in_the_middle_of_the_blank() -> None:
    blank = cylinder_blank(BODY, inside_diameter=180, seam=GroovedSeam(6))
    words = next(label for label in blank.flat_pattern().labels if label.words == "this way round the rolls")
    assert words.at == pytest.approx((blank.length / 2, blank.width / 2))
