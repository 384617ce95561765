"""The panels of lesson 08: a cone, its pattern, and how that rolls up."""

from rollcalc.drawing import Picture
from rollcalc.drawing.patterns.cone_view import cone_view, rolling_up_view
from rollcalc.layout import frustum_pattern

from ..engine.panel import Control, Panel


def cone_picture(large_diameter: float, small_diameter: float, height: float, units: str) -> Picture:
    """Return a cone from the side and its pattern."""
    return cone_view(frustum_pattern(large_diameter, small_diameter, height), units)


def rolling_up_picture(large_diameter: float, small_diameter: float, height: float, rolled: float,
                       units: str) -> Picture:
    """Return a cone's pattern on its way from flat to closed."""
    return rolling_up_view(frustum_pattern(large_diameter, small_diameter, height), rolled / 100, units)


def cone() -> Panel:
    """Return the first panel of lesson 08: a cone and its pattern, side by side."""
    return Panel(cone_picture, *_cone_controls())


def rolling_up() -> Panel:
    """Return the second panel of lesson 08: the pattern rolls up."""
    return Panel(rolling_up_picture, *_cone_controls(), Control("rolled", "Rolled up", "%", 0, 100, 1, 60))


def _cone_controls() -> tuple[Control, ...]:
    """Return the sizes of a cone."""
    return (Control("large_diameter", "Large end", "mm", 160, 300, 2, 220),
            Control("small_diameter", "Small end", "mm", 0, 160, 2, 60),
            Control("height", "Height", "mm", 40, 200, 2, 80))


ALL = (cone, rolling_up)
