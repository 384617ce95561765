"""The game of lesson 12 in JupyterLab: won and lost by keyboard, and with its kernel gone."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.browser.test_lab import CLIPPED, TOP

pytestmark = pytest.mark.browser
LESSON = "12_try_a_strip.ipynb"
TOLD = "words => document.querySelector('.rollcalc-game').innerText.includes(words)"


@pytest.fixture
def opened(lab, screen):
    """Lesson 12, run; the game."""
    path = lab.fresh(LESSON)
    screen.show(lab.address(path), LESSON)
    screen.run_all()
    game = screen.page.locator(".rollcalc-game")
    game.wait_for()
    game.scroll_into_view_if_needed()
    return screen, game


@pytest.mark.parametrize("size", [(1300, 900), (360, 740)])
def test_a_sheet_is_won_by_keyboard_and_the_next_one_lost(opened, size) -> None:
    screen, game = opened
    assert screen.errors() == []
    page, turns = screen.page, game.get_by_label("Turns of both screws")
    page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    page.evaluate("() => jupyterapp.shell.collapseLeft()")
    assert game.get_by_role("button", name="Take it off").is_disabled()
    for number, typed in enumerate(("11 3/8", "12 3/16"), start=1):
        turns.fill(typed)
        page.keyboard.press("Enter")
        page.wait_for_function(TOLD, arg=f"Pass {number} of 4")
    game.get_by_role("button", name="Take it off").focus()
    page.keyboard.press("Enter")
    page.wait_for_function(TOLD, arg="Won in 2 passes: in truth it is R 89.8 mm")
    page.wait_for_function(TOLD, arg="The estimate by itself")
    assert game.get_by_role("button", name="Roll a pass").is_disabled()
    assert page.evaluate(CLIPPED.replace("svg *", "svg *, .rollcalc-tables, .rollcalc-tables *")) == []
    axe = os.environ.get("ROLLCALC_AXE") or TOP / "node_modules" / "axe-core" / "axe.min.js"
    if Path(axe).is_file():
        page.add_script_tag(path=str(axe))
        found = page.evaluate("() => axe.run('.rollcalc-game')")
        assert found["passes"]
        assert [rule["id"] for rule in found["violations"]] == []
    if shots := os.environ.get("ROLLCALC_SHOTS"):
        game.screenshot(path=f"{shots}/trial-{size[0]}.png")
    game.get_by_role("button", name="Next sheet").click()
    page.wait_for_function(TOLD, arg="Sheet 2: ")
    turns.fill("oil")
    page.keyboard.press("Enter")
    page.wait_for_function(TOLD, arg="Turns must be a number")
    turns.fill("15")
    game.get_by_role("button", name="Roll a pass").click()
    page.wait_for_function(TOLD, arg="too tight, and you cannot unroll it.")
    assert (screen.console, screen.outside) == ([], [])


def test_with_its_kernel_gone_the_game_says_so(opened, lab) -> None:
    screen, game = opened
    lab.stop_kernels()
    screen.page.wait_for_timeout(1000)
    game.get_by_label("Turns of both screws").fill("12")
    game.get_by_role("button", name="Roll a pass").click()
    screen.page.wait_for_function(TOLD, arg="No answer yet")
