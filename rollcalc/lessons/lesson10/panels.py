"""The panels of lesson 10: a round bar in its groove, and a flat bar the easy way against the hard way."""

from rollcalc.drawing import Picture
from rollcalc.drawing.machine.groove_view import groove_view
from rollcalc.drawing.machine.machine_view import machine_note
from rollcalc.drawing.metal.edge_view import edge_view
from rollcalc.rolling import DEMO_MACHINE, Groove, PinchMachine, grooved_machine, grooves, setting_for_radius
from rollcalc.stock import MATERIALS, FlatBar, InputError, RoundBar, format_length

from ..engine.own_machine import nip_machine
from ..engine.panel import Choice, Control, Panel, with_sentence

BAR_METALS = ("mild steel bar, hot rolled", "stainless 304, annealed", "aluminium 6061-T6", "copper, half hard",
              "brass C260, half hard")


def machine_with_grooves() -> tuple[PinchMachine, str]:
    """Return the machine of the folder, or the lessons' where it has no grooves to choose from, and which it is."""
    machine, words = nip_machine()
    if len({_name(groove) for groove in grooves(machine)}) > 1:
        return machine, words
    return DEMO_MACHINE, f"{machine_note(DEMO_MACHINE)[:-1]}, as yours has no grooves to choose from."


def groove_picture(bar_diameter: float, groove: str, metal: str, inside_diameter: float, units: str) -> Picture:
    """Return a round bar in a groove as it lies there, be it the wrong one, and what the ring takes."""
    machine, words = machine_with_grooves()
    bar, chosen = RoundBar(bar_diameter), {_name(one): one for one in grooves(machine)}.get(groove)
    if chosen is None:
        raise InputError(f"groove is {groove}, but the machine file has none like it any more: run the cell again.")
    picture = groove_view(machine, bar, chosen, units)
    try:
        grooved = grooved_machine(machine, bar, chosen)
        turns = setting_for_radius(grooved, bar, MATERIALS[metal], (inside_diameter + bar_diameter) / 2).turns
        said = f"A ring of {format_length(inside_diameter, units)} inside, in {metal}, takes {turns:.2f} turns."
    except InputError as refused:
        said = f"Refused: {refused}"
    return with_sentence(picture, said, words)


def edge_picture(metal: str, thickness: float, width: float, units: str) -> Picture:
    """Return a flat bar lying flat and on edge."""
    machine, words = nip_machine()
    return with_sentence(edge_view(FlatBar(thickness, width), MATERIALS[metal], machine, units), words)


def groove() -> Panel:
    """Return the first panel of lesson 10: a round bar, its groove, and the ring."""
    try:
        machine, _ = machine_with_grooves()
    except InputError:  # the picture says why
        machine = DEMO_MACHINE
    names = tuple(_name(one) for one in grooves(machine))
    return Panel(groove_picture,
                 Control("bar_diameter", "Diameter of the bar", "mm", 3, 8, 0.1, 6),
                 Choice("groove", "Groove", names, "for 6 mm bar" if "for 6 mm bar" in names else names[-1]),
                 Choice("metal", "Metal", BAR_METALS),
                 Control("inside_diameter", "Wanted inside diameter", "mm", 60, 240, 1, 90))


def edge() -> Panel:
    """Return the second panel of lesson 10: a flat bar, lying flat and on edge."""
    return Panel(edge_picture,
                 Choice("metal", "Metal", BAR_METALS),
                 Control("thickness", "Thickness of the bar", "mm", 1.5, 6, 0.1, 3),
                 Control("width", "Width of the bar", "mm", 6, 40, 0.5, 25))


def _name(groove: Groove) -> str:
    """Return what a groove is called in the list of choices."""
    return f"for {groove.diameter:g} mm bar"


ALL = (groove, edge)
