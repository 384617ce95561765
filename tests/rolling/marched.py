"""Strips rolled from flat by the library's march, on the library's own machines: one pass, or two."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

import rollcalc as rc
from rollcalc.rolling import PyramidMachine, Setting, setting_for_radius, setting_for_travel
from rollcalc.rolling.march.march import March, roll_once
from rollcalc.rolling.march.strip import Strip
from rollcalc.rolling.shape import span_lengths
from tests.rolling.cases import PERFECT, PRESSED, PYRAMID, SLACK, STEEL, SWIFT, THICK, THIN

HARD = rc.Material("hard", 200_000, 0.3, 300, hardening_modulus=9000)
SOFT = rc.Material("soft", 70_000, 0.33, 90, hardening_modulus=1500)
BENCH = rc.DEMO_MACHINE

PINCH = [setting_for_radius(PERFECT, stock, material, radius) for stock, material, radius in (
    (THIN, STEEL, 60), (THIN, STEEL, 90), (THIN, STEEL, 150), (THIN, STEEL, 300),
    (rc.Sheet(thickness=1.2, width=100), SOFT, 120),
    (rc.FlatBar(3, 25), STEEL, 95), (THIN, HARD, 200))]
STATED = [setting_for_radius(machine, stock, material, radius) for machine, stock, material, radius in (
    (BENCH, THIN, STEEL, 60), (BENCH, THIN, STEEL, 90), (BENCH, THIN, STEEL, 300),
    (BENCH, rc.FlatBar(3, 25), STEEL, 95), (BENCH, THIN, HARD, 200), (BENCH, rc.RoundBar(6), STEEL, 60),
    (BENCH, THIN, SWIFT, 120),
    (PRESSED, THIN, STEEL, 90),
    (SLACK, THIN, STEEL, 90))]
PYRAMIDS = [setting_for_radius(machine, stock, material, radius) for machine, stock, material, radius in (
    (PYRAMID, THICK, STEEL, 300), (PYRAMID, THICK, HARD, 600), (PYRAMID, rc.Sheet(thickness=4, width=500), SOFT, 400),
    (PyramidMachine(top_roll_diameter=60, bottom_roll_diameter=50, bottom_roll_spacing=90, screw_pitch=1, peak="beam",
                    working_width=500), rc.Sheet(thickness=1.5, width=300), STEEL, 150))]
TWICE = [setting_for_radius(PERFECT, THIN, material, radius) for material, radius in (
    (STEEL, 90), (HARD, 120), (SOFT, 100))]
FIRST_PASS = 0.7
"""The first of two passes, as a share of the last travel. [-]"""


def marched(settings: Sequence[Setting], per_span: int, spans: float) -> tuple[float, float]:
    """Return the radius that a strip of some spans keeps after passes, and the bending roll's steady force."""
    before, behind = map(float, span_lengths(settings[-1]))
    strip = Strip(settings[-1].stock, settings[-1].material, behind / per_span, spans * behind + 3 * before)
    for setting in settings:
        march = roll_once(setting, strip)
    away = strip.distance
    middle = (away > (spans - 1.2) * behind) & (away < (spans - 0.2) * behind)
    return 1 / float(strip.kept[middle].mean()), float(np.mean(march.forces[-2 * per_span : -per_span]))


def one_pass(settings: Sequence[Setting], per_span: int) -> tuple[np.ndarray, np.ndarray]:
    """Return the radii that strips keep after one pass, and the bending roll's forces."""
    radii, forces = zip(*(marched([each], per_span, 4.4) for each in settings), strict=True)
    return np.array(radii), np.array(forces)


def two_passes(settings: Sequence[Setting], per_span: int) -> tuple[np.ndarray, np.ndarray]:
    """Return the radii that strips keep after a first, gentler pass, and after the second."""
    pairs = list(zip(first_settings(settings), second_settings(settings), strict=True))
    first = [marched([one], per_span, 4.4)[0] for one, _ in pairs]
    return np.array(first), np.array([marched(pair, per_span, 5.4)[0] for pair in pairs])


def first_settings(settings: Sequence[Setting]) -> list[Setting]:
    """Return the first of two passes."""
    return [setting_for_travel(each.machine, each.stock, each.material, FIRST_PASS * each.travel) for each in settings]


def second_settings(settings: Sequence[Setting]) -> list[Setting]:
    """Return the second of two passes, as the library gives it for stock that comes out of the first."""
    firsts = first_settings(settings)
    return [setting_for_travel(each.machine, each.stock, each.material, each.travel,
                               entering_radius=float(first.released_radius))
            for each, first in zip(settings, firsts, strict=True)]


def first_radii(settings: Sequence[Setting]) -> np.ndarray:
    """Return the radii that the library gives for the first of two passes."""
    return np.array([each.released_radius for each in first_settings(settings)])


def second_radii(settings: Sequence[Setting]) -> np.ndarray:
    """Return the radii that the library gives for the second of two passes."""
    return np.array([each.released_radius for each in second_settings(settings)])


def back(setting: Setting, share: float, per_span: int) -> float:
    """Return the radius of a strip that is rolled, and cranked back in a perfect nip at a share of the travel."""
    behind = float(span_lengths(setting)[1])
    strip = Strip(setting.stock, setting.material, behind / per_span, 9 * behind)
    roll_once(setting, strip)
    march = March(setting, strip)
    march.feed(strip.last - 2 * per_span)
    start = strip.last - per_span // 2
    for gone, node in enumerate(range(start, start - 4 * per_span, -1)):
        march.travel = float(setting.travel) * (1 + (share - 1) * min(1.0, gone / per_span))
        march.step(node, node * strip.cell)
    at = start - 4 * per_span + 2
    return 1 / float(strip.kept[at : at + per_span].mean())
