"""A pattern on paper at true size: pages with joins, a map of them, and lines to measure before you cut."""

import math

import numpy as np

from ..core.marks import on_circle
from ..core.paper_sizes import paper_size
from ..core.picture import Box, Pair, Points, pair
from .sizes import facts_at, is_rectangle, line_key, sizes_page
from .tiles import FOOT, OVERLAP, Tiling, tiling, ways_up
from .true_size import EDGE, Drawn, PaperLine, PaperWords, TrueSizePage, check_lines, fitted_size, pdf_bytes
from .words import SIDE_NOTE, Inscription, NamedPattern, distance

TRUE_SIZE = "True size, lengths in mm."
CAUTION = "Print at 100 %, not fitted to the page. Measure both check lines before you cut."
JOIN_NOTE = "Cut one page along its join line, lay it on the other so that line and crosses meet, and tape them."
MAP = (34.0, 21.0)  # room for the map of the pages [mm]


def pattern_pdf(pattern: NamedPattern, paper: str | Pair = "A4", taped: bool = False) -> bytes:
    """Return the pattern as a PDF."""
    return pdf_bytes(pattern_pages(pattern, paper, taped), pattern.known)


def pattern_pages(pattern: NamedPattern, paper: str | Pair = "A4", taped: bool = False) -> tuple[TrueSizePage, ...]:
    """Return the pages of a pattern: its sizes, then, unless they tell all there is to a rectangle, true size."""
    size, plain = paper_size(paper), is_rectangle(pattern.flat)
    first = (sizes_page(pattern, ways_up(size)[0], plain),) if pattern.flat.sizes or plain else ()
    return first if plain and not taped else (*first, *true_size_pages(pattern, size))


def true_size_pages(pattern: NamedPattern, paper: Pair) -> tuple[TrueSizePage, ...]:
    """Return the pages at true size; neighbours show the same strip of the pattern, with a line to join along."""
    grid = tiling(pattern.flat, paper)
    labels = pattern.labels(avoid=grid.joins())
    return tuple(_page(pattern, labels, grid, row, column) for row, column in grid.places)


def _page(pattern: NamedPattern, labels: tuple[Inscription, ...], grid: Tiling, row: int, column: int) -> TrueSizePage:
    """Return one page: its part of the pattern, its joins, its foot."""
    left, bottom, right, top = grid.window(row, column)
    shift = np.array([EDGE - left, EDGE + FOOT - bottom])
    window = (EDGE, EDGE + FOOT, EDGE + right - left, EDGE + FOOT + top - bottom)
    parts = (_part(pattern, labels, shift, window), _joins(pattern, labels, grid, (row, column), shift),
             _foot(pattern, grid, row, column))
    strokes = [stroke for part, _ in parts for stroke in part]
    return TrueSizePage(*grid.paper, strokes, [line for _, part in parts for line in part])


def _part(pattern: NamedPattern, labels: tuple[Inscription, ...], shift: Points, window: Box) -> Drawn:
    """Return what a page shows of the pattern itself, cut off at its window."""
    flat = pattern.flat
    layers = (("mark", flat.marks), ("fold", flat.folds), ("cut", flat.cut))
    strokes = [PaperLine(line + shift, pen, window=window) for pen, lines in layers for line in lines]
    words = []
    for label in labels:
        down = label.size * 0.36 * np.array([math.sin(label.angle), -math.cos(label.angle)])  # from middle to baseline
        words.append(PaperWords(pair(label.at + down + shift), label.words, label.size, "middle",
                                math.degrees(label.angle), label.bold, window))
    return strokes, words


def _joins(pattern: NamedPattern, labels: tuple[Inscription, ...], grid: Tiling, here: tuple[int, int],
           shift: Points) -> Drawn:
    """Return the lines along which a page is joined to its neighbours, with crosses and the neighbour's number."""
    row, column = here
    left, bottom, right, top = np.array(grid.core(row, column)) + np.tile(shift, 2)
    sides = (((row, column + 1), (right, bottom), (right, top)), ((row - 1, column), (left, top), (right, top)),
             ((row, column - 1), (left, bottom), (left, top)), ((row + 1, column), (left, bottom), (right, bottom)))
    flat, strokes, words = pattern.flat, [], []
    lines = [line + shift for line in (*flat.cut, *flat.folds, *flat.marks, *(label.line for label in labels))]
    cross = (on_circle((0, 0), 2.5, np.linspace(0, 2 * math.pi, 37)), [(-4.5, 0), (4.5, 0)], [(0, -4.5), (0, 4.5)])
    for place, start, stop in sides:
        neighbour = grid.page(*place)
        if not neighbour:
            continue
        ends = np.array([start, stop])
        strokes.append(PaperLine(ends, "join"))
        for share in (0.2, 0.8):  # a cross in a circle, the same on both pages that share the place
            at = ends[0] + share * (ends[1] - ends[0])
            strokes += [PaperLine(at + points, "cross") for points in cross]
        outward = np.array([place[1] - column, row - place[0]]) * OVERLAP / 4
        x, y = _free_place(ends + outward, lines)
        foot, turn = ((x + 0.9, y), 90.0) if start[0] == stop[0] else ((x, y - 0.9), 0.0)
        words.append(PaperWords(foot, f"join to page {neighbour}", 2.5, "middle", turn))
    return strokes, words


def _free_place(ends: Points, lines: list[Points]) -> Pair:
    """Return the place along a join, away from its crosses, where words are farthest from all lines."""
    places = ends[0] + np.array([0.5, 0.35, 0.65, 0.08, 0.92])[:, None] * (ends[1] - ends[0])
    room = np.min([distance(places, line) for line in lines], axis=0)
    return pair(places[int(np.argmax(np.minimum(room, 15)))])


def _foot(pattern: NamedPattern, grid: Tiling, row: int, column: int) -> Drawn:
    """Return the strip below the pattern: names, lines to measure, map, and how to print."""
    (width, _), several = grid.paper, len(grid.places) > 1
    right, number = width - EDGE, f"page {grid.page(row, column)} of {len(grid.places)}"
    checks, names = check_lines((EDGE, EDGE + 9.2))
    strokes, words = list(checks), list(names)
    strokes.append(PaperLine(np.array([(EDGE, EDGE + FOOT - 2), (right, EDGE + FOOT - 2)]), "rule"))
    room = right - EDGE - MAP[0] - 4
    small = fitted_size(JOIN_NOTE, room, 2.6)
    lines = ((f"{TRUE_SIZE} {SIDE_NOTE}", 19.0), (CAUTION, 3.6), (JOIN_NOTE if several else "", 0.4))
    words += facts_at(pattern, (EDGE, EDGE + 26.4), room)
    words += [PaperWords((EDGE, EDGE + level), line, small) for line, level in lines]
    key, meanings = line_key((right - MAP[0] - 18.5, EDGE + 16.3), 8.0, 2.6)
    strokes, words = strokes + key, words + meanings
    words.append(PaperWords((right, EDGE + 0.4), number, 3.4, "end", bold=True))
    mapped, numbers = _map(pattern, grid, (row, column), (right, EDGE + FOOT - 5))
    return strokes + mapped, [line for line in words if line.words] + numbers


def _map(pattern: NamedPattern, grid: Tiling, here: tuple[int, int], corner: Pair) -> Drawn:
    """Return the little map of the pages, its upper right corner given, with this page grey."""
    left, bottom, _, _ = grid.window(grid.rows - 1, 0)
    _, _, right, top = grid.window(0, grid.columns - 1)
    scale = min(MAP[0] / (right - left), MAP[1] / (top - bottom))
    shift = np.array(corner) - scale * np.array([right, top])
    strokes, words = [], []
    for place in sorted(grid.places, key=lambda place: place == here):
        x0, y0, x1, y1 = scale * np.array(grid.core(*place)) + np.tile(shift, 2)
        box = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
        strokes.append(PaperLine(box, "here" if place == here else "rule", closed=True))
        size = min(3.0, 0.5 * (y1 - y0), 0.6 * (x1 - x0))
        if size > 1.2 and len(grid.places) > 1:
            at = ((x0 + x1) / 2, (y0 + y1) / 2 - 0.36 * size)
            words.append(PaperWords(at, str(grid.page(*place)), size, "middle", bold=place == here))
    strokes += [PaperLine(scale * line + shift, "rule") for line in pattern.flat.cut]
    return strokes, words
