"""Strips rolled from flat by the march of `marching`, on the library's own machines: one pass, or two."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

import rollcalc as rc
from rollcalc.rolling import PyramidMachine, radius_for_travel, setting_for_radius, setting_for_travel
from tests.rolling.cases import PERFECT, PYRAMID, STEEL, THICK, THIN, is_perfect, roll_centres
from tests.rolling.collocation import Law
from tests.rolling.marching import March, Strip

HARD = rc.Material("hard", 200_000, 0.3, 300, hardening_modulus=9000)
SOFT = rc.Material("soft", 70_000, 0.33, 90, hardening_modulus=1500)

PINCH = [setting_for_radius(PERFECT, stock, material, radius) for stock, material, radius in (
    (THIN, STEEL, 60), (THIN, STEEL, 90), (THIN, STEEL, 150), (THIN, STEEL, 300), (rc.Sheet(1.2, 100), SOFT, 120),
    (rc.FlatBar(3, 25), STEEL, 95), (THIN, HARD, 200))]  # fmt: skip
PYRAMIDS = [setting_for_radius(machine, stock, material, radius) for machine, stock, material, radius in (
    (PYRAMID, THICK, STEEL, 300), (PYRAMID, THICK, HARD, 600), (PYRAMID, rc.Sheet(4, 500), SOFT, 400),
    (PyramidMachine(top_roll_diameter=60, bottom_roll_diameter=50, bottom_roll_spacing=90, screw_pitch=1, peak="beam",
                    working_width=500), rc.Sheet(1.5, 300), STEEL, 150))]  # fmt: skip
TWICE = [setting_for_radius(PERFECT, THIN, material, radius) for material, radius in (
    (STEEL, 90), (HARD, 120), (SOFT, 100))]  # fmt: skip
FIRST_PASS = 0.7
"""The first of two passes, as a share of the last travel. [-]"""


class Rolled:
    """Strips of one length in many machines of one kind, rolled in passes."""

    def __init__(self, settings, per_span, spans):
        """Start with flat strips, some spans long; settings give machine, stock, material and the last travel."""
        self.settings, self.per_span = settings, per_span
        self.perfect = is_perfect(settings[0].machine)
        centres = [roll_centres(setting) for setting in settings]
        ways = {-1: [front - inside for inside, front, _, _ in centres],
                1: [bending - inside for inside, _, bending, _ in centres]}  # fmt: skip
        radii = np.array([each[3] for each in centres])
        self.count = int(per_span * 1.6)
        self.nodes = int(per_span * spans) + 2 * self.count
        factor = np.array([2 / math.sqrt(3) if setting.stock.plane_strain else 1.0 for setting in settings])
        laws = [Law.of(setting.stock, setting.material) for setting in settings]
        depth = np.array([setting.stock.depth for setting in settings])
        self.width = np.array([setting.stock.width for setting in settings])
        modulus = np.array([law.stiffness for law in laws]) * 12 / self.width / depth**3
        strength = np.array([setting.material.yield_strength for setting in settings]) * factor
        hardening = np.array([setting.material.hardening_modulus for setting in settings]) * factor**2
        self.strip = Strip(modulus, strength, hardening, depth, self.nodes)
        step = np.array([0.9 * np.hypot(*way) for way in ways[1]]) / per_span
        rolls = {side: np.column_stack([ways[side], radii[:, 1 if side < 0 else 2]]) for side in (-1, 1)}
        self.march = March(self.strip, step, radii[:, 0], rolls[-1], rolls[1], self.count, self.perfect)

    def roll(self, first, last, start, end, entering=math.inf, feed="forward"):
        """Roll once, the travel rising during the first span from ``start`` to ``end``, in shares of the settings'."""
        order = range(first, last, 1 if last > first else -1)
        shares = np.minimum(1.0, np.arange(len(order)) / self.per_span) * (end - start) + start
        begin = [setting_for_travel(each.machine, each.stock, each.material, each.travel * start,
                                    entering_radius=entering if np.ndim(entering) == 0 else float(entering[number]),
                                    feed=feed) for number, each in enumerate(self.settings)]  # fmt: skip
        columns = [[1 / each.loaded_radius for each in begin], [each.tilt for each in begin]]
        for force, angle in (("bending_roll_force", "contact_angle"), ("front_roll_force", "front_angle")):
            columns += [[getattr(each, force) for each in begin] / self.width, [getattr(each, angle) for each in begin],
                        [self._length(each) for each in begin]]  # fmt: skip
        unknown = np.array(columns[: 5 if self.perfect else 8]).T
        return self.march.pass_through(order, [self._places(share) for share in shares], unknown)

    def radii(self, nodes):
        """Return the radius that each strip keeps, the mean curvature over some nodes taken."""
        return 1 / np.mean([self.strip.kept(node) for node in nodes], axis=0)

    def _length(self, setting):
        """Return about how far apart the contacts are."""
        inside, _, bending, _ = roll_centres(setting)
        return float(abs((bending - inside)[0])) * 0.95

    def _places(self, share):
        """Return the places of the outer rolls from the inside roll's centre, at a share of the travel."""
        moved = [roll_centres(dataclasses.replace(setting, travel=setting.travel * share)) for setting in self.settings]
        return {side: np.array([each[1 if side < 0 else 2] - each[0] for each in moved]) for side in (-1, 1)}


def steady(rolled):
    """Return nodes where the curve no longer changes: one span of them, near the end that went in last."""
    return range(rolled.count + 2, rolled.count + 2 + rolled.per_span)


def one_pass(settings, per_span):
    """Return the radii that strips keep after one pass, and the bending roll's forces at its end."""
    rolled = Rolled(settings, per_span, spans=6)
    state = rolled.roll(rolled.nodes - rolled.count - 1, rolled.count, start=0.08, end=1.0)
    return rolled.radii(steady(rolled)), state[:, 2] * rolled.width


def two_passes(settings, per_span):
    """Return the radii that strips keep after a first, gentler pass, and after the second.

    A top roll meets a curved strip later: it starts lower, and the flat end still ahead reaches a span further back.
    """
    begin, spans, back = (FIRST_PASS - 0.02, 9, 0) if is_perfect(settings[0].machine) else (0.9, 10, 1)
    rolled = Rolled(settings, per_span, spans)
    rolled.roll(rolled.nodes - rolled.count - 1, rolled.count, start=0.08, end=FIRST_PASS)
    first, wanted = rolled.radii(steady(rolled)), first_radii(settings)
    start = rolled.nodes - rolled.count - 3 * per_span
    rolled.roll(start, rolled.count, start=begin, end=1.0, entering=wanted)
    return first, rolled.radii([node + back * per_span for node in steady(rolled)])


def first_radii(settings):
    """Return the radii that the library gives for the first of two passes."""
    return np.array([radius_for_travel(each.machine, each.stock, each.material, FIRST_PASS * each.travel)
                     for each in settings])  # fmt: skip


def second_radii(settings):
    """Return the radii that the library gives for the second of two passes."""
    pairs = zip(settings, first_radii(settings).tolist(), strict=True)
    return np.array([radius_for_travel(each.machine, each.stock, each.material, each.travel, entering_radius=first)
                     for each, first in pairs])  # fmt: skip
