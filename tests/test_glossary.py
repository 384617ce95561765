"""The glossary holds every public signature of the physics to one word and one unit for one thing."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest

import rollcalc
from rollcalc import bending, job, layout, rolling, stock
from rollcalc.lessons.engine.glossary import (
    PATTERN_QUANTITIES,
    QUANTITIES,
    TRADE,
    Entry,
    Table,
    glossary_table,
    names_table,
)
from tests.docstrings import UNITS, described, public, read, signature, unit

GLOSSARY = {entry.name: entry for entry in QUANTITIES}
FACE = {name for package in (rollcalc, stock, bending, rolling, job) for name in package.__all__} - set(layout.__all__)
"""Names the outside may rely on; the plumbing behind them keeps units, but not every word, of the glossary."""

PLUMBING = {"text", "text_or_number", "default_unit", "unit", "units", "digits", "denominator", "args"}
"""Arguments that say how to read or write a number, and are no quantity."""


def parameters(things: list[object]) -> list[tuple[str, str, str | None]]:
    """Return (owner, name, unit in the docstring) of every parameter."""
    return [(thing.__qualname__, name, unit(words)) for thing in things  # type: ignore[attr-defined]
            for name, words in described(read(thing)["Parameters"]).items()]


PUBLIC_FACE = [thing for thing in public("stock", "bending",
                                         "rolling", "job") if thing.__name__ in FACE  # type: ignore[attr-defined]
               and not (isinstance(thing, type) and issubclass(thing, Exception))]
PATTERN_FACE = [thing for thing in public("layout") if thing.__name__ in layout.__all__]  # type: ignore[attr-defined]
PATTERN_GLOSSARY = {entry.name: entry for entry in PATTERN_QUANTITIES}
"""What you cut has its own table: a height or an offset of a cone is not one of a fibre or a hardening curve."""

EVERYTHING = list(dict.fromkeys([*public("stock", "bending"), *PUBLIC_FACE]))
"""The solver of rolling counts moments in other units inside; only its face is held to the glossary."""


@pytest.mark.parametrize(("owner", "name", "unit"), parameters(PUBLIC_FACE))
def test_every_public_parameter_is_in_the_glossary(owner: str, name: str, unit: str | None) -> None:
    assert name in GLOSSARY or name in PLUMBING, f"{owner} asks for {name}, which the glossary does not explain"


@pytest.mark.parametrize(("owner", "name", "unit"), parameters(EVERYTHING))
def test_docstrings_give_the_unit_of_the_glossary(owner: str, name: str, unit: str | None) -> None:
    if name in GLOSSARY and name != "name":
        assert (unit or "") == GLOSSARY[name].unit, f"{owner}: {name}"


@pytest.mark.parametrize(("owner", "name", "unit"), parameters(PATTERN_FACE))
def test_every_name_and_unit_of_a_pattern_is_in_its_glossary(owner: str, name: str, unit: str | None) -> None:
    assert name in PATTERN_GLOSSARY, f"{owner} asks for {name}, which the glossary does not explain"
    assert (unit or "") == PATTERN_GLOSSARY[name].unit, f"{owner}: {name}"


def test_no_row_of_patterns_is_unused_or_doubled() -> None:
    used = {name for thing in PATTERN_FACE for name in signature(thing)}
    assert [name for name in PATTERN_GLOSSARY if name not in used] == []
    assert len(PATTERN_GLOSSARY) == len(PATTERN_QUANTITIES)


def test_no_row_is_unused_or_doubled() -> None:
    used = {name for thing in PUBLIC_FACE for name in signature(thing)}
    assert [name for name in GLOSSARY if name not in used] == []
    assert len(GLOSSARY) == len(QUANTITIES)
    assert len({entry.words for entry in TRADE}) == len(TRADE)


@pytest.mark.parametrize("entry", TRADE + QUANTITIES + PATTERN_QUANTITIES, ids=lambda entry: entry.name or entry.words)
def test_entries_are_whole(entry: Entry) -> None:
    assert entry.words
    assert entry.meaning.endswith(".")
    assert entry.unit in {"", *UNITS}
    assert bool(entry.name) == (entry not in TRADE)


class Cells(HTMLParser):
    """Collects the words of each row."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag == "tr":
            self.rows.append([])
        elif tag in ("th", "td"):
            self.rows[-1].append("")
        elif tag == "sub":
            self.rows[-1][-1] += "_"

    def handle_data(self, data: str) -> None:
        if self.rows and self.rows[-1] and data.strip():
            self.rows[-1][-1] += data


@pytest.mark.parametrize(
    "table", [glossary_table(), names_table(), Table("a", ("x_a", "symbol"), (("<b_c>", "1 & 2"),))]
)
def test_both_forms_of_a_table_hold_the_same_words(table: Table) -> None:
    assert Cells(table._repr_html_()).rows == [list(row) for row in (table.heads, *table.rows)]
    lines = repr(table).splitlines()
    assert lines[0] == table.caption
    assert all(cell in line for line, row in zip(lines[2:], table.rows, strict=True) for cell in row)


def test_the_trade_speaks_of_springback() -> None:
    assert any(row[:2] == ("springback", "κ − κ_r") for row in glossary_table().rows)
