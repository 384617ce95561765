"""Pictures: data first, then SVG for the screen or matplotlib for paper."""

from .core.paper import paper_figure
from .core.picture import ROLES, Picture
from .core.svg import html_figure, svg_text
from .patterns.files import write_pattern
from .patterns.true_size import pdf_bytes

__all__ = ["ROLES", "Picture", "html_figure", "paper_figure", "pdf_bytes", "svg_text", "write_pattern"]
