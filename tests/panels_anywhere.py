"""Command: every panel on random machines that a learner may have, at random settings.

    python -m tests.panels_anywhere --panels 5000

A panel must show a picture of finite numbers, or the library's sentence. The short form is in
`tests/lessons/test_panels.py`.
"""

from __future__ import annotations

import argparse
import os
import random
import re
import sys
import tempfile
import traceback
import warnings
from collections import Counter
from importlib import import_module
from pathlib import Path
from typing import Any

import rollcalc as rc
from rollcalc.lessons.engine.panel import Choice, Panel

NUMBERS = ("01", "02", "03", "04", "05", "06", "07", "08", "09", "10", "11", "12")
NO_NUMBER = re.compile(r"(?<![a-z])(nan|inf)(?![a-z])", re.IGNORECASE)


def makers() -> list[Any]:
    """Return what makes each panel of the course."""
    return [make for number in NUMBERS for make in import_module(f"rollcalc.lessons.lesson{number}.panels").ALL]


def random_machine(chance: random.Random) -> rc.Machine | None:
    """Return a machine of any kind and size; None where the numbers drawn make none."""
    pick = chance.uniform
    common = {
        "screw_pitch": pick(0.5, 8), "working_width": pick(100, 3500), "gear_ratio": pick(0.5, 30),
        "rated_thickness": chance.choice((None, pick(0.3, 20))), "crank_radius": chance.choice((None, pick(100, 500))),
        "max_travel": chance.choice((None, pick(2, 200))),
    }
    try:
        if chance.random() < 0.5:
            size = pick(20, 160)
            nip = chance.choice(({}, {"nip_slack": pick(0, 0.2)}, {"pinch_force": pick(200, 30_000)}))
            return rc.PinchMachine(
                upper_roll_diameter=size, lower_roll_diameter=size * pick(0.7, 1.3),
                bending_roll_diameter=size * pick(0.6, 1.4), guide_distance=size * pick(0.7, 2.2),
                guide_angle_degrees=pick(80, 140), **nip, **common)
        size = pick(60, 400)
        return rc.PyramidMachine(top_roll_diameter=size, bottom_roll_diameter=size * pick(0.5, 1.2),
                                 bottom_roll_spacing=size * pick(0.7, 3.5), **common)
    except rc.InputError:
        return None


def random_settings(panel: Panel, chance: random.Random) -> dict[str, Any]:
    """Return a value for each control, often an end of its range."""
    found: dict[str, Any] = {}
    for control in panel._controls:
        if isinstance(control, Choice):
            found[control.name] = chance.choice(control.options)
        else:
            found[control.name] = chance.choice((control.low, control.high, chance.uniform(control.low, control.high)))
    if panel.has_units:
        found["units"] = chance.choice(("mm", "inch"))
    return found


def fault(panel: Panel) -> str:
    """Return what is wrong with what a panel shows."""
    if not panel.sentence.strip():
        return "no sentence"
    if NO_NUMBER.search(panel.sentence):
        return f"no number in: {panel.sentence[:150]}"
    words = re.sub(r"<title.*?</title>|<style.*?</style>", "", panel.svg)
    return f"no number in the picture: {found[0]}" if (found := NO_NUMBER.search(words)) else ""


def run(count: int, seed: int, settings: int = 5) -> Counter[str]:
    """Show so many panels, and return what was wrong, with how often."""
    chance, found, shown = random.Random(seed), Counter[str](), 0
    usual = os.environ.get("ROLLCALC_MACHINE")
    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            while shown < count:
                machine = random_machine(chance)
                if machine is None:
                    continue
                file = Path(folder) / "machine.toml"
                file.unlink(missing_ok=True)
                rc.write_machine(machine, file)
                try:
                    rc.load_machine(file)
                except rc.InputError:  # rolls that stand in each other
                    continue
                os.environ["ROLLCALC_MACHINE"] = str(file)
                for make in makers():
                    shown += 1
                    try:
                        panel = make()
                        for _ in range(settings):
                            panel.set(**random_settings(panel, chance))
                            if wrong := fault(panel):
                                found[f"{make.__module__[-15:]}.{make.__name__}: {wrong}"] += 1
                    except Exception as error:
                        place = traceback.extract_tb(error.__traceback__)[-1]
                        found[f"{make.__module__[-15:]}.{make.__name__}: {type(error).__name__} {str(error)[:100]} in "
                              f"{Path(place.filename).name}:{place.lineno}"] += 1
        finally:
            if usual is None:
                os.environ.pop("ROLLCALC_MACHINE", None)
            else:
                os.environ["ROLLCALC_MACHINE"] = usual
    return found


def main() -> int:
    """Show panels, report, and return 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--panels", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    found = run(asked.panels, asked.seed)
    for wrong, times in found.most_common(100):
        print(f"{times:6} {wrong}")
    print(f"{asked.panels} panels on random machines: {sum(found.values())} with anything but a picture of numbers "
          "or a sentence")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
