"""Command: how long the checks of a whole capacity chart take, beside the same checks one piece at a time.

    python tests/benchmark_capacity.py

Nothing here is a test: clocks of shared machines are no ground for pass and fail.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import rollcalc.rolling as rolling
from rollcalc.stock import MATERIALS, Material, Sheet
from tests.benchmark import line, seconds_of, shown

PAIRS, SINGLE = 100_000, 300


def main() -> None:
    """Print the times."""
    random = np.random.default_rng(3)
    thickness, width = random.uniform(0.4, 4, PAIRS), random.uniform(20, 760, PAIRS)
    strength = random.uniform(50, 350, PAIRS)
    many = Sheet(thickness=thickness, width=width), Material("many", 205_000, 0.3, strength)
    some = zip(*(numbers[:SINGLE].tolist() for numbers in (thickness, width, strength)), strict=True)
    pieces = [(Sheet(thickness=thick, width=wide), Material("one", 205_000, 0.3, hard)) for thick, wide, hard in some]
    for machine in (rolling.DEMO_MACHINE, replace(rolling.DEMO_MACHINE, pinch_force=5000.0),
                    rolling.DEMO_MACHINE.with_perfect_nip()):
        words = machine.nip.split(",")[0]
        check = partial(rolling.check_capacity, machine, released_radius=90.0)
        alike = 1 / check(*many)["bending-roll force"].ratio[:SINGLE]  # nothing where the rolls cannot hold the curve
        worst = np.max(np.abs([1 / check(*piece)["bending-roll force"].ratio for piece in pieces] - alike))
        assert worst < 1e-9, "the two ways must agree before their times mean anything"
        whole = seconds_of(partial(check, *many))
        single = seconds_of(lambda check=check: [check(*piece) for piece in pieces]) / SINGLE
        line(f"all checks, per pair of {PAIRS:,}, {words}", whole / PAIRS, "the same, one piece at a time", single,
             f"all of them in {shown(whole)}, promised: 2 s")
    steel, body = MATERIALS["low-carbon steel, cold rolled"], Sheet(thickness=0.76, width=240)
    plan = seconds_of(partial(rolling.pass_schedule, rolling.DEMO_MACHINE, body, steel, 90.38))
    setting = seconds_of(partial(rolling.setting_for_radius, rolling.DEMO_MACHINE, body, steel, 90.38))
    print(f"one pass schedule takes {shown(plan)}, as long as {plan / setting:.0f} settings")


if __name__ == "__main__":
    main()
