"""The lessons in JupyterLab, as a learner meets them."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from time import perf_counter

import pytest

TOP = Path(__file__).resolve().parents[2]
LESSON = "04_see_springback.ipynb"
CLIPPED = """() => [...document.querySelectorAll('.rollcalc-panel')].flatMap(panel =>
    [panel, ...panel.querySelectorAll('*:not(svg *)')].filter(part => {
        const overflows = part.matches('div, p, label') && part.scrollWidth > part.clientWidth + 1;
        return overflows || part.getBoundingClientRect().right > panel.getBoundingClientRect().right + 1;
    }).map(part => part.outerHTML.slice(0, 120)))"""
SCREENS = {"full": (1300, 900), "zoom 200 %": (650, 450), "narrow": (360, 740)}

pytestmark = pytest.mark.browser


@pytest.fixture
def running(lab, screen):
    """Lesson 04 in JupyterLab, all cells run."""
    screen.show(lab.address(lab.fresh(LESSON)), LESSON)
    screen.run_all()
    return screen


def test_the_command_opens_lesson_00_and_nothing_in_front_of_it(lab, screen):
    screen.show(f"{lab.url}?token={lab.token}", "00_start_here.ipynb")
    screen.run_all()
    assert screen.errors() == []
    assert screen.page.locator(".jp-Dialog").count() == 0
    assert screen.page.locator(".Toastify__toast").count() == 0
    assert (screen.outside, screen.console) == ([], [])


def test_every_cell_runs_and_the_panel_answers_keyboard_and_mouse(running):
    assert running.errors() == []
    panel = running.panel()
    start = running.state()
    slider = panel.locator("input[type=range]").first
    slider.focus()
    running.page.keyboard.press("ArrowRight")
    after_key = running.wait_for_change(start)

    box = slider.bounding_box()
    middle = box["y"] + box["height"] / 2
    running.page.mouse.move(box["x"] + box["width"] * 0.5, middle)
    running.page.mouse.down()
    running.page.mouse.move(box["x"] + box["width"] * 0.9, middle, steps=5)
    running.page.mouse.up()
    running.wait_for_change(after_key)

    panel.locator(".rollcalc-reset").click()
    running.wait_for_return(start)
    assert running.console == []


@pytest.mark.parametrize("typed", ["999999", "-1", "e"])
def test_nonsense_in_a_number_field_is_answered_by_a_sentence(running, typed):
    panel = running.panel()
    start = running.state()
    number = panel.locator("input.rollcalc-number").first
    number.focus()
    running.page.keyboard.press("Control+a")
    running.page.keyboard.type(typed)
    problem = panel.locator(".rollcalc-sentence.rollcalc-problem")
    problem.wait_for()
    assert problem.inner_text().strip().endswith(".")
    assert panel.locator(".rollcalc-picture > svg").count() == 0, "the picture of the last good setting is still shown"
    assert "Traceback" not in running.page.inner_text("body")
    panel.locator(".rollcalc-reset").click()
    running.wait_for_return(start)


@pytest.mark.parametrize("how", ["killed", "restarted"])
def test_a_kernel_that_is_gone_leaves_no_old_picture_under_new_numbers(lab, running, how):
    slider = running.panel().locator("input[type=range]").first
    slider.focus()
    for _ in range(10):
        running.page.keyboard.press("ArrowRight")
    if how == "killed":
        lab.stop_kernels()
    else:
        lab.call("POST", f"kernels/{lab.call('GET', 'sessions')[0]['kernel']['id']}/restart")
        running.page.wait_for_timeout(1000)
    for _ in range(5):
        running.page.keyboard.press("ArrowRight")
    running.page.locator(".rollcalc-panel.rollcalc-late").first.wait_for(timeout=3000)
    assert "run the cell again" in running.state()[1]
    assert running.panel().locator(".rollcalc-picture").evaluate("e => getComputedStyle(e).opacity") < "0.5"


def test_hammering_a_slider_while_the_kernel_dies_is_told_within_three_seconds(lab, running):
    half = int(os.environ.get("ROLLCALC_HAMMER", "6")) / 2  # seconds; the long form is in DEVELOPERS.md
    page, late = running.page, running.page.locator(".rollcalc-panel.rollcalc-late")
    running.panel().locator("input[type=range]").first.focus()

    def hammer(seconds, until=lambda: False):
        start = perf_counter()
        while perf_counter() - start < seconds and not until():
            for key in ("ArrowRight", "ArrowRight", "ArrowLeft"):
                page.keyboard.press(key)
        return perf_counter() - start

    before = running.state()
    hammer(half)
    running.wait_for_change(before)
    lab.stop_kernels()
    assert hammer(half, until=lambda: late.count() > 0) < 3
    hammer(half)
    assert late.count() == 1, "it stays told however long one goes on"
    assert "run the cell again" in running.state()[1]


@pytest.mark.parametrize(("typed", "shown"), [("65,3", 65.3), ("2 1/2 in", 63.5)])
def test_a_number_field_takes_what_an_exercise_takes(running, typed, shown):
    panel, start = running.panel(), running.state()
    number = panel.locator("input.rollcalc-number").last
    number.fill(typed)
    running.wait_for_change(start)
    assert panel.locator(".rollcalc-problem").count() == 0
    slider = panel.locator("input[type=range]").last
    running.page.wait_for_function("([e, to]) => Math.abs(e.valueAsNumber - to) <= 1",
                                   arg=[slider.element_handle(), shown])


def test_an_untrusted_copy_shows_the_still_and_its_caption(lab, screen):
    screen.show(lab.address(lab.fresh(LESSON)), LESSON)
    figure = screen.page.locator(".jp-OutputArea-output figure").first
    figure.scroll_into_view_if_needed()
    assert figure.locator("img").evaluate("i => i.decode().then(() => i.naturalWidth)") > 0
    assert figure.locator("figcaption").inner_text().strip()
    assert screen.page.locator(".rollcalc-panel").count() == 0
    assert "Error displaying widget" not in screen.page.inner_text("body")


def test_a_lesson_opened_again_the_next_day_shows_its_panels_as_they_were(lab, screen, new_screen):
    lesson = lab.fresh(LESSON)
    screen.show(lab.address(lesson), LESSON)
    screen.run_all()
    screen.panel()
    sentence = screen.state()[1]
    screen.page.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
    screen.page.close()
    lab.stop_kernels()

    next_day = new_screen()
    next_day.show(lab.address(lesson), LESSON)
    next_day.panel().locator(".rollcalc-picture > svg").wait_for()
    assert next_day.state()[1] == sentence
    assert "Error displaying widget" not in next_day.page.inner_text("body")


def test_axe_finds_nothing_serious_in_the_outputs(running):
    axe = os.environ.get("ROLLCALC_AXE") or TOP / "node_modules" / "axe-core" / "axe.min.js"
    if not Path(axe).is_file():
        (pytest.fail if os.environ.get("ROLLCALC_BROWSER") == "required" else pytest.skip)(
            "no axe-core: run npm pack axe-core, unpack it, and name its axe.min.js in ROLLCALC_AXE"
        )
    running.panel()
    running.page.add_script_tag(path=str(axe))
    found = running.page.evaluate("() => axe.run('.jp-OutputArea-output')")
    assert found["passes"], "axe looked at nothing"
    serious = [(rule["id"], rule["impact"], rule["nodes"][0]["html"][:200])
               for rule in found["violations"] if rule["impact"] in ("serious", "critical")]
    assert serious == []


@pytest.mark.parametrize("theme", ["JupyterLab Light", "JupyterLab Dark"])
@pytest.mark.parametrize("size", SCREENS)
def test_nothing_of_the_panel_is_cut_off(lab, new_screen, size, theme):
    """A page at 200 % zoom is a page with half as many pixels each way."""
    screen = new_screen(*SCREENS[size])
    screen.show(lab.address(lab.fresh(LESSON)), LESSON)
    screen.page.evaluate("theme => jupyterapp.commands.execute('apputils:change-theme', {theme})", theme)
    screen.page.wait_for_function("dark => document.body.dataset.jpThemeLight === String(!dark)", arg="Dark" in theme)
    screen.page.evaluate("() => jupyterapp.shell.collapseLeft()")
    screen.run_all()
    panel = screen.panel()
    assert screen.page.evaluate(CLIPPED) == []
    output = panel.locator("xpath=ancestor::*[contains(@class, 'jp-OutputArea-output')]").first
    assert output.evaluate("e => e.scrollWidth <= e.clientWidth + 1"), "the output scrolls sideways"


def test_the_static_page_has_the_pictures_and_not_the_hidden_code(screen, tmp_path):
    command = [sys.executable, "-m", "nbconvert", "--to", "html", "--output-dir", str(tmp_path),
               "--TagRemovePreprocessor.enabled=True", "--TagRemovePreprocessor.remove_input_tags=hide-input",
               str(TOP / "notebooks" / LESSON)]
    subprocess.run(command, check=True, capture_output=True)
    page = tmp_path / Path(LESSON).with_suffix(".html")
    screen.page.goto(page.as_uri())
    pictures = screen.page.locator("figure img")
    assert pictures.count() > 0
    for place in range(pictures.count()):
        assert pictures.nth(place).evaluate("i => i.decode().then(() => i.naturalWidth)") > 0
    hidden = [c for c in _code_cells() if "hide-input" in c["metadata"].get("tags", [])]
    shown = screen.page.inner_text("body")
    assert not [c for c in hidden if "".join(c["source"]).splitlines()[0] in shown]


def _code_cells():
    """Return the lesson's code cells."""
    cells = json.loads((TOP / "notebooks" / LESSON).read_text(encoding="utf-8"))["cells"]
    return [cell for cell in cells if cell["cell_type"] == "code"]
