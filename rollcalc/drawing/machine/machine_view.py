"""A machine seen from its crank side, true to scale: the rolls, their names, and how far one has moved."""

import numpy as np

from rollcalc.rolling import Machine, PinchMachine, PyramidMachine
from rollcalc.rolling.deflection import bearing_span
from rollcalc.stock import format_length

from ..core.dimensions import dimension
from ..core.marks import centre_lines, circle, slab
from ..core.picture import Box, Line, Mark, Pair, Text, pair

SIZE = (660, 506)  # page of the side views; the frame fills it but for the margin [px]


def view_frame(machine: Machine) -> Box:
    """Return the window of a machine's side views, the same at every travel so that the scale stays fixed."""
    if isinstance(machine, PyramidMachine):
        reach = machine.bottom_roll_spacing / 2 + machine.bottom_roll_diameter
        above = machine.top_roll_diameter + 0.3 * reach
        return -1.35 * reach, -machine.bottom_roll_diameter - 0.12 * reach, 1.35 * reach, above
    reach = machine.guide_distance + machine.bending_roll_diameter
    below = max(machine.lower_roll_diameter, machine.bending_roll_diameter)
    return -0.71 * reach, -below - 0.11 * reach, 1.2 * reach, machine.upper_roll_diameter + 0.38 * reach


def machine_name(machine: Machine) -> str:
    """Return what a sentence calls the machine."""
    return machine.name or "the machine you measured"


def machine_note(machine: Machine) -> str:
    """Return the sentence that says which machine a number is for, which nip it has, and what of it is assumed."""
    nip = f", {machine.nip}" if isinstance(machine, PinchMachine) else ""
    return f"Machine: {machine_name(machine)}{nip}.{machine.assumed_note}"


def roll_places(machine: Machine, thickness: float, travel: float) -> tuple[tuple[str, Pair, float], ...]:
    """Return name, centre and diameter of the three rolls; the last one moves."""
    if isinstance(machine, PyramidMachine):
        side, level = pair(machine.bottom_roll_centre(thickness))
        return (("bottom roll", (-side, level), machine.bottom_roll_diameter),
                ("bottom roll", (side, level), machine.bottom_roll_diameter),
                ("top roll", pair(machine.top_roll_centre(thickness, travel)), machine.top_roll_diameter))
    return (("upper roll", pair(machine.upper_roll_centre(thickness)), machine.upper_roll_diameter),
            ("lower roll", pair(machine.lower_roll_centre(thickness)), machine.lower_roll_diameter),
            ("bending roll", pair(machine.bending_roll_centre(thickness, travel)), machine.bending_roll_diameter))


def rolls(machine: Machine, thickness: float, travel: float) -> tuple[Mark, ...]:
    """Return the three rolls with their centre lines and names."""
    return tuple(mark for name, at, diameter in roll_places(machine, thickness, travel)
                 for mark in (*circle(at, diameter / 2, "roll"), *centre_lines(at, diameter / 2),
                              Text(at, name, "roll", "middle", (0, -24))))


def tilted_roll(machine: Machine, level: float, axle: Pair, edges: Pair) -> tuple[tuple[Mark, ...], tuple[Pair, Pair]]:
    """Return the roll that moves, from the front and tilted, with stock on it; heights may be enlarged."""
    half, screw = machine.working_width / 2, bearing_span(machine) / 2
    _, _, diameter = roll_places(machine, 0.0, 0.0)[-1]

    def at(place: float, beside: float) -> Pair:
        return place, float(np.interp(0.5 + place / screw / 2, [0, 1], axle)) + beside

    tops = at(edges[0], diameter / 2), at(edges[1], diameter / 2)
    return (*slab((-half, level - diameter / 2), (half, level - diameter / 2), diameter, "hidden"),
            *slab(at(-half, -diameter / 2), at(half, -diameter / 2), diameter, "roll"),
            Line([at(-screw, 0.0), at(screw, 0.0)], "centre"), Line(tops, "sheet", offset=(0, 2))), tops


def travel_dimension(machine: Machine, thickness: float, travel: float, units: str) -> tuple[Mark, ...]:
    """Return the moving roll's way from touch, measured along its guide."""
    if travel <= 0:
        return ()
    (_, start, diameter), (_, now, _) = (roll_places(machine, thickness, way)[-1] for way in (0.0, travel))
    short = travel * px_per_mm(machine) < 90
    beside = diameter / 2 * px_per_mm(machine) + (64 if short else 26)
    side = -1 if isinstance(machine, PyramidMachine) else 1  # to the right of the roll, whichever way it moves
    way = dimension(now, start, f"travel {format_length(travel, units)}", side * beside, outside=short)
    return (*circle(start, diameter / 2, "hidden"), *way)


def px_per_mm(machine: Machine) -> float:
    """Return the scale of the machine's side views."""
    left, bottom, right, top = view_frame(machine)
    return min((SIZE[0] - 80) / (right - left), (SIZE[1] - 80) / (top - bottom))
