"""Published numbers that rollcalc is held to: the lessons show them, the tests check them, from this one table.

The numbers stand in published.toml, each with its source and with the mark that says how we know it.
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Literal

MM_PER_INCH = 25.4
N_PER_LBF = 4.4482216152605
MPA_PER_PSI = N_PER_LBF / MM_PER_INCH**2
N_MM_PER_KIP_INCH = 1000 * N_PER_LBF * MM_PER_INCH

HOUSE_UNITS: Mapping[str, float] = MappingProxyType({
    "": 1.0,
    "mm": 1.0, "m": 1000.0, "in": MM_PER_INCH, "ft": 12 * MM_PER_INCH,
    "1/in": 1 / MM_PER_INCH, "in^4": MM_PER_INCH**4,
    "MPa": 1.0, "GPa": 1000.0, "psi": MPA_PER_PSI, "ksi": 1000 * MPA_PER_PSI,
    "N m": 1000.0, "kN m": 1e6, "kip in": N_MM_PER_KIP_INCH,
})
"""What one unit of a book is in mm, N and MPa."""

Mark = Literal["seen", "memory", "derived"]


@dataclass(frozen=True)
class Given:
    """A number a published example starts from, as printed."""

    value: float
    unit: str  # a key of HOUSE_UNITS

    @property
    def house(self) -> float:
        """The number in mm, N and MPa. [any]"""
        return self.value * HOUSE_UNITS[self.unit]

    def __str__(self) -> str:
        return f"{self.value:g} {self.unit}".strip()


@dataclass(frozen=True)
class Answer(Given):
    """A published answer, and how near we must come to it."""

    tolerance: float = 0.001  # largest share of the answer we may differ by
    mark: Mark = "seen"  # how we know the number
    reason: str = ""  # why the tolerance is wider than the last printed digit, where it is

    def accepts(self, computed: float) -> bool:
        """Return whether a number in mm, N and MPa is near enough to the published one."""
        return abs(computed - self.house) <= self.tolerance * abs(self.house)

    def beside(self, computed: float) -> str:
        """Return both numbers in the book's unit, such as ``published 0.531 in, computed 0.5306 in``."""
        ours = f"{computed / HOUSE_UNITS[self.unit]:.4g} {self.unit}".strip()
        return f"published {self}, computed {ours}"


@dataclass(frozen=True)
class Published:
    """One published example."""

    id: str  # as the tests and lessons quote it
    title: str
    source: str  # author, book or page, and place in it
    inputs: Mapping[str, Given] = field(hash=False)
    answers: Mapping[str, Answer] = field(hash=False)
    note: str = ""  # the book's assumptions where they differ from ours, and the formula of a derived number

    def given(self, name: str) -> float:
        """Return an input in mm, N and MPa. [any]"""
        return self.inputs[name].house


def _records() -> Iterator[Published]:
    """Yield the examples of the data file, in its order."""
    for id, record in tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8")).items():
        record["inputs"] = {name: Given(**number) for name, number in record["inputs"].items()}
        record["answers"] = {name: Answer(**number) for name, number in record["answers"].items()}
        yield Published(id, **record)


PUBLISHED: Mapping[str, Published] = MappingProxyType({record.id: record for record in _records()})
"""Every published example by its id."""
