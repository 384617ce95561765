"""Command: roll sheets of plane-strain continuum and store what comes out in continuum.csv.

    python -m tests.outside.make_continuum

The model is our own (tests/outside/continuum); numpy and scipy are all it needs, and it takes about half an hour.
It knows nothing of moments, plane sections or springback. A nip is set by how far apart the front rolls are, and the
force they press with comes out.
"""

from __future__ import annotations

import csv
import time
from collections.abc import Iterator
from dataclasses import asdict

import numpy as np
import scipy

from tests.outside.continuum.march import PINCH_CELL, PYRAMID_CELL, march_pinch, march_pyramid
from tests.outside.continuum_table import TABLE, machine_of, metal_of

Numbers = dict[str, float | None]

# Name, E [MPa], ν [-], then yield strength and H [MPa], or K [MPa], ε₀ and n; round numbers, for the comparison only.
METALS: dict[str, Numbers] = {
    name: dict(zip(("E_MPa", "poisson", "yield_MPa", "H_MPa", "K_MPa", "offset", "exponent"), values, strict=True))
    for name, *values in (
        ("soft steel", 205_000, 0.30, 215, 0, None, None, None),
        ("mild steel", 205_000, 0.30, 250, 0, None, None, None),
        ("hard steel", 205_000, 0.30, 290, 0, None, None, None),
        ("hardening steel", 205_000, 0.30, 250, 1500, None, None, None),
        ("stainless steel", 193_000, 0.29, None, None, 1400, 0.012, 0.40),
        ("aluminium", 68_900, 0.33, 140, 0, None, None, None),
        ("hardening aluminium", 68_900, 0.33, 120, 700, None, None, None),
        ("harder aluminium", 68_900, 0.33, 200, 500, None, None, None),
        ("copper", 117_000, 0.34, None, None, 420, 0.010, 0.35),
    )
}
SIZES = ("inside_roll_mm", "front_roll_mm", "bending_roll_mm", "distance_mm", "guide_degrees")
PINCHES = {"small": (32, 30, 32, 40, 100), "middle": (60, 55, 60, 76, 105), "large": (92, 90, 80, 112, 115)}
PYRAMIDS = {
    "small": (160, 140, 140, 200, None),
    "middle": (200, 170, 170, 240, None),
    "large": (240, 200, 200, 300, None),
}

# Machine, thickness, metal, travel, and for a nip how much wider than the sheet it is [mm].
PINCHED = (
    ("small", 0.6, "soft steel", 15.9, 0.035),
    ("small", 0.8, "aluminium", 14.7, 0.100),
    ("small", 1.0, "hardening steel", 9.25, 0.085),
    ("small", 0.6, "stainless steel", 7.3, 0.015),
    ("middle", 0.8, "stainless steel", 26.7, 0.020),
    ("middle", 1.2, "hard steel", 19.0, 0.060),
    ("middle", 2.0, "hardening aluminium", 14.5, 0.045),
    ("middle", 1.5, "copper", 26.1, 0.030),
    ("middle", 1.0, "soft steel", 25.3, 0.000),
    ("large", 3.0, "soft steel", 20.1, 0.085),
    ("large", 2.0, "hardening steel", 36.0, 0.105),
)
PRESSED = (
    ("small", 4.0, "soft steel", 12.3),
    ("small", 8.0, "hardening steel", 6.6),
    ("middle", 4.0, "mild steel", 18.1),
    ("middle", 6.0, "mild steel", 8.1),
    ("middle", 8.0, "mild steel", 10.2),
    ("middle", 12.0, "mild steel", 8.8),
    ("middle", 12.0, "hardening steel", 7.2),
    ("middle", 4.0, "harder aluminium", 24.6),
    ("middle", 8.0, "harder aluminium", 13.8),
    ("large", 6.0, "aluminium", 22.7),
    ("large", 10.0, "stainless steel", 13.3),
    ("large", 12.0, "hard steel", 9.5),
)


def cases() -> Iterator[dict[str, str | float | None]]:
    """Yield the inputs of every case, in mm and MPa."""
    for machine, thickness, metal, travel, gap in PINCHED:
        sizes = dict(zip(SIZES, PINCHES[machine], strict=True))
        yield {"kind": "pinch", **sizes, "thickness_mm": thickness, "metal": metal, **METALS[metal],
               "travel_mm": travel, "gap_mm": gap}
    for machine, thickness, metal, travel in PRESSED:
        sizes = dict(zip(SIZES, PYRAMIDS[machine], strict=True))
        yield {"kind": "pyramid", **sizes, "thickness_mm": thickness, "metal": metal, **METALS[metal],
               "travel_mm": travel, "gap_mm": None}


def as_line(case: dict[str, str | float | None]) -> dict[str, str]:
    """Return a case as the table writes it, nothing for what it does not have."""
    return {key: "" if value is None else str(value) for key, value in case.items()}


def rolled(line: dict[str, str]) -> dict[str, str]:
    """Return what comes out of the rolls, by the table's names."""
    machine, metal = machine_of(line), metal_of(line)
    thickness, travel = float(line["thickness_mm"]), float(line["travel_mm"])
    if line["kind"] == "pinch":
        found = march_pinch(machine, thickness, metal, travel, float(line["gap_mm"]))
    else:
        found = march_pyramid(machine, thickness, metal, travel)
    units = {"radius": "mm", "newer": "mm", "older": "mm", "roundness": "mm", "cells": "", "rounds": "",
             "front_force": "N_mm", "bending_force": "N_mm", "drive_force": "N_mm", "force_scatter": ""}
    return {f"{name}_{units[name]}".rstrip("_"): f"{value:.5g}" for name, value in asdict(found).items()}


def write(rows: list[dict[str, str]]) -> None:
    """Write the table."""
    with TABLE.open("w", newline="", encoding="utf-8") as file:
        file.write("# Computed, not published: python -m tests.outside.make_continuum, "
                   f"with numpy {np.__version__} and scipy {scipy.__version__}.\n")
        file.write(f"# Plane strain; elements {PINCH_CELL} (pinch) and {PYRAMID_CELL} (pyramid) thicknesses long, "
                   "4 through the thickness; forces per mm of width.\n")
        writer = csv.DictWriter(file, fieldnames=list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def main() -> None:
    """Roll every case and write the table, anew after each."""
    rows = []
    for line in map(as_line, cases()):
        start = time.perf_counter()
        rows.append(line | rolled(line))
        write(rows)
        piece, took = f"{line['kind']} {line['thickness_mm']} mm {line['metal']}", time.perf_counter() - start
        print(f"{piece}: R {rows[-1]['radius_mm']} mm, {took:.0f} s", flush=True)


if __name__ == "__main__":
    main()
