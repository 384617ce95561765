"""The one circle that fits between the rolls, drawn on the machine."""

import math

import numpy as np

from rollcalc.rolling import Machine, PyramidMachine, circle_radius
from rollcalc.rolling.limits.reach import check_travel
from rollcalc.stock import Stock, format_length

from ..core.dimensions import leader, radius_dimension
from ..core.marks import arc
from ..core.picture import Line, Mark, Picture
from .machine_view import SIZE, machine_name, rolls, travel_dimension, view_frame


def circle_view(machine: Machine, stock: Stock, travel: float, units: str = "mm") -> Picture:
    """Return the machine with the one circle that fits its rolls."""
    check_travel(machine, stock, travel, "set less")
    radius, thickness = float(circle_radius(machine, stock, travel)), float(stock.depth)
    marks = (*rolls(machine, thickness, travel), *travel_dimension(machine, thickness, travel, units),
             *circle_sheet(machine, thickness, travel, radius), *_circle_words(machine, travel, radius, units))
    return Picture(
        f"{travel / machine.screw_pitch:.2f} turns of the screws on {machine_name(machine)} are "
        f"{format_length(travel, units)} of travel. {circle_sentence(radius, units, 'The rolls only touch')}"
        f"{machine.with_perfect_nip().assumed_note}",
        marks, size=SIZE, alt="Side view of the three rolls and one circle", frame=view_frame(machine))


def circle_sheet(machine: Machine, thickness: float, travel: float, radius: float) -> tuple[Line, ...]:
    """Return the sheet as the circle rule draws it: flat, then bent around the circle; and the rest of the circle."""
    left, _, right, _ = view_frame(machine)
    if math.isinf(radius):
        return (Line([(left, 0), (right, 0)], "sheet"),)
    before, middle = 0.0, circle_middle(machine, travel, radius)
    if isinstance(machine, PyramidMachine):  # how far around, before its lowest point, the sheet comes to lie on it
        (aside, _), roll = machine.bottom_roll_centre(thickness), machine.bottom_roll_diameter / 2 + thickness / 2
        before = math.asin(min(1.0, float(aside) / (radius + roll)))
    down, bent = -math.pi / 2, min(2 * math.pi * 0.9, max(0.714 * (right - left) / radius, before))
    first = np.array([-radius * math.sin(before), middle - radius * math.cos(before)])
    run = (left - first[0]) * math.cos(before)  # straight back to the edge of the view
    tail = first + run * np.array([math.cos(before), -math.sin(before)])
    return (Line([tail, first], "sheet"),
            *arc((0, middle), radius, down + bent, down - before + 2 * math.pi, "hidden", points=240),
            *arc((0, middle), radius, down - before, down + bent, "sheet", points=120))


def circle_middle(machine: Machine, travel: float, radius: float) -> float:
    """Return how high the circle's centre lies; it is straight above the inside roll's contact."""
    return radius - travel if isinstance(machine, PyramidMachine) else radius


def _circle_words(machine: Machine, travel: float, radius: float, units: str) -> tuple[Mark, ...]:
    """Return the radius of the circle, pointing at it; a very flat one has its number in the sentence only."""
    left, _, right, _ = view_frame(machine)
    if radius >= 7 * (right - left):
        return ()
    words, inside = f"R {format_length(radius, units)}", machine.inside_roll_diameter / 2
    middle = circle_middle(machine, travel, radius)
    if radius < 1.6 * inside:  # no room within: the inside roll fills it
        return leader((radius * math.sin(0.5), middle + radius * math.cos(0.5)), words, (24, 20))
    at = -math.pi / 2 + min(0.53 * (right - left) / radius, 2.6)
    return radius_dimension((0, middle), radius, at, words, reach=96)


def circle_sentence(radius: float, units: str, touching: str) -> str:
    """Return what there is to say about the circle."""
    if math.isinf(radius):
        return f"{touching} the flat sheet: there is no circle yet."
    return f"The circle through the rolls has a radius of {format_length(radius, units)}."
