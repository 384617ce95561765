"""What the form asks, field by field: what it is called, how one measures it, and which machines have it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rollcalc.rolling.machine.keys import MACHINE_KEYS
from rollcalc.rolling.machine.kinds import HAND_PINCH, USUAL_PINCH
from rollcalc.stock import MATERIALS

PINCH, PYRAMID = "two front rolls that pinch, a bending roll behind", "one top roll between two bottom rolls"
KIND_WORDS = {PINCH: "pinch", PYRAMID: "pyramid"}
"""How the form calls a kind of machine -> the word of the file."""
ACROSS, AROUND = "across, with a calliper", "around, with a tape"
GAUGE, MARKS = "with an angle gauge", "from two marks of the roll"
NO_METAL = "the plate names none"
COUNTED_ROLL_TURNS = 10
"""Turns of the roll for which the turns of the crank are counted."""


@dataclass(frozen=True)
class Field:
    """One line of the form."""

    name: str  # a key of the machine file, or a reading that a key is worked out from
    label: str
    unit: str = "mm"  # what is typed is in it; "mm" marks a length, "text" words, "lengths" several lengths
    how: str = ""
    group: str = "Machine"
    kind: str = ""  # the only kind of machine that has it; empty for both
    options: tuple[str, ...] = ()  # a choice between words; the first is where the form starts
    when: tuple[str, str] | None = None  # another field, and what must be chosen there
    drawn: str = ""  # what the drawing calls it, where the label is long

    def is_asked(self, kind: str, values: dict[str, str]) -> bool:
        """Whether this machine and these choices ask for it."""
        return self.kind in ("", kind) and (self.when is None or values.get(self.when[0]) == self.when[1])


def _key(name: str, label: str, group: str, kind: str = "", **more: Any) -> Field:
    """Return the field of a key of the machine file, which says itself how to measure it."""
    key = MACHINE_KEYS[name]
    unit = {"length": "mm", "text": "text"}.get(key.kind_of_value, key.kind_of_value)
    return Field(name, label, unit, key.how, group, kind, (), **more)


ROLLS, PLACES, SCREWS, WIDTH, PLATE = ("Rolls", "Where the rolls stand", "Screws", "Width and crank", "Plate and nip")

FIELDS = (
    Field("kind", "Kind of machine", "text", options=tuple(KIND_WORDS)),
    Field("name", "What you call it", "text", "A name that tells your machine from another, such as our roller."),
    Field("rolls_by", "Rolls are measured", "text", "A tape round a roll gives the way around; the form divides by π. "
          "A strip of paper, marked where it meets itself, is as good.", ROLLS, options=(ACROSS, AROUND)),
    _key("upper_roll_diameter", "Upper roll", ROLLS, "pinch"),
    _key("lower_roll_diameter", "Lower roll", ROLLS, "pinch"),
    _key("bending_roll_diameter", "Bending roll", ROLLS, "pinch"),
    _key("top_roll_diameter", "Top roll", ROLLS, "pyramid"),
    _key("bottom_roll_diameter", "Bottom rolls", ROLLS, "pyramid"),
    _key("guide_distance", "Guide distance", PLACES, "pinch"),
    Field("angle_by", "Guide angle is measured", "text", "With an angle gauge, or from how far the roll has moved "
          "between two marks.", PLACES, "pinch", (GAUGE, MARKS)),
    _key("guide_angle_degrees", "Guide angle", PLACES, "pinch", when=("angle_by", GAUGE)),
    Field("marks_back", "Back, towards the front rolls", "mm", "Mark the middle of the bending roll's end on the frame "
          "or on paper behind it, wind the roll up as far as it goes, mark again. Measure along the sheet from mark to "
          "mark; put a minus before it where the roll leans away.", PLACES, "pinch", when=("angle_by", MARKS),
          drawn="back"),
    Field("marks_up", "Up, square to the sheet", "mm", "The same two marks, measured square to the sheet.", PLACES,
          "pinch", when=("angle_by", MARKS), drawn="up"),
    _key("bottom_roll_spacing", "From bottom roll to bottom roll", PLACES, "pyramid", drawn="spacing"),
    Field("counted_turns", "Turns of a screw that you counted", "turns", "Turn both screws alike, always the same way, "
          "so that no slack is counted. Ten turns or more: an error is shared out over them.", SCREWS,
          drawn="turns counted"),
    Field("moved_by", "The roll has moved by", "mm", "How far the roll that moves has come in these turns, measured "
          "along its guide at its end.", SCREWS, drawn="moved by"),
    _key("working_width", "Working width", WIDTH),
    _key("crank_radius", "Crank radius", WIDTH),
    Field("crank_turns", f"Turns of the crank for {COUNTED_ROLL_TURNS} of the roll", "turns", "Mark the crank and the "
          f"driven roll, crank until the roll has gone round {COUNTED_ROLL_TURNS} times, and count.", WIDTH,
          drawn="turns of the crank"),
    _key("rated_thickness", "Thickest sheet on the plate", PLATE, drawn="thickest sheet"),
    Field("rated_material", "Metal on the plate", "text", MACHINE_KEYS["rated_material"].how, PLATE,
          options=(NO_METAL, *MATERIALS)),
    Field("groove_diameters", "Bars the grooves are for", "lengths", "Try a bar in each groove: it should touch the "
          "bottom and not stand on the edges. Put a semicolon between several: 5; 6; 8. Half round grooves are taken.",
          PLATE, "pinch", drawn="grooves"),
    Field("pinch_force", "Pinch force", "N", f"Leave it empty: hardly anyone knows it. {USUAL_PINCH:.0f} N is taken, "
          f"and hands give {HAND_PINCH[0]:.0f} to {HAND_PINCH[1]:.0f} N.", PLATE, "pinch"),
)
BY_NAME = {field.name: field for field in FIELDS}
