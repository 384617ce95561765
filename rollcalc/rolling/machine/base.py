"""What both kinds of machine have, check, show and derive in the same way."""

from dataclasses import dataclass, fields
from typing import Any, ClassVar

import numpy as np

from rollcalc.stock.lookup import unknown_name
from rollcalc.stock.quantities import InputError, checked, checked_single, shown
from rollcalc.stock.record import Record, Shown, differs, said

from .keys import MACHINE_KEYS

ROLL_STRESS_LIMIT = 100.0
"""Bending stress of rolls that turn under load: about two fifths of the 250 MPa that smooth plain carbon steel takes
in reversed bending (from memory), since grooves, shoulders and scratches cut that down; our own choice. [MPa]"""


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class CheckedMachine(Record):
    """What both kinds of machine have; rolls are counted in the order of the feed: front, inside, bending."""

    screw_pitch: float
    working_width: float
    max_travel: float | None = None
    rated_thickness: float | None = None
    rated_material: str | None = None
    crank_radius: float | None = None
    gear_ratio: float = 1.0
    bearing_span: float | None = None
    journal_diameter: float | None = None
    roll_modulus: float = 205_000.0
    bearing_friction: float = 0.1
    grip_friction: float = 0.1
    crank_limit: float | None = None
    roll_stress_limit: float = ROLL_STRESS_LIMIT
    name: str = ""
    not_measured: tuple[str, ...] = ()

    ROLLS: ClassVar[dict[str, int]]
    """What the rolls are called -> which of the three it is."""
    ROLL_WORDS: ClassVar[tuple[str, str, str]]
    """How a sentence calls the three rolls."""
    ROLL_FIELDS: ClassVar[tuple[str, str, str]]
    """Which fields say how thick the three rolls are."""
    DRIVEN: ClassVar[tuple[int, int]]
    IDLE: ClassVar[int]

    def __post_init__(self) -> None:
        """Read every field through the door for numbers, then look at what hangs together."""
        own = {field.name for field in fields(self)}
        no_number = ("text", "keys")
        for key in (key for key in MACHINE_KEYS.values() if key.name in own and key.kind_of_value not in no_number):
            value, is_list = getattr(self, key.name), key.kind_of_value == "lengths"
            if (isinstance(value, tuple) and not value) if is_list else value is None:
                continue
            check: Any = checked if is_list or key.may_be_array else checked_single
            number = check(key.words, value, key.unit, advice="measure it on the machine", **key.bounds)
            object.__setattr__(self, key.name, tuple(np.ravel(number).tolist()) if is_list else number)
        if self.bearing_span is not None and self.bearing_span < self.working_width:
            raise InputError(f"bearing span is {self.bearing_span:.6g} mm, but must be at least "
                             f"{self.working_width:.6g} mm, the working width: measure it from the middle of one "
                             "bearing to the middle of the other.")
        for what, value in (("name", self.name), ("rated material", self.rated_material)):
            if value is not None and not isinstance(value, str):
                raise InputError(f"the machine's {what} is {shown(value)}, but must be text: write it in quotes.")
        self._check_not_measured(own - {"name", "not_measured"})

    def _check_not_measured(self, own: set[str]) -> None:
        """Refuse a list of assumed fields that names something else, or one of them twice."""
        listed = self.not_measured
        if not isinstance(listed, list | tuple) or not all(isinstance(name, str) for name in listed):
            raise InputError(f"not measured is {shown(listed)}, but must be a list of the names of fields: write it "
                             "in brackets, each name in quotes.")
        for name in listed:
            if name not in own:
                raise InputError(f"not measured must name fields of this machine: {unknown_name('field', name, own)}")
            if listed.count(name) > 1:
                raise InputError(f"not measured names {name} twice, but must name each field once: take one out.")
        object.__setattr__(self, "not_measured", tuple(listed))

    @property
    def assumed(self) -> str:
        """The fields that were not measured, with the values taken for them, in words; nothing where there are none."""
        return ", ".join(f"{MACHINE_KEYS[name].words} {said(getattr(self, name), MACHINE_KEYS[name].unit)}"
                         for name in self.not_measured if getattr(self, name) not in (None, ()))

    @property
    def assumed_note(self) -> str:
        """The sentence that names them, to stand behind another; nothing where there are none."""
        return f" Assumed, not measured: {self.assumed}." if self.assumed else ""

    @property
    def assumed_notes(self) -> tuple[str, ...]:
        """The same sentence as a note of a table."""
        return (self.assumed_note.strip(),) if self.assumed else ()

    def shown(self) -> Shown:
        """Return the fields that are not as usual or assumed, with units, in the order of a machine file."""
        given = {field.name for field in fields(self) if differs(self, field)} - {"name", "not_measured"}
        assumed = {name for name in self.not_measured if getattr(self, name) not in (None, ())}
        rows = [(name.replace("_", " "), said(getattr(self, name), key.unit) + ", assumed" * (name in assumed))
                for name, key in MACHINE_KEYS.items() if name in given | assumed]
        more = [(name, said(getattr(self, name))) for name in given - MACHINE_KEYS.keys()]
        return Shown(self.caption, (*rows, *more))

    @property
    def caption(self) -> str:
        """Its name, or its kind."""
        return self.name or type(self).__name__

    @property
    def nip(self) -> str:
        """What the nip is, in words that stand beside every number it made."""
        return "no nip, three rolls"

    @property
    def in_short(self) -> str:
        """Its name, its nip, and whether part of it is assumed: for the caption of an answer."""
        return f"{self.caption}, {self.nip}{', partly assumed' if self.assumed else ''}"

    @property
    def between_bearings(self) -> float:
        """Length of a roll between its bearings; the working width where the machine does not say. [mm]"""
        return self.working_width if self.bearing_span is None else self.bearing_span

    @property
    def roll_diameters(self) -> tuple[float, float, float]:
        """Diameters of front, inside and bending roll where the stock lies. [mm]"""
        front, inside, bending = (getattr(self, name) for name in self.ROLL_FIELDS)
        return front, inside, bending

    @property
    def inside_roll_diameter(self) -> float:
        """Diameter of the roll that the sheet curls around. [mm]"""
        return self.roll_diameters[1]

    @property
    def driven_diameter(self) -> float:
        """Diameter of the driven roll that the stock follows: the smaller of two that turn together. [mm]"""
        return min(self.roll_diameters[roll] for roll in self.DRIVEN)

    @property
    def journal_diameters(self) -> tuple[float, ...]:
        """Diameters that front, inside and bending roll turn in; half the roll's where it is not given. [mm]"""
        bodies = (self.body_diameter(roll) for roll in ("lower", "upper", "bending"))
        return tuple(body / 2 if self.journal_diameter is None else self.journal_diameter for body in bodies)

    def body_diameter(self, roll: str) -> float:
        """Return the diameter of a roll along its length, which carries the load. [mm]"""
        return self.roll_diameters[self.ROLLS[roll]]
