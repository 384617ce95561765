"""The panels of lesson 05: the sheet between the rolls beside the circle, and the pinch surprise."""

from rollcalc.drawing import Picture
from rollcalc.drawing.machine.machine_view import machine_name
from rollcalc.drawing.machine.span_graphs import pinch_picture
from rollcalc.drawing.machine.span_view import span_view
from rollcalc.stock import MATERIALS, Sheet

from ..engine.own_machine import nip_machine
from ..engine.panel import Choice, Control, Panel, with_sentence

SPAN_METALS = ("low-carbon steel, cold rolled", "stainless 304, annealed", "aluminium 1100-O", "aluminium 3003-H14",
               "copper, soft", "brass C260, half hard")
SPAN_WIDTH = 240.0
"""Width of the demo sheet, that of the lantern's body; it drops out of every radius here. [mm]"""


def span_picture(metal: str, thickness: float, turns: float, units: str) -> Picture:
    """Return the sheet between the rolls and the circle through them."""
    machine, words = nip_machine()
    sheet = Sheet(thickness=thickness, width=SPAN_WIDTH)
    return with_sentence(span_view(machine, sheet, MATERIALS[metal], turns * machine.screw_pitch, units), words)


def pressed_picture(metal: str, thickness: float, wanted_radius: float, pinch_force: float, units: str) -> Picture:
    """Return what a pinch force makes of a radius that the screws are set for in a perfect nip."""
    machine, _ = nip_machine()
    sheet = Sheet(thickness=thickness, width=min(SPAN_WIDTH, machine.working_width))
    picture = pinch_picture(machine, sheet, MATERIALS[metal], wanted_radius, pinch_force, units)
    return with_sentence(picture, f"Machine: {machine_name(machine)}, its own nip left out."
                         f"{machine.with_perfect_nip().assumed_note}")


def span() -> Panel:
    """Return the first panel of lesson 05: wind the screws, and see sheet and circle part company."""
    return Panel(span_picture,
                 Choice("metal", "Metal", SPAN_METALS),
                 Control("thickness", "Thickness", "mm", 0.4, 1.6, 0.02, 0.76),
                 Control("turns", "Turns of the screws", "turns", 0, 20, 0.05, 12.9))


def pinch() -> Panel:
    """Return the second panel of lesson 05: the same setting in a nip that is pressed more or less hard."""
    return Panel(pressed_picture,
                 Choice("metal", "Metal", SPAN_METALS),
                 Control("thickness", "Thickness", "mm", 0.4, 1.6, 0.02, 0.76),
                 Control("wanted_radius", "Radius the screws are set for", "mm", 60, 300, 1, 90),
                 Control("pinch_force", "Pinch force", "N", 1000, 10_000, 100, 2500))


ALL = (span, pinch)
