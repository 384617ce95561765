"""Lesson 00 says of the machine what the library knows of it."""

from pathlib import Path

import nbformat

import rollcalc as rc

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "00_start_here.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]


def test_the_pinch_it_names_is_the_machine_s_and_said_to_be_invented():
    assert f"presses the front rolls together: {rc.DEMO_MACHINE.pinch_force:.0f} N." in PROSE
    assert "Lantern, class and machine are invented" in PROSE
    captions = "".join(str(output) for cell in BOOK.cells for output in cell.get("outputs", []))
    assert f"in the nip ({rc.DEMO_MACHINE.nip})" in captions


def test_the_pinch_changes_the_radius():
    sheet = rc.Sheet(thickness=0.76, width=240)
    travel = rc.setting_for_radius(rc.DEMO_MACHINE, sheet, STEEL, 90.38).travel
    perfect = rc.radius_for_travel(rc.DEMO_MACHINE.with_perfect_nip(), sheet, STEEL, travel)
    assert abs(perfect - 90.38) > 10
