"""What was done: a job as it is kept, with what was wanted, planned, measured, and found of metal, nip and touch."""

from __future__ import annotations

import datetime
import math
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, fields
from typing import Any

from rollcalc.stock.kinds import checked_kind, checked_word
from rollcalc.stock.quantities import InputError, checked_single, shown
from rollcalc.stock.record import Record, Shown, Written, said
from rollcalc.stock.sections import FlatBar, RoundBar, Sheet, Stock

from ..plans.check_radius import FACES

LONGEST_NAME, LONGEST_NOTE = 100, 1000
"""Characters of a name, and of a note."""

MOST_LINES = 100
"""Passes of a plan, and readings of a job. [-]"""


@dataclass(frozen=True, eq=False, repr=False)
class PlannedTurns(Written):
    """A pass as it was planned.

    Parameters
    ----------
    turns : float
        Turns of the screws from touch; of a cone, of the screw at the end that is meant. [turns]
    released_radius : float
        Radius that was expected, to mid-thickness; infinite where no set was to remain. [mm]
    end : str
        Which end of a cone is meant, "large" say; empty where both ends are alike.
    """

    turns: float
    released_radius: float
    end: str = ""

    def __post_init__(self) -> None:
        self._keep(turns=_turns(self.turns), released_radius=_radius("planned radius", self.released_radius, True),
                   end=_words("end", self.end))

    @property
    def words(self) -> str:
        """What was planned, in a line."""
        return f"{self.turns:g} turns, radius {said(self.released_radius, 'mm')}{_at(self.end)}"


@dataclass(frozen=True, eq=False, repr=False)
class Reading(Written):
    """What was measured after a pass: a rise over a chord, or a diameter.

    Parameters
    ----------
    turns : float
        Turns of the screws from touch; of a cone, of the screw at the end that was measured. [turns]
    chord, rise : float or None
        Straight line across the curve, and height of the curve over its middle; none with a diameter. [mm]
    diameter : float or None
        Diameter on that face, instead of chord and rise. [mm]
    face : str
        The face that was measured: "inside", "outside", or "middle" for mid-thickness.
    end : str
        Which end of a cone was measured, "large" say; empty where both ends are alike.
    """

    turns: float
    chord: float | None = None
    rise: float | None = None
    diameter: float | None = None
    face: str = "inside"
    end: str = ""

    def __post_init__(self) -> None:
        advice = "measure again"
        self._keep(turns=_turns(self.turns), end=_words("end", self.end),
                   face=checked_word("face", self.face, FACES, "say on which face you measured"))
        if (self.diameter is None) == (self.chord is None) or (self.chord is None) != (self.rise is None):
            raise InputError(f"a reading has chord {shown(self.chord)}, rise {shown(self.rise)} and diameter "
                             f"{shown(self.diameter)}, but must have chord and rise, or else a diameter: leave the "
                             "other out.")
        if self.diameter is not None:
            self._keep(diameter=checked_single("diameter", self.diameter, "mm", above=0, advice=advice))
        else:
            chord = checked_single("chord", self.chord, "mm", above=0, advice=advice)
            self._keep(chord=chord, rise=checked_single("rise", self.rise, "mm", at_least=0, at_most=chord / 2,
                                                        advice="measure less than half a circle"))

    @property
    def words(self) -> str:
        """What was read, in a line."""
        measured = (f"diameter {said(self.diameter, 'mm')}" if self.rise is None
                    else f"rise {said(self.rise, 'mm')} over {said(self.chord, 'mm')}")
        return f"{self.turns:g} turns, {measured}, {self.face}{_at(self.end)}"


@dataclass(frozen=True, eq=False, repr=False)
class Believed(Written):
    """What is believed of something unknown: its mean, and the range that holds 80 % of the belief.

    Parameters
    ----------
    mean, low, high : float
        Mean, and lower and upper end of the range, in the unit of what is believed. [any]
    """

    mean: float
    low: float
    high: float

    def __post_init__(self) -> None:
        self._keep(**{one.name: checked_single(one.name, getattr(self, one.name), "", advice="give one number")
                      for one in fields(self)})
        if not self.low <= self.mean <= self.high:
            raise InputError(f"mean is {self.mean:g}, but must be from {self.low:g} to {self.high:g}, low to high: put "
                             "the three in order.")


@dataclass(frozen=True, eq=False, repr=False)
class JobRecord(Record):
    """A job as it is kept: one sheet or bar rolled on one machine.

    Parameters
    ----------
    date : str or date
        Day of the job, "2026-11-27" say.
    part, machine, metal : str
        What was made; what the machine and the metal are called.
    stock : Stock
        The piece that was rolled, of one size.
    wanted_radius : float
        Radius that was wanted, to mid-thickness; of a cone at its small end, square to the wall. [mm]
    nip : str
        What the nip was taken to be, as `PinchMachine.nip` says it; empty where there is none.
    planned : tuple of PlannedTurns
        The passes that were planned.
    readings : tuple of Reading
        What was measured, in the order of the passes.
    final_radius : float or None
        Radius that came out in the end, to mid-thickness, where it was measured. [mm]
    yield_strength, pinch_force, touch_turns : Believed or None
        What was found of the metal's yield in MPa, of the pinch in N, and of how many turns later than counted the roll
        touches.
    note : str
        What else to know.
    """

    date: str
    part: str
    machine: str
    metal: str
    stock: Stock
    wanted_radius: float
    nip: str = ""
    planned: tuple[PlannedTurns, ...] = ()
    readings: tuple[Reading, ...] = ()
    final_radius: float | None = None
    yield_strength: Believed | None = None
    pinch_force: Believed | None = None
    touch_turns: Believed | None = None
    note: str = ""

    def __post_init__(self) -> None:
        checked_kind("stock", self.stock, (Sheet, FlatBar, RoundBar), "make one, such as Sheet(thickness=0.76, "
                     "width=240)")
        for one in fields(self.stock):
            checked_single(one.name, getattr(self.stock, one.name), "mm", above=0, advice="keep one size")
        names = ("part", "machine", "metal")
        self._keep(
            date=_day(self.date), **{name: _words(name, getattr(self, name), empty=False) for name in names},
            wanted_radius=_radius("wanted radius", self.wanted_radius), nip=_words("nip", self.nip),
            planned=_all_of("planned", self.planned, PlannedTurns),
            readings=_all_of("readings", self.readings, Reading),
            final_radius=None if self.final_radius is None else _radius("final radius", self.final_radius),
            yield_strength=_believed("yield strength", self.yield_strength, "MPa", above=0.0),
            pinch_force=_believed("pinch force", self.pinch_force, "N", above=0.0),
            touch_turns=_believed("touch", self.touch_turns, "turns"), note=_words("note", self.note, LONGEST_NOTE))

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"{self.part}, {self.date}"

    def shown(self) -> Shown:
        """Return what was wanted, a row for each pass and reading, and what was found."""
        rows = [("rolled on", f"{self.machine}{', ' if self.nip else ''}{self.nip}"),
                ("stock", f"{self.stock.caption}, {self.metal}"), ("wanted radius", said(self.wanted_radius, "mm")),
                *((f"plan {number}", one.words) for number, one in enumerate(self.planned, 1)),
                *((f"reading {number}", one.words) for number, one in enumerate(self.readings, 1)),
                ("final radius", said(self.final_radius, "mm")), ("yield", _range(self.yield_strength, "MPa")),
                ("pinch", _range(self.pinch_force, "N")), ("touch", _range(self.touch_turns, "turns later"))]
        return Shown(self.caption, tuple(row for row in rows if row[1]), notes=tuple(self.note.split("\n"))
                     if self.note else ())


def checked_records(records: Any) -> tuple[JobRecord, ...]:
    """Return records as a tuple, one at least, or raise the sentence."""
    found = _all_of("records", records, JobRecord, most=None)
    if not found:
        raise InputError("records is empty, but must hold one at least: load them with load_records.")
    return found


def _all_of(name: str, things: Any, kind: type, most: int | None = MOST_LINES) -> tuple[Any, ...]:
    """Return a tuple of things that are all of a kind, or raise the sentence."""
    advice = f"give a tuple of {kind.__name__}"
    found: Iterable[Any] = checked_kind(name, things, (tuple, list), advice)
    for number, one in enumerate(found, start=1):
        checked_kind(f"{name}, number {number},", one, kind, advice)
        if most is not None and number > most:
            raise InputError(f"{name} has more than {most} entries, but must have {most} at most: leave some out.")
    return tuple(found)


def _words(name: str, value: Any, longest: int = LONGEST_NAME, empty: bool = True) -> str:
    """Return text that a file can keep and a person can read, or raise the sentence."""
    words = str(checked_kind(name, value, str, "write it in quotes"))
    if len(words) > longest:
        raise InputError(f"{name} has {len(words)} characters, but must have {longest} at most: write it shorter.")
    if not (empty or words.strip()):
        raise InputError(f"{name} is {shown(words)}, but must say something: write what it is called.")
    also = "\n\t" if longest == LONGEST_NOTE else ""
    if odd := next((one for one in words if unicodedata.category(one) in ("Cc", "Cs") and one not in also), None):
        raise InputError(f"{name} has {odd!a} in it, which nobody can read: take it out.")
    return words


def _day(value: Any) -> str:
    """Return a day as text, or raise the sentence."""
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value.isoformat()
    try:
        if isinstance(value, str) and datetime.date.fromisoformat(value).isoformat() == value:
            return value
    except ValueError:
        pass
    raise InputError(f'date is {shown(value)}, but must be a day: write year, month and day, as in "2026-11-27".')


def _turns(value: Any) -> float:
    """Return turns of a screw, or raise the sentence."""
    return checked_single("turns", value, "turns", at_least=-1000, at_most=1000, advice="count from touch")


def _radius(name: str, value: Any, flat_too: bool = False) -> float:
    """Return a radius, infinite only where that is allowed, or raise the sentence."""
    if flat_too and isinstance(value, float) and value == math.inf:
        return math.inf
    return checked_single(name, value, "mm", above=0, advice="give it to mid-thickness")


def _believed(name: str, value: Any, unit: str, above: float | None = None) -> Believed | None:
    """Return mean, low and high of what has them, or raise the sentence."""
    if value is None:
        return None
    if not all(hasattr(value, one.name) for one in fields(Believed)):
        raise InputError(f"{name} is {shown(value)}, but must be what is believed of it, in {unit}: give "
                         "Believed(mean=…, low=…, high=…).")
    found = Believed(value.mean, value.low, value.high)
    checked_single(f"low end of {name}", found.low, unit, above=above, advice="give what is believed")
    return found


def _range(found: Believed | None, unit: str) -> str:
    """Return a belief in words."""
    return "" if found is None else f"{said(found.mean, unit)}, from {said(found.low)} to {said(found.high)}"


def _at(end: str) -> str:
    """Return at which end of a cone, in words."""
    return f", {end} end" if end else ""
