"""A pattern as SVG in mm, with one group each for cut, fold and mark lines and for words."""

import math
from html import escape

import numpy as np

from rollcalc.layout import Polyline

from .true_size import PENS
from .words import CHECK_LINE, Inscription, NamedPattern, open_line

BORDER = 10.0  # white around the pattern and its words [mm]


def pattern_svg(pattern: NamedPattern) -> str:
    """Return the pattern as SVG text, one mm for each unit, so that drawing programs take it at true size."""
    flat, (breadth, rise) = pattern.flat, pattern.flat.size
    notes = pattern.notes()
    width = max(breadth, *(note.length for note in notes)) + 2 * BORDER
    height = rise - min(note.at[1] for note in notes) + 2 * BORDER
    top = np.array([BORDER, BORDER + rise])
    groups = [_group(name, lines, top) for name, lines in
              (("cut", flat.cut), ("fold", flat.folds), ("mark", flat.marks))]
    words = [_text(label, top, "middle") for label in pattern.labels()]
    words += [_text(note, top, "start") for note in notes]
    return "\n".join([
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.10g}mm" height="{height:.10g}mm" '
        f'viewBox="0 0 {width:.10g} {height:.10g}">',
        f"<title>{escape(pattern.known)}</title>",
        *groups,
        '<g id="text" font-family="sans-serif" fill="#222222">',
        f'<path d="{_data(CHECK_LINE, top)}" fill="none" stroke="#222222" stroke-width="0.25"/>',
        *words, "</g>", "</svg>", ""])


def _group(name: str, lines: tuple[Polyline, ...], top: Polyline) -> str:
    """Return one layer, which has the name of its pen, as a group of paths."""
    pen = PENS[name]
    dash = f' stroke-dasharray="{" ".join(f"{length:g}" for length in pen.dash)}"' if pen.dash else ""
    paths = [f'<path d="{_data(line, top)}"/>' for line in lines]
    look = f'fill="none" stroke="{pen.colour}" stroke-width="{pen.width:g}"{dash} stroke-linejoin="round"'
    return "\n".join([f'<g id="{name}" {look}>', *paths, "</g>"])


def _data(line: Polyline, top: Polyline) -> str:
    """Return the path data of a polyline, y turned downwards."""
    points, closed = open_line(line)
    return "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in (top + points * (1, -1)).tolist()) + ("Z" if closed else "")


def _text(text: Inscription, top: Polyline, anchor: str) -> str:
    """Return one line of words; words on the pattern are centred on their place."""
    x, y = (top + np.array(text.at) * (1, -1)).tolist()
    drop = ' dy="0.36em"' if anchor == "middle" else ""
    turn = f' transform="rotate({-math.degrees(text.angle):.3f} {x:.3f} {y:.3f})"' if text.angle else ""
    weight = ' font-weight="bold"' if text.bold else ""
    return (f'<text x="{x:.3f}" y="{y:.3f}" font-size="{text.size:.3g}" text-anchor="{anchor}"{drop}{weight}{turn}>'
            f"{escape(text.words, quote=False)}</text>")
