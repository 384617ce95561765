"""Seam strips, end edges and notches of a cone's blank, measured with an independent geometry library."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given

from rollcalc.layout import (
    ButtSeam,
    FrustumPattern,
    GroovedSeam,
    LapSeam,
    cone_blank,
    frustum_pattern,
    rolled_up,
    wired_edge_allowance,
)
from rollcalc.layout.cone import LONG
from rollcalc.layout.pattern import BESIDE
from rollcalc.stock import InputError
from tests.layout.shapes import ROOF, SKIRT, frustums

shapely = pytest.importorskip("shapely")


@given(frustums())
def test_without_allowances_it_is_the_pattern(cone: FrustumPattern) -> None:
    plain, blank = shapely.Polygon(cone.outline()), shapely.Polygon(cone_blank(cone, 0.8).outline())
    assert blank.symmetric_difference(plain).area < 1e-9 * plain.area


@given(frustums(least_ratio=0.2))
def test_strips_have_the_area_of_their_widths(cone: FrustumPattern) -> None:
    seam = GroovedSeam(0.01 * min(cone.slant, cone.chord()))
    blank = cone_blank(cone, 0.001, seam)
    wide = seam.edges(0.001)[0]
    assume(cone.sector_angle < 5)
    shape, plain = shapely.Polygon(blank.outline(0.001)), shapely.Polygon(cone.outline(0.001))
    assert shape.is_valid
    assert shape.area - plain.area == pytest.approx(2 * wide * (cone.slant - wide), rel=1e-6)


@pytest.mark.parametrize("cone", [SKIRT, ROOF, frustum_pattern(220, 0, height=150), frustum_pattern(90, 90, height=60)])
@pytest.mark.parametrize("seam", [ButtSeam(), ButtSeam(3), LapSeam(12), GroovedSeam(6)])
def test_every_blank_is_one_clean_piece(cone: FrustumPattern, seam: ButtSeam | LapSeam | GroovedSeam) -> None:
    edges = {"large_edge": 7.5, "small_edge": 4.0 if cone.small_diameter else 0.0}
    blank = cone_blank(cone, 0.8, seam, **edges)
    shape = shapely.Polygon(blank.outline())
    assert shape.is_valid
    lines = [shapely.LineString(line) for line in blank.folds() + blank.marks()]
    assert all(shape.buffer(0.02).covers(line) for line in lines)
    quarters, folds = blank.flat_pattern().labels[:3], blank.flat_pattern().labels[3:]
    assert [label.words for label in folds] == ["fold up", "fold down"] * isinstance(seam, GroovedSeam)
    for label, line in zip(quarters, lines[len(blank.folds()) :], strict=False):
        assert label.words == "quarter" + ", along the rolls" * (cone.slant > LONG)
        assert shapely.Point(label.at).distance(line) == pytest.approx(BESIDE)
    large = math.pi * cone.large_diameter * 7.5 * (1 + 7.5 * cone.curvature / 2)
    small = math.pi * cone.small_diameter * edges["small_edge"]
    if cone.small_diameter:
        small *= 1 - edges["small_edge"] / cone.inner_radius / 2
    strips = sum(wide * ((cone.slant - wide) if wide > 0 else cone.slant + sum(edges.values()))
                 for wide in seam.edges(0.8))
    if cone.small_diameter or seam.edges(0.8)[0] >= 0:
        assert shape.area == pytest.approx(cone.area + large + small + strips, rel=2e-4)


def test_a_lap_lies_on_the_other_edge_when_rolled_up() -> None:
    blank = cone_blank(SKIRT, 0.8, LapSeam(12))
    line = blank.marks()[3]
    half = SKIRT.arc() / 2
    edge = SKIRT.at([-half, -half], [12.0, SKIRT.slant - 12.0])
    mark = SKIRT.at([half, half], [0.0, SKIRT.slant])
    assert np.abs(np.cross(*(np.append(row, 0) for row in (mark[1] - mark[0], line[1] - line[0])))).max() < 1e-9
    ends = rolled_up(blank, np.concatenate([SKIRT.at([half], 0.0), SKIRT.at([-half], 0.0), edge]))
    assert np.abs(ends[0] - ends[1]).max() < 1e-9


def test_folds_of_a_lock_seam_stand_a_finished_width_apart_when_rolled_up() -> None:
    blank = cone_blank(SKIRT, 0.8, GroovedSeam(6))
    up, down = blank.folds()
    apart = [np.linalg.norm(rolled_up(blank, up)[i] - rolled_up(blank, down)[i]) for i in (0, 1)]
    assert apart == pytest.approx([GroovedSeam(6).finished_width(0.8)] * 2, abs=0.5 * 0.8 + 0.01)


def test_wire_rules() -> None:
    assert wired_edge_allowance(4) == 10
    assert wired_edge_allowance(4, thickness=1) == 12


@pytest.mark.parametrize(
    ("cone", "seam", "sizes", "sentence"),
    [
        (SKIRT, GroovedSeam(80), {}, "seam takes 120.8 mm at one edge, but must take less than 52.2015 mm"),
        (SKIRT, ButtSeam(), {"small_edge": 300}, "small edge is 300 mm, but must be below the inner radius of 278.4"),
        (frustum_pattern(220, 0, height=20), GroovedSeam(6), {}, "make it in more pieces"),
        (SKIRT, "butt", {}, "seam is str, but must be a seam"),
        (SKIRT, ButtSeam(), {"large_edge": -1}, "large edge is -1 mm, but must be at least 0 mm"),
    ],
)
def test_impossible_edges_get_a_sentence(
    cone: FrustumPattern, seam: ButtSeam, sizes: dict[str, float], sentence: str
) -> None:
    with pytest.raises(InputError) as caught:
        cone_blank(cone, 0.8, seam, **sizes)
    assert sentence in str(caught.value)
    assert str(caught.value).count(". ") == 0
