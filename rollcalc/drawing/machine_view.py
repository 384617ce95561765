"""Side views of a pinch machine, true to scale: the rolls, the sheet, and the circle through the rolls."""

from __future__ import annotations

import math

import numpy as np

from rollcalc.rolling import PinchMachine, circle_radius
from rollcalc.stock import Stock, format_length

from .dimensions import dimension, leader, radius_dimension
from .marks import arc, centre_lines, circle
from .picture import Line, Mark, Pair, Picture, Text

FRAME = (-78.0, -62.0, 132.0, 92.0)
"""Left, bottom, right and top of what the side views show. [mm]"""
SIZE = (660, 506)
"""Page of the side views; the frame fills it but for the margin. [px]"""


def circle_view(machine: PinchMachine, stock: Stock, travel: float, units: str = "mm") -> Picture:
    """Return the machine with the circle that touches the sheet at the nip and the bending roll.

    Parameters
    ----------
    machine : PinchMachine
        The machine.
    stock : Sheet, FlatBar or RoundBar
        The piece.
    travel : float
        Travel of the bending roll from touch. [mm]
    units : str
        "mm" or "inch".

    Returns
    -------
    picture : Picture
        A drawing to scale in a fixed frame.

    Raises
    ------
    InputError
        If the stock does not fit or rolls would overlap at this travel.

    Notes
    -----
    Validity: geometry only; no metal is asked.

    Examples
    --------
    >>> from rollcalc.rolling import DEMO_MACHINE
    >>> from rollcalc.stock import Sheet
    >>> circle_view(DEMO_MACHINE, Sheet(0.76, 300), 10).alt
    'Side view of the three rolls and one circle'
    """
    radius = float(circle_radius(machine, stock, travel))
    marks: list[Mark] = [
        *rolls(machine, float(stock.depth), travel),
        *travel_dimension(machine, float(stock.depth), travel, units),
        Line([(FRAME[0], 0), (0, 0)], "sheet"),
    ]
    if math.isinf(radius):
        marks.append(Line([(0, 0), (FRAME[2], 0)], "sheet"))
        shown = "touches the flat sheet: there is no circle yet."
    else:
        marks += circle_marks(radius, units)
        shown = f"has pushed the sheet up: the circle through the rolls has a radius of {format_length(radius, units)}."
    turns = travel / machine.screw_pitch
    return Picture(
        f"{turns:.2f} turns of the screws, {format_length(travel, units)} of travel: the bending roll {shown}",
        tuple(marks),
        size=SIZE,
        alt="Side view of the three rolls and one circle",
        frame=FRAME,
    )


def rolls(machine: PinchMachine, thickness: float, travel: float) -> tuple[Mark, ...]:
    """Return the three rolls with their centre lines and names, and the line the bending roll moves along.

    Parameters
    ----------
    machine : PinchMachine
        The machine.
    thickness : float
        Thickness of the stock. [mm]
    travel : float
        Travel of the bending roll from touch. [mm]

    Returns
    -------
    marks : tuple of Line and Text
        Rolls to scale.

    Notes
    -----
    Validity: one travel, no arrays.

    Examples
    --------
    >>> from rollcalc.rolling import DEMO_MACHINE
    >>> sum(isinstance(mark, Text) for mark in rolls(DEMO_MACHINE, 0.76, 10))
    3
    """
    marks: list[Mark] = []
    for name, centre, diameter in (
        ("upper roll", machine.upper_roll_centre(thickness), machine.upper_roll_diameter),
        ("lower roll", machine.lower_roll_centre(thickness), machine.lower_roll_diameter),
        ("bending roll", machine.bending_roll_centre(thickness, travel), machine.bending_roll_diameter),
    ):
        at = pair(centre)
        marks += [*circle(at, diameter / 2, "roll"), *centre_lines(at, diameter / 2)]
        marks.append(Text(at, name, "roll", "middle", (0, -24)))
    return tuple(marks)


def travel_dimension(machine: PinchMachine, thickness: float, travel: float, units: str) -> tuple[Mark, ...]:
    """Return the bending roll's way from touch, measured along its guide.

    Parameters
    ----------
    machine : PinchMachine
        The machine.
    thickness : float
        Thickness of the stock. [mm]
    travel : float
        Travel of the bending roll from touch. [mm]
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
    >>> from rollcalc.rolling import DEMO_MACHINE
    >>> travel_dimension(DEMO_MACHINE, 0.76, 0.0, "mm")
    ()
    """
    if travel <= 0:
        return ()
    start, now = (pair(machine.bending_roll_centre(thickness, way)) for way in (0.0, travel))
    short = travel * _px_per_mm() < 90
    beside = -(machine.bending_roll_diameter / 2 * _px_per_mm() + (64 if short else 26))
    return (
        *circle(start, machine.bending_roll_diameter / 2, "hidden"),
        *dimension(start, now, f"travel {format_length(travel, units)}", beside, outside=short),
    )


def circle_marks(radius: float, units: str) -> tuple[Mark, ...]:
    """Return the sheet bent round the circle from the nip on, the rest of the circle, and its radius.

    Parameters
    ----------
    radius : float
        Radius of the circle. [mm]
    units : str
        "mm" or "inch".

    Returns
    -------
    marks : tuple of Line and Text
        Arc, circle and dimension.

    Notes
    -----
    Validity: a circle above the sheet line.

    Examples
    --------
    >>> circle_marks(90, "mm")[-1].words
    'R 90.0 mm'
    """
    bent = min(2 * math.pi * 0.9, 150 / radius)
    down = -math.pi / 2
    at = down + min(112 / radius, 2.6)
    words = f"R {format_length(radius, units)}"
    measured: tuple[Mark, ...] = ()
    if radius < 40:  # no room inside: the upper roll fills it
        measured = leader((radius * math.sin(0.5), radius * (1 + math.cos(0.5))), words, (24, 20))
    elif radius < 1500:  # a flatter arc has its number in the sentence only
        measured = radius_dimension((0, radius), radius, at, words, reach=96)
    return (
        *arc((0, radius), radius, down + bent, down + 2 * math.pi, "hidden", points=240),
        *arc((0, radius), radius, down, down + bent, "sheet", points=120),
        *measured,
    )


def pair(place: tuple[object, object]) -> Pair:
    """Return a place of the machine as two floats.

    Parameters
    ----------
    place : tuple of float
        x and y. [mm]

    Returns
    -------
    pair : tuple of float
        The same place. [mm]

    Notes
    -----
    Validity: single places, no arrays.

    Examples
    --------
    >>> pair((np.float64(1.0), 2))
    (1.0, 2.0)
    """
    x, y = (float(np.asarray(number)) for number in place)
    return x, y


def _px_per_mm() -> float:
    """Return the scale of the side views. [px/mm]"""
    return min((SIZE[0] - 80) / (FRAME[2] - FRAME[0]), (SIZE[1] - 80) / (FRAME[3] - FRAME[1]))
