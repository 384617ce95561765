"""What both kinds of machine check in the same way: numbers, words and grooves."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import numpy as np

from rollcalc.stock.quantities import InputError, checked, checked_single, shown
from rollcalc.stock.record import Record, Shown, differs, said

_MEASURE = "measure it on the machine"
_ABOVE, _FROM, _FRICTION = {"above": 0.0}, {"at_least": 0.0}, {"above": 0.0, "at_most": 1.0}
_FIELDS: dict[str, tuple[str, dict[str, float]]] = {
    "guide_angle_degrees": ("deg", {"at_least": 1.0, "at_most": 179.0}),
    "pinch_force": ("N", _ABOVE), "nip_slack": ("mm", _FROM), "gear_ratio": ("", _ABOVE), "crank_limit": ("N", _ABOVE),
    "roll_modulus": ("MPa", _ABOVE), "roll_stress_limit": ("MPa", _ABOVE),
    "bearing_friction": ("", _FRICTION), "grip_friction": ("", _FRICTION),
} | dict.fromkeys(("upper_roll_diameter", "lower_roll_diameter", "bending_roll_diameter", "top_roll_diameter",
                   "bottom_roll_diameter", "bottom_roll_spacing", "guide_distance", "screw_pitch", "working_width",
                   "nip_opening", "max_travel", "rated_thickness", "crank_radius", "journal_diameter",
                   "bearing_span"), ("mm", _ABOVE))
"""Field -> its unit, and the bounds it must keep."""

_ROLLS = ("upper", "lower", "bending")


class CheckedMachine(Record):
    """What both kinds of machine check and show in the same way."""

    def shown(self) -> Shown:
        """Return the fields that are not as usual, with their units."""
        given = (field for field in fields(self) if field.name != "name")  # type: ignore[arg-type]
        rows = ((field.name.replace("_", " "), said(getattr(self, field.name), _FIELDS.get(field.name, ("",))[0]))
                for field in given if differs(self, field))
        return Shown(self.caption, tuple(rows))

    @property
    def caption(self) -> str:
        """Its name, or its kind."""
        return getattr(self, "name", "") or type(self).__name__

    def _check_numbers(self, *arrays: str) -> None:
        """Read every field through the door for numbers; those named may be arrays."""
        for field in fields(self):  # type: ignore[arg-type]
            value, (unit, bounds) = getattr(self, field.name), _FIELDS.get(field.name, ("", None))
            if bounds is not None and value is not None:
                check: Any = checked if field.name in arrays else checked_single
                words = field.name.removesuffix("_degrees").replace("_", " ")
                object.__setattr__(self, field.name, check(words, value, unit, advice=_MEASURE, **bounds))
        self._check_bearings()

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

    def _check_grooves(self) -> None:
        """Read the grooves: diameters, depths, places, and the rolls that have them; `grooves` counts them."""
        machine: Any = self
        for name, bounds in (("groove_diameters", _ABOVE), ("groove_depths", _ABOVE), ("groove_positions", _ABOVE)):
            values = getattr(machine, name)
            if not isinstance(values, tuple) or values:
                grooves = checked(name.replace("_", " "), values, "mm", advice=_MEASURE, **bounds)
                object.__setattr__(self, name, tuple(np.ravel(grooves).tolist()))
        words = machine.grooved_rolls if isinstance(machine.grooved_rolls, str) else ""
        named = [word.strip() for word in words.split(",")]
        if any(word not in _ROLLS for word in named) or len(set(named)) < len(named):
            raise InputError(f"grooved rolls is {shown(machine.grooved_rolls)}, but must be text that names some of "
                             "upper, lower and bending, each once, with commas between.")
