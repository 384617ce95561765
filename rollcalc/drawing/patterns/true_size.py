"""Paper at true size: a millimetre of the page is a millimetre in the hand, and a line on it lets you check that.

A `TrueSizePage` is data, like a picture: strokes and words with their places in mm from the lower left
corner of the paper. `pdf_bytes` turns pages into one PDF. Patterns use it, and so can every other paper.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import InputError, shown

from ..core.pens import PENS
from ..core.picture import Pair, Points

if TYPE_CHECKING:
    from matplotlib.axes import Axes as Sheet
    from matplotlib.figure import Figure

MM_PER_INCH = 25.4
POINTS_PER_MM = 72 / MM_PER_INCH
EDGE = 10.0
"""What an ordinary printer leaves white along each edge. [mm]"""
Box = tuple[float, float, float, float]


@dataclass(frozen=True, eq=False)
class PaperLine:
    """A line on paper, or a closed outline.

    Parameters
    ----------
    points : array, shape (n, 2)
        Places from the lower left corner of the paper. [mm]
    pen : str
        A key of ``PENS``.
    closed : bool
        Join the last point to the first.
    window : tuple of float or None
        Left, bottom, right and top beyond which it is not drawn. [mm]
    """

    points: Points
    pen: str
    closed: bool = False
    window: Box | None = None


@dataclass(frozen=True)
class PaperWords:
    """One line of words on paper.

    Parameters
    ----------
    at : tuple of float
        Place of the words on their baseline, from the lower left corner of the paper. [mm]
    words : str
        What stands there.
    size : float
        Height of the letters' body. [mm]
    anchor : str
        Which part of the words stands at the place: ``"start"``, ``"middle"`` or ``"end"``.
    angle : float
        Turn of the words, counter-clockwise. [deg]
    bold : bool
        Whether the letters are bold.
    window : tuple of float or None
        Left, bottom, right and top beyond which they are not drawn. [mm]
    """

    at: Pair
    words: str
    size: float
    anchor: str = "start"
    angle: float = 0.0
    bold: bool = False
    window: Box | None = None


@dataclass(frozen=True, eq=False)
class TrueSizePage:
    """A sheet of paper and what is drawn on it.

    Parameters
    ----------
    width, height : float
        Size of the paper. [mm]
    strokes : sequence of PaperLine
        Lines, drawn in order.
    words : sequence of PaperWords
        PaperWords, on top of all lines.
    """

    width: float
    height: float
    strokes: Sequence[PaperLine] = ()
    words: Sequence[PaperWords] = ()


def check_lines(at: Pair) -> tuple[tuple[PaperLine, ...], tuple[PaperWords, ...]]:
    """Return the two lines to measure before a page is used: 100 mm, and 4 in above it."""
    (x, y), strokes, words = at, [], []
    for rise, length, steps, name in ((0.0, 100.0, 10, "100 mm"), (5.6, 4 * MM_PER_INCH, 8, "4 in")):
        level = y + rise
        strokes.append(PaperLine(np.array([(x, level), (x + length, level)]), "check"))
        for step in range(steps + 1):
            place, tall = x + length * step / steps, 2.0 if step in (0, steps) else 0.8
            strokes.append(PaperLine(np.array([(place, level - tall), (place, level + tall)]), "check"))
        words.append(PaperWords((x + 4 * MM_PER_INCH + 3, level - 1.1), name, 3.2))
    return tuple(strokes), tuple(words)


def fitted_size(words: str, room: float, size: float, bold: bool = False) -> float:
    """Return a size of letters at which words stay within a room; long words get smaller letters.

    PaperWords are not measured: a letter is taken as 0.62 of its size wide, a bold one as 0.70.
    """
    return min(size, room / ((0.70 if bold else 0.62) * max(len(words), 1)))


def pdf_bytes(pages: Sequence[TrueSizePage], title: str) -> bytes:
    """Return pages as one PDF file, the same bytes every time.

    Parameters
    ----------
    pages : sequence of TrueSizePage
        The pages in order.
    title : str
        Title in the file's properties.

    Returns
    -------
    content : bytes
        The file.

    Raises
    ------
    InputError
        If matplotlib is not installed here.

    Notes
    -----
    Uses matplotlib's own settings, not the reader's, and changes none. Lines keep every point.

    Examples
    --------
    >>> pdf_bytes([TrueSizePage(210, 297, *check_lines((20, 20)))], "Check lines")[:5]
    b'%PDF-'
    """
    try:
        import matplotlib as mpl
        from matplotlib.backends.backend_pdf import PdfPages
    except ImportError:
        raise InputError("a PDF is written by matplotlib, which is not installed here: save SVG instead, or install "
                         "rollcalc[lessons].") from None
    content, about = io.BytesIO(), {"Title": title, "Creator": "rollcalc", "Producer": "matplotlib"}
    with mpl.rc_context():
        mpl.rcdefaults()
        mpl.rcParams.update({"path.simplify": False, "pdf.fonttype": 42})
        if not isinstance(pages, list | tuple):
            raise InputError(f"pages is {shown(pages)}, but must be a list of TrueSizePage: take it from the tiling.")
        for page in pages:
            checked_kind("a page", page, TrueSizePage, advice="take it from the tiling")
        with PdfPages(content, metadata={**about, "CreationDate": None}) as book:
            for page in pages:
                book.savefig(_figure(page))
    return content.getvalue()


def _figure(page: TrueSizePage) -> Figure:
    """Return a page as a matplotlib figure whose data coordinates are mm."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(page.width / MM_PER_INCH, page.height / MM_PER_INCH), facecolor="white")
    sheet = figure.add_axes((0, 0, 1, 1), xlim=(0, page.width), ylim=(0, page.height))
    sheet.set_axis_off()
    for stroke in page.strokes:
        _draw(sheet, stroke)
    for words in page.words:
        _write(sheet, words)
    return figure


def _draw(sheet: Sheet, stroke: PaperLine) -> None:
    """Draw one stroke, cut off at its window."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    pen, points = PENS[stroke.pen], stroke.points
    path = Path(np.concatenate([points, points[:1]]) if stroke.closed else points, closed=stroke.closed)
    dash = [length * POINTS_PER_MM for length in pen.dash]
    patch = PathPatch(path, facecolor=pen.fill or "none", edgecolor=pen.colour, linewidth=pen.width * POINTS_PER_MM,
                      linestyle=(0, dash) if dash else "solid", joinstyle="round", zorder=2)
    sheet.add_patch(patch)
    _clip(sheet, patch, stroke.window)


def _write(sheet: Sheet, words: PaperWords) -> None:
    """Write one line of words, cut off at its window."""
    side = {"start": "left", "middle": "center", "end": "right"}[words.anchor]
    text = sheet.text(*words.at, words.words, parse_math=False, size=words.size * POINTS_PER_MM, color="#222222",
                      family="DejaVu Sans", weight="bold" if words.bold else "normal", ha=side, va="baseline",
                      rotation=math.fmod(words.angle, 360), rotation_mode="anchor", zorder=3)
    _clip(sheet, text, words.window)


def _clip(sheet: Sheet, artist: Any, window: Box | None) -> None:
    """Cut an artist off at a window of the page."""
    from matplotlib.patches import Rectangle

    if window is not None:
        left, bottom, right, top = window
        artist.set_clip_on(True)
        artist.set_clip_path(Rectangle((left, bottom), right - left, top - bottom, transform=sheet.transData))
