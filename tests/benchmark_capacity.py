"""Command: how long the checks of a whole capacity chart take, and one pass schedule.

    python tests/benchmark_capacity.py

Nothing here is a test: clocks of shared machines are no ground for pass and fail.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import rollcalc.rolling as rolling
from rollcalc.stock import MATERIALS, Material, Sheet

PAIRS = 100_000


def seconds_of(work: Callable[[], Any], times: int = 5) -> tuple[float, float]:
    """Return best and median time of some work, after one run to warm up."""
    work()
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        spent.append(time.perf_counter() - start)
    return min(spent), statistics.median(spent)


def main() -> None:
    """Print the times."""
    random = np.random.default_rng(3)
    sheet = Sheet(random.uniform(0.4, 4, PAIRS), random.uniform(20, 760, PAIRS))
    metal = Material("many", 205_000, 0.3, random.uniform(50, 350, PAIRS))
    for words, machine in (("perfect nip", rolling.DEMO_MACHINE),
                           ("pinch of 3 kN", replace(rolling.DEMO_MACHINE, pinch_force=3000.0))):  # fmt: skip
        best, median = seconds_of(partial(rolling.check_capacity, machine, sheet, metal, 90.0))
        what = f"all checks for {PAIRS:,} pairs of stock and metal, {words:<14}"
        print(f"{what} best {best:.3f} s, median {median:.3f} s   promised: under 1 s")
    steel = MATERIALS["low-carbon steel, cold rolled"]
    best, median = seconds_of(lambda: rolling.pass_schedule(rolling.DEMO_MACHINE, Sheet(0.76, 240), steel, 90.38))
    print(f"one pass schedule                                              best {best:.3f} s, median {median:.3f} s")


if __name__ == "__main__":
    main()
