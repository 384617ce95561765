"""How the start of a ring closes in on its numbers as the cells of the march get smaller: rows for a table."""

from __future__ import annotations

import rollcalc as rc
from rollcalc.rolling import Machine, setting_for_radius
from rollcalc.rolling.flat_ends import read_ends, rolled

CELLS = (20, 40, 80)
"""Cells in the span behind the inside roll; the library takes 40. [-]"""
BODY, STEEL, RADIUS = rc.Sheet(thickness=0.76, width=240), rc.MATERIALS["low-carbon steel, cold rolled"], 90.4
MACHINES: tuple[tuple[str, Machine], ...] = (
    ("perfect nip", rc.DEMO_MACHINE.with_perfect_nip()), ("2500 N", rc.DEMO_MACHINE))
HEAD = "| nip | cell, mm | stays flat, mm | kink at, mm | kink over steady | trim for 2 %, mm | steady radius |"


def starts(cells: int) -> list[tuple[str, float, rc.rolling.FlatEnds]]:
    """Return nip, cell and ends of the lantern's body, rolled in one pass."""
    found = []
    for name, machine in MACHINES:
        settings = (setting_for_radius(machine, BODY, STEEL, RADIUS),)
        strip, laid = rolled(settings, cells=cells)
        found.append((name, strip.cell, read_ends(strip, laid, settings, 0.02)))
    return found


def rows() -> list[str]:
    """Return the table's rows, the nips one after the other, coarse cells first."""
    table = [(name, cell, ends) for cells in CELLS for name, cell, ends in starts(cells)]
    table.sort(key=lambda row: (row[0] != MACHINES[0][0], -row[1]))
    return [f"| {name} | {cell:.2f} | {ends.leading:.1f} | {ends.kink_position:.1f} | {ends.kink_ratio:.2f} "
            f"| {ends.trim:.0f} | {100 * (ends.steady_radius / RADIUS - 1):+.2f} % |"
            for name, cell, ends in table]


if __name__ == "__main__":
    print("\n".join([HEAD, "|---" * 7 + "|", *rows()]))
