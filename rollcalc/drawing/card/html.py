"""A page of paper as one web page: the same lines and words as SVG in mm, ready to print."""

import math
from html import escape
from itertools import pairwise

import numpy as np

from ..core.picture import Box, Points
from ..patterns.true_size import PENS, PaperLine, PaperWords, TrueSizePage

FONTS = "DejaVu Sans, Verdana, sans-serif"


def page_html(page: TrueSizePage, title: str) -> str:
    """Return a web page of its own that shows a page of paper at its size; the same page gives the same text."""
    size = f"{page.width:g}mm {page.height:g}mm"
    return (f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{escape(title)}</title>\n'
            f"<style>@page{{size:{size};margin:0}}body{{margin:0;background:#fff}}svg{{display:block}}</style>"
            f"</head><body>\n{page_svg(page, title)}\n</body></html>\n")


def page_svg(page: TrueSizePage, title: str) -> str:
    """Return a page of paper as SVG, a mm to the unit."""
    lines = [_line(line, page.height) for line in page.strokes] + [_words(words, page.height) for words in page.words]
    drawn = "\n".join(filter(None, lines))
    return (f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(title)}" '
            f'width="{page.width:g}mm" height="{page.height:g}mm" viewBox="0 0 {page.width:g} {page.height:g}" '
            f'font-family="{FONTS}" fill="#222222" stroke-linejoin="round">\n{drawn}\n</svg>')


def _line(line: PaperLine, height: float) -> str:
    """Return one path; what lies beyond its window is left out."""
    pen = PENS[line.pen] if isinstance(line.pen, str) else line.pen
    points = np.concatenate([line.points, line.points[:1]]) if line.closed else line.points
    runs = [points] if line.window is None else within(points, line.window)
    data = "".join("M" + "L".join(f"{x:.3f} {height - y:.3f}" for x, y in run.tolist()) for run in runs)
    dash = f' stroke-dasharray="{" ".join(f"{part:g}" for part in pen.dash)}"' if pen.dash else ""
    stroke = f'stroke="{pen.colour}" stroke-width="{pen.width:.3g}"{dash}' if pen.width else 'stroke="none"'
    return f'<path d="{data}" fill="{pen.fill or "none"}" {stroke}/>' if data else ""


def within(points: Points, window: Box) -> list[Points]:
    """Return the parts of a polyline inside a window, cut off at its edges."""
    left, bottom, right, top = window
    runs: list[list[Points]] = []
    for start, stop in pairwise(points):
        shares, way = [0.0, 1.0], stop - start
        for axis, low, high in ((0, left, right), (1, bottom, top)):
            if way[axis] == 0:
                if not low <= start[axis] <= high:
                    shares = [1.0, 0.0]
                continue
            ends = sorted(((low - start[axis]) / way[axis], (high - start[axis]) / way[axis]))
            shares = [max(shares[0], ends[0]), min(shares[1], ends[1])]
        if shares[0] >= shares[1]:
            continue
        first, last = start + shares[0] * way, start + shares[1] * way
        if runs and np.allclose(runs[-1][-1], first):
            runs[-1].append(last)
        else:
            runs.append([first, last])
    return [np.array(run) for run in runs]


def _words(words: PaperWords, height: float) -> str:
    """Return one line of words."""
    x, y = words.at[0], height - words.at[1]
    anchor = f' text-anchor="{words.anchor}"' if words.anchor != "start" else ""
    turn = f' transform="rotate({-math.fmod(words.angle, 360):.2f} {x:.3f} {y:.3f})"' if words.angle else ""
    weight = ' font-weight="bold"' if words.bold else ""
    return (f'<text x="{x:.3f}" y="{y:.3f}" font-size="{words.size:.3g}"{anchor}{weight}{turn}>'
            f"{escape(words.words, quote=False)}</text>")
