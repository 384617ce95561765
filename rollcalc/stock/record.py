"""Answers that show themselves: a few lines in a terminal, a small table in a notebook."""

from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from html import escape
from itertools import zip_longest
from typing import Any, ClassVar

import numpy as np

LONGEST = 800
"""Characters of an answer in a terminal."""

STYLE = "text-align:left;padding:.15em .8em .15em 0;vertical-align:top"

CAPTION = "text-align:left;font-weight:bold;min-width:36em"
"""A caption is no narrower than a line of text, however narrow its table."""


@dataclass(frozen=True)
class Shown:
    """What an answer shows: a caption, columns where it is a table, rows that start with their name, and sentences.

    A row may end with a share; it becomes a bar, of which 1 is full.
    """

    caption: str
    rows: tuple[tuple[str, ...], ...]
    head: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    shares: tuple[float, ...] = ()


class Record:
    """A frozen record that shows itself and equals another with the same contents."""

    SHOWS: ClassVar[str] = ""
    """What to show, with units: "turns [turns], travel [mm]"; nothing for every field that is not as usual."""

    def shown(self) -> Shown:
        """Return what this record shows of itself."""
        names = self.SHOWS or ",".join(one.name for one in fields(self) if differs(self, one))  # type: ignore[arg-type]
        pairs = (one.strip().removesuffix("]").partition(" [") for one in names.split(",") if one.strip())
        rows = ((name.replace("_", " "), said(getattr(self, name), unit)) for name, _, unit in pairs)
        return Shown(self.caption, tuple(row for row in rows if row[1]))

    @property
    def caption(self) -> str:
        """What this record is, in a line."""
        return type(self).__name__

    def __repr__(self) -> str:
        """Return the caption and a line for each row, short enough to read."""
        text = as_text(self.shown())
        return text if len(text) <= LONGEST else text[: LONGEST - 2].rsplit("\n", 1)[0] + "\n…"

    def _repr_html_(self) -> str:
        """Return a table with a caption and header cells."""
        return as_html(self.shown())

    def __eq__(self, other: object) -> bool:
        """Return whether another record is of this kind and has the same contents."""
        if type(self) is not type(other):
            return NotImplemented
        return all(map(_same, self._contents().values(), other._contents().values()))

    def __hash__(self) -> int:
        """Return the same number for the same contents."""
        return hash((type(self), *map(_hashable, self._contents().values())))

    def _contents(self) -> dict[str, Any]:
        """Return what its fields hold."""
        return {one.name: getattr(self, one.name) for one in fields(self)}  # type: ignore[arg-type]

    def _keep(self, **checked: Any) -> None:
        """Put checked values in the place of those that were given."""
        for name, value in checked.items():
            object.__setattr__(self, name, value)


class Written(Record):
    """A record that a user writes: in a terminal it is shown as it is written, what is long by its range."""

    def __repr__(self) -> str:
        """Return the call that makes it."""
        written = (f"{name}={_as_written(value)}" for name, value in self._contents().items())
        return f"{type(self).__name__}({', '.join(written)})"


def said(value: Any, unit: str = "") -> str:
    """Return a value in words: a number with its unit, many by their range; radians as degrees, shares as percent."""
    if value is None or isinstance(value, (str, bool)):
        return "" if value is None else str(value)
    if isinstance(value, tuple):
        words = [str(one) for one in value]
        return f"{len(words)} of them" if len(words) > 4 or any("\n" in word for word in words) else (
            ", ".join(words) + (f" {unit}" if words and unit not in ("", "-") else ""))
    if not isinstance(value, (int, float, np.ndarray, np.generic)):
        return said_in_short(value)
    numbers = np.asarray(value)
    if numbers.dtype.kind not in "fiu":
        return f"{numbers.size} values" if numbers.ndim else str(value)
    factor, unit = {"rad": (180 / np.pi, "°"), "%": (100.0, "%")}.get(unit, (1.0, unit))
    space = "" if unit in ("", "-", "°") else " "
    after = space + ("" if unit == "-" else unit)
    if numbers.size == 1:
        number = numbers.item() * factor
        return f"{_digits(number)}{after if np.isfinite(number) else ''}"
    ends = [_digits(float(end) * factor) for end in (numbers.min(), numbers.max())] if numbers.size else []
    return f"{numbers.size} values" + (f", {ends[0]} to {ends[1]}{after}" if ends else "")


def said_in_short(value: Any) -> str:
    """Return the caption of a record, the name of what has one, or what it is."""
    if isinstance(value, Record):
        return value.caption
    return str(getattr(value, "name", "") or type(value).__name__)


def as_text(shown: Shown) -> str:
    """Return lines, the columns below each other."""
    table = [row for row in (shown.head, *shown.rows) if row]
    columns = zip_longest(*table, fillvalue="")
    wide = [max(map(len, column)) for column in columns]
    lines = ["  " + "  ".join(map(str.ljust, row, wide)).rstrip() for row in table]
    if shown.shares:
        longest, blocks = max(map(len, lines)), [round(10 * _filled(share)) for share in shown.shares]
        bars = [""] * bool(shown.head) + ["█" * number for number in blocks]
        lines = [f"{line:<{longest}}  {bar}".rstrip() for line, bar in zip(lines, bars, strict=True)]
    return "\n".join([shown.caption, *lines, *shown.notes])


def as_html(shown: Shown) -> str:
    """Return a table: a caption, header cells for columns and rows, bars that say nothing the numbers do not."""
    caption = f'<caption style="{CAPTION}">{escape(shown.caption)}</caption>'
    parts = [f'<table class="rollcalc-answer">{caption}']
    if shown.head:
        cells = "".join(f'<th scope="col" style="{STYLE}">{escape(cell)}</th>' if cell else "<td></td>"
                        for cell in shown.head)
        parts.append(f"<thead><tr>{cells}</tr></thead>")
    parts.append("<tbody>")
    for number, (name, *values) in enumerate(shown.rows):
        body = "".join(f'<td style="{STYLE}">{escape(value)}</td>' for value in values)
        parts.append(f'<tr><th scope="row" style="{STYLE};font-weight:normal">{escape(name)}</th>{body}'
                     f"{_bar(shown.shares[number]) if shown.shares else ''}</tr>")
    parts.append("</tbody></table>")
    return "".join(parts) + "".join(f"<p>{escape(note)}</p>" for note in shown.notes)


def _bar(share: float) -> str:
    """Return a cell with a bar as long as a share, for the eye only: the numbers stand beside it."""
    return ('<td aria-hidden="true"><div style="width:8em;border:1px solid currentColor;height:.7em">'
            f'<div style="width:{_filled(share):.0%};height:100%;background:currentColor"></div></div></td>')


def _filled(share: float) -> float:
    """Return how much of a bar is filled: nothing where there is no number."""
    return min(share, 1.0) if share >= 0 else 0.0


def _as_written(value: Any) -> str:
    """Return a value as Python writes it, or in words where that is long."""
    written = repr(value)
    return written if len(written) <= 100 and "\n" not in written else said(value)[:100]


def _digits(number: float) -> str:
    """Return a number with four digits, and no power of ten where it can be helped."""
    if not np.isfinite(number):
        return {np.inf: "infinite", -np.inf: "minus infinite"}.get(number, "no number")
    if abs(number) < 1e-12:
        return "0"  # what rounding leaves, which differs between processors
    return f"{number:.0f}" if 1000 <= abs(number) < 1e9 else f"{number:.4g}"


def differs(record: Any, field: Any) -> bool:
    """Return whether a field is not as it is usually."""
    value = getattr(record, field.name)
    return value is not None and (field.default is MISSING or not _same(value, field.default))


def _hashable(part: Any) -> Any:
    """Return what stands for a part of a record in its hash: the same for parts that are equal."""
    if isinstance(part, tuple):
        return tuple(map(_hashable, part))
    if isinstance(part, Mapping):
        return frozenset(part.items())
    if isinstance(part, np.ndarray) and part.ndim:
        return part.shape  # numbers that are equal may differ in their bytes, as 0 and -0 do
    single = part.item() if isinstance(part, np.ndarray) else part
    return "nan" if single != single else single


def _same(one: Any, other: Any) -> bool:
    """Return whether two values are equal: as a whole where they are arrays, part by part where they are tuples."""
    if isinstance(one, tuple) or isinstance(other, tuple):
        return type(one) is type(other) and len(one) == len(other) and all(map(_same, one, other))
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        one, other = np.asarray(one), np.asarray(other)
        return one.dtype.kind == other.dtype.kind and np.array_equal(one, other, equal_nan=one.dtype.kind == "f")
    return bool(one is other or one == other or (one != one and other != other))
