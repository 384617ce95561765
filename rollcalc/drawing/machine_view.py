"""A machine seen from its crank side, true to scale: the rolls, their names, and how far one has moved."""

from __future__ import annotations

import numpy as np

from rollcalc.rolling import DEMO_MACHINE, Machine, PinchMachine, PyramidMachine
from rollcalc.rolling.roll_bow import bearing_span
from rollcalc.stock import format_length

from .dimensions import dimension
from .marks import centre_lines, circle, slab
from .picture import Line, Mark, Pair, Text, pair

SIZE = (660, 506)
"""Page of the side views; the frame fills it but for the margin. [px]"""


def view_frame(machine: Machine) -> tuple[float, float, float, float]:
    """Return the window of a machine's side views, the same at every travel so that the scale stays fixed.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.

    Returns
    -------
    frame : tuple of float
        Left, bottom, right and top. [mm]

    Notes
    -----
    Validity: machines whose rolls lie between a tenth and ten times the other lengths.

    Examples
    --------
    >>> [round(edge) for edge in view_frame(DEMO_MACHINE)]
    [-78, -62, 132, 92]
    """
    if isinstance(machine, PyramidMachine):
        reach = machine.bottom_roll_spacing / 2 + machine.bottom_roll_diameter
        above = machine.top_roll_diameter + 0.3 * reach
        return -1.35 * reach, -machine.bottom_roll_diameter - 0.12 * reach, 1.35 * reach, above
    reach = machine.guide_distance + machine.bending_roll_diameter
    below = max(machine.lower_roll_diameter, machine.bending_roll_diameter)
    return -0.71 * reach, -below - 0.11 * reach, 1.2 * reach, machine.upper_roll_diameter + 0.38 * reach


FRAME = view_frame(DEMO_MACHINE)
"""Left, bottom, right and top of the side views of the lessons' machine. [mm]"""


def machine_name(machine: Machine) -> str:
    """Return what a sentence calls the machine.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.

    Returns
    -------
    words : str
        Its name, or words for a machine without one.

    Examples
    --------
    >>> machine_name(DEMO_MACHINE)
    'the bench roll (invented for these lessons)'
    """
    return machine.name or "the machine you measured"


def machine_note(machine: Machine) -> str:
    """Return the sentence that says which machine a number is for, and which nip it has."""
    nip = f", {machine.nip}" if isinstance(machine, PinchMachine) else ""
    return f"Machine: {machine_name(machine)}{nip}."


def roll_places(machine: Machine, thickness: float, travel: float) -> tuple[tuple[str, Pair, float], ...]:
    """Return name, centre and diameter of the three rolls; the last one moves.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    thickness : float
        Thickness of the stock. [mm]
    travel : float
        Travel of the roll that moves, from touch. [mm]

    Returns
    -------
    places : tuple of (str, tuple of float, float)
        Name, x and y of the centre [mm], diameter [mm].

    Notes
    -----
    Validity: one travel, no arrays.

    Examples
    --------
    >>> [name for name, centre, diameter in roll_places(DEMO_MACHINE, 0.76, 10)]
    ['upper roll', 'lower roll', 'bending roll']
    """
    if isinstance(machine, PyramidMachine):
        side, level = pair(machine.bottom_roll_centre(thickness))
        return (
            ("bottom roll", (-side, level), machine.bottom_roll_diameter),
            ("bottom roll", (side, level), machine.bottom_roll_diameter),
            ("top roll", pair(machine.top_roll_centre(thickness, travel)), machine.top_roll_diameter),
        )
    return (
        ("upper roll", pair(machine.upper_roll_centre(thickness)), machine.upper_roll_diameter),
        ("lower roll", pair(machine.lower_roll_centre(thickness)), machine.lower_roll_diameter),
        ("bending roll", pair(machine.bending_roll_centre(thickness, travel)), machine.bending_roll_diameter),
    )


def rolls(machine: Machine, thickness: float, travel: float) -> tuple[Mark, ...]:
    """Return the three rolls with their centre lines and names.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    thickness : float
        Thickness of the stock. [mm]
    travel : float
        Travel of the roll that moves, from touch. [mm]

    Returns
    -------
    marks : tuple of Line and Text
        Rolls to scale.

    Notes
    -----
    Validity: one travel, no arrays.

    Examples
    --------
    >>> sum(isinstance(mark, Text) for mark in rolls(DEMO_MACHINE, 0.76, 10))
    3
    """
    marks: list[Mark] = []
    for name, at, diameter in roll_places(machine, thickness, travel):
        marks += [*circle(at, diameter / 2, "roll"), *centre_lines(at, diameter / 2)]
        marks.append(Text(at, name, "roll", "middle", (0, -24)))
    return tuple(marks)


def tilted_roll(machine: Machine, level: float, axle: Pair, edges: Pair) -> tuple[tuple[Mark, ...], tuple[Pair, Pair]]:
    """Return the roll that moves, from the front and tilted, with stock on it.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    level : float
        Height of its axle where it is not tilted, drawn dashed. [mm]
    axle : tuple of float
        Heights of its axle at the left and the right bearing. [mm]
    edges : tuple of float
        Where the stock begins and ends along the rolls, from their middle. [mm]

    Returns
    -------
    marks : tuple of Line
        Dashed roll, tilted roll, its axle, and the stock.
    tops : tuple of two places
        The edges of the stock, on top of the roll. [mm]

    Notes
    -----
    Heights may be enlarged; the roll is as thick as it is. Validity: bearings as `bearing_span` says.

    Examples
    --------
    >>> marks, tops = tilted_roll(DEMO_MACHINE, 0.0, (-41.0, 41.0), (-100.0, 100.0))
    >>> tops
    ((-100.0, 15.0), (100.0, 35.0))
    """
    half, screw = machine.working_width / 2, bearing_span(machine) / 2
    _, _, diameter = roll_places(machine, 0.0, 0.0)[-1]

    def at(place: float, beside: float) -> Pair:
        return place, float(np.interp(0.5 + place / screw / 2, [0, 1], axle)) + beside

    tops = at(edges[0], diameter / 2), at(edges[1], diameter / 2)
    marks = (
        *slab((-half, level - diameter / 2), (half, level - diameter / 2), diameter, "hidden"),
        *slab(at(-half, -diameter / 2), at(half, -diameter / 2), diameter, "roll"),
        Line([at(-screw, 0.0), at(screw, 0.0)], "centre"),
        Line(tops, "sheet", offset=(0, 2)),
    )
    return marks, tops


def travel_dimension(machine: Machine, thickness: float, travel: float, units: str) -> tuple[Mark, ...]:
    """Return the moving roll's way from touch, measured along its guide.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    thickness : float
        Thickness of the stock. [mm]
    travel : float
        Travel of the roll that moves, from touch. [mm]
    units : str
        "mm" or "inch".

    Returns
    -------
    marks : tuple of Line and Text
        A ghost of the roll at touch, and the dimension; empty at touch.

    Notes
    -----
    Validity: one travel, no arrays.

    Examples
    --------
    >>> travel_dimension(DEMO_MACHINE, 0.76, 0.0, "mm")
    ()
    """
    if travel <= 0:
        return ()
    (_, start, diameter), (_, now, _) = (roll_places(machine, thickness, way)[-1] for way in (0.0, travel))
    short = travel * px_per_mm(machine) < 90
    beside = diameter / 2 * px_per_mm(machine) + (64 if short else 26)
    side = -1 if isinstance(machine, PyramidMachine) else 1  # to the right of the roll, whichever way it moves
    return (
        *circle(start, diameter / 2, "hidden"),
        *dimension(now, start, f"travel {format_length(travel, units)}", side * beside, outside=short),
    )


def px_per_mm(machine: Machine) -> float:
    """Return the scale of the machine's side views.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.

    Returns
    -------
    scale : float
        How much 1 mm is on the page. [px]

    Examples
    --------
    >>> round(px_per_mm(DEMO_MACHINE), 2)
    2.76
    """
    left, bottom, right, top = view_frame(machine)
    return min((SIZE[0] - 80) / (right - left), (SIZE[1] - 80) / (top - bottom))
