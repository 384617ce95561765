"""Pictures for paper: the same page, drawn by matplotlib for PDF."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from .page import FONT_SIZE, page
from .scene import ROLES, Box, Pair, Points, Scene

if TYPE_CHECKING:
    from matplotlib.axes import Axes as Sheet
    from matplotlib.figure import Figure

PX_PER_INCH = 96
POINTS_PER_PX = 72 / PX_PER_INCH
SIDES = {"start": "left", "middle": "center", "end": "right"}


def paper_figure(picture: Scene) -> Figure:
    """Return the picture as a matplotlib figure, ready to save as PDF.

    Parameters
    ----------
    picture : Picture
        What to draw.

    Returns
    -------
    figure : matplotlib.figure.Figure
        The same strokes and words as on the screen, at 96 px to the inch.

    Notes
    -----
    Touches no global matplotlib setting and opens no window.

    Examples
    --------
    >>> from rollcalc.drawing.core.picture import Line, Picture
    >>> picture = Picture("A flat sheet.", [Line([(0, 0), (100, 0)], "sheet")], alt="Sheet", size=(480, 240))
    >>> paper_figure(picture).get_size_inches().tolist()
    [5.0, 2.5]
    """
    from matplotlib.patheffects import withStroke

    laid, (width, height) = page(picture), picture.size
    figure, sheet = bare_figure((width, height), PX_PER_INCH)
    sheet.invert_yaxis()
    left, top, right, bottom = laid.window
    for strokes, window in ((laid.behind, None), (laid.inside, (left - 2, top - 2, right + 2, bottom + 2))):
        for stroke in strokes:
            role, face = stroke.role, (stroke.role.colour, stroke.role.fill) if stroke.closed else "none"
            draw(sheet, stroke.runs, stroke.closed, role.colour if role.width else "none", role.width * POINTS_PER_PX,
                 [length * POINTS_PER_PX for length in role.dash], face, window)
    halo = [withStroke(linewidth=4 * POINTS_PER_PX, foreground="white")]
    for text in laid.words:
        sheet.text(*text.at, text.words, color=ROLES[text.role].colour, family="sans-serif",
                   fontsize=FONT_SIZE * POINTS_PER_PX, ha=SIDES[text.anchor], va="baseline",
                   rotation=text.angle, rotation_mode="anchor", path_effects=halo, zorder=3)
    return figure


def bare_figure(size: Pair, per_inch: float) -> tuple[Figure, Sheet]:
    """Return a white figure and the sheet that fills it, whose coordinates are those of its size."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(size[0] / per_inch, size[1] / per_inch), facecolor="white")
    sheet = figure.add_axes((0, 0, 1, 1), xlim=(0, size[0]), ylim=(0, size[1]))
    sheet.set_axis_off()
    return figure, sheet


def draw(sheet: Sheet, runs: Sequence[Points], closed: bool, colour: str, width: float, dash: Sequence[float],
         face: Any, window: Box | None) -> None:
    """Draw runs of points as one path, its width and dashes in points, cut off at a window."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    if not runs:
        return
    paths = [Path(np.concatenate([run, run[:1]]) if closed else run, closed=closed) for run in runs]
    patch = PathPatch(Path.make_compound_path(*paths), facecolor=face, edgecolor=colour, linewidth=width,
                      linestyle=(0, dash) if dash else "solid", joinstyle="round", zorder=2)
    sheet.add_patch(patch)
    clip(sheet, patch, window)


def clip(sheet: Sheet, artist: Any, window: Box | None) -> None:
    """Cut an artist off at a window of its sheet, or at none."""
    from matplotlib.patches import Rectangle

    if window is not None:
        x0, y0, x1, y1 = window
        artist.set_clip_on(True)
        artist.set_clip_path(Rectangle((x0, y0), x1 - x0, y1 - y0, transform=sheet.transData))
