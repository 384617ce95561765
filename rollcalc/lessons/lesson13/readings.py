"""What was measured after each pass: read from the form, and what it says about the next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from rollcalc.job import Plan
from rollcalc.job.words import turns_words

from . import page

LENGTHS = ("rise", "chord")
"""What of a row is a length."""


@dataclass(frozen=True)
class Row:
    """What stands in the fields after one pass, and on which piece it was measured; all of it as typed."""

    turns: str = ""
    rise: str = ""
    chord: str = ""
    of: str = ""

    @classmethod
    def sent(cls, row: Any) -> Row:
        """Return what the browser sent as a row."""
        known = row if isinstance(row, Mapping) else {}
        return cls(**{name: text.strip() if isinstance(text := known.get(name), str) else ""
                      for name in ("turns", "rise", "chord", "of")})


@dataclass(frozen=True)
class Learnt:
    """What the browser shows of passes and readings."""

    rows: tuple[Row, ...]  # what stands in the fields, what was left empty filled in
    shown: list[dict[str, Any]]  # a row of the table for each pass
    learns: bool = False  # whether readings are asked for
    html: str = ""  # what to do next
    svg: str = ""  # what is believed
    caption: str = ""
    sentence: str = ""
    faults: dict[str, str] = field(default_factory=dict)  # "0.rise" -> sentence


def learnt(plan: Plan, rows: Sequence[Row], units: str) -> Learnt:
    """Return the passes with what was measured."""
    shown = [{"cells": page.pass_cells(plan, number, units), "input": False,
              "turns": turns_words(one.turns_left)} for number, one in enumerate(plan.passes)]
    return Learnt(tuple(rows), shown)
