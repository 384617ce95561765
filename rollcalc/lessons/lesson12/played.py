"""One sheet of the game: what was dialled and read, how it ended, and what the estimate would have done."""

from __future__ import annotations

import math
from dataclasses import dataclass

import rollcalc as rc
from rollcalc.drawing.passes.trial_view import rise_words
from rollcalc.job import Estimate
from rollcalc.job.learning.next_pass import MOST_PASSES, NEAR
from rollcalc.job.learning.simulated import SimulatedSheet
from rollcalc.job.plans.words import turns_words
from rollcalc.stock.labels import format_length
from rollcalc.stock.quantities import InputError, allowed_range
from rollcalc.stock.record import Shown

MACHINE = rc.DEMO_MACHINE
STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
THICKNESS, WIDTH = 0.76, 240.0
BODY = rc.Sheet(thickness=THICKNESS, width=WIDTH)
WANTED, CHORD, MOST_TURNS = 90.38, 100.0, 18.0
"""Radius of the lantern's body to mid-thickness [mm], chord of the rule [mm], and turns enough for any sheet."""


@dataclass(frozen=True)
class Reading:
    """One pass, as the one who plays sees it."""

    turns: float
    rise: float | None  # None where the ring is too tight for the rule [mm]

    @property
    def radius(self) -> float | None:
        """Radius to mid-thickness that was read; infinite where the sheet is flat. [mm]"""
        if not self.rise:
            return None if self.rise is None else math.inf
        return float(rc.radius_from_chord(CHORD, self.rise)) + THICKNESS / 2


class Played:
    """A sheet of the game, from flat to its end."""

    def __init__(self, number: int) -> None:
        self.number = number
        self.sheet = SimulatedSheet(MACHINE, BODY, STEEL, number)
        self.readings: list[Reading] = []
        self.outcome = ""  # "won", "tight" or "large" once it is over

    @property
    def true_radius(self) -> float:
        """Radius that it has, to mid-thickness. [mm]"""
        return self.sheet.reveal().released_radius

    def roll(self, turns: float) -> None:
        """Roll a pass and read the rise; what is too tight, or the last pass, ends it."""
        if self.outcome:
            raise InputError("This sheet is off the rolls: take another.")
        if not 0 < turns <= MOST_TURNS:
            raise InputError(f"Turns are {turns:g}, but must be {allowed_range('turns', above=0, at_most=MOST_TURNS)}: "
                             "no sheet of this kind needs more.")
        self.sheet.roll(turns)
        try:
            rise: float | None = self.sheet.rise(CHORD)
        except InputError:  # tighter than half the chord
            rise = None
        self.readings.append(Reading(turns, rise))
        if self.true_radius < WANTED * (1 - NEAR) or len(self.readings) == MOST_PASSES:
            self.take_off()

    def take_off(self) -> None:
        """End it as it is."""
        off = self.true_radius / WANTED - 1
        self.outcome = "tight" if off < -NEAR else "won" if off <= NEAR else "large"

    def sentence(self, units: str) -> str:
        """Return how it stands, or how it ended."""
        if self.outcome:
            return self._end(units)
        if not self.readings:
            return (f"Sheet {self.number}: the lantern's body, {format_length(THICKNESS, units)} × "
                    f"{format_length(WIDTH, units)}, {STEEL.name}, on {MACHINE.name}. Wanted: R "
                    f"{format_length(WANTED, units)}, within {_percent(NEAR, 0)}, in at most {MOST_PASSES} passes. "
                    "Yield, pinch and touch are hidden. Where do you put the screws?")
        last, count = self.readings[-1], len(self.readings)
        assert last.rise is not None
        return (f"Pass {count} of {MOST_PASSES}, {turns_words(last.turns)} turns: rise {_rise_words(last.rise, units)} "
                f"over {format_length(CHORD, units)}, which is {_radius_words(last.radius, units)}. Wanted: "
                f"{format_length(WANTED * (1 - NEAR), units)} to {format_length(WANTED * (1 + NEAR), units)}. Roll it "
                "again, or take it off.")

    def _end(self, units: str) -> str:
        """Return how it ended."""
        count, radius = len(self.readings), self.true_radius
        passes = f"{count} pass{'' if count == 1 else 'es'}"
        if math.isinf(radius):
            return f"Lost after {passes}: it is as flat as before."
        off = f"R {format_length(radius, units)}, {_percent(abs(radius / WANTED - 1))} off"
        if self.outcome == "won":
            return f"Won in {passes}: in truth it is {off}."
        if self.outcome == "tight":
            return f"Lost in {passes}: in truth it is {off}, too tight, and you cannot unroll it."
        why = "the passes are used up" if count == MOST_PASSES else "it was taken off too soon"
        return f"Lost after {passes}: in truth it is {off}, still too large; {why}."

    def passes_shown(self, units: str) -> Shown:
        """Return the passes: what was read, and in the end what was true and what the estimate would have dialled."""
        over, found = bool(self.outcome), rc.estimate(MACHINE, STEEL)
        truth = self.sheet.reveal().released_radii
        rows: list[tuple[str, ...]] = []
        for place, one in enumerate(self.readings):
            row: tuple[str, ...] = (f"{place + 1}", turns_words(one.turns), _rise_words(one.rise, units),
                                    _radius_words(one.radius, units))
            if over:
                row += (_radius_words(truth[place], units), _dial_words(found))
                found = learned(found, self.readings[: place + 1])
            rows.append(row)
        head = ("pass", "turns", "rise", "as read") + (("in truth", "the estimate would have dialled") if over else ())
        return Shown("Passes" if rows else "", tuple(rows), head)

    def hidden_shown(self, units: str) -> Shown:
        """Return what was hidden, beside what the estimate believes from the same readings."""
        truth, found = self.sheet.reveal(), rc.estimate(MACHINE, STEEL)
        for count in range(1, len(self.readings) + 1):
            found = learned(found, self.readings[:count])
        assert found.pinch_force is not None
        rows = tuple((name, f"{true:{form}}", f"{band.mean:{form}}", f"{band.low:{form}} to {band.high:{form}}")
                     for name, form, true, band in (
                         ("yield strength, MPa", ".0f", truth.yield_strength, found.yield_strength),
                         ("pinch, N", ".0f", truth.pinch_force, found.pinch_force),
                         ("touch later by, turns", ".2f", truth.touch_turns, found.touch_turns)))
        return Shown("What was hidden, and what the estimate believes from your readings", rows,
                     ("", "in truth", "believed", "in 80 of 100 cases"),
                     (*found.notes, self._its_own_game(units)))

    def _its_own_game(self, units: str) -> str:
        """Return how the estimate would have played this sheet from the start."""
        twin = by_estimate(self.number)
        dialled = ", ".join(turns_words(one.turns) for one in twin.readings)
        end = twin.sentence(units)
        return f"The estimate by itself, on the same sheet: {dialled} turns. {end}"


def learned(found: Estimate, readings: list[Reading]) -> Estimate:
    """Return the estimate after the last of some readings of one piece."""
    last, before = readings[-1], readings[-2] if len(readings) > 1 else None
    if last.rise is None:
        return found
    back = before is not None and last.turns < before.turns  # the same piece all the same
    return found.updated(BODY, turns=last.turns, chord=CHORD, rise=last.rise,
                         entering_radius=before.radius if back and before is not None else None)


def by_estimate(number: int) -> Played:
    """Return a sheet of the game as the estimate plays it."""
    played, found = Played(number), rc.estimate(MACHINE, STEEL)
    while not played.outcome:
        turns = found.next_pass(BODY, WANTED).turns
        if turns is None:
            played.take_off()
            break
        played.roll(turns)
        found = learned(found, played.readings)
    return played


def _dial_words(found: Estimate) -> str:
    """Return what an estimate would dial next."""
    turns = found.next_pass(BODY, WANTED).turns
    return "nothing: take it off" if turns is None else turns_words(turns)


def _percent(share: float, digits: int = 1) -> str:
    """Return a share in percent."""
    return f"{100 * share:.{digits}f} %"


def _rise_words(rise: float | None, units: str) -> str:
    """Return a rise to a tenth of a millimetre."""
    return "too tight for the rule" if rise is None else rise_words(rise, units)


def _radius_words(radius: float | None, units: str) -> str:
    """Return a radius in words."""
    return "no radius" if radius is None else "flat" if math.isinf(radius) else f"R {format_length(radius, units)}"
