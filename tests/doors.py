"""Command: nonsense through every public door, to see that a result or one plain sentence comes out.

    python -m tests.doors --calls 200000       at random, several arguments wrong at once

The short form, every argument of every public function wrong in every way by itself, is `tests/test_every_door.py`.
"""

from __future__ import annotations

import argparse
import inspect
import math
import os
import random
import re
import sys
import tempfile
import time
import warnings
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any

import numpy as np

import rollcalc as rc
from rollcalc import bending, drawing, job, layout, rolling, stock
from rollcalc.drawing.core.picture import Line

STEEL, MACHINE = rc.MATERIALS["low-carbon steel, cold rolled"], rc.DEMO_MACHINE
BODY, RING = rc.Sheet(thickness=0.76, width=240), rc.RoundBar(6)
SETTING = rc.setting_for_radius(MACHINE, BODY, STEEL, 90)
SKIRT = rc.frustum_pattern(220, 160, 100)
PLAN = rc.pass_schedule(MACHINE, BODY, STEEL, 90)
BLANK = rc.cylinder_blank(BODY, inside_diameter=180)
PLATE = rc.PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                          working_width=1500)

USUAL: dict[str, Any] = {
    "machine": MACHINE, "stock": BODY, "sheet": BODY, "bar": RING, "material": STEEL, "setting": SETTING, "plan": PLAN,
    "schedule": PLAN, "pattern": SKIRT, "blank": BLANK, "thickness": 0.8, "width": 240.0, "diameter": 6.0,
    "released_radius": 90.0, "loaded_radius": 65.0, "radius": 90.0, "measured_radius": 95.0, "travel": 15.0,
    "turns": 11.0, "turns_left": 11.0, "turns_right": 11.0, "loaded_curvature": 1 / 65, "released_curvature": 1 / 90,
    "curvature": 1 / 65, "height": 100.0, "moment": 8000.0, "force": 200.0, "chord": 100.0, "rise": 15.0,
    "reading": 0.1, "large_diameter": 220.0, "small_diameter": 160.0, "joint_gap": 2.0, "skew_degrees": 0.3,
    "gauge": 20, "family": "steel", "text": "0.8 mm", "length": 12.5, "offset": 20.0, "inside_radius": 3.0,
    "angle": 1.5, "bend_angle": 1.5, "outline": SKIRT.outline(), "sheet_length": 2000.0, "sheet_width": 1000.0,
    "wire_diameter": 3.0, "points": 24, "name": "mine", "elastic_modulus": 205e3, "poisson_ratio": 0.3,
    "yield_strength": 250.0, "strength": 500.0, "exponent": 0.2, "cut_angle": 0.5, "rule": "middle",
    "bar_diameter": 6.0, "groove": rc.groove_for(MACHINE, RING), "path": "doors.toml", "stations": 12, "parts": 12,
    "radius_left": 90.0, "radius_right": 92.0, "error": 0.1, "denominator": 64, "default_unit": "mm", "unit": "MPa",
    "upper_roll_diameter": 50.0, "lower_roll_diameter": 50.0, "bending_roll_diameter": 50.0, "guide_distance": 60.0,
    "factor": 0.4, "metal": "steel", "pages": (), "title": "Body",
    "picture": drawing.Picture("A line.", (Line([(0, 0), (1, 1)], "sheet"),), alt="Line"),
    "cut_angle_degrees": 30.0, "rise_error": 0.2, "guide_angle_degrees": 110.0, "screw_pitch": 1.5,
    "working_width": 760.0, "top_roll_diameter": 200.0, "bottom_roll_diameter": 170.0,
    "bottom_roll_spacing": 240.0, "gap": 1.0, "bow": 0.1, "sector_angle": 1.0,
}
"""A usual value for an argument of that name."""

OWN: dict[str, dict[str, Any]] = {
    "cylinder_blank": {"inside_diameter": 180.0}, "groove_for": {"bar": RING}, "grooved_machine": {"stock": RING},
    "two_arc_travel": {"machine": PLATE, "stock": rc.Sheet(thickness=6, width=900), "released_radius": 500.0},
    "write_machine": {"overwrite": True}, "write_pattern": {"pattern": BLANK, "path": "doors.svg", "overwrite": True},
    "cone_blank": {"thickness": 0.8}, "cone_setting": {"stock": rc.Sheet(thickness=0.8, width=104)},
    "load_machine": {"path": None}, "oblique_frustum_pattern": {"height": 100.0}, "rolled_up": {"pattern": SKIRT},
    "loaded_stress": {"height": 0.2}, "residual_stress": {"height": 0.2}, "frustum_pattern": {"height": 100.0},
}
"""What a function takes beside that, or in place of it."""

NONSENSE: tuple[Any, ...] = (
    None, True, False, 0, 0.0, -1, -0.5, 1, 2.5, 7, 1e-300, 5e-324, 1e-9, 1e9, 1e300, -1e300, math.nan, math.inf,
    -math.inf, 10**400, 1 + 2j, "", "steel", "0.8 mm", "nan", "a" * 3000, b"bytes", "\ud800", [], [1, 2], [90.0, 100.0],
    [[1.0, 2.0], [3.0, 4.0]], (1,), {}, {"a": 1}, set(), object(), object, len, rc, np.nan, np.float32(1.5),
    np.array([]), np.array([80.0, 90.0]), np.array([80.0, np.nan]), np.array([[80.0], [90.0]]), np.ones((2, 3, 4)),
    np.array(["a", "b"]), np.array([1 + 1j]), np.array([None, 1]), np.ma.masked, np.datetime64("2020-01-01"),
    MACHINE, BODY, STEEL, RING, SETTING, SKIRT, PLAN, rc.Sheet, rc.Sheet(thickness=[0.7, 0.8], width=240), PLATE,
    Path("nowhere/at/all"), range(3), iter([1]), Exception("no"),
)
"""Wrong kinds, wrong shapes, complex, huge, tiny, empty."""

LONGEST = 300
"""Characters of a sentence."""


def doors() -> dict[str, Callable[..., Any]]:
    """Return every public function and class that can be called, by name."""
    found: dict[str, Callable[..., Any]] = {}
    for room in (rc, stock, bending, layout, rolling, job, drawing):
        for name in room.__all__:
            thing = getattr(room, name)
            if inspect.isfunction(thing) or (inspect.isclass(thing) and is_input(thing)):
                found[name] = thing
    return dict(sorted(found.items()))


def is_input(kind: type) -> bool:
    """Return whether a class is made by a user, and not an answer that only the library makes."""
    return kind.__name__ in {"Sheet", "FlatBar", "RoundBar", "Material", "Swift", "PinchMachine", "PyramidMachine",
                             "ButtSeam", "LapSeam", "GroovedSeam"}


def usual_call(name: str, door: Callable[..., Any]) -> dict[str, Any]:
    """Return arguments that a door takes gladly."""
    wanted = {key: parameter for key, parameter in inspect.signature(door).parameters.items()
              if parameter.kind not in (parameter.VAR_POSITIONAL, parameter.VAR_KEYWORD)}
    given = {key: USUAL[key] for key, parameter in wanted.items()
             if parameter.default is parameter.empty and key not in OWN.get(name, {})}
    return given | {key: value for key, value in OWN.get(name, {}).items() if key in wanted}


def answer(door: Callable[..., Any], arguments: dict[str, Any]) -> str:
    """Return what is wrong with what comes out; nothing where it is a result without a NaN, or one plain sentence."""
    positional = [key for key, one in inspect.signature(door).parameters.items() if one.kind is one.POSITIONAL_ONLY]
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            result = door(*(arguments[key] for key in positional),
                          **{key: value for key, value in arguments.items() if key not in positional})
            repr(result)
    except rc.InputError as error:
        return _sentence_fault(str(error))
    except Exception as error:
        return f"{type(error).__name__}: {str(error)[:120]}"
    return "NaN in the result" if any(_has_nan(part) for part in _parts(result)) else ""


def _sentence_fault(words: str) -> str:
    """Return what is wrong with a sentence."""
    if len(words) > LONGEST:
        return f"a sentence of {len(words)} characters: {words[:80]}"
    if "\n" in words or not words.strip():
        return f"not one line: {words[:80]!r}"
    if re.search(r" at 0x[0-9a-f]{6,}", words):
        return f"an object's address: {words[:120]}"
    return ""


def _parts(result: Any, depth: int = 0) -> Iterator[Any]:
    """Yield the numbers of a result."""
    if depth > 4 or isinstance(result, str | bytes):
        return
    if is_dataclass(result) and not isinstance(result, type):
        for field in fields(result):
            yield from _parts(getattr(result, field.name), depth + 1)
    elif isinstance(result, tuple | list):
        for part in result[:50]:
            yield from _parts(part, depth + 1)
    else:
        yield result


def _has_nan(part: Any) -> bool:
    """Return whether a number, or one of an array, is none."""
    return bool(isinstance(part, int | float | np.ndarray) and np.asarray(part).dtype.kind == "f"
                and np.any(np.isnan(part)))


def main() -> int:
    """Call at random, report what is wrong, and return 1 where anything is."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--calls", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    chance, found, slowest = random.Random(asked.seed), Counter[str](), (0.0, "")
    every = list(doors().items())
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        for _ in range(asked.calls):
            name, door = chance.choice(every)
            arguments = usual_call(name, door)
            names = [key for key, one in inspect.signature(door).parameters.items()
                     if one.kind not in (one.VAR_POSITIONAL, one.VAR_KEYWORD)]
            for key in chance.sample(names, min(len(names), chance.randint(1, 3))):
                arguments[key] = chance.choice(NONSENSE)
            start = time.perf_counter()
            fault = answer(door, arguments)
            slowest = max(slowest, (time.perf_counter() - start, f"{name}({arguments})"[:200]))
            if fault:
                found[f"{name}: {fault[:100]}"] += 1
        os.chdir("/")
    for fault, times in found.most_common(200):
        print(f"{times:6} {fault}")
    print(f"{asked.calls} calls of {len(every)} public names: {sum(found.values())} with anything but a result without "
          f"NaN or one plain sentence; the slowest took {slowest[0]:.1f} s: {slowest[1]}")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
