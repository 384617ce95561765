"""The library beside sheets of continuum that were really rolled (see make_continuum.py)."""

from __future__ import annotations

from dataclasses import replace

import pytest

import rollcalc as rc
from tests.outside import make_continuum
from tests.outside.continuum.march import march_pinch
from tests.outside.continuum_table import PINCHES, PYRAMIDS, ROWS, WIDTH, Row, by_library

PRESSED = 0.035
"""What the project promises where the force of the nip is known: 3.5 % of the radius."""
PLATE = 0.02
"""The same below a pyramid's top roll, where 3 % was aimed at."""
OWN_BAR = 0.015
"""How far the newer half of a run's arc may be from the older; most are far nearer."""

each_pinch = pytest.mark.parametrize("row", PINCHES, ids=lambda row: row.name)
each_pyramid = pytest.mark.parametrize("row", PYRAMIDS, ids=lambda row: row.name)


def off(row: Row, setting: rc.Setting) -> tuple[float, float, float]:
    """Return how far radius, force of the bending roll and drive force of the continuum are from a setting."""
    return (row.radius / setting.released_radius - 1, row.bending_force * WIDTH / setting.bending_roll_force - 1,
            row.drive_force * WIDTH / setting.drive_force - 1)


def test_table_covers_what_was_promised() -> None:
    assert len(PINCHES) >= 6
    assert len(PYRAMIDS) >= 3
    assert len({row.machine.inside_roll_diameter for row in PYRAMIDS}) >= 3
    assert len({row.machine.inside_roll_diameter for row in PINCHES}) >= 2
    assert min(row.radius for row in PINCHES) < 50
    assert max(row.radius for row in PINCHES) > 400
    thin, thick = (pick(row.stock.thickness for row in PINCHES) for pick in (min, max))
    assert (thin, thick) == (0.6, 3.0)
    assert {4, 12} <= {row.stock.thickness for row in PYRAMIDS}
    assert len({row.metal.name for row in ROWS}) >= 5
    assert any(row.metal.swift for row in ROWS)
    assert any(row.metal.hardening_modulus for row in ROWS)


def test_table_holds_the_commands_cases() -> None:
    cases = [make_continuum.as_line(case) for case in make_continuum.cases()]
    assert [{key: row.line[key] for key in cases[0]} for row in ROWS] == cases


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_a_run_knows_what_it_is_worth(row: Row) -> None:
    assert row.error_bar < OWN_BAR


@each_pinch
def test_a_pressed_nip_rolls_as_the_continuum_does(row: Row) -> None:
    radius, force, drive = off(row, by_library(row)["pressed"])
    assert abs(radius) < PRESSED
    assert abs(force) < 0.02
    assert abs(drive) < 0.035


def test_the_comparison_is_not_blind() -> None:
    """A perfect nip, or twice the force, is beside most of the table."""
    ideal, pressed = [], []
    for row in PINCHES:
        ideal.append(abs(off(row, by_library(row)["perfect nip"])[0]))
        harder = replace(row.machine, pinch_force=2 * row.front_force * WIDTH)
        setting = rc.setting_for_travel(harder, row.stock, row.metal, row.travel)
        pressed.append(abs(off(row, setting)[0]))
    assert sorted(ideal)[len(ideal) // 2] > 2 * PRESSED
    assert sorted(pressed)[len(pressed) // 2] > PRESSED


@each_pyramid
def test_below_a_top_roll_a_plate_bends_as_the_continuum_does(row: Row) -> None:
    radius, force, drive = off(row, by_library(row)["plate"])
    assert abs(radius) < PLATE
    assert abs(force) < 0.02
    assert abs(drive) < 0.03


def test_the_plain_beam_would_bend_too_tightly() -> None:
    beams = [off(row, by_library(row)["beam"])[0] for row in PYRAMIDS]
    assert min(beams) > 0
    assert sum(beam > 2 * PLATE for beam in beams) >= 4
    assert 0.06 < max(beams) < 0.07


def test_a_coarse_march_runs_to_its_end_and_is_near() -> None:
    """A few seconds, in longer elements and less feed: enough to see that the command still runs."""
    (row,) = (row for row in PINCHES if row.stock.thickness == 3)
    gap = float(row.line["gap_mm"])
    found = march_pinch(row.machine, row.stock.thickness, row.metal, row.travel, gap, cell=0.8, fed=1.3)
    assert found.radius == pytest.approx(row.radius, rel=0.05)
    assert found.bending_force == pytest.approx(row.bending_force, rel=0.04)
