"""The panels of lesson 05: the sheet between the rolls beside the circle, and the pinch surprise."""

from __future__ import annotations

from dataclasses import replace

from rollcalc.drawing import Picture
from rollcalc.drawing.machine_view import machine_note
from rollcalc.drawing.span_graphs import pinch_picture
from rollcalc.drawing.span_view import span_view
from rollcalc.rolling import DEMO_MACHINE, PinchMachine
from rollcalc.rolling.machine_file import load_machine
from rollcalc.stock import MATERIALS, Sheet

from .panel import Choice, Control, Panel

SPAN_METALS = (
    "low-carbon steel, cold rolled",
    "stainless 304, annealed",
    "aluminium 1100-O",
    "aluminium 3003-H14",
    "copper, soft",
    "brass C260, half hard",
)
SPAN_WIDTH = 240.0
"""Width of the demo sheet, that of the lantern's body; it drops out of every radius here. [mm]"""


def nip_machine() -> tuple[PinchMachine, str]:
    """Return the machine of the folder, or the lessons' where it has no nip, and the words that say which.

    Returns
    -------
    machine : PinchMachine
        The machine.
    words : str
        A sentence with its name.

    Raises
    ------
    FileError
        If the machine file cannot be read.

    Notes
    -----
    Validity: any machine file.
    """
    machine = load_machine()
    if isinstance(machine, PinchMachine):
        return machine, machine_note(machine)
    return DEMO_MACHINE, f"{machine_note(DEMO_MACHINE)[:-1]}, as yours has no nip."


def width_control(narrowest: float, widest: float) -> Control:
    """Return the control for the width of a sheet, no wider than the machine's rolls in whole centimetres.

    Parameters
    ----------
    narrowest, widest : float
        Ends of the slider where the rolls are long enough. [mm]

    Returns
    -------
    control : Control
        It starts at the width of the lantern's body where that goes in.

    Raises
    ------
    FileError
        If the machine file cannot be read.

    Notes
    -----
    Validity: rolls longer than the narrowest sheet.

    Examples
    --------
    >>> width_control(40, 700).high
    700
    """
    rolls = 10 * (nip_machine()[0].working_width // 10)
    high = max(min(widest, rolls), narrowest + 10)
    return Control("width", "Width along the rolls", "mm", narrowest, high, 10, min(SPAN_WIDTH, high))


def span_picture(metal: str, thickness: float, turns: float, units: str) -> Picture:
    """Return the sheet between the rolls and the circle through them.

    Parameters
    ----------
    metal : str
        A name in `MATERIALS`.
    thickness : float
        Thickness of the sheet. [mm]
    turns : float
        Turns of the screws from touch. [turns]
    units : str
        "mm" or "inch".

    Returns
    -------
    picture : Picture
        The side view.

    Raises
    ------
    InputError
        If the setting is impossible.

    Notes
    -----
    Validity: as `rollcalc.setting_for_travel`.

    Examples
    --------
    >>> span_picture("copper, soft", 0.6, 10, "mm").alt
    'Side view of the sheet between the rolls, and the circle'
    """
    machine, words = nip_machine()
    sheet = Sheet(thickness, SPAN_WIDTH)
    picture = span_view(machine, sheet, MATERIALS[metal], turns * machine.screw_pitch, units)
    return replace(picture, sentence=f"{picture.sentence} {words}")


def slack_picture(metal: str, thickness: float, wanted_radius: float, nip_slack: float, units: str) -> Picture:
    """Return what a loose nip does to a radius.

    Parameters
    ----------
    metal : str
        A name in `MATERIALS`.
    thickness : float
        Thickness of the sheet. [mm]
    wanted_radius : float
        Radius after release in a perfect nip. [mm]
    nip_slack : float
        How much wider than the sheet the nip is set. [mm]
    units : str
        "mm" or "inch".

    Returns
    -------
    picture : Picture
        The graph.

    Raises
    ------
    InputError
        If the setting is impossible.

    Notes
    -----
    Validity: as `rollcalc.radius_for_travel`.

    Examples
    --------
    >>> slack_picture("copper, soft", 0.6, 100, 0, "mm").alt
    'Graph of radius against the slack of the nip'
    """
    machine, words = nip_machine()
    picture = pinch_picture(machine, Sheet(thickness, SPAN_WIDTH), MATERIALS[metal], wanted_radius, nip_slack, units)
    return replace(picture, sentence=f"{picture.sentence} {words}")


def span() -> Panel:
    """Return the first panel of lesson 05: wind the screws, and see sheet and circle part company."""
    return Panel(
        span_picture,
        Choice("metal", "Metal", SPAN_METALS, SPAN_METALS[0]),
        Control("thickness", "Thickness", "mm", 0.4, 1.6, 0.02, 0.76),
        Control("turns", "Turns of the screws", "turns", 0, 20, 0.05, 11.65),
    )


def pinch() -> Panel:
    """Return the second panel of lesson 05: the same setting with a nip that is not quite tight."""
    return Panel(
        slack_picture,
        Choice("metal", "Metal", SPAN_METALS, SPAN_METALS[0]),
        Control("thickness", "Thickness", "mm", 0.4, 1.6, 0.02, 0.76),
        Control("wanted_radius", "Radius the screws are set for", "mm", 80, 400, 1, 200),
        Control("nip_slack", "Nip wider than the sheet", "mm", 0, 0.05, 0.002, 0.02),
    )


ALL = (span, pinch)
"""The panels of lesson 05."""
