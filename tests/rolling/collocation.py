"""The same mechanics solved another way: both spans as one boundary-value problem, by scipy's collocation.

Takes nothing from rollcalc.rolling but the places of the rolls. Moment and curvature come from the closed formula for
a rectangle with a straight hardening line. A state is (x, y, slope, moment) along each span, from the inside contact
outwards, in the frame of the inside contact; the span in front is seen in a mirror.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_bvp
from scipy.optimize import brentq

import rollcalc as rc


@dataclass
class Law:
    """Moment and curvature of a rectangle with a straight hardening line."""

    stiffness: float
    first: float  # curvature of first yield
    ratio: float  # slope after yield over slope before

    @classmethod
    def of(cls, stock, material):
        """Return the law of a sheet or flat bar, from the textbook formulas."""
        wide = stock.plane_strain
        modulus = material.elastic_modulus / (1 - wide * material.poisson_ratio**2)
        hardening = material.hardening_modulus * (4 / 3 if wide else 1.0)
        strength = material.yield_strength * (2 / np.sqrt(3) if wide else 1.0)
        return cls(modulus * stock.width * stock.thickness**3 / 12, 2 * strength / modulus / stock.thickness,
                   hardening / (modulus + hardening))

    def moment(self, curvature):
        """Return the moment of loading at a curvature."""
        u = np.asarray(curvature) / self.first
        beyond = np.maximum(u, 1.0)
        yielded = (1 - self.ratio) * (1.5 - 0.5 / beyond**2) + self.ratio * beyond
        return self.stiffness * self.first * np.where(u > 1, yielded, u)

    def released(self, curvature):
        """Return the curvature that stays."""
        return curvature - self.moment(curvature) / self.stiffness

    def loading(self, moment, turn):
        """Return the curvature under a growing moment, of a piece once held at the curvature ``turn``."""
        turn = max(turn, self.first)
        elastic = self.released(turn) + moment / self.stiffness
        wanted = np.maximum(moment, self.moment(turn)) / (self.stiffness * self.first)
        low, high = np.full(np.shape(moment), turn / self.first), np.full(np.shape(moment), 1e5)
        u = 1 / np.sqrt(np.clip(1 - (wanted - self.ratio * turn / self.first - 1) * 2, 1e-3, 1.0))
        for _ in range(200):
            gap = (1 - self.ratio) * (1.5 - 0.5 / u**2) + self.ratio * u - wanted
            low, high = np.where(gap < 0, u, low), np.where(gap < 0, high, u)
            step = gap / ((1 - self.ratio) / u**3 + self.ratio)
            inside = (u - step >= low) & (u - step <= high)
            u = np.where(inside, u - step, np.sqrt(low * high))
            if np.all(inside & (np.abs(step) < 1e-13 * u)):
                break
        return np.where(moment > self.moment(turn), u * self.first, elastic)


class TooFineError(AssertionError):
    """Collocation would need more nodes than it may take, so that there is nothing to compare with."""


@dataclass
class Solution:
    """What collocation finds."""

    loaded: float
    tilt: float
    lines: list  # one function of the share of the moment for each span: (x, y, slope, curvature)


def solve(law, turn, rolls, inside, front, bending, guess, feed="forward", front_force=None, tolerance=1e-10):
    """Return the solution at known places of the outer rolls.

    ``front`` and ``bending`` are (x, y) of the rolls' centres from the inside roll's; ``rolls`` are their radii and
    ``inside`` the inside roll's, each with half the thickness. ``front`` is None in a perfect nip. With a
    ``front_force`` the front roll may rise and fall. ``guess`` is (loaded, slopes of the spans, their lengths, tilt).
    """
    length = float(np.hypot(*bending))
    loaded, slopes, lengths, tilt = guess
    sides = ["bending"] if front is None else ["front", "bending"]
    enters = "front" if feed == "forward" else "bending"
    turn = max(turn, law.first)
    split = loaded > turn  # the loading span is cut where yielding begins, so that each part is smooth
    parts = [(side, part) for side in sides for part in ("inner", "outer")[: 1 + (side == enters and split)]]
    scale = float(law.moment(loaded))

    def curvature(side, part, moment, most):
        """Return the curvature under a moment; ``most`` is the curvature at the inside roll."""
        if side != enters:
            return law.released(max(most, turn)) + moment / law.stiffness
        if part == "inner" and split:
            return law.loading(moment, turn)
        return law.released(turn) + moment / law.stiffness

    def unknowns(numbers):
        """Return (length of each part), (force, last slope) of each span, curvature and tilt at the inside roll."""
        count = len(parts)
        ends = dict(zip(sides, numbers[count:-2].reshape(-1, 2), strict=True))
        return numbers[:count], ends, numbers[-2] / length, numbers[-1]

    def changes(_share, state, numbers):
        """Return how the states change along the parts."""
        reaches, ends, most, _tilt = unknowns(numbers)
        found = []
        for (side, part), reach, (_x, _y, slope, moment) in zip(
            parts, reaches, np.split(state, len(parts)), strict=True
        ):
            force, end = ends[side]
            bend = curvature(side, part, moment * scale, most) * length
            found += [reach * np.cos(slope), reach * np.sin(slope), reach * bend, -reach * force * np.cos(end - slope)]
        return np.vstack(found)

    def misses(first, last, numbers):
        """Return what must be nothing at the ends of the parts."""
        _reaches, ends, most, tilt = unknowns(numbers)
        top = float(law.moment(most)) if split else law.stiffness * float(most - law.released(turn))
        found, before = [], None
        for (side, part), begin, finish in zip(
            parts, np.split(first, len(parts)), np.split(last, len(parts)), strict=True
        ):
            found += list(begin - (np.array([0, 0, 0, top / scale]) if part == "inner" else before))
            before = finish
            if part == "inner" and side == enters and split:
                found.append(finish[3] - law.moment(turn) / scale)
                continue
            found += [finish[3], finish[2] - ends[side][1]]
            radius, sign = rolls[side == "bending"] / length, 1.0 if side == "bending" else -1.0
            aside = sign * (finish[0] + radius * np.sin(finish[2]))
            above = finish[1] - radius * np.cos(finish[2]) - inside / length
            wanted = np.array(front if side == "front" else bending) / length
            found.append(aside * np.cos(tilt) - above * np.sin(tilt) - wanted[0])
            if side == "front" and front_force is not None:
                found.append(ends[side][0] * scale / length / front_force - 1)
            else:
                found.append(aside * np.sin(tilt) + above * np.cos(tilt) - wanted[1])
        return np.array(found + ([tilt] if front is None else []))

    share = np.linspace(0, 1, 41)
    state, reaches, ends = [], [], []
    for side, part in parts:
        slope, reach = slopes[side == "bending"], lengths[side == "bending"] / length
        cut = float(law.moment(turn)) / scale if side == enters and split else 0.0
        low, high = (0.0, 1 - cut) if part == "inner" else (1 - cut, 1.0)
        path = low + (high - low) * share
        state += [reach * path, reach * slope / 2 * path**2, slope * path, 1 - path]
        reaches.append(reach * (high - low))
        ends += [1 / reach, slope] if part == "inner" else []
    got = solve_bvp(changes, misses, share, np.vstack(state), np.array([*reaches, *ends, loaded * length, tilt]),
                    tol=tolerance, bc_tol=1e-12, max_nodes=60_000)
    if "mesh nodes" in got.message:
        raise TooFineError(got.message)
    assert got.success, got.message
    most = got.p[-2] / length

    def line(side):
        """Return the function of one span."""
        numbers = [number for number, part in enumerate(parts) if part[0] == side]

        def at(moment_share):
            """Return x, y, slope and curvature where the moment has fallen to a share."""
            wanted = moment_share * float(got.sol(0.0)[4 * numbers[0] + 3])
            number = numbers[0] if got.sol(1.0)[4 * numbers[0] + 3] < wanted else numbers[-1]
            fallen = lambda place: got.sol(place)[4 * number + 3] - wanted
            place = brentq(fallen, 0, 1, xtol=1e-15) if 0 < moment_share < 1 else 1.0 - moment_share
            x, y, slope, moment = got.sol(place)[4 * number : 4 * number + 4]
            return x * length, y * length, slope, float(curvature(*parts[number], moment * scale, most))

        return at

    return Solution(most, got.p[-1], [line(side) for side in sides])


def entering_turn(stock, material, entering_radius):
    """Return the curvature at which stock of a radius was once held; 0 for flat stock."""
    return 0.0 if np.isinf(entering_radius) else rc.loaded_curvature(stock, material, 1 / entering_radius)
