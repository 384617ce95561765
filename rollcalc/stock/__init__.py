"""What you have: sheet and bar, the metal it is made of, and the ways a shop writes its sizes."""

from .gauges import gauge_thickness, nearest_gauge
from .labels import format_fraction, format_length, length_scale
from .lookup import UnknownNameError
from .materials import MATERIALS, Material, Swift
from .quantities import FloatLike, InputError
from .sections import FlatBar, RoundBar, Sheet, Stock
from .tolerance import thickness_tolerance
from .units import parse_length, parse_quantity

__all__ = [
    "MATERIALS",
    "FlatBar",
    "FloatLike",
    "InputError",
    "Material",
    "RoundBar",
    "Sheet",
    "Stock",
    "Swift",
    "UnknownNameError",
    "format_fraction",
    "format_length",
    "gauge_thickness",
    "length_scale",
    "nearest_gauge",
    "parse_length",
    "parse_quantity",
    "thickness_tolerance",
]
