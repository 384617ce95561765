"""Moment against curvature, held against an independent section library (see make_crosscheck.py)."""

from __future__ import annotations

import pytest

import rollcalc as rc
from tests.outside import make_crosscheck
from tests.outside.crosscheck_table import ROWS, Row

WANTED = 0.005
"""What the project promises: 0.5 %."""
POLYGON_ERROR = {rc.Sheet: 1e-12, rc.FlatBar: 1e-12, rc.RoundBar: 1e-5}
"""The polygon integral is exact on a rectangle; its circle is a polygon of 2000 corners."""
FIBRE_ERROR = 3e-4
"""Error of the stored fibre mesh: halving the fibres' area halves it, and the moment is always low."""


def name_of(row: Row) -> str:
    """Return the row's name, for the test report."""
    return row.name


def our_moment(row: Row) -> float:
    """Return rollcalc's moment for a row. [N mm]"""
    return float(rc.bending_moment(row.stock, row.metal, row.curvature))


def test_table_covers_what_was_promised() -> None:
    assert len(ROWS) >= 48
    assert {type(row.stock) for row in ROWS} == {rc.Sheet, rc.FlatBar, rc.RoundBar}
    assert {row.metal.name for row in ROWS} == {"low-carbon steel", "stainless steel", "aluminium", "copper", "brass"}
    ratios = [1 / (row.curvature * float(row.stock.depth)) for row in ROWS]
    assert (min(ratios), max(ratios)) == pytest.approx((5, 500))
    assert {row.metal.hardening_modulus > 0 for row in ROWS} == {False, True}
    shares = [our_moment(row) / float(rc.yield_moment(row.stock, row.metal)) for row in ROWS]
    assert min(shares) < 0.9, "some are elastic"
    assert max(shares) > 1.69, "some are fully plastic"


@pytest.mark.parametrize("row", ROWS, ids=name_of)
def test_moment_agrees_with_the_section_library(row: Row) -> None:
    assert our_moment(row) == pytest.approx(row.fibre_moment, rel=WANTED)
    assert our_moment(row) == pytest.approx(row.fibre_moment, rel=FIBRE_ERROR)
    assert our_moment(row) == pytest.approx(row.polygon_moment, rel=POLYGON_ERROR[type(row.stock)])


def test_table_holds_the_commands_cases() -> None:
    cases = [{key: str(value) for key, value in case.items()} for case in make_crosscheck.cases()]
    assert [{key: row.line[key] for key in cases[0]} for row in ROWS] == cases


@pytest.mark.parametrize("row", ROWS[7::36], ids=name_of)
def test_library_run_again_gives_the_stored_moment(row: Row) -> None:
    pytest.importorskip("structuralcodes", reason="needs the extra crosscheck")
    assert make_crosscheck.library_moment(row.line, "marin") == pytest.approx(row.polygon_moment, rel=1e-9)
    assert make_crosscheck.library_moment(row.line, "fiber") == pytest.approx(row.fibre_moment, rel=1e-6)
    coarse, medium, fine = (abs(make_crosscheck.library_moment(row.line, "fiber", mesh) / row.polygon_moment - 1)
                            for mesh in (0.01, 0.001, 0.0001))
    assert coarse > 3 * medium > 9 * fine, "the fibres' error falls with their area"
