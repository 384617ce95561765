"""The panel of lesson 12: what a misread rise makes of a radius."""

from rollcalc.drawing.passes.chord_view import chord_view

from ..engine.panel import Control, Panel


def reading() -> Panel:
    """Return the panel of lesson 12: chord and rise on a ring."""
    return Panel(chord_view,
                 Control("released_radius", "Radius, mid-thickness", "mm", 60, 240, 0.4, 90.4),
                 Control("chord", "Chord", "mm", 30, 110, 5, 100),
                 Control("misread", "Rise misread by", "mm", 0.1, 0.5, 0.05, 0.2))


ALL = (reading,)
