"""The panels of lessons 00 and 04: a bent strip in the hand, and let go."""

from rollcalc.drawing import Picture
from rollcalc.drawing.metal.bend_graphs import moment_picture
from rollcalc.drawing.metal.bend_view import side_view
from rollcalc.stock import MATERIALS, Material, Sheet

from ..engine.panel import Choice, Control, Panel

SHEET_METALS = ("low-carbon steel, cold rolled", "low-carbon steel, galvanized", "stainless 304, annealed",
                "aluminium 1100-O", "aluminium 3003-H14", "aluminium 5052-H32", "aluminium 6061-T6", "copper, soft",
                "copper, half hard", "brass C260, soft", "brass C260, half hard")
SHEET_WIDTH = 300.0
"""Width of the demo sheet; it drops out of every radius. [mm]"""


def metal_with_yield_at(metal: str, yield_place: float) -> Material:
    """Return a metal with its yield somewhere in its range."""
    material = MATERIALS[metal]
    weakest, strongest = material.yield_range or (material.first_yield, material.first_yield)
    return material.with_yield(weakest + (strongest - weakest) * yield_place / 100)


def springback_picture(metal: str, thickness: float, yield_place: float, loaded_radius: float, units: str) -> Picture:
    """Return the side view of a bent sheet, held and let go."""
    sheet = Sheet(thickness=thickness, width=SHEET_WIDTH)
    return side_view(sheet, metal_with_yield_at(metal, yield_place), loaded_radius, units)


def release_picture(metal: str, thickness: float, yield_place: float, loaded_radius: float, units: str) -> Picture:
    """Return the moment curve of a bent sheet, with the way down after release."""
    sheet = Sheet(thickness=thickness, width=SHEET_WIDTH)
    return moment_picture(sheet, metal_with_yield_at(metal, yield_place), loaded_radius, units)


def springback() -> Panel:
    """Return the panel of lesson 04: bend a sheet, let go, see it open."""
    return Panel(springback_picture, *_bent_sheet_controls())


def release() -> Panel:
    """Return the second panel of lesson 04: the same sheet as moment against curvature."""
    return Panel(release_picture, *_bent_sheet_controls())


def _bent_sheet_controls() -> tuple[Choice | Control, ...]:
    """Return the controls of a bent sheet: stock first, then the wanted shape."""
    return (Choice("metal", "Metal", SHEET_METALS),
            Control("thickness", "Thickness", "mm", 0.4, 3.0, 0.02, 0.76),
            Control("yield_place", "Yield: weakest 0, strongest 100", "%", 0, 100, 5, 50),
            Control("loaded_radius", "Radius while held", "mm", 20, 300, 1, 60))


ALL = (springback, release)
