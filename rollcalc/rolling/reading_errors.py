"""What an error of each reading of a machine does to the radius that comes out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from rollcalc.bending.release import checked_radius
from rollcalc.stock.labels import format_length, length_scale
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record, Shown, said, said_in_short
from rollcalc.stock.sections import Stock

from .limits.reach import check_one_piece
from .machine.keys import MACHINE_KEYS
from .machine.kinds import HAND_PINCH, Machine
from .radius import radius_for_travel, setting_for_radius

USUAL_ERRORS = {
    "upper_roll_diameter": 0.1, "lower_roll_diameter": 0.1, "bending_roll_diameter": 0.1, "top_roll_diameter": 0.1,
    "bottom_roll_diameter": 0.1, "guide_distance": 1.0, "guide_angle_degrees": 1.0, "bottom_roll_spacing": 1.0,
    "screw_pitch": 0.02,
}
"""Reading -> an error easily made: a calliper, a line scribed on an offcut, a protractor, 0.2 mm over ten turns (our
own estimates). [mm] or [deg]"""


@dataclass(frozen=True, eq=False, repr=False)
class ReadingError(Record):
    """One reading that is off, and the radius that comes out then.

    Parameters
    ----------
    reading : str
        Which field of the machine.
    value, error : float
        The value the turns were computed with; how much more the machine truly has, in the field's unit. [unit]
    released_radius : float
        Radius after release that the same turns give then. [mm]
    change : float
        Its share of the wanted radius, less 1. [-]
    """

    reading: str
    value: float
    error: float
    released_radius: float
    change: float

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"If the {MACHINE_KEYS[self.reading].words} is read wrong"

    @property
    def for_one_percent(self) -> float:
        """How far off the reading may be for one percent of the radius, along a straight line, in its unit. [unit]"""
        return abs(self.error * 0.01 / self.change) if self.change else float("inf")

    @property
    def in_percent(self) -> str:
        """The change of the radius in words. [-]"""
        rounded = round(100 * self.change, 1)
        return "over 999 %" if rounded > 999 else f"{rounded:+.1f} %" if rounded else "0.0 %"

    def row(self, units: str = "mm") -> tuple[str, ...]:
        """Return the cells of a table, lengths in mm or inch."""
        key = MACHINE_KEYS[self.reading]
        scale, unit = length_scale(units) if key.unit == "mm" else (1.0, key.unit)
        read, is_truly = (said(value / scale, unit) for value in (self.value, self.value + self.error))
        closely = "" if unit == "N" else said(float(f"{self.for_one_percent / scale:.1g}"), unit)
        radius = said(self.released_radius) if self.released_radius == float("inf") else format_length(
            self.released_radius, units)
        return key.words, read, is_truly, radius, self.in_percent, closely


@dataclass(frozen=True, eq=False, repr=False)
class ReadingErrors(Record):
    """What an error of each reading does to a radius.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine as it was read, the piece and its metal.
    released_radius : float
        Wanted radius after release, to mid-thickness. [mm]
    turns : float
        Turns that give it on the machine as it was read. [turns]
    errors : tuple of ReadingError
        One for each reading, the pinch at both ends of what hands give.
    """

    machine: Machine
    stock: Stock
    material: Material
    released_radius: float
    turns: float
    errors: tuple[ReadingError, ...]

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        job = ", ".join(map(said_in_short, (self.stock, self.material)))
        return f"{self.turns:.2f} turns for {self.released_radius:.4g} mm: {job}, {self.machine.in_short}"

    def shown(self, units: str = "mm") -> Shown:
        """Return a row for each reading, lengths in mm or inch."""
        head = ("reading", "as read", "if it is", "radius", "off by", "1 % needs")
        return Shown(self.caption, tuple(error.row(units) for error in self.errors), head,
                     self.machine.assumed_notes)

    def __getitem__(self, reading: str) -> ReadingError:
        """Return the error of that reading; of the pinch, the lighter one."""
        found = [error for error in self.errors if error.reading == reading]
        if not found:
            raise InputError(f"there is no reading {reading!r}: it must be one of "
                             f"{', '.join(dict.fromkeys(error.reading for error in self.errors))}.")
        return found[0]


def reading_errors(machine: Machine, stock: Stock, material: Material, released_radius: float) -> ReadingErrors:
    """Return what an error of each reading of the machine does to a radius.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine as it was read, the piece and its metal.
    released_radius : float
        Wanted radius after release, to mid-thickness. [mm]

    Returns
    -------
    errors : ReadingErrors
        The radius that comes out for each error.

    Raises
    ------
    InputError
        If the machine cannot give the radius, or could not if a reading were that much off.

    Notes
    -----
    The turns are those of the machine as it was read; each radius is what they give on a machine that truly has
    `USUAL_ERRORS` more of one thing. A pinch may be anything that hands give, so both ends are shown. Width, crank,
    gears, plate and grooves change no radius. Validity: as `setting_for_travel`; one reading off at a time, one pass
    from flat.
    Source: differences of `setting_for_travel`; the sizes of the errors are our own estimates.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, Sheet
    >>> body, steel = Sheet(thickness=0.76, width=240), MATERIALS["low-carbon steel, cold rolled"]
    >>> round(100 * reading_errors(DEMO_MACHINE, body, steel, 90.38)["guide_distance"].change, 1)
    6.9
    """
    check_one_piece(machine, stock, material)
    wanted = checked_single("released radius", released_radius, "mm", above=0, advice="give the wanted radius")
    checked_radius(stock, "released radius", wanted)
    turns = float(setting_for_radius(machine, stock, material, wanted).turns)
    cases = [(name, error) for name, error in USUAL_ERRORS.items() if hasattr(machine, name)]
    if machine.pinch_force is not None:
        pinch = float(machine.pinch_force)
        cases += [("pinch_force", end - pinch) for end in HAND_PINCH if end != pinch]
    found = []
    for name, error in cases:
        value = float(getattr(machine, name))
        changed: dict[str, Any] = {name: value + error}
        true = replace(machine, **changed)
        radius = float(radius_for_travel(true, stock, material, turns * true.screw_pitch))
        found.append(ReadingError(name, value, error, radius, radius / wanted - 1))
    return ReadingErrors(machine, stock, material, wanted, turns, tuple(found))
