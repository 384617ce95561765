"""The panels of lesson 01: may I roll this, and how the rolls bow."""

from dataclasses import replace

import numpy as np

from rollcalc.drawing import Picture
from rollcalc.drawing.machine.bow_view import bow_view
from rollcalc.drawing.machine.capacity_view import capacity_view, chart_ends
from rollcalc.drawing.machine.machine_view import machine_note
from rollcalc.rolling import DEMO_MACHINE, setting_for_radius
from rollcalc.rolling.machine.file import load_machine
from rollcalc.rolling.machine.kinds import HAND_PINCH, USUAL_PINCH
from rollcalc.stock import MATERIALS, FlatBar, Sheet

from ..engine.own_machine import nip_machine, slider_machine, width_control
from ..engine.panel import Choice, Control, Panel, with_sentence

BAR_METAL = "mild steel bar, hot rolled"
"""The metal that comes as flat bar; all others are sheet here."""
BOWED_RADIUS = 90.0
"""Radius at the edges of the bowed sheet, near that of the lantern's body. [mm]"""
METALS = ("low-carbon steel, cold rolled", BAR_METAL, "low-carbon steel, galvanized", "stainless 304, annealed",
          "aluminium 1100-O", "aluminium 3003-H14", "aluminium 5052-H32", "copper, soft", "brass C260, half hard")


def capacity_picture(metal: str, thickness: float, width: float, inside_radius: float, units: str) -> Picture:
    """Return the chart of what the machine may roll, with one piece as a point."""
    machine = load_machine()
    stock = FlatBar(thickness, width) if metal == BAR_METAL else Sheet(thickness=thickness, width=width)
    return with_sentence(capacity_view(machine, stock, MATERIALS[metal], inside_radius, units), machine_note(machine))


def capacity() -> Panel:
    """Return the first panel of lesson 01: what the machine may roll, and the student's piece."""
    machine = slider_machine()
    widest, thickest = chart_ends(machine)
    start = 10.0 * min(24, machine.working_width // 10)
    return Panel(capacity_picture,
                 Choice("metal", "Metal", METALS),
                 Control("thickness", "Thickness", "mm", 0.3, thickest, 0.02, 0.76),
                 Control("width", "Width along the rolls", "mm", 10, widest, 5, start),
                 Control("inside_radius", "Wanted radius, inside", "mm", 30, 300, 1, 90))


def bow_picture(pinch: float, thickness: float, width: float, place: float, units: str) -> Picture:
    """Return the rolls from the front, bowed by the pinch and by a steel sheet at some place along them."""
    machine = replace(nip_machine()[0], nip_slack=0.0, pinch_force=pinch)
    sheet = Sheet(thickness=thickness, width=width)
    setting = setting_for_radius(machine, sheet, MATERIALS[METALS[0]], BOWED_RADIUS)
    aside = place / 100 * (machine.working_width - float(sheet.width)) / 2
    return with_sentence(bow_view(setting, aside, units), machine_note(machine))


def bow() -> Panel:
    """Return the second panel of lesson 01: how the rolls bow, enlarged, and how hard they work."""
    own = getattr(slider_machine(), "pinch_force", DEMO_MACHINE.pinch_force)
    start = float(np.clip(round(float(np.mean(USUAL_PINCH if own is None else own)), -2), *HAND_PINCH))
    return Panel(bow_picture,
                 Control("pinch", "Pinch of the front rolls", "N", *HAND_PINCH, 100, start),
                 Control("thickness", "Thickness", "mm", 0.4, 1.2, 0.02, 0.76),
                 width_control(10, 760, 240),
                 Control("place", "Place: middle 0, end of the rolls 100", "%", 0, 100, 5, 0))


ALL = (capacity, bow)
