"""What you have: sheet and bar, the metal it is made of, and the ways a shop writes its sizes."""

from .gauges import gauge_thickness, nearest_gauge
from .labels import format_length
from .materials import MATERIALS, Material, Swift
from .quantities import InputError
from .sections import FlatBar, RoundBar, Sheet, Stock
from .tolerance import thickness_tolerance
from .units import parse_length

__all__ = ["MATERIALS", "FlatBar", "InputError", "Material", "RoundBar", "Sheet", "Stock", "Swift", "format_length",
           "gauge_thickness", "nearest_gauge", "parse_length", "thickness_tolerance"]
