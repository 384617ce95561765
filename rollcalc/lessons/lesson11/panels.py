"""The panel of lesson 11: which reading of the machine a radius hangs on."""

from dataclasses import replace

from rollcalc.drawing import Picture
from rollcalc.drawing.machine.errors_view import errors_view
from rollcalc.drawing.machine.machine_view import machine_note
from rollcalc.rolling import PinchMachine, reading_errors
from rollcalc.rolling.machine.file import load_machine
from rollcalc.rolling.machine.kinds import HAND_PINCH
from rollcalc.stock import MATERIALS, Sheet

from ..engine.panel import Choice, Control, Panel, with_sentence
METALS = ("low-carbon steel, cold rolled", "stainless 304, annealed", "aluminium 3003-H14")
WIDTH = 240.0
"""Width of the lantern's body. [mm]"""


def errors_picture(metal: str, thickness: float, wanted_radius: float, pinch_force: float, units: str) -> Picture:
    """Return what an error of each reading does to a radius."""
    machine, pinch = load_machine(), ""
    if isinstance(machine, PinchMachine):
        machine = replace(machine, nip_slack=0.0, pinch_force=pinch_force)
    else:
        pinch = " It has no nip, so no pinch counts."
    sheet = Sheet(thickness=thickness, width=min(WIDTH, machine.working_width))
    return with_sentence(errors_view(reading_errors(machine, sheet, MATERIALS[metal], wanted_radius), units),
                         machine_note(machine) + pinch)


def errors() -> Panel:
    """Return the panel of lesson 11: a bar for each reading that may be off."""
    return Panel(errors_picture,
                 Choice("metal", "Metal", METALS),
                 Control("thickness", "Thickness", "mm", 0.4, 1.2, 0.02, 0.76),
                 Control("wanted_radius", "Wanted radius, mid-thickness", "mm", 80, 240, 0.2, 90.4),
                 Control("pinch_force", "Pinch that is counted on", "N", *HAND_PINCH, 100, 2500))


ALL = (errors,)
