"""Pictures: data first, then SVG for the screen or matplotlib for paper."""

from .dimensions import angle_dimension, arrow, dimension, leader, radius_dimension
from .marks import arc, centre_lines, circle, hatch, strip
from .paper import paper_figure
from .picture import ROLES, Axes, Line, Mark, Picture, Role, Text
from .svg import html_figure, svg_text

__all__ = [
    "ROLES", "Axes", "Line", "Mark", "Picture", "Role", "Text", "angle_dimension", "arc", "arrow", "centre_lines",
    "circle", "dimension", "hatch", "html_figure", "leader", "paper_figure", "radius_dimension", "strip", "svg_text",
]  # fmt: skip
