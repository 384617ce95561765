"""Every argument of every public function, wrong in every way: a result or one plain sentence."""

from __future__ import annotations

import inspect
from pathlib import Path

import pytest

from tests.doors import NONSENSE, answer, doors, usual_call

DOORS = doors()


@pytest.mark.parametrize("name", DOORS)
def test_nonsense_gets_a_result_or_a_sentence(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    door = DOORS[name]
    usual = usual_call(name, door)
    assert answer(door, usual) == ""
    wrong = {}
    for key, parameter in inspect.signature(door).parameters.items():
        if parameter.kind in (parameter.VAR_POSITIONAL, parameter.VAR_KEYWORD):
            continue
        for number, value in enumerate(NONSENSE):
            if fault := answer(door, {**usual, key: value}):
                wrong[key, number] = fault
    assert wrong == {}


def test_the_harness_notices() -> None:
    def bad(thickness: float) -> float:
        return {1: float("nan"), 2: 1 / 0 if thickness == 2 else 0.0}[int(thickness)]

    assert answer(bad, {"thickness": 1}) == "NaN in the result"
    assert answer(bad, {"thickness": 2}).startswith("ZeroDivisionError")
    assert len(DOORS) > 80
