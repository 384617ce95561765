"""Command: answers to every exercise as people write them, right ones, wrong ones and nonsense, each judged as it must.

    python -m tests.answers --answers 24000

The number is chosen first and written down afterwards, in the exercise's unit or another, spelled out or not; so it is
known what `check` must say. The short form is in `tests/lessons/test_exercises.py`.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
import time
from collections import Counter
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np

from rollcalc.lessons.engine.exercises import Problem, _modules, check, lesson_problems

LONGEST = 0.2
"""Seconds an answer may take."""

UNITS: dict[str, dict[str, float]] = {
    "mm": {"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "inches": 25.4, '"': 25.4, "ft": 304.8, "millimetres": 1,
           "millimeter": 1, "centimetres": 10, "metres": 1000, "Millimetres": 1},
    "turns": {"turns": 1, "turn": 1, "revolutions": 1, "TURNS": 1},
    "N": {"N": 1, "newtons": 1, "kN": 1000, "lbf": 4.4482216152605, "pounds": 4.4482216152605, "lb": 4.4482216152605},
    "MPa": {"MPa": 1, "N/mm2": 1, "N/mm²": 1, "GPa": 1000, "ksi": 6.894757293168361, "megapascals": 1},
    "deg": {"deg": 1, "°": 1, "degrees": 1, "rad": 180 / math.pi}, "rad": {"rad": 1, "deg": math.pi / 180},
    "%": {"%": 1, "percent": 1}, "N mm": {"N mm": 1, "N m": 1000, "newton metres": 1000}, "": {"": 1, "times": 1},
    "1/mm": {"1/mm": 1, "1/m": 1e-3},
}
"""Unit asked for -> units people write, and how much one of them is in that asked for."""

NOTHING: tuple[Any, ...] = (
    ..., None, "", "   ", "...", "…", "no idea", "90 apples", "about 90", "1,2,3", "90 91", "nan", "inf", "1e999",
    "--5", True, False, [], [1.0], (65, 3), {}, set(), object(), math.nan, math.inf, -math.inf, 1j, np.ones(2),
    np.bool_(True), "9" * 200, "\ud800", b"90", float, print, "import os", "90 mm mm", "N", "٣٤x",
)
"""What is no number, so that there is nothing to judge."""


def problems() -> list[Problem]:
    """Return every exercise of the course."""
    return [one for name in _modules() for one in lesson_problems(name.removeprefix("lesson"))]


def written(number: float, unit: str, chance: random.Random) -> tuple[Any, float]:
    """Return a number as someone writes it, and the number that was written, rounding included."""
    spelled = UNITS.get(unit, {unit: 1.0})
    way = chance.randrange(9)
    if way == 0:
        return number, number
    if way == 1:
        kind = chance.choice((np.float64, Decimal, Fraction, np.array))
        return kind(number), number
    if way == 2:
        return round(number), float(round(number))
    name, size = chance.choice(list(spelled.items()))
    whole = f"{number / size:.{chance.randint(3, 9)}f}"
    if way == 3 and unit in ("mm", "turns") and number > 0:  # a mixed number in 64ths
        parts = max(1, round(number / size * 64))
        whole = f"{parts // 64} {parts % 64}/64" if parts % 64 and parts >= 64 else f"{parts}/64"
        return f"{whole} {name}", parts / 64 * size
    text = whole if way in (6, 7, 8) or whole[-4] == "." else whole.replace(".", ",")  # 1,234 has two meanings
    gap = "" if way == 6 and not name[:1].isalpha() else " " * chance.randint(1, 2)
    return f"{' ' * chance.randint(0, 2)}{text}{gap}{name} ", float(whole) * size


def numbers(problem: Problem, chance: random.Random) -> float:
    """Return a number to answer with: right, nearly, a known slip, or far off."""
    true, tolerance = problem.true_answer, problem.tolerance
    return chance.choice((true, true + chance.uniform(-1, 1) * tolerance, true + chance.uniform(-3, 3) * tolerance,
                          *problem.wrong_answers, true * chance.choice((25.4, 1 / 25.4, 2, 0.5, -1, 1000, 0.01)),
                          chance.uniform(-2, 3) * true, 0.0, chance.uniform(-1e6, 1e6)))


def run(count: int, seed: int) -> tuple[Counter[str], float]:
    """Give so many answers; return what was judged wrongly, with how often, and the longest time one took. [s]"""
    chance, found, slowest, every = random.Random(seed), Counter[str](), 0.0, problems()
    for _ in range(count):
        problem = chance.choice(every)
        if chance.random() < 0.15:
            answer, may_be = chance.choice(NOTHING), {None}
        else:
            answer, number = written(numbers(problem, chance), problem.unit, chance)
            away = abs(number - problem.true_answer) - problem.tolerance
            may_be = {away <= 0} | ({None} if number < 0 else set())  # text with a length below 0 is no length
            if abs(away) < 1e-9 * max(1.0, abs(number)):
                continue  # on the border, to the last digit
        start = time.perf_counter()
        said = check(problem.id, answer)
        slowest = max(slowest, time.perf_counter() - start)
        if said.correct not in may_be or "\n" in said.message or not said.message.startswith(problem.id):
            found[f"{problem.id} {answer!r:.60}: {said.message[:100]}"] += 1
    return found, slowest


def main() -> int:
    """Answer, report, and return 1 where a verdict was wrong or late."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--answers", type=int, default=24_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    found, slowest = run(asked.answers, asked.seed)
    for wrong, times in found.most_common(100):
        print(f"{times:6} {wrong}")
    print(f"{asked.answers} answers to {len(problems())} exercises: {sum(found.values())} judged wrongly; the slowest "
          f"took {1000 * slowest:.0f} ms")
    return int(bool(found) or slowest > LONGEST)


if __name__ == "__main__":
    sys.exit(main())
