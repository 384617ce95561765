"""Command: bend 180 sections with an independent library and store its moments in crosscheck.csv.

    python -m pip install -e ".[crosscheck]"
    python tests/outside/make_crosscheck.py

The library is structuralcodes (Apache-2.0): sections of general structures, by a Marin (polygon) integral and by
a mesh of triangular fibres. It knows nothing of sheet, rolls or springback. Plane strain is fed to it as constants.
"""

from __future__ import annotations

import csv
import itertools
import math
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path

TABLE = Path(__file__).with_name("crosscheck.csv")
MESH = 0.00005
"""Largest fibre, as a share of the section's area: about 35 000 fibres; its moments are at most 2e-4 low."""
CIRCLE_POINTS = 2000
"""Corners of the polygon that stands for a circle; its section modulus is 1e-5 low."""

# Name, E [MPa], ν [-], yield strength [MPa]; round numbers of the usual size, for the comparison only.
METALS = (
    ("low-carbon steel", 205_000.0, 0.30, 210.0),
    ("stainless steel", 193_000.0, 0.29, 290.0),
    ("aluminium", 68_900.0, 0.33, 145.0),
    ("copper", 117_000.0, 0.34, 69.0),
    ("brass", 112_000.0, 0.34, 350.0),
)
RADIUS_RATIOS = (5, 15, 50, 100, 200, 500)
"""Loaded radius of the middle, in thicknesses."""
SECTIONS = (("sheet", 0.8, 3.2), ("flat bar", 3.0, 12.0), ("round bar", 6.0, 6.0))
"""Shape, depth and width [mm]; a moment is proportional to a rectangle's width, so a narrow slice is enough."""
HARDENING_SHARES = (0.0, 0.01)
"""Hardening modulus H as a share of E."""


def cases() -> Iterator[dict[str, float | str]]:
    """Yield the inputs of every case: our own words, mm and MPa."""
    for section, metal, ratio, share in itertools.product(SECTIONS, METALS, RADIUS_RATIOS, HARDENING_SHARES):
        shape, depth, width = section
        name, modulus, poisson, strength = metal
        yield {"shape": shape, "depth_mm": depth, "width_mm": width, "metal": name, "E_MPa": modulus,
               "poisson": poisson, "yield_MPa": strength, "H_MPa": share * modulus, "radius_ratio": ratio,
               "curvature_per_mm": 1 / (ratio * depth)}


def fed_constants(case: dict[str, float | str]) -> tuple[float, float, float]:
    """Return modulus, yield and tangent [MPa] as the library takes them, plane strain written out for a sheet."""
    modulus, strength, hardening = (float(case[key]) for key in ("E_MPa", "yield_MPa", "H_MPa"))
    if case["shape"] == "sheet":
        modulus /= 1 - float(case["poisson"]) ** 2
        strength *= 2 / math.sqrt(3)
        hardening *= 4 / 3
    return modulus, strength, modulus * hardening / (modulus + hardening)


def library_moment(case: dict[str, float | str], integrator: str, mesh: float = MESH) -> float:
    """Return the library's moment. [N mm]"""
    from structuralcodes.geometry import CircularGeometry, RectangularGeometry
    from structuralcodes.materials.basic import GenericMaterial
    from structuralcodes.materials.constitutive_laws import ElasticPlastic
    from structuralcodes.sections import BeamSection

    modulus, strength, tangent = fed_constants(case)
    law = ElasticPlastic(E=modulus, fy=strength, Eh=tangent, eps_su=1.0)
    metal = GenericMaterial(density=1.0, constitutive_law=law)
    depth = float(case["depth_mm"])
    if case["shape"] == "round bar":
        outline = CircularGeometry(depth, metal, n_points=CIRCLE_POINTS)
    else:
        outline = RectangularGeometry(float(case["width_mm"]), depth, metal)
    options = {"mesh_size": mesh} if integrator == "fiber" else {}
    section = BeamSection(outline, integrator=integrator, **options)
    forces = section.section_calculator.integrate_strain_profile([0.0, float(case["curvature_per_mm"]), 0.0])
    return abs(float(forces.m_y))


def table_row(case: dict[str, float | str]) -> dict[str, str]:
    """Return one row of the table: inputs, what the library was fed, its two moments."""
    modulus, strength, tangent = fed_constants(case)
    row = case | {
        "fed_E_MPa": modulus,
        "fed_yield_MPa": strength,
        "fed_tangent_MPa": tangent,
        "polygon_moment_Nmm": library_moment(case, "marin"),
        "fibre_moment_Nmm": library_moment(case, "fiber"),
    }
    return {key: str(value) for key, value in row.items()}


def main() -> None:
    """Write the table."""
    rows = [table_row(case) for case in cases()]
    with TABLE.open("w", newline="", encoding="utf-8") as file:
        file.write(f"# Computed by structuralcodes {version('structuralcodes')} for make_crosscheck.py.\n")
        file.write(f"# Fibre mesh: largest fibre {MESH} of the area. Circle: polygon of {CIRCLE_POINTS} corners.\n")
        writer = csv.DictWriter(file, fieldnames=list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    print(f"{len(rows)} rows written")


if __name__ == "__main__":
    main()
