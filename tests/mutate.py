"""Command: change the physics in one place at a time, and report the changes that no test notices.

    python -m tests.mutate                     200 places, spread over stock, bending, rolling and layout
    python -m tests.mutate --count 20 --room layout

Each mutant is a copy of the library with one operator, comparison, constant or condition changed; the tests that call
the changed function run against it, then the files these stand in, until the first fails. A mutant that lives on is a
question: is there a test missing, or is the change without effect? Places are drawn with a seed, so that a second run
asks about the same ones.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import SimpleQueue
from subprocess import CompletedProcess

TOP = Path(__file__).resolve().parents[1]
ROOMS = {
    "stock": ("tests/stock", "tests/bending"),
    "bending": ("tests/bending", "tests/outside/test_published.py", "tests/outside/test_quadrature.py",
                "tests/rolling"),
    "rolling": ("tests/rolling", "tests/outside/test_continuum.py", "tests/drawing", "tests/lessons"),
    "layout": ("tests/layout", "tests/outside/test_published_layout.py", "tests/drawing", "tests/lessons"),
}
"""Which tests hold which room, the quickest first."""

NEAR = 60
"""How many of the tests that call a changed function are asked before the files they stand in, the quickest first."""

LONGEST = 900
"""Seconds after which a change counts as an endless loop."""

SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult, ast.Lt: ast.GtE,
    ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.And: ast.Or,
    ast.Or: ast.And, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
}
TWINS = {"sin": "cos", "cos": "sin", "minimum": "maximum", "maximum": "minimum", "min": "max", "max": "min",
         "any": "all", "all": "any", "floor": "ceil", "ceil": "floor", "sqrt": "square"}


def changes(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Yield number and name of every place that can be changed, in the order in which `changed` counts them."""
    for number, node in enumerate(_places(tree)):
        yield number, f"line {node.lineno}: {ast.unparse(node)[:60]}"  # type: ignore[attr-defined]


def changed(source: str, number: int) -> str:
    """Return a source with one place changed."""
    tree = ast.parse(source)
    for place, node in enumerate(_places(tree)):
        if place == number:
            _change(node)
    return ast.unparse(tree)


def _places(tree: ast.Module) -> Iterator[ast.AST]:
    """Yield the nodes that can be changed, without docstrings, annotations, messages and the tolerances of a search."""
    skipped: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Raise | ast.JoinedStr | ast.AnnAssign | ast.Assert | ast.arguments):
            skipped |= {id(part) for part in ast.walk(node)
                        if not (isinstance(node, ast.AnnAssign) and node.value and part in ast.walk(node.value))}
        if isinstance(node, ast.FunctionDef):
            skipped |= {id(part) for note in (node.returns, *(one.annotation for one in node.args.args)) if note
                        for part in ast.walk(note)}
    yield from (node for node in ast.walk(tree) if id(node) not in skipped and _can_change(node))


def _can_change(node: ast.AST) -> bool:
    """Return whether there is something to put in a node's place."""
    if isinstance(node, ast.BinOp | ast.BoolOp | ast.AugAssign):
        return type(node.op) in SWAPS and not _is_text(node)
    if isinstance(node, ast.Compare):
        return type(node.ops[0]) in SWAPS
    if isinstance(node, ast.Attribute):
        return node.attr in TWINS and isinstance(node.value, ast.Name)
    return isinstance(node, ast.Constant) and type(node.value) in (int, float) and node.value in (0.5, 1, 2, 3)


def _is_text(node: ast.AST) -> bool:
    """Return whether an operation joins text or kinds rather than numbers."""
    return any(isinstance(part, ast.JoinedStr) or (isinstance(part, ast.Constant) and isinstance(part.value, str))
               for part in ast.walk(node))


def _change(node: ast.AST) -> None:
    """Change a node in its place."""
    if isinstance(node, ast.Compare):
        node.ops[0] = SWAPS[type(node.ops[0])]()  # type: ignore[assignment]
    elif isinstance(node, ast.Attribute):
        node.attr = TWINS[node.attr]
    elif isinstance(node, ast.Constant):
        node.value = node.value + 1
    else:
        node.op = SWAPS[type(node.op)]()  # type: ignore[attr-defined]


def drawn(rooms: tuple[str, ...], count: int, seed: int) -> list[tuple[Path, int, str, str]]:
    """Return file, number, name and room of the places to change, as many in a room as it has of all."""
    places = [(path, number, name, room) for room in rooms
              for path in sorted((TOP / "rollcalc" / room).rglob("*.py"))
              for number, name in changes(ast.parse(path.read_text("utf-8")))]
    return random.Random(seed).sample(places, min(count, len(places)))


def verdict(copy: Path, path: Path, number: int, *tests: list[str]) -> str:
    """Return "noticed", "endless" or "LIVES": what tests say of a change in a copy of the library, list after list."""
    target = copy / path.relative_to(TOP)
    before = target.read_text("utf-8")
    target.write_text(changed(before, number), "utf-8")
    try:
        if any(pytest_run(copy, *some, longest=LONGEST).returncode for some in tests if some):
            return "noticed"
    except subprocess.TimeoutExpired:
        return "endless"
    finally:
        target.write_text(before, "utf-8")
    return "LIVES  "


def pytest_run(copy: Path, *tests: str, longest: float | None = None, **more: str) -> CompletedProcess[bytes]:
    """Run tests in a copy of the library until the first fails."""
    settings = os.environ | {"PYTHONPATH": str(copy), "OPENBLAS_NUM_THREADS": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", *tests]
    return subprocess.run(command, cwd=copy, env=settings | more, capture_output=True, timeout=longest)


def calling_tests(copy: Path, rooms: tuple[str, ...]) -> dict[str, list[tuple[float, str]]]:
    """Return, by file and name of a function, the tests that call it with their seconds; all of them must pass."""
    tests = sorted({one for room in rooms for one in ROOMS[room]})
    done = pytest_run(copy, "-p", "tests.covering", *tests, ROLLCALC_CALLED=str(copy / "called.json"))
    if done.returncode:
        raise SystemExit(done.stdout.decode()[-2000:])
    called: dict[str, list[tuple[float, str]]] = json.loads((copy / "called.json").read_text("utf-8"))
    return {key.removeprefix(f"{copy}/"): sorted(found) for key, found in called.items()}


def function_at(source: str, number: int) -> str:
    """Return the name of the function, or class and method, a place is in; empty where it is in none."""
    tree = ast.parse(source)
    place = next(node for here, node in enumerate(_places(tree)) if here == number)
    for node in tree.body:
        inner = node.body if isinstance(node, ast.ClassDef) else [node]
        for part in inner:
            if isinstance(part, ast.FunctionDef) and place in ast.walk(part):
                return f"{node.name}.{part.name}" if isinstance(node, ast.ClassDef) else part.name
    return ""


def main() -> int:
    """Run the mutants, report, and return 1 where 5 % or more of them live on."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=200, help="how many places to change")
    parser.add_argument("--room", choices=tuple(ROOMS), help="only this room")
    parser.add_argument("--seed", type=int, default=1, help="which places")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, help="how many at once")
    asked = parser.parse_args()
    places = drawn((asked.room,) if asked.room else tuple(ROOMS), asked.count, asked.seed)
    with tempfile.TemporaryDirectory() as folder:
        copies: SimpleQueue[Path] = SimpleQueue()
        for number in range(asked.jobs):
            copy = Path(folder) / f"copy{number}"
            shutil.copytree(TOP, copy, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", ".*_cache"))
            copies.put(copy)

        called = calling_tests(copy, tuple({room for *_, room in places}))

        def asked_of(place: tuple[Path, int, str, str]) -> str:
            path, number, name, room = place
            within = f"{path.relative_to(TOP)}:{function_at(path.read_text('utf-8'), number)}"
            near = [test for _, test in called.get(within, [])]
            copy = copies.get()
            try:
                said = verdict(copy, path, number, near[:NEAR],
                               list(dict.fromkeys(test.split("::")[0] for test in near)) or list(ROOMS[room]))
            finally:
                copies.put(copy)
            print(said, f"{path.relative_to(TOP)}, {name}", flush=True)
            return said

        with ThreadPoolExecutor(asked.jobs) as pool:
            said = list(pool.map(asked_of, places))
    share = said.count("LIVES  ") / len(places)
    print(f"\n{said.count('LIVES  ')} of {len(places)} changes are noticed by no test ({100 * share:.1f} %);"
          f" {said.count('endless')} never end.")
    return int(share >= 0.05)


if __name__ == "__main__":
    sys.exit(main())
