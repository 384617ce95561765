"""The page of sizes: a sketch of the piece, smaller than it is, and every number to mark it out by or to check it."""

import numpy as np

from rollcalc.layout import FlatPattern
from rollcalc.stock.labels import format_length

from ..core.picture import Box, Pair, pair
from .true_size import EDGE, Drawn, PaperLine, PaperWords, TrueSizePage, fitted_size
from .words import KEY, MARK_THIS_SIDE, NamedPattern, roomy_place, size_row

STEP = 4.6  # from one line of words to the next [mm]
BESIDE_TABLE = 122.0  # width of the table: names, mm and inches [mm]
SKETCH_NOTE = "Sketch, not true size."
BY_NUMBERS = "Mark out from these numbers, and measure both diagonals before you cut."
TO_CHECK = "Check the pattern by these numbers before you cut."


def is_rectangle(flat: FlatPattern) -> bool:
    """Return whether a piece is one rectangle, lying straight."""
    corners, bounds = flat.cut[0], np.reshape(flat.bounds, (2, 2))
    return len(flat.cut) == 1 and len(corners) == 5 and bool(
        (np.isclose(corners, bounds[0]) | np.isclose(corners, bounds[1])).all())


def sizes_page(pattern: NamedPattern, paper: Pair, by_numbers: bool) -> TrueSizePage:
    """Return the page: names, sketch, table, key of lines, and what to do with it."""
    width, height = paper
    rows, room = [size_row(size) for size in pattern.flat.sizes], width - 2 * EDGE
    notes = [f"{SKETCH_NOTE} {BY_NUMBERS if by_numbers else TO_CHECK}", *pattern.orders()]
    step = min(STEP, max(3.2, (height - 150) / max(len(rows), 1)))
    top = EDGE + STEP * len(notes) + step * max(len(rows), len(KEY)) + 2.5
    strokes, words = _sketch(pattern.flat, (EDGE, top + 4, width - EDGE, height - EDGE - 12))
    words += facts_at(pattern, (EDGE, height - EDGE - 4.2), room)
    key, meanings = line_key((EDGE + BESIDE_TABLE + 6, top - step + 1.2), 18.0, 3.2)
    strokes += [*key, PaperLine(np.array([(EDGE, top + 1), (width - EDGE, top + 1)]), "rule")]
    letters = min(3.2, 0.78 * step)
    for place, row in enumerate(rows, start=1):
        cells = zip(row, (0.0, BESIDE_TABLE - 24, BESIDE_TABLE), ("start", "end", "end"), strict=True)
        words += [PaperWords((EDGE + x, top - place * step), said, letters, side) for said, x, side in cells if said]
    words += [PaperWords((EDGE, EDGE + 1 + STEP * level), line, fitted_size(line, room, 3.2, bold=True),
                         bold=line == notes[0]) for level, line in enumerate(reversed(notes))]
    return TrueSizePage(width, height, strokes, [*words, *meanings])


def facts_at(pattern: NamedPattern, at: Pair, room: float) -> list[PaperWords]:
    """Return the title of a pattern, and part, thickness and material below it."""
    facts, title = " · ".join(pattern.facts), pattern.flat.title
    return [PaperWords(at, title, fitted_size(title, room, 4.2, bold=True), bold=True),
            PaperWords((at[0], at[1] - 4.1), facts, fitted_size(facts, room, 2.9))]


def line_key(at: Pair, length: float, size: float) -> Drawn:
    """Return a sample of each kind of line and its word, the first one given and the others below it."""
    levels = [(at[1] - place * (size + 1.4), pen, word) for place, (pen, word) in enumerate(KEY)]
    return ([PaperLine(np.array([(at[0], level), (at[0] + length, level)]), pen) for level, pen, _ in levels],
            [PaperWords((at[0] + length + 1.5, level - 0.36 * size), word, size) for level, _, word in levels])


def _sketch(flat: FlatPattern, box: Box) -> Drawn:
    """Return the piece as large as it fits into a box, its breadth and height, and what its lines across are."""
    (left, bottom, right, top), (breadth, height) = box, flat.size
    across = sorted((size for size in flat.sizes if size.at), key=lambda size: abs(size.at[0] - breadth / 2))  # type: ignore[index]
    sides = [[size for size in across if (size.at[0] > breadth / 2 + 1e-6) == late]  # type: ignore[index]
             for late in (False, True)]  # those of the left half are named above the piece, the others below it
    above, below = 2 + STEP * len(sides[0]), 11 + STEP * len(sides[1])
    scale = min(1.0, (right - left - 12) / breadth, (top - bottom - above - below) / height)
    spare = np.array([right - left - 12 - scale * breadth, top - bottom - above - below - scale * height]) / 2
    low = np.array([left + 10, bottom + below]) + spare
    high = low + scale * np.array(flat.size)
    lines = (("mark", flat.marks), ("fold", flat.folds), ("cut", flat.cut))
    strokes = [PaperLine(low + scale * line, pen) for pen, several in lines for line in several]
    words: list[PaperWords] = []
    for names, edge, out, anchor in ((sides[0], high[1], 1, "start"), (sides[1], low[1], -1, "end")):
        for place, size in enumerate(names, start=1):
            x, level = low[0] + scale * size.at[0], edge + out * place * STEP  # type: ignore[index]
            strokes.append(PaperLine(np.array([(x, edge), (x, level + 1.2 * (out > 0))]), "cross"))
            said = f"{size.words.split(',')[0]} {format_length(size.value).removesuffix(' mm')}"
            words.append(PaperWords((x + out, level - (out < 0)), said, 3.0, anchor))
    level, x = low[1] - below + 3, low[0] - 5
    for ends, tick, length, turn in ((np.array([(low[0], level), (high[0], level)]), (0.0, 1.2), breadth, 0.0),
                                     (np.array([(x, low[1]), (x, high[1])]), (-1.2, 0.0), height, 90.0)):
        strokes += [PaperLine(ends, "check"), *(PaperLine(np.array([end - tick, end + tick]), "check") for end in ends)]
        at = pair(ends.mean(axis=0) + 1.6 * np.array(tick))
        words.append(PaperWords(at, format_length(length), 3.2, "middle", turn))
    spot, free = roomy_place(flat, ample=6 / scale)
    if (letters := min(4.0, 0.75 * free * scale)) > 1.8:
        words.append(PaperWords(pair(low + scale * np.array(spot) - (0, 0.36 * letters)), MARK_THIS_SIDE, letters,
                                "middle", bold=True))
    return strokes, words
