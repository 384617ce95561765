"""The line of a strip from the inside roll outwards, and where it touches an outer roll.

Sections a cell apart are known by their curvature; slopes and places follow by adding up. All that is found comes with
its changes, one column for each curvature and three more: the tilt at the inside contact, the way from there to the
first section, and the height of the outer roll.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from .strip import Line


class NoEquilibriumError(ArithmeticError):
    """The rolls cannot hold the line, or no way to do so was found."""


class Roll(NamedTuple):
    """An outer roll, seen from where the inside roll touches flat stock, x counted away from it."""

    x: float
    y: float
    radius: float  # to the mid-thickness of stock that lies on it


class Start(NamedTuple):
    """Where the line is at the section beside the inside contact, and how that changes with the unknowns."""

    x: float
    y: float
    slope: float
    contact: tuple[float, float]
    changes: Line  # of x, y, slope with the section's curvature, the tilt, and the way to the contact
    contact_change: tuple[float, float]  # with the tilt

    def mirrored(self) -> Start:
        """Return the start of the line towards the front roll, with x counted that way."""
        signs = np.array([[-1.0], [1.0], [-1.0]])
        return Start(-self.x, self.y, -self.slope, (-self.contact[0], self.contact[1]), signs * self.changes,
                     (-self.contact_change[0], self.contact_change[1]))


class Touch(NamedTuple):
    """Where a line touches a roll: how many cells out, the place, and how it moves with the unknowns."""

    at: float
    x: float
    y: float
    changes: Line


class Reach(NamedTuple):
    """What a roll does to the line: lever arms about the sections and the contact, and its gap, with their changes."""

    arms: Line
    arms_change: Line
    gap: float
    gap_change: Line
    at: float


class Shape(NamedTuple):
    """Places and slopes of the sections, with their changes."""

    x: Line
    y: Line
    slope: Line
    xs: Line
    ys: Line
    slopes: Line


class SheetLine:
    """Lines of stock of one depth, in cells of one length, around one inside roll."""

    def __init__(self, cell: float, depth: float, inside: float, count: int) -> None:
        """Prepare sums for up to ``count`` sections; ``inside`` is the inside roll's radius to mid-thickness. [mm]"""
        self.cell, self.depth, self.inside = cell, depth, inside
        self._turn = cell * (np.tril(np.ones((count, count))) - np.eye(count) / 2)  # slopes by the trapezium rule
        self._turn[:, 0] -= cell / 2
        self._middle = self._turn[:-1].copy()  # the same half a cell on
        number = np.arange(count - 1)
        self._middle[number, number] += 3 * cell / 8
        self._middle[number, number + 1] += cell / 8

    def start(self, bend: float, tilt: float, way: float) -> Start:
        """Return the line at a section that lies some way behind the inside contact."""
        middle, radius = tilt + bend * way / 2, self.inside
        along, up = math.cos(middle), math.sin(middle)
        x, y = radius * math.sin(tilt), radius * (1 - math.cos(tilt))
        turning = np.array([way / 2, 1.0, bend / 2])
        changes = np.array([-way * up * turning, way * along * turning, [way, 1.0, bend]])
        changes[0] += (0.0, radius * math.cos(tilt), along)
        changes[1] += (0.0, radius * math.sin(tilt), up)
        return Start(x + way * along, y + way * up, tilt + bend * way, (x, y), changes,
                     (radius * math.cos(tilt), radius * math.sin(tilt)))

    def reach(self, bend: Line, start: Start, roll: Roll, ends: bool, bulge: Line | None = None) -> Reach:
        """Return what a roll does to a line; ``ends`` says whether the stock ends where the line does."""
        shape, count = self._shape(bend, start, bulge), len(bend)
        near = int(np.argmin((shape.x - roll.x) ** 2 + (shape.y - roll.y) ** 2))
        slope = float(shape.slope[near])
        past = (shape.x[near] - roll.x) * math.cos(slope) + (shape.y[near] - roll.y) * math.sin(slope) > 0
        if near == count - 1 and not past:
            if not ends:
                raise NoEquilibriumError("a roll touches further out than was thought")
            touch, radius = self._corner(shape, near), roll.radius - self.depth / 2
        else:
            touch, radius = self._tangent(shape, bend, max(near - past, 0), roll), roll.radius
        aside, above = touch.x - roll.x, touch.y - roll.y
        distance = math.hypot(aside, above)
        right, upward = aside / distance, above / distance
        moved_x, moved_y = touch.changes
        seen_y = moved_y.copy()
        seen_y[-1] -= 1.0  # as the roll rises
        gap_change = right * moved_x + upward * seen_y
        turn_x, turn_y = (moved_x - right * gap_change) / distance, (seen_y - upward * gap_change) / distance
        xs, ys = np.vstack([shape.xs, np.zeros(count + 3)]), np.vstack([shape.ys, np.zeros(count + 3)])
        xs[-1, count], ys[-1, count] = start.contact_change
        arm_x = touch.x - np.append(shape.x, start.contact[0])
        arm_y = touch.y - np.append(shape.y, start.contact[1])
        arms = arm_x * upward - arm_y * right
        arms_change = ((moved_x - xs) * upward - (moved_y - ys) * right
                       + arm_x[:, None] * turn_y - arm_y[:, None] * turn_x)
        beyond = slice(math.floor(max(touch.at, 0.0)) + 1, count)
        arms[beyond], arms_change[beyond] = 0.0, 0.0
        return Reach(arms, arms_change, distance - radius, gap_change, touch.at)

    def _shape(self, bend: Line, start: Start, bulge: Line | None) -> Shape:
        """Return places and slopes; ``bulge`` is the slope by which straight lines between sections are off."""
        count, cell = len(bend), self.cell
        turn, half = self._turn[:count, :count], self._middle[: count - 1, :count]
        first = np.zeros((3, count + 3))
        first[:, [0, count, count + 1]] = start.changes
        slopes, middles = np.tile(first[2], (count, 1)), np.tile(first[2], (count - 1, 1))
        slopes[:, :count] += turn
        middles[:, :count] += half
        slope, middle = start.slope + turn @ bend, start.slope + half @ bend
        if bulge is not None:
            known = np.zeros(count)  # further out than it was told for, the line is nearly straight
            known[1 : len(bulge) + 1] = bulge[: count - 1]
            more = np.cumsum(known)
            slope, middle = slope + more, middle + (more[:-1] + more[1:]) / 2
        along, up = cell * np.cos(middle), cell * np.sin(middle)
        x, y = np.full(count, start.x), np.full(count, start.y)
        x[1:] += np.cumsum(along)
        y[1:] += np.cumsum(up)
        xs, ys = np.tile(first[0], (count, 1)), np.tile(first[1], (count, 1))
        xs[1:] -= np.cumsum(up[:, None] * middles, axis=0)
        ys[1:] += np.cumsum(along[:, None] * middles, axis=0)
        return Shape(x, y, slope, xs, ys, slopes)

    def _corner(self, shape: Shape, end: int) -> Touch:
        """Return the lower corner at the end of the line."""
        half, cosine, sine = self.depth / 2, math.cos(shape.slope[end]), math.sin(shape.slope[end])
        changes = np.array([shape.xs[end] + half * cosine * shape.slopes[end],
                            shape.ys[end] + half * sine * shape.slopes[end]])
        return Touch(float(end), float(shape.x[end]) + half * sine, float(shape.y[end]) - half * cosine, changes)

    def _tangent(self, shape: Shape, bend: Line, first: int, roll: Roll) -> Touch:
        """Return where the line comes nearest to a roll's centre, in a cell with curvature in a straight line."""
        cell, (x, y, slope, xs, ys, slopes) = self.cell, (part[first] for part in shape)
        low, gain, way, step = float(bend[first]), float(bend[first + 1] - bend[first]) / self.cell, 0.0, math.inf
        for _ in range(30):
            middle, end = slope + low * way / 2 + gain * way**2 / 8, slope + low * way + gain * way**2 / 2
            right, up = x + way * math.cos(middle), y + way * math.sin(middle)
            cosine, sine = math.cos(end), math.sin(end)
            stiff = 1 + roll.radius * max(low + gain * way, 0.0)
            if abs(step) < 1e-13 * cell:
                break
            step = ((right - roll.x) * cosine + (up - roll.y) * sine) / stiff
            way -= step
        middles, ends = slopes.copy(), slopes.copy()
        middles[first : first + 2] += way / 2 - way**2 / 8 / cell, way**2 / 8 / cell
        ends[first : first + 2] += way - way**2 / 2 / cell, way**2 / 2 / cell
        x_change, y_change = xs - way * math.sin(middle) * middles, ys + way * math.cos(middle) * middles
        seen_y = y_change.copy()
        seen_y[-1] -= 1.0
        slide = -(x_change * cosine + seen_y * sine + roll.radius * ends) / stiff
        return Touch(first + way / cell, right, up, np.array([x_change + cosine * slide, y_change + sine * slide]))
