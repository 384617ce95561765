"""Pictures for paper: the same page, drawn by matplotlib for PDF."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .page import FONT_SIZE, Stroke, page
from .scene import ROLES, Scene

if TYPE_CHECKING:
    from matplotlib.axes import Axes as Sheet
    from matplotlib.figure import Figure
    from matplotlib.patches import Patch

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
    from matplotlib.figure import Figure
    from matplotlib.patches import Rectangle
    from matplotlib.patheffects import withStroke

    laid, (width, height) = page(picture), picture.size
    figure = Figure(figsize=(width / PX_PER_INCH, height / PX_PER_INCH), facecolor="white")
    sheet = figure.add_axes((0, 0, 1, 1), xlim=(0, width), ylim=(height, 0))
    sheet.set_axis_off()
    left, top, right, bottom = laid.window
    window = Rectangle((left - 2, top - 2), right - left + 4, bottom - top + 4, transform=sheet.transData)
    for stroke in laid.behind:
        _draw(sheet, stroke, None)
    for stroke in laid.inside:
        _draw(sheet, stroke, window)
    halo = [withStroke(linewidth=4 * POINTS_PER_PX, foreground="white")]
    for text in laid.words:
        sheet.text(*text.at, text.words, color=ROLES[text.role].colour, family="sans-serif",
                   fontsize=FONT_SIZE * POINTS_PER_PX, ha=SIDES[text.anchor], va="baseline",
                   rotation=text.angle, rotation_mode="anchor", path_effects=halo, zorder=3)
    return figure


def _draw(sheet: Sheet, stroke: Stroke, window: Patch | None) -> None:
    """Draw one stroke as one path, cut off at the window."""
    from matplotlib.colors import to_rgba
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    if not stroke.runs:
        return
    role = stroke.role
    runs = [np.concatenate([run, run[:1]]) if stroke.closed else run for run in stroke.runs]
    path = Path.make_compound_path(*(Path(run, closed=stroke.closed) for run in runs))
    patch = PathPatch(
        path,
        facecolor=to_rgba(role.colour, role.fill) if stroke.closed else "none",
        edgecolor=role.colour if role.width else "none",
        linewidth=role.width * POINTS_PER_PX,
        linestyle=(0, [d * POINTS_PER_PX for d in role.dash]) if role.dash else "solid",
        joinstyle="round",
        zorder=2,
    )
    sheet.add_patch(patch)
    if window is not None:
        patch.set_clip_path(window)
