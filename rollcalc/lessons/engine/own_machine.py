"""The learner's own machine in a panel: what the pictures show, and how far the sliders go."""

from rollcalc.drawing.machine.machine_view import machine_note
from rollcalc.rolling import DEMO_MACHINE, Machine, PinchMachine
from rollcalc.rolling.machine.file import load_machine
from rollcalc.stock import InputError

from .panel import Control


def nip_machine() -> tuple[PinchMachine, str]:
    """Return the machine of the folder, or the lessons' where it has no nip, and the words that say which."""
    machine = load_machine()
    if isinstance(machine, PinchMachine):
        return machine, machine_note(machine)
    return DEMO_MACHINE, f"{machine_note(DEMO_MACHINE)[:-1]}, as yours has no nip."


def slider_machine() -> Machine:
    """Return the machine that sets the ends of sliders: the lessons' where the picture says why a file is refused."""
    try:
        return load_machine()
    except InputError:
        return DEMO_MACHINE


def width_control(narrowest: float, widest: float, start: float) -> Control:
    """Return the control for the width of a sheet, no wider than the machine's rolls in whole centimetres."""
    machine = slider_machine()
    rolls = 10 * ((machine if isinstance(machine, PinchMachine) else DEMO_MACHINE).working_width // 10)
    high = max(min(widest, rolls), narrowest + 10)
    return Control("width", "Width along the rolls", "mm", narrowest, high, 10, min(start, high))
