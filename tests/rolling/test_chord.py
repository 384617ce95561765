"""Chord and rise: geometry and a textbook's numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rollcalc.rolling import radius_error_from_chord, radius_from_chord, rise_of_chord
from rollcalc.stock import InputError


@pytest.mark.parametrize(("radius", "chord", "rise"), [(10, 12, 2), (5, 8, 2), (13, 24, 8)])
def test_right_triangles_of_whole_numbers(radius: float, chord: float, rise: float) -> None:
    assert radius_from_chord(chord, rise) == radius
    assert rise_of_chord(radius, chord) == rise


def test_a_textbook_beam() -> None:
    """Gere, Mechanics of Materials, Example 5.1: 96 in and 0.480 in belong to 2400 in."""
    assert radius_from_chord(96, 0.48) == pytest.approx(2400.24, abs=1e-9)


def test_a_reading_a_tenth_too_high_makes_the_radius_1_65_mm_too_small() -> None:
    """Chord 100, radius 150."""
    rise = rise_of_chord(150, 100)
    assert radius_error_from_chord(100, rise, 0.1) == pytest.approx(1.65, abs=0.01)
    assert radius_from_chord(100, rise + 0.1) - 150 == pytest.approx(-1.65, abs=0.04)


def test_short_chords_fail() -> None:
    """An error of 0.2 mm is 3.7 % of R 90 over 60 mm and 1.1 % over 100 mm."""
    shares = [radius_error_from_chord(chord, rise_of_chord(90, chord), 0.2) / 90 for chord in (60, 100)]
    assert shares == pytest.approx([0.037, 0.011], abs=0.003)


@given(st.floats(1, 1e7), st.floats(0.001, 1.999))
def test_there_and_back(radius: float, share: float) -> None:
    chord = radius * share
    assert radius_from_chord(chord, rise_of_chord(radius, chord)) == pytest.approx(radius, rel=1e-9)


def test_flat_has_no_rise_and_arrays_broadcast() -> None:
    assert rise_of_chord(math.inf, 100) == 0.0
    assert rise_of_chord(np.array([math.inf, 10.0]), 12).tolist() == [0.0, 2.0]
    assert radius_from_chord(np.array([12.0, 8.0]), 2).tolist() == [10.0, 5.0]


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf, "12", None, True])
def test_nonsense_gets_a_sentence(bad: object) -> None:
    for call in (lambda: radius_from_chord(bad, 2), lambda: radius_from_chord(12, bad),
                 lambda: rise_of_chord(10, bad)):  # type: ignore[arg-type]
        with pytest.raises(InputError, match=r"(chord|rise) is .*, but must be .*\.$"):
            call()
    with pytest.raises(InputError, match="chord is 30 mm, but must be at most 20 mm"):
        rise_of_chord(10, 30)
