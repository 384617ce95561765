"""The stored table of continuum.csv as rollcalc's machines, stock and metals, and what the library says of it."""

from __future__ import annotations

import csv
from dataclasses import dataclass, replace
from pathlib import Path

import rollcalc as rc

TABLE = Path(__file__).with_name("continuum.csv")
WIDTH = 100.0
"""Width of the library's sheet; the table's forces are per mm of it. [mm]"""


@dataclass(frozen=True)
class Row:
    """One stored case: the machine, the piece, what the continuum made of it, and its line of the file."""

    name: str
    machine: rc.Machine
    stock: rc.Sheet
    metal: rc.Material
    travel: float
    radius: float
    error_bar: float
    front_force: float
    bending_force: float
    drive_force: float
    line: dict[str, str]


def stored_lines() -> list[dict[str, str]]:
    """Return the lines of the file, without its comments."""
    if not TABLE.exists():
        return []
    with TABLE.open(encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def metal_of(line: dict[str, str]) -> rc.Material:
    """Return a line's metal."""
    names = {"yield_strength": "yield_MPa", "hardening_modulus": "H_MPa"}
    law = {key: float(line[name]) for key, name in names.items() if line[name]}
    swift = rc.Swift(*(float(line[key]) for key in ("K_MPa", "offset", "exponent"))) if line["K_MPa"] else None
    return rc.Material(line["metal"], float(line["E_MPa"]), float(line["poisson"]), swift=swift, **law)


def machine_of(line: dict[str, str]) -> rc.Machine:
    """Return a line's machine, a pinch machine with a perfect nip."""
    inside, front, bending, distance = (
        float(line[key]) for key in ("inside_roll_mm", "front_roll_mm", "bending_roll_mm", "distance_mm")
    )
    if line["kind"] == "pyramid":
        return rc.PyramidMachine(top_roll_diameter=inside, bottom_roll_diameter=bending, bottom_roll_spacing=distance,
                                 screw_pitch=1, working_width=1000)
    return rc.PinchMachine(upper_roll_diameter=inside, lower_roll_diameter=front, bending_roll_diameter=bending,
                           guide_distance=distance, guide_angle_degrees=float(line["guide_degrees"]), screw_pitch=1,
                           working_width=1000)


def row_of(line: dict[str, str]) -> Row:
    """Return a line's row."""
    return Row(
        name=f"{line['thickness_mm']} mm {line['metal']}, {line['inside_roll_mm']} mm roll",
        machine=machine_of(line),
        stock=rc.Sheet(thickness=float(line["thickness_mm"]), width=WIDTH),
        metal=metal_of(line),
        travel=float(line["travel_mm"]),
        radius=float(line["radius_mm"]),
        error_bar=abs(float(line["newer_mm"]) / float(line["older_mm"]) - 1),
        front_force=float(line["front_force_N_mm"]),
        bending_force=float(line["bending_force_N_mm"]),
        drive_force=float(line["drive_force_N_mm"]),
        line=line,
    )


def by_library(row: Row) -> dict[str, rc.Setting]:
    """Return the library's settings for a row, by what they assume: the model for a machine stands first.

    A pinch machine is pressed with the force that the continuum's front rolls felt, or has a perfect nip. A pyramid
    machine bends a plate, or a plain beam.
    """
    if isinstance(row.machine, rc.PinchMachine):
        kinds = {"pressed": replace(row.machine, pinch_force=row.front_force * WIDTH), "perfect nip": row.machine}
    else:
        kinds = {"plate": row.machine, "beam": replace(row.machine, peak="beam")}
    return {kind: rc.setting_for_travel(machine, row.stock, row.metal, row.travel) for kind, machine in kinds.items()}


ROWS = [row_of(line) for line in stored_lines()]
PINCHES = [row for row in ROWS if isinstance(row.machine, rc.PinchMachine)]
PYRAMIDS = [row for row in ROWS if isinstance(row.machine, rc.PyramidMachine)]
