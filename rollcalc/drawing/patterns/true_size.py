"""Paper at true size: a millimetre of the page is a millimetre in the hand, and a line on it lets you check that.

A `TrueSizePage` is data, like a picture: strokes and words with their places in mm from the lower left
corner of the paper. `pdf_bytes` turns pages into one PDF. Patterns use it, and so can every other paper.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rollcalc.stock.gauges import MM_PER_INCH
from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import InputError, shown

from ..core.paper import SIDES, bare_figure, clip, draw
from ..core.picture import Box, Pair, Points

if TYPE_CHECKING:
    from matplotlib.figure import Figure

POINTS_PER_MM = 72 / MM_PER_INCH
EDGE = 10.0  # what an ordinary printer leaves white along each edge [mm]


@dataclass(frozen=True)
class Pen:
    """How a line on paper looks."""

    colour: str
    width: float  # [mm]
    dash: tuple[float, ...] = ()  # dash, gap, dash, gap …; empty for a solid line [mm]
    fill: str = ""  # colour inside a closed line; empty for none


PENS = {
    "cut": Pen("#222222", 0.35),
    "fold": Pen("#0072B2", 0.25, (4.0, 1.5)),
    "mark": Pen("#8A3F7A", 0.25, (6.0, 1.2, 0.6, 1.2)),
    "check": Pen("#222222", 0.25),
    "join": Pen("#555555", 0.18, (1.5, 1.5)),
    "cross": Pen("#555555", 0.18),
    "rule": Pen("#767676", 0.18),
    "here": Pen("#222222", 0.25, fill="#DDDDDD"),
}
"""The one table of pens; each has a second cue beside its colour. Line widths after ISO 128-2 (from memory)."""


@dataclass(frozen=True, eq=False)
class PaperLine:
    """A line on paper, or a closed outline, in mm from the lower left corner."""

    points: Points
    pen: str | Pen  # a key of PENS, or a pen of its own
    closed: bool = False
    window: Box | None = None  # left, bottom, right and top beyond which it is not drawn


@dataclass(frozen=True)
class PaperWords:
    """One line of words on paper, by its place on the baseline in mm from the lower left corner."""

    at: Pair
    words: str
    size: float  # height of the letters' body [mm]
    anchor: str = "start"  # which part stands at the place: "start", "middle" or "end"
    angle: float = 0.0  # turn, counter-clockwise [deg]
    bold: bool = False
    window: Box | None = None  # left, bottom, right and top beyond which they are not drawn


Drawn = tuple[list[PaperLine], list[PaperWords]]
"""A part of a page."""


@dataclass(frozen=True, eq=False)
class TrueSizePage:
    """A sheet of paper in mm, and what is drawn on it in order: lines, then words."""

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
    """Return a size of letters at which words stay within a room, not measured but by the usual width of a letter."""
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
    figure, sheet = bare_figure((page.width, page.height), MM_PER_INCH)
    for line in page.strokes:
        pen = PENS[line.pen] if isinstance(line.pen, str) else line.pen
        draw(sheet, [line.points], line.closed, pen.colour if pen.width else "none", pen.width * POINTS_PER_MM,
             [length * POINTS_PER_MM for length in pen.dash], pen.fill or "none", line.window)
    for words in page.words:
        text = sheet.text(*words.at, words.words, parse_math=False, size=words.size * POINTS_PER_MM, color="#222222",
                          family="DejaVu Sans", weight="bold" if words.bold else "normal", ha=SIDES[words.anchor],
                          va="baseline", rotation=math.fmod(words.angle, 360), rotation_mode="anchor", zorder=3)
        clip(sheet, text, words.window)
    return figure
