"""`import rollcalc` must stay light: the physics needs only numpy."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = {"scipy", "sympy", "matplotlib", "ipywidgets", "anywidget", "IPython", "traitlets"}


def modules_after(statement: str) -> set[str]:
    """Return the top-level modules of a fresh interpreter after one statement."""
    command = f"{statement}\nimport sys\nprint(*sorted(name.partition('.')[0] for name in sys.modules))"
    done = subprocess.run([sys.executable, "-c", command], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


@pytest.mark.parametrize("statement", ["import rollcalc", "import rollcalc.stock", "import rollcalc.bending"])
def test_import_loads_nothing_heavy(statement: str) -> None:
    loaded = modules_after(statement)
    assert {"rollcalc", "numpy"} <= loaded
    assert not HEAVY & loaded


def test_a_bend_loads_nothing_heavy() -> None:
    loaded = modules_after(
        "import rollcalc as rc\n"
        "steel = rc.Material('mine', 205_000, 0.3, yield_strength=210)\n"
        "rc.loaded_radius(rc.Sheet(thickness=0.8, width=100), steel, 90)"
    )
    assert not HEAVY & loaded


@pytest.mark.parametrize("lesson", ["01", "02", "03", "04", "05", "06", "07", "08", "09", "10", "11", "12"])
def test_a_lesson_does_without_scipy(lesson: str) -> None:
    loaded = modules_after(f"from rollcalc.lessons.lesson{lesson} import derivations, panels, problems\n"
                           "[make() for make in (*derivations.ALL, *panels.ALL)]")
    assert "sympy" in loaded
    assert "scipy" not in loaded


def test_the_check_would_notice() -> None:
    assert "scipy" in modules_after("import rollcalc, scipy")
