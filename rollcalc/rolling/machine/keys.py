"""What a machine is asked: each number, its unit and bounds, and how to measure it at the machine."""

from dataclasses import dataclass
from typing import Any

from rollcalc.stock.quantities import InputError
from rollcalc.stock.units import parse_length, parse_quantity


@dataclass(frozen=True)
class MachineKey:
    """One key of a machine file, which is also an argument of the machine."""

    name: str
    kind_of_value: str  # "text", "length", "lengths" or "keys" for a list of them, or the unit of a number
    example: str  # as the file would have it; shown as a note where the key is left out
    how: str  # what it is and how to measure it, in plain sentences
    bounds: dict[str, float]
    may_be_array: bool

    @property
    def unit(self) -> str:
        """What a number is in; nothing for text."""
        return {"length": "mm", "lengths": "mm", "text": "", "keys": ""}.get(self.kind_of_value, self.kind_of_value)

    @property
    def words(self) -> str:
        """What a sentence calls it."""
        return self.name.removesuffix("_degrees").replace("_", " ")


def _key(kind_of_value: str, example: str, how: str, *, array: bool = False, **bounds: float) -> dict[str, Any]:
    """Return what a key is besides its name; a number must be above zero where no other bounds are given."""
    return {"kind_of_value": kind_of_value, "example": example, "how": how, "bounds": bounds or {"above": 0.0},
            "may_be_array": array}


_KEYS = {
    "name": _key("text", '"our roller"', "What you call the machine."),
    "upper_roll_diameter": _key("length", "50", "Upper front roll: measure it with a calliper at both ends and in the "
        "middle, away from any groove, and take the mean."),
    "lower_roll_diameter": _key("length", "50", "Lower front roll: measure it in the same way."),
    "bending_roll_diameter": _key("length", "50", "Bending roll, at the back: measure it in the same way."),
    "guide_distance": _key("length", "60", "From the grip to the bending roll, along the sheet. Pinch a flat offcut "
        "and raise the bending roll until it just touches. Mark on the offcut the line where the front rolls grip and "
        "the line where the bending roll touches: this is the distance between the two lines."),
    "guide_angle_degrees": _key("deg", "110", "Which way the bending roll moves, in degrees. 90 is straight up from "
        "the sheet, more than 90 leans back towards the front rolls. Hold an angle gauge between the sheet, on the "
        "side away from the front rolls, and the slot the roll moves in.", at_least=1, at_most=179),
    "top_roll_diameter": _key("length", "200", "Top roll: measure it with a calliper at both ends and in the middle, "
        "away from any groove, and take the mean."),
    "bottom_roll_diameter": _key("length", "170", "The two bottom rolls, which are alike: measure them in the same "
        "way."),
    "bottom_roll_spacing": _key("length", "240", "From the centre of one bottom roll to the centre of the other. "
        "Measure the gap between the rolls and add one diameter."),
    "peak": _key("text", '"plate"', 'What takes the bend below the top roll: a "plate", which has its thickness, or '
        'the thin "beam" of the textbooks. Leave the key out for a real plate.'),
    "screw_pitch": _key("length", "1.5", "How far the roll moves along its guide for one turn of a screw. Turn ten "
        "times, measure how far the roll has moved, divide by ten. A screw of 20 threads to the inch is written "
        '"1/20 in".'),
    "working_width": _key("length", "760", "Length of the rolls that sheet may use, between the frames."),
    "nip_slack": _key("length", "0.02", "How much wider than the sheet the nip is while you roll. Close the front "
        "rolls on the sheet as you always do and try feeler gauges between sheet and roll. 0 is a perfect nip, a "
        "teaching ideal that no machine has. Leave the key out if you give pinch_force.", at_least=0, array=True),
    "pinch_force": _key("N", '"3 kN"', "Force with which the front rolls squeeze the sheet, both ends together, in "
        "newtons. Few machines show it: screws turned snug by hand may give 1000 to 6000. Leave the key out if you do "
        "not know it, and 2500 is taken; also if you give a nip_slack.", array=True),
    "nip_opening": _key("length", "3", "How far the front rolls open: the thickest flat piece that goes between them. "
        "Leave the key out if you have not measured it."),
    "max_travel": _key("length", "35", "How far the roll can move from where it just touches the flat sheet, to its "
        "stop or until it meets another roll. Leave the key out if only the rolls themselves stop it."),
    "rated_thickness": _key("length", "0.76", "Thickest sheet over the full width, as the machine's plate says. The "
        "plate outranks every number here."),
    "rated_material": _key("text", '"low-carbon steel, cold rolled"', "The metal the plate speaks of, by its name in "
        "the lessons."),
    "groove_diameters": _key("lengths", "[5, 6, 8]", "The round bars the grooves are cut for, in brackets, with commas "
        "between. Try a bar in each groove: it should touch the bottom and not stand on the edges. Leave the key out "
        "if there are no grooves."),
    "groove_depths": _key("lengths", "[2.5, 3, 4]", "How deep each groove is, in the same order. Measure the roll's "
        "diameter over the groove's bottom, take it from the roll's diameter, and halve. Leave the key out if the "
        "grooves are half round."),
    "groove_positions": _key("lengths", "[345, 357, 370]", "From the middle of the rolls to each groove, in the same "
        "order. Leave the key out if you have not measured it."),
    "grooved_rolls": _key("text", '"lower, bending"', "Which rolls have the grooves: upper, lower, bending, with "
        "commas between."),
    "crank_radius": _key("length", "250", "From the middle of the crank's shaft to the middle of the handle you hold."),
    "gear_ratio": _key("", "1", "Turns of the crank for one turn of the driven roll. Mark both and count. 1 where the "
        "crank turns the roll itself."),
    "bearing_span": _key("length", "820", "From the middle of one bearing of a roll to the middle of the other. Leave "
        "the key out if you have not measured it."),
    "journal_diameter": _key("length", "24", "Diameter of a roll's end where it turns in its bearing. Leave the key "
        "out if you cannot reach it."),
    "roll_modulus": _key("MPa", "205000", "How stiff the metal of the rolls is; 205000 for steel."),
    "bearing_friction": _key("", "0.1", "Friction in the bearings of the rolls. 0.1 is a guess for greased plain "
        "bearings; dry ones have more, ball bearings much less.", above=0, at_most=1),
    "grip_friction": _key("", "0.1", "Friction between rolls and sheet. 0.1 is a careful guess for clean metal with a "
        "trace of oil.", above=0, at_most=1),
    "crank_limit": _key("N", "100", "Most force that the people who crank should need at the handle. Leave the key out "
        "to use the value of the lessons; give less for young people."),
    "roll_stress_limit": _key("MPa", "100", "Bending stress that the steel of the rolls takes, turn after turn. Leave "
        "the key out unless the maker of the machine tells you."),
    "not_measured": _key("keys", '["gear_ratio"]', "Which of the keys above hold a value that is assumed and not "
        "measured, in brackets. Every answer then says so. Take a key off this list once you have measured it; leave "
        "the list out when nothing is left."),
}

MACHINE_KEYS = {name: MachineKey(name, **key) for name, key in _KEYS.items()}
"""Every key of both kinds of machine, in the order a file has them."""


def read_value(name: str, written: Any, units: str) -> Any:
    """Return what a key of a machine file stands for, in the library's own units; the machine says what makes sense."""
    kind = MACHINE_KEYS[name].kind_of_value
    try:
        if kind == "text":
            if not isinstance(written, str) or not written.strip():
                raise InputError("this must be text that says something: write it in quotes.")
            return written
        if kind == "lengths":
            if not isinstance(written, list):
                raise InputError("this must be a list of lengths: write it in brackets, with commas between, like "
                                 "[5, 6, 8].")
            return tuple(parse_length(one, units) for one in written)
        if kind == "keys":
            if not isinstance(written, list):
                raise InputError("this must be a list of keys: write it in brackets, each key in quotes, like "
                                 '["gear_ratio"].')
            return tuple(written)
        return parse_length(written, units) if kind == "length" else parse_quantity(written, kind)
    except InputError as problem:
        raise spoilt(name, written, problem) from None


def spoilt(name: str, written: Any, problem: InputError) -> InputError:
    """Return a problem with one key's value as the error that names both."""
    return InputError(f"key {name} = {toml_value(written)}: {problem}")


def toml_value(value: Any) -> str:
    """Return a value as a machine file writes it: numbers keep all their digits, and whole ones have no point."""
    if isinstance(value, str):
        import json  # here and not above: needed only for a file, or once something went wrong

        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(toml_value, value))}]"
    return str(int(value)) if isinstance(value, float) and value.is_integer() and abs(value) < 1e15 else str(value)
