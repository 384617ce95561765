"""A pattern as SVG in mm, with one group each for cut, fold and mark lines and for words."""

from __future__ import annotations

import math
from html import escape

import numpy as np

from rollcalc.layout import Polyline

from ..core.pens import PENS
from .words import CHECK_LINE, Inscription, NamedPattern

BORDER = 10.0
"""White around the pattern and its words. [mm]"""
BELOW = 26.0
"""Height of the words below the pattern. [mm]"""
LEAST_WIDTH = 120.0


def pattern_svg(pattern: NamedPattern) -> str:
    """Return the pattern as SVG text, one mm for each unit.

    Width and height are given in mm, so a drawing program and a cutting machine take it at true size. The groups
    are named cut, fold, mark and text; only the first is to be cut. Places are rounded to a thousandth of a mm.
    """
    flat, (breadth, rise) = pattern.flat, pattern.flat.size
    width, height = max(breadth, LEAST_WIDTH) + 2 * BORDER, rise + BELOW + 2 * BORDER
    top = np.array([BORDER, BORDER + rise])
    groups = [_group(name, pen, lines, top) for name, pen, lines in
              (("cut", "cut", flat.cut), ("fold", "fold", flat.folds), ("mark", "mark", flat.marks))]
    words = [_text(label, top, "middle") for label in pattern.labels()]
    words += [_text(note, top, "start") for note in pattern.notes()]
    return "\n".join([
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.10g}mm" height="{height:.10g}mm" '
        f'viewBox="0 0 {width:.10g} {height:.10g}">',
        f"<title>{escape(pattern.known)}</title>",
        *groups,
        '<g id="text" font-family="sans-serif" fill="#222222">',
        f'<path d="{_data(CHECK_LINE, top)}" fill="none" stroke="#222222" stroke-width="0.25"/>',
        *words,
        "</g>",
        "</svg>",
        "",
    ])


def _group(name: str, pen_name: str, lines: tuple[Polyline, ...], top: Polyline) -> str:
    """Return one layer as a group of paths."""
    pen = PENS[pen_name]
    dash = f' stroke-dasharray="{" ".join(f"{length:g}" for length in pen.dash)}"' if pen.dash else ""
    paths = [f'<path d="{_data(line, top)}"/>' for line in lines]
    look = f'fill="none" stroke="{pen.colour}" stroke-width="{pen.width:g}"{dash} stroke-linejoin="round"'
    return "\n".join([f'<g id="{name}" {look}>', *paths, "</g>"])


def _data(line: Polyline, top: Polyline) -> str:
    """Return the path data of a polyline, y turned downwards."""
    closed = bool(np.array_equal(line[0], line[-1]))
    points = top + line[: -1 if closed else None] * (1, -1)
    return "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in points.tolist()) + ("Z" if closed else "")


def _text(text: Inscription, top: Polyline, anchor: str) -> str:
    """Return one line of words; words on the pattern are centred on their place."""
    x, y = (top + np.array(text.at) * (1, -1)).tolist()
    drop = ' dy="0.36em"' if anchor == "middle" else ""
    turn = f' transform="rotate({-math.degrees(text.angle):.3f} {x:.3f} {y:.3f})"' if text.angle else ""
    weight = ' font-weight="bold"' if text.bold else ""
    return (f'<text x="{x:.3f}" y="{y:.3f}" font-size="{text.size:.3g}" text-anchor="{anchor}"{drop}{weight}{turn}>'
            f"{escape(text.words, quote=False)}</text>")
