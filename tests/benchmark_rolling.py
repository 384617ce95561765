"""Command: how fast settings are found, beside scipy's boundary-value solver, in one run; and how good the rules are.

    python tests/benchmark_rolling.py              times
    python tests/benchmark_rolling.py --rules      error of the two-thirds and two-arc rules over the contact angle

Nothing here is a test: clocks of shared machines are no ground for pass and fail.
"""

from __future__ import annotations

import argparse
import dataclasses
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))
import rollcalc as rc
from rollcalc.rolling import (
    setting_for_radius,
    setting_for_travel,
    span_shape,
    two_arc_travel,
    two_thirds_radius,
    two_thirds_travel,
)
from tests.rolling.cases import KINDS, PYRAMID, STEEL, SWIFT, THICK, roll_centres
from tests.rolling.collocation import Law, solve

CASES = (1_000, 10_000, 100_000, 1_000_000)


def best(work: Callable[[], Any], times: int = 3) -> float:
    """Return the best time of some work, after one run to warm up. [s]"""
    work()
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return min(found)


def by_collocation(machine: Any, stock: Any, material: Any, setting: Any) -> float:
    """Return the loaded curvature that scipy's solve_bvp finds for the travel of a setting, started close by."""
    inside, _front, bending, radii = roll_centres(setting)
    reach = setting.contact_angle * setting.loaded_radius * 1.1
    guess = (1.01 / setting.loaded_radius, (0.0, setting.contact_angle), (0.0, reach), 0.0)
    return solve(Law.of(stock, material), 0.0, radii[1:], radii[0], None, bending - inside, guess).loaded


def times() -> None:
    """Print times per case and their ratio to solve_bvp at the same accuracy."""
    machine, stock = KINDS["perfect"]
    setting = setting_for_radius(machine, stock, STEEL, 90)
    miss = by_collocation(machine, stock, STEEL, setting) * setting.loaded_radius - 1
    theirs = best(lambda: by_collocation(machine, stock, STEEL, setting), 5)
    print(f"solve_bvp, tol 1e-10, one case, perfect nip: {theirs * 1e3:.1f} ms; it differs from us by {miss:.0e}")
    plates = {"pyramid, plate": (dataclasses.replace(PYRAMID, peak="plate"), THICK)}
    for kind, (machine, stock) in (KINDS | plates).items():
        radius = 1.8 * machine.inside_roll_diameter
        one = setting_for_radius(machine, stock, STEEL, radius)
        wanted = best(partial(setting_for_radius, machine, stock, STEEL, radius), 50)
        back = best(partial(setting_for_travel, machine, stock, STEEL, one.travel), 20)
        shape = best(partial(span_shape, one), 20)
        print(f"{kind}: one setting_for_radius {wanted * 1e6:.0f} µs, setting_for_travel {back * 1e6:.0f} µs, "
              f"span_shape {shape * 1e6:.0f} µs")
        for cases in CASES:
            metals = STEEL.with_yield(np.random.default_rng(5).uniform(140, 280, cases))
            ours = best(partial(setting_for_radius, machine, stock, metals, radius), 2) / cases
            print(f"    {cases:>9,} sheets, any yield: {ours * 1e6:6.2f} µs a case, {theirs / ours:7,.0f} × solve_bvp")


def rules() -> None:
    """Print the error of the rules, over contact angles, for two metals."""
    machine, stock = KINDS["perfect"]
    print("two-thirds rule, perfect nip: worst error over 0.4–1.2 mm sheet, two metals and three guides")
    print("contact angle [rad]   travel   radius")
    found = two_thirds_errors()
    for low, high in zip(np.arange(0.1, 1.2, 0.1), np.arange(0.2, 1.3, 0.1), strict=True):
        inside = (found[:, 0] >= low) & (found[:, 0] < high)
        if inside.any():
            print(
                f"   {low:.1f} … {high:.1f}        {100 * np.abs(found[inside, 1]).max():6.2f} % "
                f"{100 * np.abs(found[inside, 2]).max():6.2f} %"
            )
    machine, stock = KINDS["pyramid"]
    print("two-arc rule, pyramid, 6 mm sheet:  radius   contact angle   error of travel")
    for radius in (2000, 1000, 500, 300, 200, 150):
        setting = setting_for_radius(machine, stock, STEEL, radius)
        error = two_arc_travel(machine, stock, STEEL, radius) / setting.travel - 1
        print(f"{radius:>43} {setting.contact_angle:12.2f} {100 * error:14.2f} %")


def two_thirds_errors() -> np.ndarray:
    """Return rows of contact angle, error of travel, error of radius."""
    rows = []
    machine, _ = KINDS["perfect"]
    for angle in (90, 110, 125):
        leaning = dataclasses.replace(machine, guide_angle_degrees=angle)
        for thickness in (0.4, 0.76, 1.2):
            for metal in (STEEL, SWIFT):
                for radius in np.geomspace(33, 800, 40):
                    sheet = rc.Sheet(thickness=thickness, width=240)
                    try:
                        setting = setting_for_radius(leaning, sheet, metal, radius)
                        travel = two_thirds_travel(leaning, sheet, metal, radius)
                        back = two_thirds_radius(leaning, sheet, metal, setting.travel)
                    except rc.InputError:
                        continue
                    rows.append((setting.contact_angle, travel / setting.travel - 1, back / radius - 1))
    return np.array(rows)


def main() -> None:
    """Print what is asked for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rules", action="store_true", help="print the error of the rules instead")
    print(f"Python {sys.version.split()[0]}, numpy {np.__version__}\n")
    rules() if parser.parse_args().rules else times()


if __name__ == "__main__":
    main()
