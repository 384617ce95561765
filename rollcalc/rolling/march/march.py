"""A strip marched through the rolls, a cell of feed at a time: no steady state assumed.

One line runs from the front roll over the inside roll to the bending roll (`SheetLine`). An outer roll touches it where
it comes nearest, with a force along its own radius: within the sheet, or at the very end, where a corner rides on the
roll. Unknown after each step of feed are the curvatures of the sections, the forces of the outer rolls, the tilt of the
line at the inside contact, the way from there to the first section, and the height of the front roll. Each section's
fibres turn its curvature into a moment, which must be the force's times its lever arm; no section is bent tighter than
the inside roll, on which it then lies. Newton's method solves for all of it at once; then the fibres yield, and the
strip moves on. While the line tilts, it rolls on the inside roll, so that the contact moves by radius × tilt.
"""

import math
from typing import NamedTuple

import numpy as np

from rollcalc.stock.sections import gauss_points

from ..machine.kinds import PinchMachine, PyramidMachine
from ..setting import Setting
from ..shape import span_lengths
from .sheet_line import NoEquilibriumError, Roll, SheetLine
from .strip import Line, Nodes, Strip

_FAINT = 1e-9
"""Force over E′I to begin with. [1/mm²]"""

_ENOUGH = 1e-9
"""Misses below this are an equilibrium; all of them are without unit or lengths of the inside roll. [-]"""


class State(NamedTuple):
    """An equilibrium: curvatures on both sides; both forces over E′I, tilt, way to the contact, front roll's height."""

    bending: Line
    front: Line
    tail: Line


_SEARCHES = ((1.0, True, False), (1.0, False, False), (0.98, True, False), (0.9, False, False), (1.0, True, True))
"""Where to start from, in shares of the travel; whether every step must come nearer; whether along the whole line."""

MOST_ASKED = 40
"""Trials for each cell of a strip after which a march is lost; usual ones take 4 to 20."""


class TipError(NoEquilibriumError):
    """The tip runs against the bending roll and cannot ride up on it."""


class March:
    """A strip between the rolls of a machine, a step of feed at a time."""

    def __init__(self, setting: Setting, strip: Strip) -> None:
        """Take the machine of a setting, and set its rolls as there."""
        self.machine, self.strip, self.travel = setting.machine, strip, float(setting.travel)
        self.inside = self.machine.inside_roll_diameter / 2 + strip.depth / 2
        self.perfect, self.pinch = self.machine.nip_is_perfect, self.machine.pinch_force
        apart = sum(self.machine.roll_diameters[:2]) / 2 + strip.depth
        self.loose = math.acos(apart / (apart + float(self.machine.nip_slack)))  # of flat stock in a wide nip
        before, behind = span_lengths(setting)
        self.near = [math.ceil(1.4 * float(way) / strip.cell) + 6 for way in (behind, before)]
        self.bulge = np.zeros(strip.last)  # slope by which straight lines between sections are off, per cell
        self.state: State | None = None
        self.laid = self.tip_rides = False
        self.asked = 0
        self.forces: list[float] = []  # of the bending roll, after each step [N]
        self.line = SheetLine(strip.cell, strip.depth, self.inside, strip.last + 1)

    def feed(self, first: int) -> None:
        """Push the strip in until its other end leaves the front roll; the section ``first`` is at the inside roll."""
        node, feed, cell = first, first * self.strip.cell, self.strip.cell
        while node <= self.strip.last:
            try:
                self.step(node, feed)
            except NoEquilibriumError:
                if self.perfect or self.state is None or self.strip.last - node > self.near[1]:
                    raise
                return  # the end has left the front roll, which holds it no longer
            rolling = 0.0 if self.state is None else self.inside * float(self.state.tail[2])
            node = math.floor((feed - rolling) / cell + 0.5 + 1e-9) + 1
            feed = node * cell + rolling

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
        if found[-5] <= 0:
            self.state = None
            return
        bend = found[:-5]
        self.state = State(bend[: len(out)], bend[len(out) :], found[-5:])
        if not self.perfect:
            self.bulge = self._bulge(into, np.concatenate([bend[:1], self.state.front]))
        self.strip.hold(np.concatenate([out, into[1:]]), bend)
        self.forces.append(float(found[-5]) * self.strip.stiffness)

    def _found(self, node: int, feed: float, kept: Line) -> tuple[Line, tuple[Nodes, Nodes]]:
        """Return the next equilibrium and its windows; where it hides, look on a longer line or set gently."""
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
        start = self.line.start(float(kept[node]), self.loose, 0.0)
        bending, front = self.rolls()
        touch = self.line.reach(kept[out], start, bending, True)
        free = touch.gap > 0
        if isinstance(self.machine, PyramidMachine):
            return free or self.line.reach(kept[into], start.mirrored(), front, True).gap > 0
        if not free and touch.gap_change[-1] >= 0:
            raise TipError("the tip runs against the bending roll below its middle")
        return free

    def _guess(self, node: int, kept: Line) -> Line:
        """Return where to look for an equilibrium: the one before, in the same places."""
        out, into = self.windows(node)
        pressed = _FAINT if self.pinch is None else float(self.pinch) / self.strip.stiffness
        tail = np.array([_FAINT, *([0.0] * 4 if self.perfect else [pressed, self.loose, 0.0, self.rolls()[1].y])])
        bend, front = kept[out], kept[into[1:]]
        if self.state is not None:
            tail = self.state.tail.copy()
            for now, last in ((bend, self.state.bending), (front, self.state.front)):
                common = min(len(now), len(last))
                now[:common] = last[:common]
        return np.concatenate([bend, front, tail])

    def rolls(self) -> tuple[Roll, Roll]:
        """Return the bending roll and the front roll, both seen in front of the inside roll's contact."""
        machine, (right, up) = self.machine, self.machine.guide_direction
        low, _, high = ((diameter + self.strip.depth) / 2 for diameter in machine.roll_diameters)
        bending = Roll(machine.touch_distance + self.travel * right, self.travel * up - high, high)
        if isinstance(machine, PyramidMachine):
            return bending, bending
        return bending, Roll(0.0, -low - float(machine.nip_slack), low)

    def windows(self, node: int) -> tuple[Nodes, Nodes]:
        """Return the sections from one beside the inside contact to the tip's side, and to the other end's."""
        behind, before = min(node, self.near[0]), min(self.strip.last - node, self.near[1])
        return node - np.arange(behind + 1), node + np.arange(0 if self.perfect else before + 1)

    def misses(self, node: int, state: Line, feed: float) -> tuple[Line, Line]:
        """Return what must be nothing for equilibrium and contact, and how it changes with the unknowns."""
        self.asked += 1
        if self.asked > MOST_ASKED * self.strip.last:
            raise NoEquilibriumError("the search for an equilibrium took too long")
        out, into = self.windows(node)
        count, size, turns = len(out), len(state), 1 / self.inside
        nodes = np.concatenate([out, into[1:]])
        bend, (force, front_force, tilt, way, lift) = state[:-5], state[-5:]
        start, rolls = self.line.start(bend[0], tilt, way), self.rolls()
        miss, change = np.zeros(size), np.zeros((size, size))
        miss[:-5], slope, _ = self.strip.section(nodes, bend)
        np.fill_diagonal(change[:-5, :-5], slope)
        behind = self.line.reach(bend[:count], start, rolls[0], out[-1] == 0)
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
            before = self.line.reach(bend[columns[:-3]], start.mirrored(), rolls[1]._replace(y=lift),
                                 into[-1] == self.strip.last, self.bulge)
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

    def _bulge(self, into: Nodes, bend: Line) -> Line:
        """Return the slope by which a straight line between two sections before the inside roll is off, per cell. The
        moment falls evenly, the curvature does not: ∫κ ds = (cell / fall) ∫κ dM, along a section's own law.
        """
        low, high = bend[1:], bend[:-1]
        places, weights = (np.array(part) for part in zip(*gauss_points(6), strict=True))
        inner = low[:, None] + (high - low)[:, None] * places
        bends = np.column_stack([low, high, inner])
        nodes = np.repeat(into[1:], bends.shape[1])
        moments = self.strip.section(nodes, bends.ravel())[0].reshape(bends.shape)
        more = (moments[:, 0] + moments[:, 1]) / 2 - moments[:, 2:] @ weights
        fall = moments[:, 1] - moments[:, 0]
        falls = fall > _ENOUGH
        return np.where(falls, self.strip.cell * (high - low) * more / np.where(falls, fall, 1.0), 0.0)

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
    """Roll a strip once through a machine as it is set, tip first, and return the march. The tip is pushed on to the
    bending roll. Where that cannot be (a pyramid machine; a roll set so high that the tip runs against it), the strip
    is laid over the roll, and the rolls come to their travel before it is fed.
    """
    if isinstance(setting.machine, PinchMachine):
        march, before = March(setting, strip), (strip.plastic.copy(), strip.yielded.copy())
        try:
            march.feed(1)
            return march
        except TipError:
            strip.plastic, strip.yielded = before
    march = March(setting, strip)
    march.laid = True
    laid = math.ceil(max(march.machine.touch_distance, 1.02 * float(span_lengths(setting)[1])) / strip.cell) + 1
    march.near[0] = max(march.near[0], laid)
    march.press(laid, steps=20)
    march.feed(laid + 1)
    return march


def _spread(rows: Line, columns: Nodes, size: int) -> Line:
    """Return rows with their entries moved to some columns of a wider table."""
    wide = np.zeros((len(rows), size))
    wide[:, columns] = rows
    return wide
