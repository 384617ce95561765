"""A strip marched through the rolls, a cell of feed at a time: no steady state assumed.

One line runs from the front roll over the inside roll to the bending roll. Its sections are known by their curvature;
slopes and places follow by adding up outwards from the inside contact. An outer roll touches the line where it comes
nearest, with a force along its own radius: in the middle of the sheet, or at the very end, where a corner rides on
the roll. Unknown after each step of feed are the curvatures, the forces of the outer rolls, the tilt of the line at
the inside contact, and how far the contact lies from a section. Each section's fibres turn its curvature into a moment,
which must be the force's times its lever arm; no section is bent tighter than the inside roll, on which it then lies.
Newton's method solves for all of it at once; then the fibres yield, and the strip moves on.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from rollcalc.stock.sections import gauss_points

from .machines import Machine, PinchMachine, PyramidMachine
from .setting import Setting
from .shape import span_lengths
from .strip import Line, Nodes, Strip

_FAINT = 1e-9
"""Force over E′I to begin with. [1/mm²]"""

_ENOUGH = 1e-9
"""Misses below this are an equilibrium; all of them are without unit or lengths of the inside roll. [-]"""


class Roll(NamedTuple):
    """An outer roll, seen from where the inside roll touches flat stock, x counted away from it."""

    x: float
    y: float
    radius: float  # to the mid-thickness of stock that lies on it


class Start(NamedTuple):
    """Where the line is at a section beside the inside contact, and how that changes with the unknowns."""

    x: float
    y: float
    slope: float
    contact: tuple[float, float]
    changes: Line  # of x, y, slope with the section's curvature, the tilt, and the way to the contact
    contact_change: tuple[float, float]  # with the tilt


class Reach(NamedTuple):
    """What a roll does to the line: lever arms about the sections and the contact, and its gap, with their changes."""

    arms: Line
    arms_change: Line
    gap: float
    gap_change: Line
    at: float


class State(NamedTuple):
    """An equilibrium: curvatures on both sides, forces over E′I, tilt, way to the contact and the front roll's height."""

    bending: Line
    front: Line
    tail: Line


_SEARCHES = ((1.0, True, False), (1.0, False, False), (0.98, True, False), (0.9, False, False), (1.0, True, True))
"""Where to start from, in shares of the travel; whether every step must come nearer; whether along the whole line."""


class NoEquilibriumError(ArithmeticError):
    """The rolls cannot hold the line, or no way to do so was found."""


class TipError(NoEquilibriumError):
    """The tip runs against the bending roll and cannot ride up on it."""


class March:
    """A strip between the rolls of a machine, a step of feed at a time."""

    def __init__(self, setting: Setting, strip: Strip) -> None:
        """Take the machine of a setting, and set its rolls as there."""
        self.machine, self.strip, self.travel = setting.machine, strip, float(setting.travel)
        self.inside = self.machine.inside_roll_diameter / 2 + strip.depth / 2
        self.perfect = self.machine.nip_is_perfect
        self.pinch = getattr(self.machine, "pinch_force", None)
        self.loose = _loose_tilt(self.machine, strip.depth)
        before, behind = span_lengths(setting)
        self.near = [math.ceil(1.4 * float(way) / strip.cell) + 6 for way in (behind, before)]
        self.bulge = np.zeros(strip.last)  # slope that a straight line between sections adds too much, per cell
        self.state: State | None = None
        self.laid = self.tip_rides = False
        self.forces: list[float] = []  # of the bending roll, after each step [N]
        count = strip.last + 1
        self._turn = strip.cell * (np.tril(np.ones((count, count))) - np.eye(count) / 2)  # trapezium rule
        self._turn[:, 0] -= strip.cell / 2
        self._middle = self._turn[:-1].copy()  # the same half a cell on
        cell = np.arange(count - 1)
        self._middle[cell, cell] += 3 * strip.cell / 8
        self._middle[cell, cell + 1] += strip.cell / 8

    def feed(self, first: int) -> None:
        """Push the strip in until its other end leaves the front roll; the section ``first`` is at the inside roll."""
        node, feed = first, first * self.strip.cell
        while node <= self.strip.last:
            try:
                self.step(node, feed)
            except NoEquilibriumError:
                if self.perfect or self.state is None or self.strip.last - node > self.near[1]:
                    raise
                return  # the end has left the front roll, which holds it no longer
            tilt = 0.0 if self.state is None else float(self.state.tail[2])
            rolled = (feed - self.inside * tilt) / self.strip.cell + 0.5
            node = math.floor(rolled + 1e-9) + 1
            feed = node * self.strip.cell + self.inside * tilt

    def press(self, node: int, steps: int) -> None:
        """Bring the rolls to their travel with the strip standing still."""
        last = self.travel
        for number in range(1, steps + 1):
            self.travel = last * number / steps
            self.step(node, node * self.strip.cell)

    def step(self, node: int, feed: float) -> None:
        """Find the next equilibrium, and let the fibres yield."""
        kept = self.strip.kept
        if self.state is None and self._is_free(node, kept):
            return
        found, (out, into) = self._found(node, feed, kept)
        bend = found[:-5]
        if found[-5] <= 0:
            self.state = None
            return
        self.state = State(bend[: len(out)], bend[len(out) :], found[-5:])
        if not self.perfect:
            self.bulge = self._bulge(into, np.concatenate([bend[:1], self.state.front]))
        self.strip.hold(np.concatenate([out, into[1:]]), bend)
        self.forces.append(float(found[-5]) * self.strip.stiffness)

    def _found(self, node: int, feed: float, kept: Line) -> tuple[Line, tuple[Nodes, Nodes]]:
        """Return the next equilibrium and its windows; where it hides, look for it along a longer line, or from a gentler setting."""
        near, travel, riding = self.near, self.travel, self.tip_rides or self.state is None
        failed: Exception = NoEquilibriumError()
        for share, careful, longer in _SEARCHES:
            self.near = [self.strip.last] * 2 if longer else near
            found = self._guess(node, kept)
            try:
                for part in np.linspace(share, 1.0, 1 if share == 1 else 5):
                    self.travel = travel * part
                    found = self.settle(node, found, feed, careful)
                return found, self.windows(node)
            except (ArithmeticError, ValueError) as error:
                failed = error
            finally:
                self.travel, self.near = travel, near
        if riding:
            raise TipError("the tip does not ride up on the bending roll") from failed
        raise NoEquilibriumError("no equilibrium was found on the way") from failed

    def _is_free(self, node: int, kept: Line) -> bool:
        """Return whether the strip passes the bending roll without touching it."""
        into, out = self.windows(node)[1], np.arange(node, -1, -1)
        start = self._start(float(kept[node]), self.loose, 0.0)
        bending, front = self.rolls()
        touch = self._reach(kept[out], start, bending, True)
        free = touch.gap > 0
        if isinstance(self.machine, PyramidMachine):
            return free or self._reach(kept[into], _mirrored(start), front, True).gap > 0
        if not free and touch.gap_change[-1] >= 0:
            raise TipError("the tip runs against the bending roll below its middle")
        return free

    def _guess(self, node: int, kept: Line) -> Line:
        """Return where to look for an equilibrium: the one before, in the same places."""
        out, into = self.windows(node)
        pressed = _FAINT if self.pinch is None else float(self.pinch) / self.strip.stiffness
        tail = np.array([_FAINT, pressed, self.loose, 0.0, self.rolls()[1].y])
        if self.perfect:
            tail[1:] = 0.0
        bend, front = kept[out], kept[into[1:]]
        if self.state is not None:
            tail = self.state.tail.copy()
            for now, last in ((bend, self.state.bending), (front, self.state.front)):
                common = min(len(now), len(last))
                now[:common] = last[:common]
        return np.concatenate([bend, front, tail])

    def rolls(self) -> tuple[Roll, Roll]:
        """Return the bending roll and the front roll, both seen in front of the inside roll's contact."""
        machine, half, travel = self.machine, self.strip.depth / 2, self.travel
        if isinstance(machine, PinchMachine):
            x, y = machine.bending_roll_centre(2 * half, travel)
            low = float(machine.lower_roll_centre(2 * half)[1])
            return (Roll(float(x), float(y), machine.bending_roll_diameter / 2 + half),
                    Roll(0.0, low, machine.lower_roll_diameter / 2 + half))  # fmt: skip
        x, y = machine.bottom_roll_centre(2 * half)
        roll = Roll(float(x), float(y) + travel, machine.bottom_roll_diameter / 2 + half)
        return roll, roll

    def windows(self, node: int) -> tuple[Nodes, Nodes]:
        """Return the sections from one beside the inside contact to the tip's side, and to the other end's."""
        behind, before = min(node, self.near[0]), min(self.strip.last - node, self.near[1])
        return node - np.arange(behind + 1), node + np.arange(0 if self.perfect else before + 1)

    def misses(self, node: int, state: Line, feed: float) -> tuple[Line, Line]:
        """Return what must be nothing for equilibrium and contact, and how it changes with the unknowns."""
        out, into = self.windows(node)
        count, size, turns = len(out), len(state), 1 / self.inside
        nodes = np.concatenate([out, into[1:]])
        bend, (force, front_force, tilt, way, lift) = state[:-5], state[-5:]
        start = self._start(bend[0], tilt, way)
        moment, slope, _ = self.strip.section(nodes, bend)
        miss, change = np.zeros(size), np.zeros((size, size))
        miss[:-5] = moment
        np.fill_diagonal(change[:-5, :-5], slope)

        rolls = self.rolls()
        behind = self._reach(bend[:count], start, rolls[0], out[-1] == 0)
        self.tip_rides = bool(out[-1] == 0 and behind.at == count - 1)
        columns = np.r_[:count, size - 3, size - 2, size - 1]
        load, load_change = force * behind.arms, _spread(force * behind.arms_change, columns, size)
        load_change[:, -5] = behind.arms
        miss[:count] -= load[:-1]
        change[:count] -= load_change[:-1]
        miss[-5], change[-5] = behind.gap * turns, _spread(behind.gap_change[None] * turns, columns, size)[0]
        if self.perfect:
            miss[-4:], change[-4:] = state[-4:], np.eye(size)[-4:]
        else:
            columns = np.r_[0, count : size - 5, size - 3, size - 2, size - 1]
            before = self._reach(bend[columns[:-3]], _mirrored(start), rolls[1]._replace(y=lift),
                                 into[-1] == self.strip.last, self.bulge)  # fmt: skip
            held, held_change = front_force * before.arms, _spread(front_force * before.arms_change, columns, size)
            held_change[:, -4] = before.arms
            miss[count:-5] -= held[1:-1]
            change[count:-5] -= held_change[1:-1]
            if way < 0:  # the first section has not reached the inside contact yet
                miss[0] += load[0] - held[0]
                change[0] += load_change[0] - held_change[0]
            miss[-4], change[-4] = before.gap * turns, _spread(before.gap_change[None] * turns, columns, size)[0]
            miss[-3], change[-3] = load[-1] - held[-1], load_change[-1] - held_change[-1]
            miss[-2] = ((node * self.strip.cell + way) + self.inside * tilt - feed) * turns
            change[-2, -2], change[-2, -3] = turns, 1.0
            if self.pinch is None:
                miss[-1], change[-1, -1] = (lift - rolls[1].y) * turns, turns
            else:
                pressed = self.strip.stiffness / float(self.pinch)
                miss[-1], change[-1, -4] = front_force * pressed - 1, pressed
        lies = np.flatnonzero(bend - turns > miss[:-5])  # on the inside roll
        miss[lies], change[lies] = bend[lies] - turns, 0.0
        change[lies, lies] = 1.0
        return miss, change

    def _start(self, bend: float, tilt: float, way: float) -> Start:
        """Return the line at a section that lies some way behind the inside contact."""
        middle, radius = tilt + bend * way / 2, self.inside
        along, up = math.cos(middle), math.sin(middle)
        x, y = radius * math.sin(tilt), radius * (1 - math.cos(tilt))
        turning = np.array([way / 2, 1.0, bend / 2])
        changes = np.array([-way * up * turning, way * along * turning, [way, 1.0, bend]])
        changes[0] += (0.0, radius * math.cos(tilt), along)
        changes[1] += (0.0, radius * math.sin(tilt), up)
        return Start(x + way * along, y + way * up, tilt + bend * way, (x, y), changes,
                     (radius * math.cos(tilt), radius * math.sin(tilt)))  # fmt: skip

    def _reach(self, bend: Line, start: Start, roll: Roll, ends: bool, bulge=0.0) -> Reach:
        """Return what a roll does to the line; its columns are the curvatures, tilt, way, and the roll's height."""
        count, cell, size = len(bend), self.strip.cell, len(bend) + 3
        slopes, xs, ys = np.zeros((count, size)), np.zeros((count + 1, size)), np.zeros((count + 1, size))
        from_start = np.zeros((3, size))
        from_start[:, [0, count, count + 1]] = start.changes
        slopes[:] = from_start[2]
        slopes[:, :count] += self._turn[:count, :count]
        middles = np.zeros((count - 1, size)) + from_start[2]
        middles[:, :count] += self._middle[: count - 1, :count]
        slope = start.slope + self._turn[:count, :count] @ bend
        middle = start.slope + self._middle[: count - 1, :count] @ bend
        if np.ndim(bulge):
            turned = np.concatenate([[0.0], np.cumsum(bulge[: count - 1])])
            slope, middle = slope + turned, middle + (turned[:-1] + turned[1:]) / 2
        along, up = cell * np.cos(middle), cell * np.sin(middle)
        x, y = (np.concatenate([[0.0], np.cumsum(steps)]) + first for steps, first in ((along, start.x), (up, start.y)))
        xs[:-1], ys[:-1] = from_start[0], from_start[1]
        xs[1:-1] -= np.cumsum(up[:, None] * middles, axis=0)
        ys[1:-1] += np.cumsum(along[:, None] * middles, axis=0)
        xs[-1, count], ys[-1, count] = start.contact_change

        near = int(np.argmin((x - roll.x) ** 2 + (y - roll.y) ** 2))
        past = (x[near] - roll.x) * math.cos(slope[near]) + (y[near] - roll.y) * math.sin(slope[near]) > 0
        if near == count - 1 and not past:
            if not ends:
                raise NoEquilibriumError("the roll touches further out than was thought")
            at, radius = float(near), roll.radius - self.strip.depth / 2
            place, place_change, slide = self._corner(near, x, y, slope, xs, ys, slopes)
        else:
            radius, cell_number = roll.radius, max(near - past, 0)
            at, place, place_change, slide = self._touch(cell_number, bend, (x, y, slope), (xs, ys, slopes), roll)
        aside, above = place[0] - roll.x, place[1] - roll.y
        distance = math.hypot(aside, above)
        right, upward = aside / distance, above / distance
        moved_x, moved_y = place_change + slide
        seen_y = moved_y.copy()
        seen_y[-1] -= 1.0  # as the roll rises
        gap_change = right * moved_x + upward * seen_y
        right_change, upward_change = (
            (moved_x - right * gap_change) / distance,
            (seen_y - upward * gap_change) / distance,
        )
        x, y = np.append(x, start.contact[0]), np.append(y, start.contact[1])
        arm_x, arm_y = place[0] - x, place[1] - y
        arms = arm_x * upward - arm_y * right
        arms_change = ((moved_x - xs) * upward - (moved_y - ys) * right
                       + arm_x[:, None] * upward_change - arm_y[:, None] * right_change)  # fmt: skip
        beyond = slice(math.floor(max(at, 0.0)) + 1, count)
        arms[beyond], arms_change[beyond] = 0.0, 0.0
        return Reach(arms, arms_change, distance - radius, gap_change, at)

    def _corner(self, end, x, y, slope, xs, ys, slopes):
        """Return the place of the lower corner at the end of the line and its changes."""
        half, cosine, sine = self.strip.depth / 2, math.cos(slope[end]), math.sin(slope[end])
        place = x[end] + half * sine, y[end] - half * cosine
        return place, np.array([xs[end] + half * cosine * slopes[end], ys[end] + half * sine * slopes[end]]), 0.0

    def _touch(self, first, bend, line, changes, roll):
        """Return where the line comes nearest to a roll's centre, in cells, its place there and its changes."""
        cell, size = self.strip.cell, changes[0].shape[1]
        (x, y, slope), (xs, ys, slopes) = (tuple(part[first] for part in both) for both in (line, changes))
        gain, way, step = (bend[first + 1] - bend[first]) / cell, 0.0, math.inf
        for _ in range(30):
            middle, end = (
                slope + bend[first] * way / 2 + gain * way**2 / 8,
                slope + bend[first] * way + gain * way**2 / 2,
            )
            place = x + way * math.cos(middle), y + way * math.sin(middle)
            cosine, sine = math.cos(end), math.sin(end)
            stiff = 1 + roll.radius * max(bend[first] + gain * way, 0.0)
            if abs(step) < 1e-13 * cell:
                break
            step = ((place[0] - roll.x) * cosine + (place[1] - roll.y) * sine) / stiff
            way -= step
        middles, ends = slopes.copy(), slopes.copy()
        middles[first : first + 2] += way / 2 - way**2 / 8 / cell, way**2 / 8 / cell
        ends[first : first + 2] += way - way**2 / 2 / cell, way**2 / 2 / cell
        change = np.array([xs - way * math.sin(middle) * middles, ys + way * math.cos(middle) * middles])
        lift = np.zeros(size)
        lift[-1] = 1.0
        slide = -(change[0] * cosine + (change[1] - lift) * sine + roll.radius * ends) / stiff
        return first + way / cell, place, change, np.array([[cosine], [sine]]) * slide

    def _bulge(self, into, bend):
        low, high = bend[1:], bend[:-1]
        places, weights = (np.array(part) for part in zip(*gauss_points(6)))
        inner = low[:, None] + (high - low)[:, None] * places
        bends = np.column_stack([low, high, inner])
        nodes = np.repeat(into[1:], bends.shape[1])
        moments = self.strip.section(nodes, bends.ravel())[0].reshape(bends.shape)
        more = (moments[:, 0] + moments[:, 1]) / 2 - moments[:, 2:] @ weights
        fall = moments[:, 1] - moments[:, 0]
        return np.where(fall > 1e-9, self.strip.cell * (high - low) * more / np.where(fall > 1e-9, fall, 1.0), 0.0)

    def settle(self, node: int, state: Line, feed: float, careful: bool = True) -> Line:
        """Return the equilibrium near a state."""
        miss, change = self.misses(node, state, feed)
        worst = float(np.linalg.norm(miss))
        for _ in range(60):
            if worst < _ENOUGH:
                return state
            step = np.linalg.solve(change, miss)
            share = min(1.0, 0.3 / self.inside / np.max(np.abs(step[:-5])), 0.1 / max(abs(step[-3]), 1e-9))
            tries = []
            for _ in range(6):
                trial = state - share * step
                miss, change = self.misses(node, trial, feed)
                tries.append((float(np.linalg.norm(miss)), trial, miss, change))
                if not careful or tries[-1][0] < (1 - 0.1 * share) * worst:
                    break
                share /= 2
            worst, state, miss, change = min(tries, key=lambda one: one[0])
        raise NoEquilibriumError(f"{worst:.1e} from an equilibrium")


def roll_once(setting: Setting, strip: Strip) -> March:
    """Roll a strip once through a machine as it is set, tip first, and return the march.

    The tip is pushed on to the bending roll. Where that cannot be (a pyramid machine; a roll set so high that the tip
    runs against it), the strip is laid over the roll, and the rolls come to their travel before it is fed.
    """
    march = March(setting, strip)
    if isinstance(setting.machine, PinchMachine):
        before = strip.plastic.copy(), strip.yielded.copy()
        try:
            march.feed(1)
        except TipError:
            strip.plastic, strip.yielded = before
            march = March(setting, strip)
        else:
            return march
    march.laid = True
    laid = math.ceil(max(touch_distance(march.machine), 1.02 * float(span_lengths(setting)[1])) / strip.cell) + 1
    march.near[0] = max(march.near[0], laid)
    march.press(laid, steps=20)
    march.feed(laid + 1)
    return march


def touch_distance(machine: Machine) -> float:
    """Return how far behind the inside roll the bending roll touches flat stock. [mm]"""
    return machine.guide_distance if isinstance(machine, PinchMachine) else machine.bottom_roll_spacing / 2


def _loose_tilt(machine: Machine, depth: float) -> float:
    """Return how far flat stock tilts in a nip that is wider than the stock."""
    if not isinstance(machine, PinchMachine) or machine.pinch_force is not None:
        return 0.0
    apart = (machine.upper_roll_diameter + machine.lower_roll_diameter) / 2 + depth
    return math.acos(apart / (apart + float(machine.nip_slack)))


def _mirrored(start: Start) -> Start:
    """Return the start of the line towards the front roll, with x counted that way."""
    signs = np.array([[-1.0], [1.0], [-1.0]])
    return Start(-start.x, start.y, -start.slope, (-start.contact[0], start.contact[1]), signs * start.changes,
                 (-start.contact_change[0], start.contact_change[1]))  # fmt: skip


def _spread(rows: Line, columns: Nodes, size: int) -> Line:
    """Return rows with their entries moved to some columns of a wider table."""
    wide = np.zeros((len(rows), size))
    wide[:, columns] = rows
    return wide
