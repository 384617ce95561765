"""Command: how fast the library and its panel are, beside the usual way, in one run.

    python tests/benchmark.py              the library: springback of many sheets, import, redraw of the panel
    python tests/benchmark.py --browser    also slider to new picture in JupyterLab (needs Chromium)

Every line gives our time, the other way's time and their ratio, both measured now on this machine. Nothing here is
a test: clocks of shared machines are no ground for pass and fail.
"""

from __future__ import annotations

import argparse
import importlib
import itertools
import math
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from typing import Any

import numpy as np

import rollcalc as rc

SHEETS = 1_000_000
PANEL = "rollcalc.lessons.lesson04.panels:springback"
HEAVY = ("scipy", "sympy", "matplotlib", "ipywidgets", "anywidget")
MODULUS, POISSON, THICKNESS, RELEASED_RADIUS = 205_000.0, 0.3, 0.76, 90.0


def line(what: str, ours: float, other: str, theirs: float, promised: str) -> None:
    """Print one line of the table: times in seconds."""
    print(f"{what:<44} {shown(ours):>10}   {other:<52} {shown(theirs):>10}   {theirs / ours:>7.1f} ×   {promised}")


def shown(seconds: float) -> str:
    """Return a time in a unit that reads well."""
    for unit, size in (("s", 1.0), ("ms", 1e-3), ("µs", 1e-6)):
        if seconds >= size:
            return f"{seconds / size:.3g} {unit}"
    return f"{seconds / 1e-9:.3g} ns"


def seconds_of(work: Callable[[], Any], times: int = 5, pick: Callable[[list[float]], float] = min) -> float:
    """Return the best time of some work, or another pick of its times, after one run to warm up."""
    work()
    return pick([_once(work) for _ in range(times)])


def _once(work: Callable[[], Any]) -> float:
    """Return the time of one run."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def springback() -> None:
    """Measure the radius to bend to, for many sheets of scattered yield, against one root search per sheet."""
    from scipy.optimize import brentq

    yields = np.random.default_rng(2).uniform(140, 280, SHEETS)
    sheet, steel = rc.Sheet(thickness=THICKNESS, width=300), rc.Material("steel", MODULUS, POISSON, yield_strength=210)
    scattered = steel.with_yield(yields)
    per_sheet = seconds_of(lambda: rc.loaded_radius(sheet, scattered, RELEASED_RADIUS)) / SHEETS
    ours = np.asarray(rc.loaded_radius(sheet, scattered, RELEASED_RADIUS))

    def by_library(strength: float) -> float:
        """Return the loaded radius by brentq over the library's own released_curvature."""
        metal = steel.with_yield(strength)
        miss = lambda k: rc.released_curvature(sheet, metal, k) - 1 / RELEASED_RADIUS
        return 1 / float(brentq(miss, 1 / RELEASED_RADIUS, 1 / THICKNESS))

    def by_formula(strength: float) -> float:
        """Return the loaded radius by brentq over the bare formula, with only what `math` has."""
        first = 4 * strength * (1 - POISSON**2) / (math.sqrt(3) * MODULUS * THICKNESS)
        miss = lambda k: (k - 1.5 * first + 0.5 * first**3 / k**2 if k > first else 0.0) - 1 / RELEASED_RADIUS
        return 1 / float(brentq(miss, 1 / RELEASED_RADIUS, 1 / THICKNESS))

    for name, scalar, cases, promised in (
        ("brentq, one sheet at a time, over the same model", by_library, 400, "promised: 300 ×"),
        ("harder: brentq over the bare formula (math only)", by_formula, 4000, "no promise"),
    ):
        some = yields[:cases].tolist()
        worst = np.max(np.abs(np.array([scalar(strength) for strength in some]) / ours[:cases] - 1))
        assert worst < 1e-8, "the two ways must agree before their times mean anything"
        theirs = seconds_of(lambda scalar=scalar, some=some: [scalar(s) for s in some]) / cases
        line(f"loaded radius, per sheet of {SHEETS:,}", per_sheet, name, theirs, promised)


def import_time() -> None:
    """Measure what `import rollcalc` adds to an interpreter that has numpy, and look for heavy modules."""
    clock = "import numpy, time; start = time.perf_counter(); import {}; print(time.perf_counter() - start)"
    medians = [
        statistics.median(float(_python("-c", clock.format(module))) for _ in range(9))
        for module in ("rollcalc", "scipy.optimize")
    ]
    ours, theirs = medians
    line("import rollcalc, above numpy", ours, "import scipy.optimize, above numpy", theirs, "promised: 0.25 s")
    report = _python("-X", "importtime", "-c", "import rollcalc")
    loaded = {row.rpartition("|")[2].strip().partition(".")[0] for row in report.splitlines()}
    print(f"  it loads {', '.join(sorted(loaded & set(HEAVY))) or 'none'} of {', '.join(HEAVY)}")


def _python(*arguments: str) -> str:
    """Return what a fresh interpreter prints, reports included."""
    done = subprocess.run([sys.executable, *arguments], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    done.check_returncode()
    return done.stdout


def panel_named(place: str) -> Any:
    """Return the panel that ``module:function`` makes, or None with a line that says why there is none."""
    module, _, name = place.partition(":")
    try:
        return getattr(importlib.import_module(module), name)()
    except (ImportError, AttributeError) as missing:
        print(f"panel {place}: not measured, {missing}")
        return None


def slowest_redraw() -> None:
    """Measure the redraw of every panel of the course, the first slider one step to and fro."""
    from tests.lessons.test_panels import ALL

    found = []
    for make in ALL:
        panel = make()
        slider = next(control for control in panel.controls if "step" in control)
        places = itertools.cycle(panel.start[slider["name"]] + slider["step"] * part for part in (0, 1))
        redrawn = lambda panel=panel, slider=slider, places=places: panel.set(**{slider["name"]: next(places)})
        found.append((seconds_of(redrawn, 20, statistics.median), make.__name__))
    print(
        f"  panels from {shown(min(found)[0])} ({min(found)[1]}) to {shown(max(found)[0])} ({max(found)[1]}) a redraw"
    )


def redraw(panel: Any) -> None:
    """Measure the Python side of a redraw, the first slider going to and fro, against matplotlib's PNG of it."""
    import io

    from rollcalc.drawing import paper_figure

    slider = next(control for control in panel.controls if "step" in control)
    name, low, step = slider["name"], panel.start[slider["name"]], slider["step"]
    places = itertools.cycle(low + step * index for index in (-2, -1, 0, 1, 2, 1, 0, -1))

    def plotted() -> None:
        """Draw the same picture as matplotlib would for the notebook."""
        values = panel.start | {name: next(places)}
        paper_figure(panel._drawn(values, panel.units, panel.has_units)).savefig(io.BytesIO(), format="png")

    ours = seconds_of(lambda: panel.set(**{name: next(places)}), 100, statistics.median)
    theirs = seconds_of(plotted, 25, statistics.median)
    line("panel redraw, Python side", ours, "matplotlib PNG of the same picture", theirs, "promised: 5 ms")


def browser(place: str) -> None:
    """Measure from a key on the slider to a new picture on the page, ours and interact with matplotlib."""
    from benchmark_browser import measured_sliders

    ours, theirs = measured_sliders(place)
    key = [statistics.median(slider.keys) for slider in (ours, theirs)]
    line("slider to new picture, JupyterLab", key[0], "interact + matplotlib, same picture", key[1], "expected: 3 ×")
    for name, slider in (("panel", ours), ("interact", theirs)):
        late = sorted(slider.keys)[int(0.95 * len(slider.keys))]
        print(f"  {name}: {len(slider.keys)} keys, 95 % within {shown(late)}; a drag of {shown(slider.drag)} showed "
              f"{slider.pictures} pictures, the last {shown(slider.settled)} after release")


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--browser", action="store_true", help="also measure in JupyterLab, through Chromium")
    parser.add_argument("--panel", default=PANEL, metavar="MODULE:FUNCTION", help=f"what to measure (now {PANEL})")
    chosen = parser.parse_args()
    print(f"Python {sys.version.split()[0]}, numpy {np.__version__}")
    print("best times for the springback, medians for the rest\n")
    springback()
    import_time()
    slowest_redraw()
    panel = panel_named(chosen.panel)
    if panel is not None:
        redraw(panel)
        if chosen.browser:
            browser(chosen.panel)


if __name__ == "__main__":
    main()
