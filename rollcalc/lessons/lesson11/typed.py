"""From what was typed to a machine: every field read, what was left empty taken as usual and marked so."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from typing import Any

from rollcalc.rolling import DEMO_MACHINE, Machine, ReadingErrors, reading_errors
from rollcalc.rolling.machine.file import KINDS, check_room
from rollcalc.rolling.machine.keys import MACHINE_KEYS
from rollcalc.rolling.machine.kinds import USUAL_PINCH
from rollcalc.stock import MATERIALS, Sheet, format_length
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import said

from ..engine.panel import typed_number
from .fields import AROUND, BY_NAME, COUNTED_ROLL_TURNS, FIELDS, KIND_WORDS, NO_METAL, Field

OPTIONAL = {"name", "rated_thickness", "rated_material", "crank_radius", "groove_diameters"}
"""Keys that stay out of the file where their field is empty."""
TEST_SHEET, TEST_METAL = Sheet(thickness=0.76, width=240), "low-carbon steel, cold rolled"
TEST_RADIUS = 90.38
"""The lantern's body, on which errors of readings are shown. [mm]"""


@dataclass(frozen=True)
class Typed:
    """What became of what was typed."""

    machine: Machine | None  # None where something cannot be
    drawn: Machine  # what can be drawn all the same
    notes: dict[str, str]  # field -> what was understood, or taken instead
    problems: dict[str, str]  # field -> the sentence that says why it cannot be
    problem: str  # the sentence about the machine as a whole

    @property
    def sentence(self) -> str:
        """What stands under the drawing."""
        if self.machine is None:
            return self.problem
        left = self.machine.assumed_note or " Every number that a radius hangs on is measured."
        return f"The lessons can work with this machine.{left}"


def start_values(own: Machine | None) -> dict[str, str]:
    """Return what the form starts with: a machine of one's own as far as it was measured, or nothing."""
    values = {field.name: field.options[0] if field.options else "" for field in FIELDS}
    if own is None:
        return values
    measured = {name: value for name, value in vars(own).items()
                if name not in own.not_measured and value not in (None, (), "")}
    values["kind"] = next(words for words, word in KIND_WORDS.items() if isinstance(own, KINDS[word]))
    for name in values.keys() & measured.keys():
        value = measured[name]
        values[name] = ("; ".join(map(_number, value)) if isinstance(value, tuple)
                        else value if isinstance(value, str) else _number(value))
    if own.rated_material not in MATERIALS:
        values["rated_material"] = NO_METAL
    if "screw_pitch" in measured:
        values |= {"counted_turns": "10", "moved_by": _number(10 * own.screw_pitch)}
    if "gear_ratio" in measured:
        values["crank_turns"] = _number(COUNTED_ROLL_TURNS * own.gear_ratio)
    return values


def typed_machine(values: dict[str, str], units: str = "mm", own: Machine | None = None) -> Typed:
    """Return the machine that these words describe; keys the form does not ask for come from one's own machine."""
    values = {name: text for name, text in values.items() if isinstance(text, str)}  # it comes from a browser
    kind = KIND_WORDS.get(values.get("kind", ""), "pinch")
    own = own if own is not None and isinstance(own, KINDS[kind]) else None
    read, problems = _all_read(kind, values, units)
    given = dict(_keys_from(read, values, problems))
    if own is not None:  # what stands as the form showed it, rounded, is as exact as the file
        start = start_values(own)
        shown = dict(_keys_from(_all_read(kind, start, "mm")[0], start, {}))
        given = {name: getattr(own, name) if shown.get(name) == value else value for name, value in given.items()}
    usual = _usual(kind, given, own)
    if "pinch_force" in given or not getattr(own, "nip_slack", 0.0):
        dropped = {*OPTIONAL, "nip_slack", "not_measured"}
    else:  # a slack that was measured stays until a pinch is
        dropped = {*OPTIONAL, "not_measured"}
        del usual["pinch_force"]
    left = tuple(name for name in usual if name not in given)
    kept = {} if own is None else {
        field.name: getattr(own, field.name) for field in fields(own)
        if field.name not in {*given, *usual, *dropped}}
    if kind == "pinch" and kept.get("groove_depths") and len(kept["groove_depths"]) != len(
            given.get("groove_diameters", ())):
        kept |= {"groove_depths": (), "groove_positions": ()}
    still = () if own is None else tuple(name for name in own.not_measured if name in kept)
    chosen = {**kept, **{name: usual[name] for name in left}, **given, "not_measured": (*left, *still)}
    machine, problem = _made(kind, chosen)
    drawn = machine or _made(kind, _usual(kind, {}, None))[0] or DEMO_MACHINE
    notes = {name: words for name, words in _notes(drawn, read, units) if BY_NAME[name].is_asked(kind, values)}
    if machine is not None and not problem and not problems:
        return Typed(machine, drawn, notes, {}, "")
    return Typed(None, drawn, notes if machine else {}, problems, next(iter(problems.values()), problem))


def errors_of(machine: Machine) -> ReadingErrors:
    """Return what an error of each reading of this machine does to the lantern's body, or to a ring it can roll."""
    sheet = replace(TEST_SHEET, width=min(float(TEST_SHEET.width), machine.working_width))
    radius = max(TEST_RADIUS, 1.8 * machine.inside_roll_diameter)
    return reading_errors(machine, sheet, MATERIALS[TEST_METAL], radius)


def label_words(field: Field, machine: Machine, text: str, units: str) -> str:
    """Return what the drawing says of a field: its name, and the number that was typed or is taken."""
    if field.options:
        return ""
    name = field.drawn or field.label[0].lower() + field.label[1:]
    key = MACHINE_KEYS.get(field.name)
    value = getattr(machine, field.name, None) if key else None
    if text:
        unit = {"mm": {"mm": " mm", "inch": " in"}.get(units, "")}.get(field.unit, "")
        return f"{name}: {text[:24]}{unit if text[-1].isnumeric() else ''}"
    if value in (None, ()):
        return name
    return f"{name}: {_in_words(value, field.unit, units)}, assumed"


def _all_read(kind: str, values: dict[str, str], units: str) -> tuple[dict[str, Any], dict[str, str]]:
    """Return what the fields that were filled in stand for, and the sentences about those that cannot be."""
    read: dict[str, Any] = {}
    problems: dict[str, str] = {}
    for field in (field for field in FIELDS if not field.options and field.is_asked(kind, values)):
        text = values.get(field.name, "").strip()
        try:
            if text:
                read[field.name] = _read(field, text, units)
        except InputError as refused:
            problems[field.name] = f"{field.label}: {refused}"
    return read, problems


def _read(field: Field, text: str, units: str) -> Any:
    """Return what a field's text stands for; lengths in mm."""
    unit = {"mm": {"mm": "mm", "inch": "in"}[units]}.get(field.unit, field.unit)
    if field.unit == "text":
        return text
    if field.unit == "lengths":
        return tuple(typed_number(one, {"mm": "mm", "inch": "in"}[units]) for one in text.split(";") if one.strip())
    if field.name == "marks_back" and text[:1] in "-−–":
        return -float(typed_number(text[1:], unit))
    number = typed_number(text, unit)
    return checked_single("it", number, {"in": "mm"}.get(unit, unit), above=None if field.name == "marks_back" else 0,
                          advice="measure it again")


def _keys_from(read: dict[str, Any], values: dict[str, str], problems: dict[str, str]) -> Iterator[tuple[str, Any]]:
    """Yield the keys of a machine file that were measured, worked out from what was read."""
    for name, value in read.items():
        if name.endswith("roll_diameter") and values.get("rolls_by") == AROUND:
            yield name, value / math.pi
        elif name in MACHINE_KEYS:
            yield name, value
    metal = values.get("rated_material", NO_METAL)
    if metal in MATERIALS:
        yield "rated_material", metal
    for pair, key in ((("marks_back", "marks_up"), "guide_angle_degrees"),
                      (("counted_turns", "moved_by"), "screw_pitch")):
        there = [name for name in pair if name in read]
        if len(there) == 2:
            one, other = (read[name] for name in pair)
            yield key, math.degrees(math.atan2(other, -one)) if key == "guide_angle_degrees" else other / one
        elif there and not set(pair) & problems.keys():
            empty = next(name for name in pair if name not in read)
            problems[empty] = (f"{BY_NAME[empty].label}: this is empty, but “{BY_NAME[there[0]].label}” needs it: "
                               "measure both, or empty both.")
    if "crank_turns" in read:
        yield "gear_ratio", read["crank_turns"] / COUNTED_ROLL_TURNS


def _usual(kind: str, given: dict[str, Any], own: Machine | None) -> dict[str, Any]:
    """Return what is taken for keys that a machine must have: what one's own had, or the course's proportions."""
    if kind == "pyramid":
        top = given.get("top_roll_diameter", 200.0)
        bottom = given.get("bottom_roll_diameter", 0.85 * top)
        usual = {"top_roll_diameter": 200.0, "bottom_roll_diameter": bottom,
                 "bottom_roll_spacing": round(1.41 * bottom, 1)}
    else:
        upper = given.get("upper_roll_diameter", DEMO_MACHINE.upper_roll_diameter)
        lower = given.get("lower_roll_diameter", upper)
        bending = given.get("bending_roll_diameter", upper)
        usual = {"upper_roll_diameter": upper, "lower_roll_diameter": lower, "bending_roll_diameter": bending,
                 "guide_distance": round(0.6 * (lower + bending), 1),
                 "guide_angle_degrees": DEMO_MACHINE.guide_angle_degrees}
    usual |= {"screw_pitch": DEMO_MACHINE.screw_pitch, "working_width": DEMO_MACHINE.working_width, "gear_ratio": 1.0}
    if own is not None:
        usual = {name: getattr(own, name) for name in usual}
    return usual if kind == "pyramid" else {**usual, "pinch_force": USUAL_PINCH}


def _made(kind: str, chosen: dict[str, Any]) -> tuple[Machine | None, str]:
    """Return the machine, None where there can be none, and the sentence that says what is wrong with it."""
    try:
        machine = KINDS[kind](**chosen)
    except InputError as problem:
        return None, _sentence(problem)
    try:
        check_room(machine)
    except InputError as problem:
        return machine, _sentence(problem)
    return machine, ""


def _sentence(problem: InputError) -> str:
    """Return a sentence of the library with a capital letter."""
    return f"{str(problem)[0].upper()}{str(problem)[1:]}"


def _notes(machine: Machine, read: dict[str, Any], units: str) -> Iterator[tuple[str, str]]:
    """Yield what was understood of a field, and what is taken where it is empty."""
    shown = {"guide_angle_degrees": "marks_up", "screw_pitch": "moved_by", "gear_ratio": "crank_turns"}
    for name, key in MACHINE_KEYS.items():
        field = BY_NAME.get(name) or BY_NAME.get(shown.get(name, ""))
        value = getattr(machine, name, None)
        if field is None or field.unit == "text" or key.kind_of_value == "text":
            continue
        in_words = _in_words(value, key.unit, units)
        if name in machine.not_measured:
            what = f"{key.words} {in_words}" if name in shown else in_words
            yield field.name, f"Empty: {what} is taken, and marked as assumed."
        elif value in (None, ()):
            yield field.name, "Empty: left out, and the checks say what they cannot look at."
        elif shown.get(name) in read:
            yield shown[name], f"{key.words[0].upper()}{key.words[1:]} {in_words}."
        elif field.name in read:
            yield field.name, f"Read as {in_words}."


def _in_words(value: Any, unit: str, units: str) -> str:
    """Return a value of a machine in words, a length in the units of the form."""
    if value is None:
        return ""
    if unit in ("mm", "lengths"):
        several = value if isinstance(value, tuple) else (value,)
        return ", ".join(format_length(one, units, digits=3 if units == "inch" else 2) for one in several)
    return said(value, unit)


def _number(value: float) -> str:
    """Return a number as one types it."""
    return f"{value:.6f}".rstrip("0").rstrip(".")
