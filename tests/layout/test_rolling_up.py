"""A pattern rolls up without stretching, from flat to closed."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.layout.rolling_up import partly_rolled

sizes = st.tuples(st.floats(50, 400), st.one_of(st.floats(0, 0.98), st.just(1.0)), st.floats(20, 300))
shares = st.floats(0, 1)


def lengths(points: np.ndarray) -> np.ndarray:
    """Return the steps between neighbouring points. [mm]"""
    return np.linalg.norm(np.diff(points, axis=0), axis=1)


@given(sizes, shares)
def test_no_line_on_it_is_stretched(size, share):
    large, part, height = size
    pattern = rc.frustum_pattern(large, large * part, height)
    up = pattern.slant * 0.4
    element = pattern.at([0.3 * pattern.arc()] * 2, [0.0, pattern.slant * 0.9])
    assert lengths(partly_rolled(pattern, element, share)) == pytest.approx(lengths(element), rel=1e-9)
    arc = pattern.at(np.linspace(-0.5, 0.5, 4001) * pattern.arc(), up)
    assert lengths(partly_rolled(pattern, arc, share)).sum() == pytest.approx(lengths(arc).sum(), rel=1e-5)


@given(sizes)
def test_flat_stays_flat_and_closed_closes(size):
    large, part, height = size
    pattern = rc.frustum_pattern(large, large * part, height)
    flat = partly_rolled(pattern, pattern.outline(), 0)
    assert flat[:, :2] == pytest.approx(pattern.outline(), abs=1e-9 * large)
    assert flat[:, 2] == pytest.approx(0, abs=1e-5)
    seam = [pattern.at([side * pattern.arc() / 2] * 2, [0.0, pattern.slant]) for side in (-1, 1)]
    first, last = (partly_rolled(pattern, edge, 1) for edge in seam)
    assert first == pytest.approx(last, abs=1e-9 * large)


def test_closed_it_is_the_frustum():
    pattern = rc.frustum_pattern(220, 160, 100)
    mouth = partly_rolled(pattern, pattern.at(np.linspace(-0.5, 0.5, 9)[:-1] * pattern.arc(), 0.0), 1)
    middle = mouth.mean(axis=0)
    assert np.linalg.norm(mouth - middle, axis=1) == pytest.approx(110)


@pytest.mark.parametrize("share", [-0.1, 1.1, float("nan"), "half", None])
def test_a_share_beyond_closed_gets_the_sentence(share):
    with pytest.raises(rc.InputError, match=r"^share is"):
        partly_rolled(rc.frustum_pattern(220, 160, 100), [(0.0, 0.0), (1.0, 1.0)], share)


BLANK = rc.cylinder_blank(rc.Sheet(thickness=0.8, width=240), inside_diameter=180, seam=rc.LapSeam(8))
PIECES = [BLANK, rc.frustum_pattern(220, 160, 100), rc.layout.mitred_cylinder_pattern(180, 200, 20),
          rc.oblique_frustum_pattern(220, 160, 100, 10)]


@pytest.mark.parametrize("piece", PIECES, ids=["cylinder", "cone", "mitre", "oblique"])
def test_the_drawn_side_becomes_the_inside(piece):
    here, right, up = piece.rolled_up([(20.0, 50.0), (20.001, 50.0), (20.0, 50.001)])
    assert np.cross(right - here, up - here)[:2] @ here[:2] < 0  # what points at the reader points at the axis


@pytest.mark.parametrize("ends", [(220, 160), (160, 160)])
def test_so_it_does_on_the_way(ends):
    pattern = rc.frustum_pattern(*ends, 100)
    here, right, up = partly_rolled(pattern, [(20.0, 50.0), (20.001, 50.0), (20.0, 50.001)], 1)
    middle = partly_rolled(pattern, pattern.outline(), 1).mean(axis=0)
    assert np.cross(right - here, up - here) @ (here - middle) < 0


@pytest.mark.parametrize("piece", [*PIECES[:2], rc.cone_blank(rc.frustum_pattern(220, 60, 80), 0.8, rc.LapSeam(8))])
def test_lines_along_the_rolls_stay_straight_and_run_to_the_point(piece):
    flat = piece.flat_pattern()
    named = [label for label in flat.labels if "along the rolls" in label.words]
    assert named
    for label in named:
        line = min(flat.marks, key=lambda line, label=label: np.hypot(*(line.mean(axis=0) - label.at)))
        low, middle, high = piece.rolled_up(line[0] + np.array([[0], [0.5], [1]]) * (line[1] - line[0]))
        assert middle == pytest.approx((low + high) / 2, abs=1e-9)
        assert low[0] * high[1] - low[1] * high[0] == pytest.approx(0, abs=1e-6)  # in one plane with the axis
