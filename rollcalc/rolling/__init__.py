"""What the machine does: where the rolls stand, and the curve they give."""

from .circle import circle_radius, circle_travel, two_arc_travel, two_thirds_radius, two_thirds_travel
from .limits import clearance, usable_travel
from .machines import DEMO_MACHINE, Machine, PinchMachine, PyramidMachine
from .radius import radius_for_travel, setting_for_radius, setting_for_travel
from .setting import Setting
from .shape import SpanShape, span_shape

__all__ = [
    "DEMO_MACHINE",
    "Machine",
    "PinchMachine",
    "PyramidMachine",
    "Setting",
    "SpanShape",
    "circle_radius",
    "circle_travel",
    "clearance",
    "radius_for_travel",
    "setting_for_radius",
    "setting_for_travel",
    "span_shape",
    "two_arc_travel",
    "two_thirds_radius",
    "two_thirds_travel",
    "usable_travel",
]
