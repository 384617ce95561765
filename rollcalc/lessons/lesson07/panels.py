"""The panels of lessons 07 and 08: the blank of a cylinder, and the pattern of a cone."""

from __future__ import annotations

from rollcalc.drawing import Picture
from rollcalc.drawing.patterns.blank_view import blank_view
from rollcalc.drawing.patterns.cone_view import cone_view, rolling_up_view
from rollcalc.layout import ButtSeam, GroovedSeam, LapSeam, Seam, cylinder_blank, frustum_pattern
from rollcalc.stock import Sheet

from ..engine.panel import Choice, Control, Panel

SEAMS = ("butt seam", "lap seam", "grooved seam")
CYLINDER_HEIGHT = 150.0
"""Height of the cylinder in the panel; it changes nothing around. [mm]"""


def blank_picture(thickness: float, seam: str, seam_width: float, inside_diameter: float, units: str) -> Picture:
    """Return a ring and its blank."""
    kinds: dict[str, Seam] = {
        "butt seam": ButtSeam(),
        "lap seam": LapSeam(seam_width),
        "grooved seam": GroovedSeam(seam_width),
    }
    return blank_view(cylinder_blank(Sheet(thickness=thickness, width=CYLINDER_HEIGHT),
                                     inside_diameter=inside_diameter, seam=kinds[seam]), units)


def cone_picture(large_diameter: float, small_diameter: float, height: float, units: str) -> Picture:
    """Return a cone from the side and its pattern."""
    return cone_view(frustum_pattern(large_diameter, small_diameter, height), units)


def rolling_up_picture(
    large_diameter: float, small_diameter: float, height: float, rolled: float, units: str
) -> Picture:
    """Return a cone's pattern on its way from flat to closed."""
    return rolling_up_view(frustum_pattern(large_diameter, small_diameter, height), rolled / 100, units)


def blank() -> Panel:
    """Return the panel of lesson 07: thickness, seam and diameter make the blank."""
    return Panel(
        blank_picture,
        Control("thickness", "Thickness", "mm", 0.4, 12.0, 0.02, 0.76),
        Choice("seam", "Seam", SEAMS, "grooved seam"),
        Control("seam_width", "Width of lap or turned edge", "mm", 3, 20, 0.5, 6),
        Control("inside_diameter", "Inside diameter", "mm", 60, 200, 1, 180),
    )


def cone() -> Panel:
    """Return the first panel of lesson 08: a cone and its pattern, side by side."""
    return Panel(cone_picture, *_cone_controls())


def rolling_up() -> Panel:
    """Return the second panel of lesson 08: the pattern rolls up."""
    return Panel(rolling_up_picture, *_cone_controls(), Control("rolled", "Rolled up", "%", 0, 100, 1, 60))


def _cone_controls() -> tuple[Control, ...]:
    """Return the sizes of a cone."""
    return (
        Control("large_diameter", "Large end", "mm", 160, 300, 2, 220),
        Control("small_diameter", "Small end", "mm", 0, 160, 2, 60),
        Control("height", "Height", "mm", 40, 200, 2, 80),
    )


ALL = (blank, cone, rolling_up)
"""The panels of this module."""
