"""Command: simulated jobs, in which metal, pinch and touch are hidden and every reading is a little off.

    python -m tests.outside.jobs --jobs 1000 --part body
    python -m tests.outside.jobs --jobs 100 --part ring --truth march      the strip marched through the rolls
    python -m tests.outside.jobs --jobs 100 --pinch redrawn                another pinch at each pass

What comes out of a pass is the solver's answer for one case, or the march's; the estimate shares no number with it. The
same jobs are also done by nominal values in a single pass, and by nominal values with re-planning.
"""

from __future__ import annotations

import argparse
import contextlib
import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

import rollcalc as rc
from rollcalc.rolling import Setting
from rollcalc.rolling.march.march import roll_once
from rollcalc.rolling.march.sheet_line import NoEquilibriumError
from rollcalc.rolling.march.strip import Strip
from rollcalc.rolling.shape import span_lengths
from rollcalc.stock.tolerance import thickness_tolerance

MACHINE = rc.DEMO_MACHINE
PITCH = MACHINE.screw_pitch
RISE_ERROR, KNOB_ERROR, TOUCH_ERROR, MOST_PASSES, NEAR = 0.2, 1 / 16, 0.4, 4, 0.02
PINCHES = (1000.0, 6000.0)
BAR_TOLERANCE = 0.05
"""How well a bar's depth is known, from a calliper: our own choice; its mill tolerance is wider. [mm]"""


class Part(NamedTuple):
    """A part of the lantern: what it is made of, and the radius to mid-thickness."""

    stock: rc.Stock
    metal: str
    radius: float


PARTS = {
    "body": Part(rc.Sheet(thickness=0.76, width=240), "low-carbon steel, cold rolled", 90.4),
    "band": Part(rc.FlatBar(thickness=3, width=25), "mild steel bar, hot rolled", 93.5),
    "collar": Part(rc.Sheet(thickness=0.6, width=40), "stainless 304, annealed", 37.8),
    "ring": Part(rc.RoundBar(6), "mild steel bar, hot rolled", 48.0),
}


@dataclass
class Job:
    """One job: the truth that nobody knows, and a person who turns the screws and reads the rule."""

    part: Part
    chance: np.random.Generator
    by_march: bool = False
    redrawn: bool = False

    def __post_init__(self) -> None:
        stock = self.part.stock
        self.metal = rc.MATERIALS[self.part.metal]
        self.chord = float(min(100, math.floor(1.6 * self.part.radius / 5) * 5))
        self.yield_strength = self.chance.uniform(*self.metal.yield_range or (0, 0))
        self.pinch, self.touch = self._pinch(), self.chance.uniform(-TOUCH_ERROR, TOUCH_ERROR)
        off = float(thickness_tolerance(float(stock.depth))) if isinstance(stock, rc.Sheet) else BAR_TOLERANCE
        self.stock = stock.with_depth(float(stock.depth) + self.chance.uniform(-off, off))
        self.passed: list[Setting] = []
        self.radius = math.inf

    def _pinch(self) -> float:
        """Return a pinch that hands may give. [N]"""
        return math.exp(self.chance.uniform(*map(math.log, PINCHES)))

    def rolled(self, turns: float) -> float:
        """Roll the piece with the screws at some turns, and return the rise that is read; 0 where it is flat."""
        if self.redrawn and self.passed:
            self.pinch = self._pinch()
        knob = self.chance.uniform(-KNOB_ERROR, KNOB_ERROR)
        setting = rc.setting_for_travel(replace(MACHINE, pinch_force=self.pinch), self.stock,
                                        self.metal.with_yield(self.yield_strength),
                                        max((turns + knob) * PITCH - self.touch, 0.0), entering_radius=self.radius)
        self.passed.append(setting)
        self.radius = marched(self.passed) if self.by_march else float(setting.released_radius)
        inside = min(self.radius, 1e6) - float(self.stock.depth) / 2
        rise = float(rc.rise_of_chord(inside, min(self.chord, 2 * inside)))
        return max(rise + self.chance.uniform(-RISE_ERROR, RISE_ERROR), 0.0)


def marched(passed: list[Setting]) -> float:
    """Return the radius that a strip keeps after these passes."""
    behind = max(float(span_lengths(one)[1]) for one in passed)
    before = max(float(span_lengths(one)[0]) for one in passed)
    for cells in (16, 20, 14, 25, 32, 40):  # now and then no equilibrium is found on the way with some cells
        strip = Strip(passed[-1].stock, passed[-1].material, behind / cells, 5 * behind + 3 * before)
        try:
            for setting in passed:
                roll_once(setting, strip)
            break
        except NoEquilibriumError:
            continue
    else:
        raise NoEquilibriumError("no equilibrium was found with any number of cells")
    away = strip.distance
    kept = float(strip.kept[(away > 3.4 * behind) & (away < 4.6 * behind)].mean())
    return 1 / kept if kept > 1e-6 else math.inf


class Outcome(NamedTuple):
    """How a job ended."""

    radius: float
    passes: int
    foreseen: tuple[bool, ...] = ()  # whether each pass came out within its band
    believed: tuple[bool, ...] = ()  # whether yield, pinch and touch lie within theirs


def learned(job: Job) -> Outcome:
    """Do a job with the estimate."""
    found, foreseen = rc.estimate(MACHINE, job.metal), []
    for passes in range(1, 9):
        step = found.next_pass(job.part.stock, job.part.radius)
        if step.turns is None:
            passes -= 1
            break
        rise = job.rolled(step.turns)
        foreseen.append(step.released_radius.low <= job.radius <= step.released_radius.high)
        found = found.updated(job.part.stock, turns=step.turns, chord=job.chord, rise=rise)
    pinch = found.pinch_force
    assert pinch is not None
    truths = zip((found.yield_strength, pinch, found.touch_turns),
                 (job.yield_strength, job.pinch, job.touch / PITCH), strict=True)
    return Outcome(job.radius, passes, tuple(foreseen), tuple(band.low <= truth <= band.high for band, truth in truths))


def nominal(job: Job) -> Outcome:
    """Do a job in one pass by nominal values."""
    setting = rc.setting_for_radius(MACHINE, job.part.stock, job.metal, job.part.radius)
    job.rolled(math.floor(float(setting.turns) * 8) / 8)
    return Outcome(job.radius, 1)


def replanned(job: Job) -> Outcome:
    """Do a job by nominal values, with the rest planned again after each reading."""
    plan, passes = rc.pass_schedule(MACHINE, job.part.stock, job.metal, job.part.radius, chord=job.chord), 0
    while plan.passes and passes < 8:
        turns, passes = plan.passes[0].turns_left, passes + 1
        rise = job.rolled(turns)
        if rise < 0.3:
            plan = replace(plan, passes=plan.passes[1:])
            continue
        read = float(rc.radius_from_chord(job.chord, min(rise, job.chord / 2))) + float(job.part.stock.depth) / 2
        try:
            plan = rc.replanned(plan, turns, read)
        except rc.InputError:
            break
    return Outcome(job.radius, passes)


WAYS: dict[str, Callable[[Job], Outcome]] = {
    "estimate": learned, "one pass, nominal": nominal, "nominal, re-planned": replanned}


def outcomes(name: str, jobs: int, way: str = "estimate", seed: int = 1, by_march: bool = False,
             redrawn: bool = False) -> list[Outcome]:
    """Return how some jobs of a part end; where the march finds no equilibrium, there is no truth and no outcome."""
    ends = []
    for number in range(jobs):
        with contextlib.suppress(NoEquilibriumError):
            ends.append(WAYS[way](Job(PARTS[name], np.random.default_rng((seed, number)), by_march, redrawn)))
    return ends


class Summary(NamedTuple):
    """Shares of some jobs."""

    near: float  # within 2 % in four passes
    at_last: float  # within 2 % in however many
    tight: float  # too tight by more than 2 %
    passes: float
    foreseen: float  # radii of passes within their bands
    believed: tuple[float, ...]  # yields, pinches and touches within theirs


def summary(name: str, ends: list[Outcome]) -> Summary:
    """Return the shares."""
    radius = PARTS[name].radius
    at_last = [abs(one.radius / radius - 1) <= NEAR for one in ends]
    near = [good and one.passes <= MOST_PASSES for good, one in zip(at_last, ends, strict=True)]
    foreseen = [right for one in ends for right in one.foreseen]
    believed = [one.believed for one in ends if one.believed]
    return Summary(float(np.mean(near)), float(np.mean(at_last)),
                   float(np.mean([one.radius < (1 - NEAR) * radius for one in ends])),
                   float(np.mean([one.passes for one in ends])), float(np.mean(foreseen)) if foreseen else math.nan,
                   tuple(np.mean(believed, axis=0).tolist()) if believed else ())


def main() -> None:
    """Print a line for each part and way."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--jobs", type=int, default=1000)
    parser.add_argument("--part", choices=[*PARTS, "all"], default="all")
    parser.add_argument("--truth", choices=["solver", "march"], default="solver")
    parser.add_argument("--pinch", choices=["constant", "redrawn"], default="constant")
    parser.add_argument("--ways", nargs="*", choices=[*WAYS], default=[*WAYS])
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    print("part    way                   jobs  within 2 %  at last  too tight  passes  next radius  yield pinch touch")
    for name in PARTS if asked.part == "all" else [asked.part]:
        for way in asked.ways:
            ends = outcomes(name, asked.jobs, way, asked.seed, asked.truth == "march", asked.pinch == "redrawn")
            found = summary(name, ends)
            bands = "".join(f"{share:7.1%}" for share in found.believed)
            print(f"{name:7} {way:20} {len(ends):5} {found.near:9.1%} {found.at_last:9.1%} {found.tight:10.1%} "
                  f"{found.passes:7.2f}"
                  + (f"{found.foreseen:12.1%} {bands}" if found.believed else ""), flush=True)


if __name__ == "__main__":
    main()
