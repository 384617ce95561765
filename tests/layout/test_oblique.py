"""Triangulation of an off-centre frustum: the right frustum as a limit, second order, and rolled up shut."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from rollcalc.layout import ObliqueFrustumPattern, oblique_frustum_pattern, rolled_up
from rollcalc.stock import InputError
from tests.layout.convergence import SIZES, table, true_area
from tests.layout.shapes import SKIRT

HOOD = oblique_frustum_pattern(**SIZES)


@st.composite
def oblique(draw: st.DrawFn) -> ObliqueFrustumPattern:
    """Return an off-centre frustum."""
    large = draw(st.floats(50, 1000))
    return oblique_frustum_pattern(
        large, large * draw(st.floats(0.1, 1)), large * draw(st.floats(0.1, 3)), large * draw(st.floats(0, 1.5)),
        segments=4 * draw(st.integers(3, 30)), seam_side=draw(st.sampled_from(["short", "long"])))


@given(oblique())
def test_every_true_length_is_kept_on_the_flat(hood: ObliqueFrustumPattern) -> None:
    for first, second, flat_first, flat_second in (
        (hood.large_ring, hood.small_ring, hood.large_edge, hood.small_edge),
        (hood.large_ring[:-1], hood.small_ring[1:], hood.large_edge[:-1], hood.small_edge[1:]),
        (hood.large_ring[:-1], hood.large_ring[1:], hood.large_edge[:-1], hood.large_edge[1:]),
        (hood.small_ring[:-1], hood.small_ring[1:], hood.small_edge[:-1], hood.small_edge[1:]),
        (hood.large_ring[1:], hood.small_ring[:-1], hood.large_edge[1:], hood.small_edge[:-1]),  # pieces are flat
    ):
        assert np.linalg.norm(flat_first - flat_second, axis=1) == pytest.approx(
            np.linalg.norm(first - second, axis=1), rel=1e-9, abs=1e-9 * hood.large_diameter)


@given(oblique())
def test_rolled_up_the_seam_closes_and_the_ends_are_round(hood: ObliqueFrustumPattern) -> None:
    places = rolled_up(hood, np.concatenate([hood.large_edge, hood.small_edge]))
    large, small = np.split(places, 2)
    assert np.abs(places - np.concatenate([hood.large_ring, hood.small_ring])).max() < 1e-9 * hood.large_diameter
    assert np.abs(large[0] - large[-1]).max() < 1e-9 * max(1, hood.large_diameter / 1000)
    assert np.abs(small[0] - small[-1]).max() < 1e-9 * max(1, hood.large_diameter / 1000)
    assert np.hypot(*large[:, :2].T) == pytest.approx(hood.large_diameter / 2, rel=1e-9)
    assert np.hypot(small[:, 0] - hood.offset, small[:, 1]) == pytest.approx(hood.small_diameter / 2, rel=1e-8)


@given(oblique())
def test_both_halves_are_mirror_images(hood: ObliqueFrustumPattern) -> None:
    for edge in (hood.large_edge, hood.small_edge):
        assert edge[::-1] * [-1, 1] == pytest.approx(edge, abs=1e-8 * hood.large_diameter)


@pytest.mark.parametrize("offset", [0.0, 1e-9, 1e-6, 1e-3])
def test_without_offset_it_is_the_right_frustum(offset: float) -> None:
    hood = oblique_frustum_pattern(220, 160, height=100, offset=offset, segments=360)
    assert hood.true_lengths == pytest.approx(SKIRT.slant, abs=offset + 1e-9)
    assert hood.large_step == pytest.approx(2 * 110 * math.sin(math.pi / 360))
    along = np.linspace(-0.5, 0.5, 361) * SKIRT.arc()
    assert hood.large_edge == pytest.approx(SKIRT.at(along, 0.0), abs=0.02 + 20 * offset)
    assert hood.small_edge == pytest.approx(SKIRT.at(along, SKIRT.slant), abs=0.02 + 20 * offset)
    assert hood.area == pytest.approx(SKIRT.area, rel=2e-5)


def test_area_converges_with_the_square_of_the_number_of_parts() -> None:
    rows = table()
    assert [round(order, 1) for *_, order in rows[1:]] == [2.0] * (len(rows) - 1)
    assert rows[-1][2] < 2e-5


def test_the_true_area_is_that_of_another_quadrature() -> None:
    large, small, height, offset = SIZES.values()

    def strip(angle: float) -> float:
        side = np.array([(small - large) / 2 * math.cos(angle) + offset, (small - large) / 2 * math.sin(angle), height])
        return float(np.linalg.norm(np.cross([-math.sin(angle), math.cos(angle), 0], side))) * (large + small) / 4

    assert true_area() == pytest.approx(quad(strip, 0, 2 * math.pi, epsabs=1e-9)[0], rel=1e-10)


def test_shortest_and_longest_elements() -> None:
    assert HOOD.true_lengths.min() == HOOD.true_lengths[0] == pytest.approx(math.hypot(100, 40 - 30))
    assert HOOD.true_lengths.max() == HOOD.true_lengths[90] == pytest.approx(math.hypot(100, 40 + 30))
    other = oblique_frustum_pattern(**SIZES, seam_side="long")
    assert other.true_lengths[0] == pytest.approx(HOOD.true_lengths[90])
    assert other.area == pytest.approx(HOOD.area)


def test_the_default_falls_short_by_less_than_the_docstring_says() -> None:
    assert 0 < HOOD.shortage < 0.05


def test_a_point_on_the_pattern_comes_to_lie_on_its_element() -> None:
    low, high = HOOD.marks()[0]
    share = 0.3
    place = rolled_up(HOOD, [low, low + share * (high - low)])[1]
    wanted = (1 - share) * HOOD.large_ring[45] + share * HOOD.small_ring[45]
    assert place == pytest.approx(wanted, abs=1e-9)


def test_points_beside_the_pattern_are_refused() -> None:
    with pytest.raises(InputError, match="points lie beside the pattern"):
        rolled_up(HOOD, [(0, 10), (0, -10)])


def test_a_cone_with_its_point_aside() -> None:
    cone = oblique_frustum_pattern(200, 0, height=150, offset=30, segments=48)
    assert np.ptp(cone.small_edge, axis=0) == pytest.approx([0, 0], abs=1e-9)
    assert rolled_up(cone, cone.large_edge) == pytest.approx(cone.large_ring, abs=1e-8)


def test_area_and_rings_agree_with_other_libraries() -> None:
    shapely, trimesh = pytest.importorskip("shapely"), pytest.importorskip("trimesh")
    assert shapely.Polygon(HOOD.outline()).is_valid
    assert shapely.Polygon(HOOD.outline()).area == pytest.approx(HOOD.area, rel=1e-12)
    n = HOOD.segments
    corners = np.concatenate([HOOD.large_ring[:-1], HOOD.small_ring[:-1]])
    i = np.arange(n)
    j = (i + 1) % n
    faces = np.concatenate([np.stack([i, j, n + j], axis=1), np.stack([i, n + j, n + i], axis=1)])
    assert trimesh.Trimesh(corners, faces, process=False).area == pytest.approx(HOOD.area, rel=1e-12)


def test_surface_of_a_rolled_up_frustum_by_another_library() -> None:
    trimesh = pytest.importorskip("trimesh")
    along, up = np.meshgrid(np.linspace(-0.5, 0.5, 721) * SKIRT.arc(), np.linspace(0, SKIRT.slant, 3))
    places = rolled_up(SKIRT, SKIRT.at(along.ravel(), up.ravel()))
    i = np.arange(2 * 721).reshape(2, 721)[:, :-1].ravel()
    faces = np.concatenate([np.stack([i, i + 1, i + 722], axis=1), np.stack([i, i + 722, i + 721], axis=1)])
    mesh = trimesh.Trimesh(places, faces)  # joins the two edges of the seam, where they meet
    assert mesh.area == pytest.approx(SKIRT.area, rel=2e-5)
    assert len(mesh.vertices) == 3 * 720
