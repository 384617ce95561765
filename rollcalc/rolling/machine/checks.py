"""What both kinds of machine check, show and derive in the same way."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import numpy as np

from rollcalc.stock.quantities import InputError, checked, checked_single, shown
from rollcalc.stock.record import Record, Shown, differs, said

from .keys import MACHINE_KEYS


class CheckedMachine(Record):
    """What both kinds of machine check, show and derive in the same way."""

    def __post_init__(self) -> None:
        """Read every field through the door for numbers, then look at what hangs together."""
        self._check_numbers()
        self._check_bearings()
        self._check_words()

    def shown(self) -> Shown:
        """Return the fields that are not as usual, with their units."""
        given = (field.name for field in fields(self)  # type: ignore[arg-type]
                 if field.name != "name" and differs(self, field))
        return Shown(self.caption, tuple(
            (name.replace("_", " "), said(getattr(self, name), MACHINE_KEYS[name].unit if name in MACHINE_KEYS else ""))
            for name in given))

    @property
    def caption(self) -> str:
        """Its name, or its kind."""
        return getattr(self, "name", "") or type(self).__name__

    @property
    def between_bearings(self) -> float:
        """Length of a roll between its bearings; the working width where the machine does not say. [mm]"""
        machine: Any = self
        return float(machine.working_width if machine.bearing_span is None else machine.bearing_span)

    @property
    def journal_diameters(self) -> tuple[float, ...]:
        """Diameters that front, inside and bending roll turn in; half the roll's where it is not given. [mm]"""
        machine: Any = self
        bodies = [machine.body_diameter(roll) for roll in ("lower", "upper", "bending")]
        return tuple(body / 2 if machine.journal_diameter is None else machine.journal_diameter for body in bodies)

    @property
    def driven_diameter(self) -> float:
        """Diameter of the driven roll that the stock follows: the smaller of two that turn together. [mm]"""
        machine: Any = self
        return float(min(machine.roll_diameters[roll] for roll in machine.DRIVEN))

    def body_diameter(self, roll: str) -> float:
        """Return the diameter of a roll along its length, which carries the load. [mm]"""
        machine: Any = self
        return float(machine.roll_diameters[machine.ROLLS[roll]])

    def _check_numbers(self) -> None:
        """Read every number, or list of them."""
        for key in (MACHINE_KEYS[one.name] for one in fields(self) if one.name in MACHINE_KEYS):  # type: ignore[arg-type]
            value = getattr(self, key.name)
            is_list = key.kind_of_value == "lengths"
            if key.kind_of_value == "text" or (value == () if is_list else value is None):
                continue
            words = key.name.removesuffix("_degrees").replace("_", " ")
            check: Any = checked if is_list or key.may_be_array else checked_single
            number = check(words, value, key.unit, advice="measure it on the machine", **key.bounds)
            object.__setattr__(self, key.name, tuple(np.ravel(number).tolist()) if is_list else number)

    def _check_bearings(self) -> None:
        """Refuse bearings that stand closer than the rolls' working width."""
        machine: Any = self
        if machine.bearing_span is not None and machine.bearing_span < machine.working_width:
            raise InputError(f"bearing span is {machine.bearing_span:.6g} mm, but must be at least "
                             f"{machine.working_width:.6g} mm, the working width: measure it from the middle of one "
                             "bearing to the middle of the other.")

    def _check_words(self) -> None:
        """Refuse a name or a rated material that is not text."""
        machine: Any = self
        for what, value in (("name", machine.name), ("rated material", machine.rated_material)):
            if value is not None and not isinstance(value, str):
                raise InputError(f"the machine's {what} is {shown(value)}, but must be text: write it in quotes.")
