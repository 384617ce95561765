"""One word for one thing: the words of the trade, and the names the library gives to quantities.

The words stand in glossary.toml. A test holds every public signature to them, so a quantity has the same name and unit
wherever it is met.
"""

import re
import tomllib
from dataclasses import astuple, dataclass
from html import escape
from pathlib import Path

__all__ = ["PATTERN_QUANTITIES", "QUANTITIES", "TRADE", "Entry", "Table", "glossary_table", "names_table"]


@dataclass(frozen=True)
class Entry:
    """A word, and what it stands for: one row of the data file."""

    name: str  # in code; empty for a word of the trade that no function asks for
    words: str  # its name in the shop
    symbol: str  # its letter in formulas; empty where it has none
    unit: str  # "-" for a plain number; empty for a thing that is not a number
    meaning: str  # in one sentence


TRADE, QUANTITIES, PATTERN_QUANTITIES = (
    tuple(Entry(*row) for row in rows)
    for rows in tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8")).values())
"""Words of the trade; every name that a public function of stock, bending and rolling asks for; and of layout."""


@dataclass(frozen=True)
class Table:
    """A small table that a notebook shows as one and a terminal as lines of text."""

    caption: str
    heads: tuple[str, ...]  # one of them is "symbol"
    rows: tuple[tuple[str, ...], ...]  # the first cell of each is what the row is about

    def __repr__(self) -> str:
        widths = [max(map(len, column)) for column in zip(self.heads, *self.rows, strict=True)]
        lines = ["  ".join(map(str.ljust, row, widths)).rstrip() for row in (self.heads, *self.rows)]
        return "\n".join((self.caption, *lines))

    def _repr_html_(self) -> str:
        heads = "".join(f'<th scope="col" style="text-align:left">{escape(head)}</th>' for head in self.heads)
        rows = "\n".join(f"<tr>{_row(row, self.heads.index('symbol'))}</tr>" for row in self.rows)
        caption = f"<caption>{escape(self.caption)}</caption>"
        return f"<table>{caption}\n<thead><tr>{heads}</tr></thead>\n<tbody>{rows}</tbody></table>"


def glossary_table() -> Table:
    """Return the words of the trade as a table."""
    rows = tuple(astuple(entry)[1:] for entry in TRADE)
    return Table("Words of the trade", ("word", "symbol", "unit", "meaning"), rows)


def names_table() -> Table:
    """Return the names of quantities in code as a table."""
    rows = tuple(astuple(entry) for entry in (*QUANTITIES, *PATTERN_QUANTITIES))
    return Table("Names in the library", ("name in code", "words", "symbol", "unit", "meaning"), rows)


def _row(cells: tuple[str, ...], symbol: int) -> str:
    """Return the cells of one row as HTML; the first heads the row, and the symbol has a real subscript."""
    html = [escape(cell) for cell in cells]
    html[symbol] = re.sub(r"_(\w)", r"<sub>\1</sub>", html[symbol])
    left = 'style="text-align:left"'
    return f'<th scope="row" {left}>{html[0]}</th>' + "".join(f"<td {left}>{cell}</td>" for cell in html[1:])
