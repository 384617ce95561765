"""What the job panel asks, a form for each piece, and the plan that answers what was typed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from rollcalc.job import Plan, plan_cone, plan_cylinder, plan_ring
from rollcalc.job.plans.check_radius import FACES
from rollcalc.layout import ButtSeam, GroovedSeam, LapSeam, Seam
from rollcalc.rolling import Machine
from rollcalc.stock import MATERIALS, FlatBar, RoundBar, Sheet
from rollcalc.stock.gauges import MM_PER_INCH
from rollcalc.stock.quantities import InputError, shown
from rollcalc.stock.units import parse_length

Values = dict[str, str]
"""Name of a field -> what stands in it."""

ACROSS = {"inside": "inside_", "outside": "outside_", "in mid-thickness": "mean_"}
"""Where a diameter is measured -> how the plan calls it."""

LONGEST = 40
"""Characters of text that may still be a length."""


@dataclass(frozen=True)
class Field:
    """One thing to type or to choose."""

    name: str
    label: str  # in words, starting with a capital letter
    start: str  # what stands in it at first: a length in mm, or one of the options
    options: tuple[str, ...] = ()  # what to choose from; nothing for a length
    seams: tuple[str, ...] = ()  # the seams that ask for it; nothing for any
    zero: bool = False  # whether it may be nothing
    empty: bool = False  # whether it may be left empty

    def read(self, text: Any, units: str) -> float | str | None:
        """Return the length [mm] or the word that stands in the field, None where it is empty and may be."""
        if self.options:
            if text not in self.options:
                raise InputError(f"{self.label} is {shown(text)}, but must be one of {', '.join(self.options[:8])}"
                                 f"{' …' if len(self.options) > 8 else ''}: choose again.")
            return str(text)
        words = text.strip() if isinstance(text, str) else ""
        if not words and self.empty:
            return None
        length = typed_length(words, units)
        if not words or length is None or not (length > 0 or (self.zero and length == 0)):
            what = "empty" if not words else shown(text) if len(words) <= LONGEST else "no number"
            least = "zero or more" if self.zero else "above zero"
            raise InputError(f"{self.label} is {what}, but must be a length, {least}: write it like “65.3”, “65,3”, "
                             "“2 1/2” or “3/16 in”.")
        return length


def typed_length(text: str, units: str) -> float | None:
    """Return the length that was typed, bare numbers in the units shown; None where it is none. [mm]"""
    unit, words = ("in" if units == "inch" else "mm"), text.strip()
    bare = words[-1:].isnumeric() and not any(letter.isalpha() for letter in words)
    try:
        return parse_length(f"{words} {unit}" if bare else words, unit) if len(words) <= LONGEST else None
    except InputError:
        return None


def _forms() -> dict[str, tuple[Field, ...]]:
    """Return the fields of each piece, which starts as a part of the lantern."""
    seams = ("butt", "lap", "riveted lap", "grooved")
    seam_sizes = (Field("gap", "Gap between the edges", "0", seams=("butt",), zero=True),
                  Field("lap", "Width of the lap", "8", seams=("lap", "riveted lap")),
                  Field("rivet", "Diameter of the rivets", "2", seams=("riveted lap",)))
    fold = Field("fold", "Edge turned over, fold to raw edge", "6", seams=("grooved",))
    trim = Field("trim", "Cut off after rolling, both ends together", "0", zero=True)
    across = Field("across", "Diameter measured", "inside", tuple(ACROSS))
    measured = (Field("face", "Curve measured on the face", "inside", tuple(FACES)),
                Field("chord", "Chord, empty for a round figure", "", empty=True))

    def metal(name: str) -> Field:
        """Return the choice of metals."""
        return Field("metal", "Metal", name, tuple(MATERIALS))

    def bar(diameter: str, *sizes: Field) -> tuple[Field, ...]:
        """Return the fields of a ring of bar."""
        return (metal("mild steel bar, hot rolled"), *sizes, Field("diameter", "Diameter of the ring", diameter),
                across, Field("seam", "Seam", "butt", seams[:3]), *seam_sizes, trim, *measured)

    return {
        "cylinder of sheet": (
            metal("low-carbon steel, cold rolled"), Field("thickness", "Thickness", "0.76"),
            Field("width", "Height, along the rolls", "240"), Field("diameter", "Diameter of the cylinder", "180"),
            across, Field("seam", "Seam", "grooved", seams), *seam_sizes, fold, trim, *measured),
        "ring of round bar": bar("90", Field("thickness", "Diameter of the bar", "6")),
        "ring of flat bar": bar("184", Field("thickness", "Thickness of the bar", "3"),
                                Field("width", "Width of the bar, along the rolls", "25")),
        "cone of sheet": (
            metal("aluminium 3003-H14"), Field("thickness", "Thickness", "0.8"),
            Field("large", "Diameter of the large end", "220"), Field("small", "Diameter of the small end", "160"),
            Field("across", "Diameters measured", "in mid-thickness", tuple(ACROSS)),
            Field("height", "Height along the axis", "100"), Field("seam", "Seam", "butt", seams), *seam_sizes, fold,
            Field("small_end", "Small end lies at the", "right", ("left", "right")), *measured),
    }


FORMS = _forms()
"""What is made -> the fields that it asks for."""

START = {piece: {field.name: field.start for field in fields} for piece, fields in FORMS.items()}
"""What every form holds at first."""


def asked(piece: str, values: Values) -> tuple[Field, ...]:
    """Return the fields that a piece asks for with the seam that is chosen."""
    return tuple(field for field in FORMS[piece] if not field.seams or values.get("seam") in field.seams)


def read_form(piece: str, values: Values, units: str) -> tuple[dict[str, Any], dict[str, str]]:
    """Return what stands in the fields, and the sentence for each one that makes no sense."""
    found: dict[str, Any] = {}
    faults: dict[str, str] = {}
    for field in asked(piece, values):
        try:
            found[field.name] = field.read(values.get(field.name, ""), units)
        except InputError as refused:
            faults[field.name] = str(refused)
    return found, faults


def plan_of(piece: str, found: dict[str, Any], machine: Machine) -> Plan:
    """Return the plan for what stands in the fields; the last few are remembered, as every reading asks for one."""
    return _plan(piece, tuple(found.items()), machine)


@lru_cache(maxsize=16)
def _plan(piece: str, given: tuple[tuple[str, Any], ...], machine: Machine) -> Plan:
    """Return the plan for what stands in the fields."""
    found = dict(given)
    metal, seam, size = MATERIALS[found["metal"]], _seam(found), ACROSS[found["across"]]
    measured = {"face": found["face"], "chord": found["chord"], "seam": seam}
    if piece == "cone of sheet":
        ends = ("large_diameter", "small_diameter") if size == "mean_" else (
            f"large_{size}diameter", f"small_{size}diameter")
        return plan_cone(machine, Sheet(thickness=found["thickness"], width=found["height"]), metal,
                         **dict(zip(ends, (found["large"], found["small"]), strict=True)), height=found["height"],
                         small_end=found["small_end"], **measured)
    measured |= {f"{size}diameter": found["diameter"], "trim": found["trim"]}
    if piece == "cylinder of sheet":
        return plan_cylinder(machine, Sheet(thickness=found["thickness"], width=found["width"]), metal, **measured)
    bar = RoundBar(found["thickness"]) if piece == "ring of round bar" else FlatBar(found["thickness"], found["width"])
    return plan_ring(machine, bar, metal, **measured)


def _seam(found: dict[str, Any]) -> Seam:
    """Return the seam that is chosen."""
    if found["seam"] == "butt":
        return ButtSeam(found["gap"])
    if found["seam"] == "grooved":
        return GroovedSeam(found["fold"])
    return LapSeam(found["lap"], found.get("rivet"))


def in_other_units(text: str, units: str) -> str:
    """Return a bare number in mm as a number in inches, or the other way round; ``units`` are the new ones. What names
    its unit, and what is no length, stays as it is.
    """
    old = "mm" if units == "inch" else "inch"
    length = typed_length(text, old)
    if length is None or not text.strip()[-1:].isnumeric():
        return text
    return f"{length / MM_PER_INCH:.4g}" if units == "inch" else f"{length:.5g}"
