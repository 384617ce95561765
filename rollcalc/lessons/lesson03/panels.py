"""The panels of lesson 03: what a bend does inside the metal, and what it asks of the hand."""

from rollcalc.drawing import Picture
from rollcalc.drawing.metal.hinge_graph import hinge_picture
from rollcalc.drawing.metal.section_view import section_view
from rollcalc.stock import MATERIALS, FlatBar, RoundBar, Sheet, Stock

from ..engine.panel import Choice, Control, Panel

METALS = ("low-carbon steel, cold rolled", "mild steel bar, hot rolled", "stainless 304, annealed",
          "aluminium 1100-O", "aluminium 3003-H14", "aluminium 6061-T6", "copper, soft", "brass C260, half hard")
SHAPES = ("wide sheet", "flat bar", "round bar")
SHEET_WIDTH, BAR_WIDTH = 240.0, 25.0
"""Widths of the lantern's body and of its band. [mm]"""


def piece(shape: str, depth: float) -> Stock:
    """Return a piece of one of the three shapes."""
    if shape == "round bar":
        return RoundBar(depth)
    return Sheet(thickness=depth, width=SHEET_WIDTH) if shape == "wide sheet" else FlatBar(depth, BAR_WIDTH)


def layers_picture(metal: str, thickness: float, loaded_radius: float, units: str) -> Picture:
    """Return the cut through a bent sheet, with strain and stress."""
    return section_view(piece("wide sheet", thickness), MATERIALS[metal], loaded_radius, units)


def push_picture(shape: str, metal: str, depth: float, loaded_radius: float, units: str) -> Picture:
    """Return the moment of a bend that gets tighter."""
    return hinge_picture(piece(shape, depth), MATERIALS[metal], loaded_radius, units)


def layers() -> Panel:
    """Return the first panel of lesson 03: how deep the yield has come."""
    return Panel(layers_picture, Choice("metal", "Metal", METALS),
                 Control("thickness", "Thickness", "mm", 0.4, 3.0, 0.02, 0.76),
                 Control("loaded_radius", "Radius while held", "mm", 20, 500, 1, 120))


def push() -> Panel:
    """Return the second panel of lesson 03: how hard the piece resists."""
    return Panel(push_picture, Choice("shape", "Shape", SHAPES), Choice("metal", "Metal", METALS),
                 Control("depth", "Thickness or diameter", "mm", 0.4, 6.0, 0.02, 0.76),
                 Control("loaded_radius", "Radius while held", "mm", 30, 500, 1, 120))


ALL = (layers, push)
