"""The panels of lesson 06: the crank as the work is shared out, and two screws that differ."""

from rollcalc.drawing import Picture
from rollcalc.drawing.passes.parallel_view import parallel_view
from rollcalc.drawing.passes.pass_view import ROWS, pass_view
from rollcalc.rolling import setting_for_radius, taper, tolerable_turns
from rollcalc.rolling.passes.plan import pass_settings
from rollcalc.stock import MATERIALS, Sheet, format_length

from ..engine.own_machine import nip_machine, width_control
from ..engine.panel import Choice, Control, Panel, with_sentence
from ..lesson05.panels import SPAN_METALS, SPAN_WIDTH

THICKNESS = 0.76
"""Thickness of the lantern's body. [mm]"""


def passes_picture(metal: str, thickness: float, wanted_radius: float, pass_count: float, units: str) -> Picture:
    """Return the blank after each pass, and the crank."""
    machine, words = nip_machine()
    sheet = Sheet(thickness=thickness, width=min(SPAN_WIDTH, machine.working_width))
    settings = pass_settings(machine, sheet, MATERIALS[metal], wanted_radius, pass_count)
    return with_sentence(pass_view(settings, units), words)


def passes() -> Panel:
    """Return the first panel of lesson 06: share the work out, and see what the crank says."""
    return Panel(passes_picture,
                 Choice("metal", "Metal", SPAN_METALS),
                 Control("thickness", "Thickness", "mm", 0.4, 1.2, 0.02, 0.76),
                 Control("wanted_radius", "Wanted radius, mid-thickness", "mm", 60, 200, 0.2, 90.4),
                 Control("pass_count", "Number of passes", "", 1, ROWS, 1, 3))


def parallel_picture(eighths: float, width: float, wanted_radius: float, joint_gap: float, units: str) -> Picture:
    """Return the rolls out of parallel, and the ring that comes out."""
    machine, words = nip_machine()
    sheet, metal = Sheet(thickness=THICKNESS, width=width), MATERIALS[SPAN_METALS[0]]
    middle = float(setting_for_radius(machine, sheet, metal, wanted_radius).turns)
    turns = middle + eighths / 16, middle - eighths / 16
    picture = parallel_view(machine, float(sheet.width), taper(machine, sheet, metal, *turns), turns, units)
    allowed = 8 * tolerable_turns(machine, sheet, metal, wanted_radius, joint_gap)
    said = f"A joint that closes {format_length(joint_gap, units)} allows {allowed:.2g} eighths."
    return with_sentence(picture, said, words)


def parallel() -> Panel:
    """Return the second panel of lesson 06: two screws that differ."""
    return Panel(parallel_picture,
                 Control("eighths", "Screws differ by eighths of a turn", "", 0, 4, 0.5, 1),
                 width_control(40, 700, SPAN_WIDTH),
                 Control("wanted_radius", "Wanted radius, mid-thickness", "mm", 50, 120, 0.2, 90.4),
                 Control("joint_gap", "Gap that the seam can close", "mm", 0.5, 6, 0.5, 1))


ALL = (passes, parallel)
