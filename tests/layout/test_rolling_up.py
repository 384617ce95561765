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
