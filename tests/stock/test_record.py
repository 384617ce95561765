"""Answers that show themselves: short in a terminal, a plain table in a notebook, equal where they hold the same."""

from __future__ import annotations

import copy
import math
import re
from collections.abc import Callable, Hashable
from dataclasses import dataclass, fields, replace
from html.parser import HTMLParser
from types import MappingProxyType

import numpy as np
import pytest

import rollcalc as rc
from rollcalc import layout
from rollcalc.bending import Band, springback_band
from rollcalc.rolling.limits.check import Check
from rollcalc.stock.record import LONGEST, Record, Shown, Written, as_html, as_text, said

STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
MANY = np.linspace(0.5, 3, 5000)
SKIRT = rc.frustum_pattern(large_diameter=220, small_diameter=160, height=100)
SHEET = rc.Sheet(thickness=0.76, width=240)
SQUARE = [(0, 0), (10, 0), (10, 10), (0, 10), (0, 0)]

MAKERS: dict[str, Callable[[], Record]] = {
    "sheet": lambda: rc.Sheet(thickness=0.76, width=300),
    "sheets": lambda: rc.Sheet(thickness=MANY.copy(), width=300),
    "few sheets": lambda: rc.Sheet(thickness=np.linspace(0.5, 3, 900), width=np.linspace(10, 20, 900)),
    "flat bar": lambda: rc.FlatBar(3, 25),
    "flat bars": lambda: rc.FlatBar(np.array([3.0, 4.0]), np.array([[25.0], [30.0]])),
    "round bar": lambda: rc.RoundBar(6),
    "round bars": lambda: rc.RoundBar(MANY.copy()),
    "swift": lambda: rc.Swift(strength=1270, offset=0.0139, exponent=0.345),
    "swifts": lambda: rc.Swift(strength=1000 * MANY, offset=0.01 * MANY, exponent=0.1 * MANY),
    "material": lambda: replace(STEEL),
    "materials": lambda: rc.Material("many", 200_000, 0.3, yield_strength=200 * MANY, yield_range=(100, 900)),
    "power law": lambda: rc.Material("power", 200_000, 0.3, swift=rc.Swift(1270, 0.0139, 0.345)),
    "with sources": lambda: rc.Material("own", 200_000, 0.3, 250, source={"yield_strength": "a test", "name": "mine"}),
    "butt seam": lambda: layout.ButtSeam(gap=1.5),
    "lap seam": lambda: layout.LapSeam(width=16, rivet_diameter=4),
    "plain lap": lambda: layout.LapSeam(width=16),
    "grooved seam": lambda: layout.GroovedSeam(6),
    "label": lambda: layout.Label("fold up", (10.0, 5.0), 0.5),
    "long label": lambda: layout.Label("fold " * 500, (10.0, 5.0)),
    "flat pattern": lambda: SKIRT.flat_pattern(),
    "cylinder": lambda: rc.cylinder_blank(SHEET, inside_diameter=180, seam=layout.GroovedSeam(6)),
    "frustum": lambda: rc.frustum_pattern(220, 160, height=100),
    "straight frustum": lambda: rc.frustum_pattern(220, 220, height=100),
    "cone": lambda: layout.cone_blank(SKIRT, thickness=0.8, seam=layout.LapSeam(8), large_edge=7),
    "mitre": lambda: layout.mitred_cylinder_pattern(100, 120, 45),
    "oblique": lambda: layout.oblique_frustum_pattern(220, 160, height=100, offset=40),
    "baseline": lambda: layout.baseline_layout(SKIRT),
    "rectangle": lambda: layout.smallest_rectangle(SQUARE),
    "blanks": lambda: layout.blanks_on_sheet(SQUARE, 200, 100),
    "band": lambda: springback_band(SHEET, STEEL, loaded_radius=60),
    "bands": lambda: springback_band(SHEET, STEEL, loaded_radius=50 * MANY),
    "flat band": lambda: Band(low=60.0, nominal=math.inf, high=math.inf),
    "no band": lambda: Band(low=float("nan"), nominal=np.array([1.0, np.nan]), high=np.float64("nan")),
    "check": lambda: Check("nip opening", 2.0, 3.0, "mm", "the stock", "take thinner stock", hard_demand=2.0),
    "capacity": lambda: rc.check_capacity(rc.DEMO_MACHINE, SHEET, STEEL, 90.4),
}
EACH = pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
WRITTEN = {name: make for name, make in MAKERS.items() if isinstance(make(), Written)}


class Table(HTMLParser):
    """Reads a table: its caption, its cells with their tags, and the sentences below it."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.caption, self.rows, self.notes, self.open = "", [], [], []
        self.feed(html)
        assert not self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open.append(tag)
        if tag == "tr":
            self.rows.append([])
        elif tag in ("th", "td"):
            self.rows[-1].append([tag, dict(attrs), ""])
        elif tag == "p":
            self.notes.append("")

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "caption" in self.open:
            self.caption += data
        elif "p" in self.open:
            self.notes[-1] += data
        else:
            self.rows[-1][-1][2] += data

    def words(self) -> list[list[str]]:
        """Return the words of each row that are there to be read."""
        return [[words for _, attrs, words in row if "aria-hidden" not in attrs] for row in self.rows]


def changed(record: Record) -> Record:
    """Return a record that differs in one field."""
    other = copy.copy(record)
    name = fields(record)[0].name  # type: ignore[arg-type]
    value = getattr(record, name)
    object.__setattr__(other, name, value + "!" if isinstance(value, str) else "other")
    return other


@EACH
def test_it_is_short_in_a_terminal(make: Callable[[], Record]) -> None:
    text = repr(make())
    assert 0 < len(text) <= LONGEST


@EACH
def test_it_equals_its_like_and_nothing_else(make: Callable[[], Record]) -> None:
    one, two = make(), make()
    assert one == two
    assert hash(one) == hash(two)
    assert one != changed(one)
    assert one != repr(one)
    assert len({one, two, changed(one)}) == 2


@EACH
def test_the_table_has_a_caption_and_header_cells_and_needs_no_colour(make: Callable[[], Record]) -> None:
    record = make()
    html, shown = record._repr_html_(), record.shown()
    table = Table(html)
    assert table.caption == shown.caption != ""
    head, body = (table.rows[:1], table.rows[1:]) if shown.head else ([], table.rows)
    assert all(tag == "th" and attrs["scope"] == "col" for row in head for tag, attrs, _ in row)
    assert all(row[0][0] == "th" and row[0][1]["scope"] == "row" for row in body)
    assert all(tag == "td" for row in body for tag, _, _ in row[1:])
    assert set(re.findall(r"(?:color|background)[a-z-]*:([^;\"]+)", html)) <= {"currentColor"}


@EACH
def test_text_and_table_say_the_same(make: Callable[[], Record]) -> None:
    shown = make().shown()
    table, lines = Table(as_html(shown)), as_text(shown).splitlines()
    assert table.words() == [list(row) for row in (shown.head, *shown.rows) if row]
    assert table.notes == list(shown.notes)
    plain = " ".join(" ".join(lines).split())
    for words in (shown.caption, *(cell for row in (shown.head, *shown.rows) for cell in row), *shown.notes):
        assert " ".join(words.split()) in plain


@EACH
def test_a_bar_says_nothing_that_the_numbers_do_not(make: Callable[[], Record]) -> None:
    shown = make().shown()
    for row, share in zip(shown.rows, shown.shares, strict=True) if shown.shares else ():
        assert f"{share:.0%}".replace("%", "") in " ".join(row)
    without = replace(shown, shares=())
    assert Table(as_html(without)).words() == Table(as_html(shown)).words()
    assert as_text(without).split() == as_text(shown).replace("█", "").split()


@pytest.mark.parametrize("share", [-1.0, 0.0, 0.33, 1.0, 3.7, math.inf, math.nan])
def test_any_share_has_a_bar(share: float) -> None:
    shown = Shown("bars", (("a", "1"), ("b", "2")), shares=(share, 0.5))
    blocks = as_text(shown).splitlines()[1].count("█")
    wide = int(re.findall(r'style="width:(\d+)%', as_html(shown))[0])
    assert blocks == round(wide / 10) == (round(10 * min(share, 1)) if share > 0 else 0)


@pytest.mark.parametrize("name", WRITTEN)
def test_what_a_user_writes_is_shown_as_it_is_written(name: str) -> None:
    record = MAKERS[name]()
    if all(len(str(getattr(record, one.name))) < 100 and np.ndim(getattr(record, one.name)) == 0
           for one in fields(record)):  # type: ignore[arg-type]
        assert eval(repr(record), vars(layout) | vars(rc)) == record
    assert repr(record).startswith(type(record).__name__)


def test_kinds_are_told_apart() -> None:
    assert rc.Sheet(thickness=3, width=25) != rc.FlatBar(thickness=3, width=25)
    assert {"a": rc.FlatBar(3, 25)}["a"] in {rc.FlatBar(3.0, 25.0), rc.RoundBar(3)}


@dataclass(frozen=True, eq=False, repr=False)
class Anything(Record):
    """A record of whatever a field may hold."""

    value: object


NAN = float("nan")
EQUAL: list[tuple[object, object]] = [
    (1, 1.0), (None, None), (NAN, float("nan")), (0.0, -0.0), ("a", "a"), (np.float64(2), 2.0), (np.array(2.0), 2.0),
    (np.array([1.0, NAN]), np.array([1.0, NAN])), (np.array([0.0]), np.array([-0.0])),
    (np.array([1.0]), np.array([1.0], dtype=np.float32)), (np.array(["a", "b"]), np.array(["a", "b"])),
    ((), ()), ((np.array([1.0, 2.0]), NAN), (np.array([1.0, 2.0]), float("nan"))),
    ({"a": 1, "b": 2}, {"b": 2, "a": 1}), (MappingProxyType({"a": 1}), MappingProxyType({"a": 1})),
    (Anything((NAN,)), Anything((float("nan"),))),
]
DIFFERENT: list[tuple[object, object]] = [
    (1.0, 2.0), (None, 0.0), (None, NAN), (NAN, 1.0), (np.array([1.0, 2.0]), np.array([1.0, 3.0])),
    (np.array([1.0, 2.0]), np.array([[1.0, 2.0]])), (np.array([1.0]), (1.0,)), (np.array([1.0]), "a"),
    (np.array([1.0, 1.0]), 1.0), (np.array([2.0]), 2.0), (np.array(["1"]), np.array([1.0])),
    ((1.0,), (1.0, 2.0)), ((1.0, 2.0), (1.0, 3.0)),
    ((np.array([1.0, 2.0]),), (np.array([1.0, 4.0]),)), (None, np.array([1.0])), ({"a": 1}, {"a": 2}),
]


@pytest.mark.parametrize(("one", "two"), EQUAL)
def test_equal_contents_are_equal_and_have_one_hash(one: Hashable, two: Hashable) -> None:
    assert Anything(one) == Anything(two)
    assert Anything(two) == Anything(one)
    assert hash(Anything(one)) == hash(Anything(two))


@pytest.mark.parametrize(("one", "two"), DIFFERENT)
def test_different_contents_differ(one: object, two: object) -> None:
    assert Anything(one) != Anything(two)
    assert Anything(two) != Anything(one)


@pytest.mark.parametrize(("value", "unit", "words"), [
    (None, "mm", ""), ("left", "", "left"), (True, "", "True"), (3, "-", "3"), (0.12345, "mm", "0.1235 mm"),
    (12345.6, "N", "12346 N"), (math.pi, "rad", "180°"), (math.inf, "mm", "infinite"), (math.nan, "", "no number"),
    (np.array([3.0, 1.0, 2.0]), "mm", "3 values, 1 to 3 mm"), (np.array([3.0]), "mm", "3 mm"),
    (np.array([]), "mm", "0 values"),
    ((140.0, 280.0), "MPa", "140.0, 280.0 MPa"), ((), "mm", ""), (tuple(range(9)), "mm", "9 of them"),
    (np.array(["a", "b"]), "", "2 values"), (STEEL, "", STEEL.name),
])
def test_values_are_said_in_words(value: object, unit: str, words: str) -> None:
    assert said(value, unit) == words


def test_what_could_be_markup_is_only_shown() -> None:
    html = rc.Material("<b>steel & co</b>", 200_000, 0.3, 250)._repr_html_()
    assert "&lt;b&gt;steel &amp; co" in html
    assert "<b>" not in html
