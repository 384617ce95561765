"""Does every word of a picture have room? Measured with a real font, wider than most, to be on the safe side.

`overlaps` and `clipped` serve every picture of the lessons, at every corner of its panel.
"""

from __future__ import annotations

import itertools
from functools import cache
from pathlib import Path

import matplotlib
import numpy as np
from numpy.typing import NDArray
from PIL import ImageFont

from rollcalc.drawing import Picture
from rollcalc.drawing.core.page import FONT_SIZE, page
from rollcalc.drawing.core.picture import Text

FONT = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"
TOUCH = 1.0
"""Boxes may share this much: the font is wider and taller than what a screen shows. [px]"""


@cache
def _font() -> ImageFont.FreeTypeFont:
    """Return the measuring font at the size pictures use."""
    return ImageFont.truetype(str(FONT), FONT_SIZE)


def box(text: Text) -> NDArray[np.float64]:
    """Return the four corners of the words' ink on the page, y down, turned as they are."""
    left, top, right, bottom = _font().getbbox(
        text.words, anchor={"start": "ls", "middle": "ms", "end": "rs"}[text.anchor]
    )
    corners = np.array([(left, top), (right, top), (right, bottom), (left, bottom)], dtype=float)
    turn = np.radians(-text.angle)
    cos, sin = np.cos(turn), np.sin(turn)
    return np.asarray(corners @ np.array([[cos, sin], [-sin, cos]]) + text.at)


def overlaps(picture: Picture) -> list[tuple[str, str]]:
    """Return every two words that run into each other, tick labels and axis titles included."""
    boxes = [(text.words, box(text)) for text in page(picture).words]
    return [(one, two) for (one, a), (two, b) in itertools.combinations(boxes, 2) if not _apart(a, b)]


def clipped(picture: Picture) -> list[str]:
    """Return all words that reach beyond the edge of the page."""
    edge = np.array(picture.size)
    return [text.words for text in page(picture).words if (box(text) < 0).any() or (box(text) > edge).any()]


def _apart(a: NDArray[np.float64], b: NDArray[np.float64]) -> bool:
    """Return whether a straight gap runs between two rectangles (the separating axis theorem)."""
    for corners in (a, b):
        for along in (corners[1] - corners[0], corners[3] - corners[0]):
            along = along / np.hypot(*along)
            p, q = a @ along, b @ along
            if p.max() - TOUCH <= q.min() or q.max() - TOUCH <= p.min():
                return True
    return False
