"""The stored table of crosscheck.csv, as rollcalc's stock and metals."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

import rollcalc as rc

TABLE = Path(__file__).with_name("crosscheck.csv")


@dataclass(frozen=True)
class Row:
    """One stored case: raw inputs, the library's two moments, and its line of the file."""

    name: str
    stock: rc.Stock
    metal: rc.Material
    curvature: float
    polygon_moment: float
    fibre_moment: float
    line: dict[str, str]


def stored_lines() -> list[dict[str, str]]:
    """Return the lines of the file, without its comments."""
    with TABLE.open(encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def row_of(line: dict[str, str]) -> Row:
    """Return a line's row, from its raw inputs and not from what the library was fed."""
    depth, width = float(line["depth_mm"]), float(line["width_mm"])
    stocks = {"sheet": rc.Sheet(thickness=depth, width=width), "flat bar": rc.FlatBar(depth, width),
              "round bar": rc.RoundBar(depth)}
    return Row(
        name=f"{line['shape']}, {line['metal']}, R/t {line['radius_ratio']}, H {float(line['H_MPa']):.0f}",
        stock=stocks[line["shape"]],
        metal=rc.Material(line["metal"], *(float(line[key]) for key in ("E_MPa", "poisson", "yield_MPa", "H_MPa"))),
        curvature=float(line["curvature_per_mm"]),
        polygon_moment=float(line["polygon_moment_Nmm"]),
        fibre_moment=float(line["fibre_moment_Nmm"]),
        line=line,
    )


ROWS = [row_of(line) for line in stored_lines()]
