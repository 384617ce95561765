"""What the pictures of lesson 06 draw is what the library computed, at the places where it belongs."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.passes.askew_view import askew_view
from rollcalc.drawing.passes.ends_view import ends_view
from rollcalc.drawing.passes.parallel_view import ENLARGED, GAP_ENLARGED, parallel_view
from rollcalc.drawing.passes.pass_view import pass_view
from rollcalc.drawing.passes.zeroing_view import ROLL, ROLLS, STRIP, TURN, zeroing_view
from rollcalc.rolling.effort import crank_work
from rollcalc.rolling.passes.plan import pass_settings
from tests.drawing.layout import clipped, overlaps

STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
BODY = rc.Sheet(thickness=0.76, width=240)
RING = 2 * math.pi * 90.38


def lines(picture, role):
    return [mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == role]


def words(picture):
    return [mark.words for mark in picture.marks if isinstance(mark, Text)]


def length(line):
    return float(np.hypot(*np.diff(line, axis=0).T).sum())


@pytest.mark.parametrize("number", [1, 2, 6])
def test_the_blank_keeps_its_length_and_has_the_radius_of_each_pass(number):
    settings = pass_settings(rc.DEMO_MACHINE, BODY, STEEL, 90, number)
    picture = pass_view(settings)
    arcs = [*lines(picture, "released"), *lines(picture, "sheet")]
    assert len(arcs) == number
    for arc, radius in zip(arcs, settings.released_radius, strict=True):
        assert length(arc) == pytest.approx(2 * math.pi * 90, rel=1e-3)
        assert np.hypot(arc[:, 0], arc[:, 1] - radius) == pytest.approx(radius, rel=1e-9)
    assert arcs[-1][0] == pytest.approx(arcs[-1][-1], abs=1e-6)  # the last one is a closed ring


def test_the_bars_are_the_forces_against_the_limit():
    settings = pass_settings(rc.DEMO_MACHINE, BODY, STEEL, 90, 4)
    picture, effort = pass_view(settings), rc.crank_effort(settings)
    limit = lines(picture, "outline")[0][0, 0]
    for role, forces in (("released piece", effort.crank_force_least), ("held piece", effort.crank_force)):
        bars = lines(picture, role)
        left = bars[0][:, 0].min()
        assert [np.ptp(bar[:, 0]) for bar in bars] == pytest.approx(forces * (limit - left) / 50.0)
    assert f"{effort.crank_force_least[3]:.1f} … {effort.crank_force[3]:.0f} N" in words(picture)
    assert "one person: 50 N" in words(picture)


def test_the_work_is_drive_times_length_and_bearings_come_on_top():
    for number in (1, 3):
        settings = pass_settings(rc.DEMO_MACHINE, BODY, STEEL, 90.38, number)
        metal, whole = crank_work(settings)
        assert metal == pytest.approx(float(np.sum(settings.drive_force)) * RING, rel=1e-9)
        assert whole > number * metal
        geared = replace(settings, machine=replace(rc.DEMO_MACHINE, gear_ratio=4))
        assert crank_work(geared) == pytest.approx((metal, whole), rel=1e-9)  # gears change force, not work
        assert f"{metal / 1000:.0f} J for the metal, and {whole / 1000:.0f} J" in pass_view(settings).sentence


def test_rolls_that_slip_are_told():
    slippery = replace(rc.DEMO_MACHINE, grip_friction=0.001)
    assert "slip" in pass_view(pass_settings(slippery, BODY, STEEL, 90, 1)).sentence
    assert "slip" not in pass_view(pass_settings(rc.DEMO_MACHINE, BODY, STEEL, 90, 1)).sentence


@pytest.mark.parametrize("turns", [(13.0, 12.875), (12.875, 13.0)])
def test_the_roll_is_tilted_by_its_screws_and_the_joint_gapes_at_the_wider_end(turns):
    cone = rc.rolling.taper(rc.DEMO_MACHINE, BODY, STEEL, *turns)
    picture = parallel_view(rc.DEMO_MACHINE, 240, cone, turns)
    axle = lines(picture, "centre")[0]
    assert axle[1, 1] - axle[0, 1] == pytest.approx((turns[1] - turns[0]) * 1.5 * ENLARGED)
    ring = next(
        mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == "sheet" and mark.closed
    )
    for side, radius in ((-120, cone.radius_left), (120, cone.radius_right)):
        assert np.ptp(ring[ring[:, 0] == side, 1]) == pytest.approx(2 * radius)
    (joint,) = lines(picture, "released piece")
    wide = 120 if cone.radius_right > cone.radius_left else -120
    assert np.ptp(joint[joint[:, 0] == wide, 1]) == pytest.approx(GAP_ENLARGED * cone.joint_mismatch)
    assert np.ptp(joint[joint[:, 0] == -wide, 1]) == 0
    assert f"gapes {cone.joint_mismatch:.2f} mm at the other" in picture.sentence


def test_screws_alike_leave_no_gap():
    alike = rc.rolling.taper(rc.DEMO_MACHINE, BODY, STEEL, 11.6, 11.6)
    picture = parallel_view(rc.DEMO_MACHINE, 240, alike, (11.6, 11.6))
    assert not lines(picture, "released piece")
    assert picture.sentence.startswith("Both screws alike")


@pytest.mark.parametrize("start", [(0.75, 0.25), (0, 1), (0.5, 0.5), (0.3, 0.7)])
def test_the_strip_of_steps_shows_every_gap_and_every_turn(start):
    steps = rc.rolling.zeroing_steps(*start)
    picture = zeroing_view(steps)
    assert overlaps(picture) == clipped(picture) == []
    rolls = lines(picture, "roll")
    for step, upper, lower in zip(steps, rolls[::2], rolls[1::2], strict=True):
        under = upper[:, 1].min() - STRIP
        for end, gap in zip(ROLLS, (step.gap_left, step.gap_right), strict=True):
            assert under - lower[lower[:, 0] == end, 1].max() == pytest.approx(TURN * gap)
            assert np.ptp(lower[lower[:, 0] == end, 1]) == pytest.approx(ROLL)
    turned = sum((one.gap_left != two.gap_left) + (one.gap_right != two.gap_right)
                 for one, two in pairwise(steps))
    assert len(lines(picture, "released")) == turned
    assert "".join(" ".join(words(picture)).split()).count("".join(steps[2].words.split())) == 1


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_start_of_a_ring_is_the_march_s_and_says_its_numbers(units):
    ends = rc.flat_ends(rc.DEMO_MACHINE, BODY, STEEL, 90.38)
    for remedy in (None, *ends.remedies):
        picture = ends_view(ends, remedy, units)
        assert overlaps(picture) == clipped(picture) == []
        (marched, *_) = lines(picture, "sheet")
        assert marched[:, 1].max() == pytest.approx(ends.kink_ratio)
        inch = 25.4 if units == "inch" else 1
        assert marched[marched[:, 1].argmax(), 0] * inch == pytest.approx(ends.kink_position, abs=1.5)
        assert {"flat", "kink", "dip", "steady"} <= set(words(picture))
        for said in (ends.leading, ends.kink_position):
            assert rc.format_length(said, units) in picture.sentence
        cut = [rc.format_length(length, units) for length in (ends.trim, ends.trailing_trim)]
        assert f"cut off {cut[0]} here and {cut[1]} at the other end" in picture.sentence
        assert picture.sentence.endswith(f"Machine: {rc.DEMO_MACHINE.name}, a pinch of 2500 N.")
        if remedy is not None:
            assert remedy.name in words(picture)
            assert max(lines(picture, "released")[0][:, 1]) <= remedy.kink_ratio + 1e-9
            assert f"{remedy.kink_ratio:.1f} times the steady one" in picture.sentence


@pytest.mark.parametrize("skew", [0.2, 0.5, 1.5])
def test_the_edges_miss_by_what_the_library_says(skew):
    picture = askew_view(90.38, 240, skew)
    assert overlaps(picture) == clipped(picture) == []
    upper, lower = lines(picture, "sheet")
    offset = rc.rolling.seam_offset(90.38, skew)
    assert lower[:, 0].max() - upper[0, 0] == pytest.approx(offset + 240, rel=1e-9)  # right edge below, left edge above
    assert upper[:, 1].min() == pytest.approx(lower[:, 1].max())
    front = lines(picture, "outline")[0]
    assert front[1, 1] - front[2, 1] == pytest.approx(240 * math.tan(math.radians(skew)))
    assert f"{rc.format_length(offset)} between the edges" in picture.sentence
