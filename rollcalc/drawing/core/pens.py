"""How lines look on paper and in a pattern's files."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Pen:
    """How a line on paper looks."""

    colour: str
    width: float  # [mm]
    dash: tuple[float, ...] = ()  # dash, gap, dash, gap …; empty for a solid line [mm]
    fill: str = ""  # colour inside a closed line; empty for none


PENS = {
    "cut": Pen("#222222", 0.35),
    "fold": Pen("#0072B2", 0.25, (4.0, 1.5)),
    "mark": Pen("#8A3F7A", 0.25, (6.0, 1.2, 0.6, 1.2)),
    "check": Pen("#222222", 0.25),
    "join": Pen("#555555", 0.18, (1.5, 1.5)),
    "cross": Pen("#555555", 0.18),
    "rule": Pen("#767676", 0.18),
    "here": Pen("#222222", 0.25, fill="#DDDDDD"),
}
"""The one table of pens; each has a second cue beside its colour. Line widths after ISO 128-2 (from memory)."""
