"""The panel of lesson 11: which reading of the machine a radius hangs on."""

from dataclasses import replace

from rollcalc.drawing import Picture
from rollcalc.drawing.machine.errors_view import errors_view
from rollcalc.drawing.machine.machine_view import machine_note
from rollcalc.rolling import reading_errors
from rollcalc.rolling.machine.kinds import HAND_PINCH
from rollcalc.stock import MATERIALS, Sheet

from ..engine.panel import Choice, Control, Panel, with_sentence
from ..lesson05.panels import SPAN_METALS, SPAN_WIDTH, nip_machine


def errors_picture(metal: str, thickness: float, wanted_radius: float, pinch_force: float, units: str) -> Picture:
    """Return what an error of each reading does to a radius."""
    machine = replace(nip_machine()[0], nip_slack=0.0, pinch_force=pinch_force)
    sheet = Sheet(thickness=thickness, width=min(SPAN_WIDTH, machine.working_width))
    return with_sentence(errors_view(reading_errors(machine, sheet, MATERIALS[metal], wanted_radius), units),
                         machine_note(machine))


def errors() -> Panel:
    """Return the panel of lesson 11: a bar for each reading that may be off."""
    return Panel(errors_picture,
                 Choice("metal", "Metal", SPAN_METALS),
                 Control("thickness", "Thickness", "mm", 0.4, 1.2, 0.02, 0.76),
                 Control("wanted_radius", "Wanted radius, mid-thickness", "mm", 80, 240, 0.2, 90.4),
                 Control("pinch_force", "Pinch that is counted on", "N", *HAND_PINCH, 100, 2500))


ALL = (errors,)
