"""The panels of lesson 02: the circle through the rolls, on the machine of the machine file or the demo machine."""

import math

from rollcalc.drawing import Picture
from rollcalc.drawing.machine.circle_pictures import most_travel, turns_picture
from rollcalc.drawing.machine.circle_view import circle_view
from rollcalc.rolling import circle_radius
from rollcalc.rolling.machine.file import load_machine
from rollcalc.stock import Sheet

from ..engine.own_machine import slider_machine
from ..engine.panel import Control, Panel

BODY = Sheet(thickness=0.76, width=240)
"""The lantern's body; half its thickness is all that the circle asks of it."""


def circle_through_rolls_picture(turns: float, units: str) -> Picture:
    """Return the machine and the circle through its rolls, for turns of the screws."""
    machine = load_machine()
    return circle_view(machine, BODY, turns * machine.screw_pitch, units)


def turns_for_circle_picture(radius: float, units: str) -> Picture:
    """Return the graph of circle against turns, with a wanted circle looked up."""
    return turns_picture(load_machine(), BODY, radius, units)


def circle_through_rolls() -> Panel:
    """Return the first panel of lesson 02: turn the screws, see the circle."""
    machine = slider_machine()
    turns = most_travel(machine, BODY) / machine.screw_pitch
    step = 0.25 if turns >= 10 else 0.05
    steps = math.floor(turns / step)
    start = step * round(0.42 * steps)
    control = Control("turns", "Turns of the screws", "turns", 0, steps * step, step, start)
    return Panel(circle_through_rolls_picture, control)


def turns_for_circle() -> Panel:
    """Return the second panel of lesson 02: ask for a circle, read the turns."""
    machine = slider_machine()
    tightest = math.ceil(float(circle_radius(machine, BODY, most_travel(machine, BODY))))
    largest = 10 * math.floor(1.6 * tightest)
    start = max(tightest, 10 * round(0.35 * tightest))
    return Panel(turns_for_circle_picture, Control("radius", "Radius of the circle", "mm", tightest, largest, 1, start))


ALL = (circle_through_rolls, turns_for_circle)
