"""A pytest plugin for `tests.mutate`: which tests call which function of the library, and how long each takes."""

from __future__ import annotations

import json
import os
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

CALLED: dict[str, list[tuple[float, str]]] = defaultdict(list)
"""File and name of a function -> seconds and name of every test that calls it."""


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Note what a test and its fixtures call."""
    seen: set[Any] = set()

    def note(frame: FrameType, event: str, _: object) -> None:
        if event == "call":
            seen.add(frame.f_code)

    start = time.perf_counter()
    sys.setprofile(note)
    try:
        return (yield)
    finally:
        sys.setprofile(None)
        spent = time.perf_counter() - start
        for code in {f"{one.co_filename}:{one.co_qualname.split('.<locals>')[0]}" for one in seen
                     if "rollcalc" in one.co_filename}:
            CALLED[code].append((spent, item.nodeid))


def pytest_sessionfinish() -> None:
    """Write down what was found."""
    Path(os.environ["ROLLCALC_CALLED"]).write_text(json.dumps(CALLED), "utf-8")
