"""The blocks a card is built of: each is a list of lines and words on paper, and knows how tall it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from ..core.picture import Pair
from ..patterns.true_size import PaperLine, PaperWords, Pen
from .letters import shrunk, width_of, wrapped

LEADING = 1.26
"""From line to line, in sizes of the letters. [-]"""

THIN, THICK = Pen("#767676", 0.18), Pen("#222222", 0.4)


@dataclass(eq=False)
class Block:
    """Lines and words, and how far down the page they reach from where they began. [mm]"""

    height: float = 0.0
    strokes: list[PaperLine] = field(default_factory=list)
    words: list[PaperWords] = field(default_factory=list)

    def add(self, other: Block) -> None:
        """Take over what another block has drawn; its height is left to the caller."""
        self.strokes += other.strokes
        self.words += other.words


def box(left: float, top: float, width: float, height: float, pen: Pen = THIN) -> PaperLine:
    """Return a rectangle by its upper left corner."""
    corners = [(left, top), (left + width, top), (left + width, top - height), (left, top - height)]
    return PaperLine(np.array(corners), pen, closed=True)


def level(start: Pair, width: float, pen: Pen = THICK) -> PaperLine:
    """Return a level line by its left end."""
    return PaperLine(np.array([start, (start[0] + width, start[1])]), pen)


def lines_of(at: Pair, room: float, words: str, size: float, bold: bool = False, indent: float = 0.0) -> Block:
    """Return words broken into lines below a place, the first line's head at its height."""
    block = Block()
    for line in wrapped(words, room - indent, size, bold):
        block.words.append(PaperWords((at[0] + indent, at[1] - block.height - 0.8 * size), line, size, bold=bold))
        block.height += LEADING * size
    return block


def listed(at: Pair, room: float, title: str, entries: Sequence[str], size: float, mark: str = "•") -> Block:
    """Return a title and entries below each other, each with a bullet, its number ("1") or a box to tick ("box")."""
    block = lines_of(at, room, title, 1.15 * size, bold=True)
    block.height += 0.2 * size
    indent = 1.7 * size
    for number, entry in enumerate(entries, start=1):
        top = at[1] - block.height
        if mark == "box":
            block.strokes.append(box(at[0], top - 0.05 * size, 0.95 * size, 0.95 * size, THICK))
        elif mark:
            sign = f"{number}" if mark == "1" else mark
            block.words.append(PaperWords((at[0] + 0.2 * size, top - 0.8 * size), sign, size, bold=mark == "1"))
        part = lines_of((at[0], top), room, entry, size, indent=indent if mark else 0.0)
        block.add(part)
        block.height += part.height + 0.3 * size
    return block


@dataclass(frozen=True)
class Column:
    """A column of the table of passes: its head, its share of the width, and whether it is left to write in."""

    head: str
    share: float
    size: float = 1.0  # of the letters, to those of the table
    empty: bool = False


def table(at: Pair, width: float, columns: Sequence[Column], rows: Sequence[Sequence[str]], size: float,
          row_height: float) -> Block:
    """Return a table; what is left empty gets a box to write in, and a row that starts with nothing joins the one
    above.
    """
    block, head = Block(), 0.5 * size
    total, left = sum(column.share for column in columns), at[0]
    edges = [left]
    for column in columns:
        edges.append(edges[-1] + width * column.share / total)
    heads = [wrapped(column.head, edge - before - 1.6, head) for column, before, edge in
             zip(columns, edges, edges[1:], strict=False)]
    block.height = max(map(len, heads)) * LEADING * head + 1.5
    for lines, before in zip(heads, edges, strict=False):
        for number, line in enumerate(lines):
            block.words.append(PaperWords((before + 0.8, at[1] - (LEADING * number + 0.9) * head - 0.3), line, head))
    for row in rows:
        top = at[1] - block.height
        if row[0]:
            block.strokes.append(level((left, top), width))
        for column, words, before, after in zip(columns, row, edges, edges[1:], strict=False):
            if column.empty:
                block.strokes.append(box(before + 0.8, top - 0.8, after - before - 1.6, row_height - 1.6))
            fitted = shrunk(words, after - before - 1.6, size * column.size, bold=column.size == 1)
            block.words.append(PaperWords((before + 0.8, top - row_height / 2 - 0.36 * fitted), words, fitted,
                                          bold=column.size == 1))
        block.height += row_height
    block.strokes.append(level((left, at[1] - block.height), width))
    block.words = [words for words in block.words if words.words]
    return block


def field_to_fill(at: Pair, room: float, name: str, size: float) -> Block:
    """Return a name with a line beside it to write on."""
    start = at[0] + width_of(name, size) + 1.5
    line = level((start, at[1] - size), at[0] + room - start, THIN)
    return Block(2.2 * size, [line], [PaperWords((at[0], at[1] - 0.9 * size), name, size)])
