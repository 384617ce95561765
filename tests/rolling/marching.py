"""A strip marched through the rolls, step by step, with the plastic history of every fibre: no steady state assumed.

Independent of the library: fibres of a rectangle with isotropic linear hardening, each with its own plastic strain and
its own yield stress; nodes of material one step apart; equilibrium of the sheet between three frictionless rolls found
anew after every step of feed. Many cases march side by side: the first axis of every array is the case.

Unknown after a step: curvature and slope of the sheet at the inside roll, and for each span its force, the direction
of its roll's tangent and the distance to the contact. Known: from the inside contact outwards the moment falls by
force × way along that tangent, every node's fibres turn the moment into a curvature, and the curvature bends the line.
"""

from __future__ import annotations

import numpy as np

HALF_FIBRES = 24


class Strip:
    """Material nodes with fibres over half the thickness; the other half does the opposite."""

    def __init__(self, modulus, yield_stress, hardening, thickness, nodes):
        """Start flat and without stress; the first four have one value for each case."""
        place, weight = np.polynomial.legendre.leggauss(HALF_FIBRES)
        half = np.asarray(thickness)[:, None] / 2
        self.height = half * (1 + place) / 2  # shape (cases, fibres)
        self.area = 2 * half * weight / 2  # both halves, per unit of width
        self.modulus, self.hardening = (np.asarray(value, float)[:, None] for value in (modulus, hardening))
        self.strength = np.asarray(yield_stress, float)[:, None, None] + np.zeros((len(half), nodes, HALF_FIBRES))
        self.plastic = np.zeros_like(self.strength)  # shape (cases, nodes, fibres)
        self.stiffness = (self.modulus * self.height**2 * self.area).sum(axis=1)

    def section(self, node, curvature):
        """Return moment, its slope, and how far each fibre would yield, at a node held at a curvature."""
        plastic, strength = self.plastic[:, node], self.strength[:, node]
        trial = self.modulus * (self.height * curvature[:, None] - plastic)
        over = np.maximum(np.abs(trial) - strength, 0.0)
        flow = np.sign(trial) * over / (self.modulus + self.hardening)
        tangent = np.where(over > 0, self.modulus * self.hardening / (self.modulus + self.hardening), self.modulus)
        lever = self.height * self.area
        return ((trial - self.modulus * flow) * lever).sum(axis=1), (tangent * self.height * lever).sum(axis=1), flow

    def curvature(self, node, moment):
        """Return the curvature under a moment.

        Newton's method from where the node would be if nothing more yielded: it climbs and never overshoots.
        """
        bend = self.kept(node) + moment / self.stiffness
        for _ in range(100):
            found, slope, _flow = self.section(node, bend)
            step = (moment - found) / slope
            bend = bend + step
            if np.max(np.abs(step) / (np.abs(bend) + 1e-6)) < 1e-11:
                break
        return bend

    def yield_at(self, node, curvature):
        """Let the fibres of a node flow at the curvature it is held at; where that is nothing, no roll holds it."""
        flow = self.section(node, curvature)[2] * (curvature != 0)[:, None]
        self.plastic[:, node] += flow
        self.strength[:, node] += self.hardening * np.abs(flow)

    def kept(self, node):
        """Return the curvature a node has without a moment."""
        return (self.plastic[:, node] * self.modulus * self.height * self.area).sum(axis=1) / self.stiffness


def walk(strip, inside, side, step, reach, most, force, tangent, count):
    """Return x, y, slope, moment at the end of a span from the inside node outwards, and curvatures at its nodes.

    ``side`` is 1 towards later nodes and −1 towards earlier ones; slopes are those of a line seen so that it curls up.
    """
    x, y, way, slope = (np.zeros_like(reach) for _ in range(4))
    curvatures = np.zeros((len(reach), count))
    curvatures[:, 0] = bend = most
    moment = strip.section(inside, most)[0]
    for number in range(1, count):
        length = np.clip(reach - way, 0.0, step)
        if not np.any(length > 0):
            break
        half = slope + bend * length / 2  # midpoint rule, with the curvature at the end found from the moment there
        moment_end = moment - force * np.cos(tangent - half) * length
        node = inside + side * number
        bend_end = strip.curvature(node, moment_end)
        middle = slope + (bend + bend_end) / 4 * length
        moment = moment - force * np.cos(tangent - middle) * length
        x, y = x + np.cos(middle) * length, y + np.sin(middle) * length
        slope = slope + (bend + bend_end) / 2 * length
        way = way + length
        bend = bend_end
        curvatures[:, number] = bend_end
    return x, y, slope, moment, curvatures


class March:
    """Strips between rolls; a step of feed at a time."""

    def __init__(self, strip, step, inside_radius, front, bending, count, perfect):
        """Rolls as (x, y, radius with half the thickness) from the inside roll's centre, one row for each case."""
        self.strip, self.step, self.inside_radius = strip, step, inside_radius
        self.rolls = {-1: front, 1: bending}
        self.perfect = perfect
        self.bends: dict[int, np.ndarray] = {}
        self.count = count

    def misses(self, inside, unknown, keep=False):
        """Return what must be nothing for equilibrium and contact."""
        most, tilt = unknown[:, 0], unknown[:, 1]
        moment = self.strip.section(inside, most)[0]
        found, number = [], 2
        for side in (1,) if self.perfect else (1, -1):
            force, tangent, reach = (unknown[:, number + index] for index in range(3))
            number += 3
            end = walk(self.strip, inside, side, self.step, reach, most, force, tangent, self.count)
            x, y, slope, left, bends = end
            if keep:
                self.bends[side] = bends
            centre_x, centre_y, radius = self.rolls[side].T
            aside, above = side * (x + radius * np.sin(slope)), y - radius * np.cos(slope) - self.inside_radius
            found += [left / np.abs(moment), slope - tangent,
                      (aside * np.cos(tilt) - above * np.sin(tilt) - centre_x) / self.inside_radius,
                      (aside * np.sin(tilt) + above * np.cos(tilt) - centre_y) / self.inside_radius]  # fmt: skip
        return np.stack(found + ([tilt] if self.perfect else []), axis=1)

    def settle(self, inside, unknown, jacobian=None):
        """Return the equilibrium after the inside contact has moved to a node, and the Jacobian it used."""
        scale = 0.05 * np.abs(unknown).max(axis=0) + 1e-3 * (np.arange(unknown.shape[1]) == 1)
        least = np.inf
        for _ in range(80):
            miss = self.misses(inside, unknown)
            worst = np.max(np.abs(miss))
            if worst < 1e-9:
                break
            if jacobian is None or worst > 0.3 * least:  # a slow step: a fibre has begun or stopped to yield
                jacobian = self._jacobian(inside, unknown, miss)
            least = worst
            change = np.linalg.solve(jacobian, miss[:, :, None])[:, :, 0]
            size = np.max(np.abs(change) / (np.abs(unknown) + scale), axis=1, keepdims=True)
            unknown = unknown - change * np.minimum(1.0, 0.3 / np.maximum(size, 1e-12))
        assert worst < 1e-7, f"no equilibrium: {worst:.1e}"
        self.misses(inside, unknown, keep=True)
        return unknown, jacobian

    def _jacobian(self, inside, unknown, miss):
        """Return the derivatives of the misses, by differences."""
        columns = []
        for number in range(unknown.shape[1]):
            change = 1e-6 * (np.abs(unknown[:, number]) + (1e-3 if number == 1 else 0.0))
            moved = unknown.copy()
            moved[:, number] += change
            columns.append((self.misses(inside, moved) - miss) / change[:, None])
        return np.stack(columns, axis=2)

    def pass_through(self, nodes, places, unknown):
        """Feed the inside contact along nodes, the rolls moving to their places, and return the last equilibrium.

        Every fibre flows at the curvature its node is held at before the next step.
        """
        jacobian = None
        for inside, place in zip(nodes, places, strict=True):
            for side, centres in place.items():
                self.rolls[side][:, :2] = centres
            unknown, jacobian = self.settle(inside, unknown, jacobian)
            for side, bends in self.bends.items():
                for number in range(bends.shape[1]):
                    held = bends[:, number]
                    if np.any(held):
                        self.strip.yield_at(inside + side * number, held)
        return unknown
