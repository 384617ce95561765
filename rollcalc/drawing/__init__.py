"""Pictures: data first, then SVG for the screen or matplotlib for paper."""

from .core.dimensions import angle_dimension, arrow, dimension, leader, radius_dimension
from .core.marks import arc, centre_lines, circle, hatch, strip
from .core.paper import paper_figure
from .core.picture import ROLES, Axes, Line, Mark, Picture, Role, Text
from .core.svg import html_figure, svg_text
from .patterns.files import write_pattern
from .patterns.true_size import PaperLine, PaperWords, TrueSizePage, check_lines, pdf_bytes

__all__ = [
    "ROLES", "Axes", "Line", "Mark", "PaperLine", "PaperWords", "Picture", "Role", "Text", "TrueSizePage",
    "angle_dimension", "arc", "arrow", "centre_lines", "check_lines", "circle", "dimension", "hatch", "html_figure",
    "leader", "paper_figure", "pdf_bytes", "radius_dimension", "strip", "svg_text", "write_pattern",
]
