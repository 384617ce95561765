"""A picture is data: marks, the one sentence that says what they show, and how a notebook shows them."""

from dataclasses import dataclass
from typing import Any

from .scene import ROLES, Axes, Box, Line, Mark, Pair, Points, Role, Scene, Text, pair
from .svg import html_figure

__all__ = ["ROLES", "Axes", "Box", "Line", "Mark", "Pair", "Picture", "Points", "Role", "Text", "pair"]


@dataclass(frozen=True, eq=False)
class Picture(Scene):
    """Marks to draw and the sentence that says what they show.

    Parameters
    ----------
    sentence : str
        What the picture shows, with its numbers; caption and text form of the picture.
    marks : sequence of Line and Text
        Drawn in order; words come out on top of lines.
    axes : Axes or None
        None for a drawing true to scale; axes make it a graph.
    size : tuple of int
        Width and height of the page. [px]
    alt : str
        Short name for screen readers, such as ``"Side view of the sheet"``.
    frame : tuple of float or None
        Left, bottom, right and top of a drawing's window, so that its scale stays fixed while a slider
        moves; None fits the marks. [any]

    Raises
    ------
    ValueError
        If sentence or alt is empty, nothing is drawn, the frame has no area, or a graph is given a frame.

    Notes
    -----
    A drawing is centred in its page with a margin of 40 px. Validity: flat pictures of lines and words.

    Examples
    --------
    >>> line = Line([(0, 0), (100, 0)], "sheet")
    >>> Picture("A flat sheet, 100 mm long.", [line], alt="Side view of a sheet")._repr_mimebundle_()["text/plain"]
    'A flat sheet, 100 mm long.'
    """

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, str]:
        return {"text/html": html_figure(self), "text/plain": self.sentence}
