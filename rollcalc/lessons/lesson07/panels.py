"""The panel of lesson 07: the blank of a cylinder."""

from rollcalc.drawing import Picture
from rollcalc.drawing.patterns.blank_view import blank_view
from rollcalc.layout import ButtSeam, GroovedSeam, LapSeam, Seam, cylinder_blank
from rollcalc.stock import Sheet

from ..engine.panel import Choice, Control, Panel

SEAMS = ("butt seam", "lap seam", "grooved seam")
CYLINDER_HEIGHT = 150.0
"""Height of the cylinder in the panel; it changes nothing around. [mm]"""


def blank_picture(thickness: float, seam: str, seam_width: float, inside_diameter: float, units: str) -> Picture:
    """Return a ring and its blank."""
    seams: tuple[Seam, ...] = ButtSeam(), LapSeam(seam_width), GroovedSeam(seam_width)
    sheet = Sheet(thickness=thickness, width=CYLINDER_HEIGHT)
    return blank_view(cylinder_blank(sheet, inside_diameter=inside_diameter, seam=seams[SEAMS.index(seam)]), units)


def blank() -> Panel:
    """Return the panel of lesson 07: thickness, seam and diameter make the blank."""
    return Panel(blank_picture,
                 Control("thickness", "Thickness", "mm", 0.4, 12.0, 0.02, 0.76),
                 Choice("seam", "Seam", SEAMS, "grooved seam"),
                 Control("seam_width", "Width of lap or turned edge", "mm", 3, 20, 0.5, 6),
                 Control("inside_diameter", "Inside diameter", "mm", 60, 200, 1, 180))


ALL = (blank,)
