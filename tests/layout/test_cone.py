"""A frustum pattern is exact: arcs are circumferences, its limits are cone and cylinder, and it rolls up shut."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rollcalc.layout import (
    FrustumPattern,
    arc_ordinates,
    baseline_layout,
    frustum_pattern,
    mid_thickness_frustum,
    rolled_up,
)
from rollcalc.layout.bench import stepped_arc_error
from tests.layout.shapes import ROOF, SKIRT, frustums

EXACT = 1e-12


@given(frustums(most_ratio=0.999))
def test_arcs_are_circumferences_and_area_is_that_of_the_side(cone: FrustumPattern) -> None:
    angle = cone.sector_angle * cone.pieces
    assert angle * cone.outer_radius == pytest.approx(math.pi * cone.large_diameter, rel=EXACT)
    assert angle * cone.inner_radius == pytest.approx(math.pi * cone.small_diameter, rel=EXACT)
    assert cone.outer_radius - cone.inner_radius == pytest.approx(
        cone.slant, rel=EXACT * cone.outer_radius / cone.slant
    )
    radii = (cone.large_diameter + cone.small_diameter) / 2
    assert cone.area * cone.pieces == pytest.approx(math.pi * radii * cone.slant, rel=EXACT)
    ring = cone.sector_angle / 2 * (cone.outer_radius - cone.inner_radius) * (cone.outer_radius + cone.inner_radius)
    assert cone.area == pytest.approx(ring, rel=EXACT * cone.outer_radius / cone.slant)
    assert angle < 2 * math.pi


@given(st.floats(20, 2000), st.floats(0.05, 5))
def test_a_full_cone_is_a_sector(diameter: float, tall: float) -> None:
    cone = frustum_pattern(diameter, 0, height=tall * diameter)
    assert cone.inner_radius == 0
    assert cone.outer_radius == pytest.approx(cone.slant, rel=EXACT)
    assert cone.area == pytest.approx(math.pi * diameter / 2 * cone.slant, rel=EXACT)
    assert cone.sector_angle == pytest.approx(2 * math.pi * math.sin(cone.half_angle), rel=EXACT)


@given(st.floats(20, 2000), st.floats(0.05, 5))
def test_a_cylinder_is_a_rectangle(diameter: float, tall: float) -> None:
    tube = frustum_pattern(diameter, diameter, height=tall * diameter)
    length = math.pi * diameter
    corners = [(-length / 2, 0), (length / 2, 0), (length / 2, tube.height), (-length / 2, tube.height)]
    assert tube.outline()[:-1].ravel() == pytest.approx(np.ravel(corners), rel=EXACT, abs=1e-9 * diameter)
    assert tube.outer_radius == tube.inner_radius == math.inf
    assert tube.sector_angle == tube.rise() == 0
    assert tube.chord() == pytest.approx(length, rel=EXACT)


@pytest.mark.parametrize("narrowing", [1e-3, 1e-6, 1e-9, 1e-12])
def test_near_the_cylinder_nothing_jumps(narrowing: float) -> None:
    tube, nearly = frustum_pattern(200, 200, height=150), frustum_pattern(200, 200 * (1 - narrowing), height=150)
    for end in ("large", "small"):
        assert nearly.chord(end) == pytest.approx(tube.chord(end), rel=1.01 * narrowing + EXACT)
    corners = nearly.at([-nearly.arc() / 2, nearly.arc() / 2] * 2, [0, 0, nearly.slant, nearly.slant])
    assert corners[:, 0] == pytest.approx(np.array([-1, 1, -1, 1]) * math.pi * 100, rel=2 * narrowing + EXACT)
    assert corners[:, 1] == pytest.approx([0, 0, 150, 150], abs=1000 * narrowing + 1e-9)


@given(frustums())
def test_slant_and_height_are_two_ways_to_say_it(cone: FrustumPattern) -> None:
    again = frustum_pattern(cone.large_diameter, cone.small_diameter, slant=cone.slant)
    assert again.slant == pytest.approx(cone.slant, rel=EXACT)
    assert again.height == pytest.approx(cone.height, rel=1e-9)


@given(frustums(), st.sampled_from(["large", "small"]), st.integers(1, 24))
def test_chord_and_rise_are_those_of_the_arc(cone: FrustumPattern, end: str, parts: int) -> None:
    up = 0.0 if end == "large" else cone.slant
    step = cone.arc() / parts
    ends = cone.at([-step / 2, step / 2], up)
    assert cone.chord(end, parts) == pytest.approx(float(np.linalg.norm(ends[1] - ends[0])), abs=1e-9)
    middle = cone.at([0.0], up)[0]
    assert cone.rise(end, parts) == pytest.approx(float(np.linalg.norm(middle - ends.mean(axis=0))), abs=1e-8)


@given(frustums())
def test_rolled_up_the_seam_closes_and_the_ends_are_round(cone: FrustumPattern) -> None:
    up = np.linspace(0, cone.slant, 9)
    half = cone.arc() / 2
    left, right = cone.rolled_up(cone.at(-half, up)), cone.rolled_up(cone.at(half, up))
    turn = -2 * math.pi / cone.pieces  # the next piece begins where this one ends
    turned = left @ np.array([[math.cos(turn), math.sin(turn), 0], [-math.sin(turn), math.cos(turn), 0], [0, 0, 1]])
    assert np.abs(turned - right).max() < 1e-9
    for along_end, diameter, height in ((0.0, cone.large_diameter, 0.0),
                                        (cone.slant, cone.small_diameter, cone.height)):
        x, y, z = cone.rolled_up(cone.at(np.linspace(-half, half, 25), along_end)).T
        assert np.hypot(x, y) == pytest.approx(diameter / 2, abs=1e-9)
        assert z == pytest.approx(height, abs=1e-9)


@given(frustums(least_ratio=0.05), st.floats(-0.45, 0.45), st.floats(0.05, 0.95), st.floats(0, 2 * math.pi))
def test_rolling_up_stretches_nothing(cone: FrustumPattern, share: float, rise: float, way: float) -> None:
    here = cone.at([share * cone.arc()], rise * cone.slant)[0]
    step = 1e-4 * min(cone.slant, cone.small_diameter)
    there = here + step * np.array([math.cos(way), math.sin(way)])
    one, two = rolled_up(cone, [here, there])
    assert np.linalg.norm(two - one) == pytest.approx(step, rel=1e-5)


@given(frustums(least_ratio=0.02), st.floats(1e-3, 1))
def test_outline_stays_within_the_chord_error(cone: FrustumPattern, error: float) -> None:
    half = cone.arc() / 2
    for up, radius in ((0.0, cone.outer_radius), (cone.slant, cone.inner_radius)):
        line = cone.edge(up, -half, half, error)
        if math.isfinite(radius):
            middles = (line[1:] + line[:-1]) / 2
            off = radius - np.hypot(middles[:, 0], cone.outer_radius - middles[:, 1])
            assert off.max() <= error * 1.0001 + 1e-9 * radius


def test_a_coarse_outline_has_few_points_and_a_fine_one_is_near() -> None:
    few, many = ROOF.outline(1.0), ROOF.outline(0.001)
    assert len(few) < 40 < len(many) < 1000
    assert (few[0] == few[-1]).all()


@pytest.mark.parametrize("sides", [(1, 1), (1, -1), (-1, 1), (-1, -1)])
def test_mid_thickness_puts_the_faces_back(sides: tuple[int, int]) -> None:
    thickness, height, sizes = 3.0, 100.0, (220.0, 140.0)
    words = {1: "inside", -1: "outside"}
    asked = {f"{end}_{words[side]}_diameter": size
             for end, side, size in zip(("large", "small"), sides, sizes, strict=True)}
    middle = mid_thickness_frustum(thickness, height, **asked)
    normal = np.array([math.cos(middle.half_angle), math.sin(middle.half_angle)])  # outwards, and towards the point
    large = np.array([middle.large_diameter / 2, 0]) - sides[0] * thickness / 2 * normal
    small = np.array([middle.small_diameter / 2, middle.height]) - sides[1] * thickness / 2 * normal
    assert (2 * large[0], 2 * small[0]) == pytest.approx(sizes, rel=EXACT)
    assert small[1] - large[1] == pytest.approx(height, rel=EXACT)


def test_baseline_layout_lies_on_both_arcs() -> None:
    layout = baseline_layout(SKIRT, parts=16)
    for points, radius in ((layout.large, SKIRT.outer_radius), (layout.small, SKIRT.inner_radius)):
        assert np.hypot(points[:, 0], SKIRT.outer_radius - points[:, 1]) == pytest.approx(radius, rel=EXACT)
        assert np.linalg.norm(np.diff(points, axis=0), axis=1) == pytest.approx(
            2 * radius * math.sin(SKIRT.sector_angle / 32))
    assert layout.large[:, 1].min() == 0
    assert np.linalg.norm(layout.small - layout.large, axis=1) == pytest.approx(SKIRT.slant, rel=EXACT)


@given(st.floats(10, 1e5), st.floats(0.01, 2), st.integers(2, 40))
def test_ordinates_lie_on_the_arc(radius: float, share: float, stations: int) -> None:
    chord = share * radius
    x, y = arc_ordinates(radius, chord, stations).T
    deep = math.sqrt((radius - chord / 2) * (radius + chord / 2))
    assert np.hypot(x, y + deep) == pytest.approx(radius, rel=1e-9)
    assert y[[0, -1]] == pytest.approx([0, 0], abs=1e-9)


@given(frustums(least_ratio=0.01), st.integers(3, 96))
def test_stepping_falls_short_but_the_pattern_s_own_chord_does_not(cone: FrustumPattern, steps: int) -> None:
    flat = steps * math.sin(math.pi / steps) / math.pi - 1
    assert flat * (1 + 1e-9) - 1e-12 <= stepped_arc_error(cone, steps) < 0
    whole = frustum_pattern(cone.large_diameter, cone.small_diameter, height=cone.height)
    half = whole.chord("large", steps) / 2
    walked = steps * 2 * whole.outer_radius * math.asin(half / whole.outer_radius) if whole.sector_angle else (
        2 * half * steps)
    assert walked == pytest.approx(math.pi * whole.large_diameter, rel=1e-8)


def test_stepping_a_cylinder_is_short_by_the_chord_alone() -> None:
    tube = frustum_pattern(100, 100, height=50)
    found = [round(100 * stepped_arc_error(tube, steps), 2) for steps in (12, 16, 24)]
    assert found == [-1.14, -0.64, -0.29]


def test_pieces_add_up() -> None:
    quarter = frustum_pattern(220, 60, height=80, pieces=4)
    assert (4 * quarter.area, 4 * quarter.sector_angle) == pytest.approx((ROOF.area, ROOF.sector_angle), rel=EXACT)
    assert quarter.outer_radius == ROOF.outer_radius


def test_a_flat_pattern_has_its_layers() -> None:
    flat = ROOF.flat_pattern()
    assert (len(flat.cut), len(flat.folds), len(flat.marks)) == (1, 0, 3)
    assert "220 to 60" in flat.title
    apex = np.array([0, ROOF.outer_radius])
    for low, high in flat.marks:
        (a, b), (c, d) = low - apex, high - apex
        assert a * d - b * c == pytest.approx(0, abs=1e-9)  # an element points at the point of the cone
        assert np.hypot(a, b) - np.hypot(c, d) == pytest.approx(ROOF.slant)
