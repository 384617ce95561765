"""The machine as one measures it: the reading in hand is drawn heavy and named, everything else stays thin."""

import math
from collections.abc import Callable

import numpy as np

from rollcalc.rolling import Machine, PyramidMachine

from ..core.dimensions import dimension, leader
from ..core.marks import arc, centre_lines, circle, slab
from ..core.picture import Box, Line, Mark, Pair, Picture, Text, pair
from .machine_view import SIZE, roll_places

HEAVY = "outline"
"""The kind of line for what is being measured."""

ROLL_READINGS = {"upper_roll_diameter": "upper roll", "lower_roll_diameter": "lower roll",
                 "bending_roll_diameter": "bending roll", "top_roll_diameter": "top roll",
                 "bottom_roll_diameter": "bottom roll"}
FRONT_READINGS = ("working_width", "crank_radius", "crank_turns", "groove_diameters")
"""Readings that the side view does not show."""


def measure_view(machine: Machine, reading: str = "", words: str = "", *, around: bool = False,
                 sentence: str = "") -> Picture:
    """Return the machine with one reading shown and named; none where there is nothing to show of it.

    A roll may be measured ``around`` instead of across. The machine is seen from its crank side, or from the front.
    """
    front = reading in FRONT_READINGS
    marks = _front(machine) if front else _side(machine)
    marks += _shown(machine, reading, words, around)
    where = "from the front" if front else "from the crank side"
    frame = _front_frame(machine) if front else _side_frame(machine)
    marks += (Text((frame[0], frame[1]), f"seen {where}", "outline", "start", (0, -24)),)
    said = sentence or f"The machine seen {where}, true to scale{f': {words}' if words else ''}."
    return Picture(said, marks, size=SIZE, alt=f"The machine {where}, with the reading named", frame=frame)


def _shown(machine: Machine, reading: str, words: str, around: bool) -> tuple[Mark, ...]:
    """Return the marks of one reading."""
    if reading in ROLL_READINGS:
        return _roll_shown(machine, ROLL_READINGS[reading], words, around)
    draws: dict[str, Callable[[Machine, str], tuple[Mark, ...]]] = {
        "guide_distance": _distance_shown, "bottom_roll_spacing": _distance_shown,
        "guide_angle_degrees": _angle_shown, "marks_back": _back_shown, "marks_up": _up_shown,
        "counted_turns": _travel_shown, "moved_by": _travel_shown, "working_width": _width_shown,
        "crank_radius": _crank_shown, "crank_turns": _crank_turns_shown, "groove_diameters": _grooves_shown,
        "rated_thickness": _sheet_shown, "rated_material": _sheet_shown, "pinch_force": _pinch_shown,
    }
    return draws[reading](machine, words) if reading in draws else ()


# From the crank side ------------------------------------------------------------------------------------------------


def _thickness(machine: Machine) -> float:
    """Return a thickness of sheet that can be seen. [mm]"""
    return machine.inside_roll_diameter / 60


def _places(machine: Machine, travel: float = 0.0) -> tuple[tuple[str, Pair, float], ...]:
    """Return name, centre and diameter of the rolls at a travel."""
    return roll_places(machine, _thickness(machine), travel)


def _moved(machine: Machine) -> float:
    """Return the travel that shows how the roll moves. [mm]"""
    return 0.45 * machine.inside_roll_diameter


def _side_frame(machine: Machine) -> Box:
    """Return the window of the side view, with room around the rolls for one dimension."""
    places = _places(machine)
    left = min(x - size / 2 for _, (x, _), size in places)
    right = max(x + size / 2 for _, (x, _), size in places)
    low = min(y - size / 2 for _, (_, y), size in places)
    high = max(y + size / 2 for _, (_, y), size in places)
    room = 0.24 * (right - left)
    return left - room, low - room, right + room, high + room


def _side(machine: Machine) -> tuple[Mark, ...]:
    """Return the rolls at touch with their names, and a flat sheet."""
    left, _, right, _ = _side_frame(machine)
    names = [mark for name, at, size in _places(machine) for mark in (
        *circle(at, size / 2, "roll"), *centre_lines(at, size / 2), Text(at, name, "roll", "middle", (0, -24)))]
    return Line([(left, 0.0), (right, 0.0)], "sheet"), *names


def _roll_shown(machine: Machine, roll: str, words: str, around: bool) -> tuple[Mark, ...]:
    """Return a roll's diameter, or the way around it."""
    _, at, size = [place for place in _places(machine) if place[0] == roll][-1]
    up = 1.0 if roll in ("upper roll", "top roll") else -1.0
    heavy, lean = circle(at, size / 2, HEAVY), -1.0 if roll in ("bending roll", "bottom roll") else 1.0
    if around:
        return *heavy, *leader((at[0], at[1] + up * size / 2), words, (36 * lean, 36 * up), HEAVY)
    ends = (at[0] - size / 2, at[1]), (at[0] + size / 2, at[1])
    return *heavy, *dimension(*ends, words, up * (_scale(machine) * size / 2 + 24), role=HEAVY)


def _scale(machine: Machine) -> float:
    """Return the scale of the side view. [px/mm]"""
    left, low, right, high = _side_frame(machine)
    return min((SIZE[0] - 80) / (right - left), (SIZE[1] - 80) / (high - low))


def _distance_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return the distance along the sheet from the grip to the bending roll, or between the bottom rolls."""
    lowest = min(y - size / 2 for _, (_, y), size in _places(machine))
    if isinstance(machine, PyramidMachine):
        (_, start, _), (_, stop, _) = _places(machine)[:2]
    else:
        start, stop = (0.0, 0.0), (machine.guide_distance, 0.0)
    return dimension(start, stop, words, -((start[1] - lowest) * _scale(machine) + 28), role=HEAVY)


def _guide(machine: Machine) -> tuple[Pair, Pair]:
    """Return the centre of the roll that moves, at touch and once it has moved."""
    return _places(machine)[-1][1], _places(machine, _moved(machine))[-1][1]


def _angle_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return the angle between the sheet, away from the front rolls, and the way the bending roll moves."""
    (start, stop), size = _guide(machine), _places(machine)[-1][2]
    angle = math.atan2(stop[1] - start[1], stop[0] - start[0])
    tip = pair(np.add(start, 1.5 * size * np.array([math.cos(angle), math.sin(angle)])))
    return (Line([start, (start[0] + 0.95 * size, start[1])], HEAVY), Line([start, tip], HEAVY, arrows="end"),
            *arc(start, 0.72 * size, 0.0, angle, HEAVY, arrows="both"), Text(tip, words, HEAVY, "start", (12, -4)))


def _back_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return how far the middle of the bending roll has gone towards the front rolls between two marks."""
    (start, stop), size = _guide(machine), _places(machine)[-1][2]
    above = math.copysign(size / 2 * _scale(machine) + 24, stop[0] - start[0])
    return (*circle(stop, size / 2, "hidden"), Line([start, stop], "centre", arrows="end"),
            *dimension((start[0], stop[1]), stop, words, above, role=HEAVY, outside=True))


def _up_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return how far the middle of the bending roll has gone up between two marks."""
    (start, stop), size = _guide(machine), _places(machine)[-1][2]
    return (*circle(stop, size / 2, "hidden"), Line([start, stop], "centre", arrows="end"),
            *dimension(start, (start[0], stop[1]), words, -(size / 2 * _scale(machine) + 24), role=HEAVY))


def _travel_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return the way of the roll that moves, along its guide."""
    (start, stop), size = _guide(machine), _places(machine)[-1][2]
    side = -1 if isinstance(machine, PyramidMachine) else 1
    return *circle(stop, size / 2, "hidden"), *dimension(
        stop, start, words, side * (size / 2 * _scale(machine) + 26), role=HEAVY)


def _sheet_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return the sheet, heavy, and what the plate says of it."""
    left, _, right, high = _side_frame(machine)
    return (Line([(left, 0.0), (right, 0.0)], HEAVY, offset=(0, 2)), Line([(left, 0.0), (right, 0.0)], HEAVY),
            Line([(left, 0.0), (right, 0.0)], HEAVY, offset=(0, -2)),
            Text(((left + right) / 2, high), words, HEAVY, "middle", (0, 4)))


def _pinch_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return the two forces that press the front rolls together."""
    (_, upper, above), (_, lower, below) = _places(machine)[:2]
    top, bottom = (0.0, upper[1] + above / 2), (0.0, lower[1] - below / 2)
    return (Line([top, top], HEAVY, arrows="end", offset=[(0, 44), (0, 0)]),
            Line([bottom, bottom], HEAVY, arrows="end", offset=[(0, -44), (0, 0)]),
            Text(top, words, HEAVY, "middle", (0, 52)))


# From the front -----------------------------------------------------------------------------------------------------


def _crank(machine: Machine) -> tuple[Pair, Pair, float]:
    """Return the crank's axle, the middle of its grip and its radius, from the front."""
    wide, radius = machine.working_width, machine.crank_radius or 0.3 * machine.working_width
    axle = (0.62 * wide, _upper(machine) / 2)
    return axle, (axle[0], axle[1] - radius), radius


def _upper(machine: Machine) -> float:
    """Return the diameter of the roll above the sheet. [mm]"""
    return machine.inside_roll_diameter


def _front_frame(machine: Machine) -> Box:
    """Return the window of the front view."""
    wide, (_, grip, _) = machine.working_width, _crank(machine)
    low = min(grip[1] - 0.08 * wide, -machine.roll_diameters[0])
    return -0.6 * wide, low, 0.84 * wide, _upper(machine) + 0.16 * wide


def _front(machine: Machine) -> tuple[Mark, ...]:
    """Return the two rolls that grip the sheet, the frame and the crank."""
    wide, upper, lower = machine.working_width, _upper(machine), machine.roll_diameters[0]
    axle, grip, radius = _crank(machine)
    names = ("top roll", "bottom roll") if isinstance(machine, PyramidMachine) else ("upper roll", "lower roll")
    foot, tall = -1.1 * lower, 1.2 * (upper + lower)
    frames = [slab((side * 0.5 * wide, foot), (side * 0.55 * wide, foot), tall, "hidden") for side in (-1, 1)]
    return (*slab((-wide / 2, 0), (wide / 2, 0), upper, "roll"),
            *slab((-wide / 2, -lower), (wide / 2, -lower), lower, "roll"), *frames[0], *frames[1],
            Line([(-0.57 * wide, upper / 2), axle], "centre"),
            Line([axle, grip, (grip[0] + 0.4 * radius, grip[1])], HEAVY),
            Text((-wide / 2, upper), names[0], "roll", "start", (0, 6)),
            Text((-wide / 2, -lower), names[1], "roll", "start", (0, -18)))


def _width_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return the length of the rolls between the frames."""
    wide, upper = machine.working_width, _upper(machine)
    return dimension((-wide / 2, upper), (wide / 2, upper), words, 34, role=HEAVY)


def _crank_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return the radius of the crank."""
    axle, grip, _ = _crank(machine)
    return dimension(grip, axle, words, 26, role=HEAVY)


def _crank_turns_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return the marks to count by: one on the crank, one on the roll."""
    axle, grip, _ = _crank(machine)
    wide, upper = machine.working_width, _upper(machine)
    return (*leader((axle[0], (axle[1] + grip[1]) / 2), words, (-30, -12), HEAVY),
            Line([(0.3 * wide, 0.25 * upper), (0.3 * wide, 0.75 * upper)], "sheet"),
            *leader((0.3 * wide, upper), "mark the roll, count 10 turns", (-30, 30), HEAVY))


def _grooves_shown(machine: Machine, words: str) -> tuple[Mark, ...]:
    """Return grooves at the end of the lower roll."""
    wide, lower = machine.working_width, machine.roll_diameters[0]
    places = [0.5 * wide - share * wide for share in (0.02, 0.045, 0.07)]
    return (*(Line([(x, 0.0), (x, -lower)], "sheet") for x in places),
            *leader((places[-1], -lower), words, (-36, -30), HEAVY))
