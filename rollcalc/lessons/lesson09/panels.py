"""The panels of lesson 09: the tilt of the bending roll and what its strips come to, and how the two ends feed."""

import math

from rollcalc.drawing import Picture
from rollcalc.drawing.machine.cone_machine_view import cone_feed_view, cone_on_rolls_view
from rollcalc.drawing.machine.machine_view import machine_note
from rollcalc.layout import frustum_pattern
from rollcalc.rolling import cone_setting
from rollcalc.rolling.machine.file import load_machine
from rollcalc.stock import MATERIALS, Sheet, format_length

from ..engine.panel import Control, Panel, with_sentence

METAL = "aluminium 3003-H14"
THICKNESS = 0.8
"""Metal and thickness of the lantern's skirt. [mm]"""


def cone_on_rolls_picture(large_diameter: float, small_diameter: float, height: float, position: float,
                          units: str) -> Picture:
    """Return the tilted roll and the cone that comes out."""
    machine = load_machine()
    slant = math.hypot(height, (large_diameter - small_diameter) / 2)
    cone = cone_setting(machine, Sheet(thickness=THICKNESS, width=slant), MATERIALS[METAL], large_diameter,
                        small_diameter, position=position)
    picture = cone_on_rolls_view(machine, cone, position, "right", units)
    return with_sentence(picture, f"{format_length(THICKNESS, units)} {METAL}.", machine_note(machine))


def cone_feed_picture(large_diameter: float, small_diameter: float, height: float, passed: float,
                      units: str) -> Picture:
    """Return a cone's pattern on its way through the nip."""
    return cone_feed_view(frustum_pattern(large_diameter, small_diameter, height), passed / 100, units)


def on_the_rolls() -> Panel:
    """Return the first panel of lesson 09: tilt the roll for a cone, and see what a straight roll makes of it."""
    return Panel(cone_on_rolls_picture, *_sizes(), Control("position", "Place along the rolls", "mm", -260, 260, 10, 0))


def feeding() -> Panel:
    """Return the second panel of lesson 09: feed the pattern, and see the small end slip."""
    return Panel(cone_feed_picture, *_sizes(), Control("passed", "Fed through", "%", 0, 100, 1, 60))


def _sizes() -> tuple[Control, ...]:
    """Return the sizes of a cone that may come near the rolls."""
    return (Control("large_diameter", "Large end", "mm", 200, 300, 2, 220),
            Control("small_diameter", "Small end", "mm", 60, 200, 2, 160),
            Control("height", "Height", "mm", 60, 180, 2, 100))


ALL = (on_the_rolls, feeding)
