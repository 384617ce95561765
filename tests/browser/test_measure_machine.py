"""The form of lesson 11 in JupyterLab: by keyboard from the first field to the file, and with its kernel gone."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

import rollcalc as rc
from tests.browser.test_lab import CLIPPED, TOP

pytestmark = pytest.mark.browser
LESSON = "11_measure_your_machine.ipynb"
TOLD = "words => document.querySelector('.rollcalc-measure').innerText.includes(words)"
DRAWN = "words => document.querySelector('.rollcalc-measure svg').textContent.includes(words)"
IN_HAND = "() => document.activeElement.dataset.name ?? document.activeElement.textContent"


@pytest.fixture
def opened(lab, screen):
    """Lesson 11, run; the form and its folder."""
    path = lab.fresh(LESSON)
    screen.show(lab.address(path), LESSON)
    screen.run_all()
    form = screen.page.locator(".rollcalc-measure")
    form.wait_for()
    form.scroll_into_view_if_needed()
    return screen, form, (lab.folder / path).parent


def test_a_machine_is_typed_by_keyboard_drawn_and_written(opened) -> None:
    screen, form, folder = opened
    assert screen.errors() == []
    page = screen.page
    form.get_by_label("What you call it").focus()
    page.keyboard.type("ours")
    page.keyboard.press("Tab")
    assert page.evaluate(IN_HAND) == "rolls_by"
    page.keyboard.press("Tab")
    page.keyboard.type("65,3")
    page.wait_for_function(DRAWN, arg="upper roll: 65,3 mm")
    for name in ("lower_roll_diameter", "bending_roll_diameter", "guide_distance"):
        page.keyboard.press("Tab")
        assert page.evaluate(IN_HAND) == name
    page.wait_for_function(DRAWN, arg="guide distance: 78.40 mm, assumed")
    page.keyboard.type("3 1/16 in")
    page.wait_for_function(TOLD, arg="Read as 77.79 mm.")
    form.get_by_label("Working width").fill("wide")
    page.wait_for_function(TOLD, arg="Working width: length is")
    assert form.get_by_label("Working width").get_attribute("aria-invalid") == "true"
    button = form.get_by_role("button", name="Write machine.toml")
    button.focus()
    page.keyboard.press("Enter")
    page.wait_for_function(TOLD, arg="Nothing is written. Working width")
    form.get_by_label("Working width").fill("610")
    page.wait_for_function(TOLD, arg="Read as 610.00 mm.")
    button.focus()
    page.keyboard.press("Enter")
    page.wait_for_function(TOLD, arg="Written: ")
    machine = rc.load_machine(folder / "machine.toml")
    assert (machine.upper_roll_diameter, machine.guide_distance, machine.working_width) == (65.3, 77.7875, 610)
    assert "guide_angle_degrees" in machine.not_measured
    form.locator("summary").click()
    assert form.get_by_role("row", name="guide distance").is_visible()
    assert (screen.console, screen.outside) == ([], [])


def test_a_pyramid_machine_has_its_own_fields(opened) -> None:
    screen, form, _ = opened
    form.get_by_label("Kind of machine").select_option("one top roll between two bottom rolls")
    form.get_by_label("From bottom roll to bottom roll").focus()
    screen.page.wait_for_function(DRAWN, arg="spacing: 239.70 mm, assumed")
    assert not form.get_by_label("Guide distance").is_visible()
    assert not form.get_by_label("Pinch force").is_visible()


def test_with_its_kernel_gone_the_form_says_so(opened, lab) -> None:
    screen, form, folder = opened
    lab.stop_kernels()
    screen.page.wait_for_timeout(1000)
    form.get_by_label("Crank radius").fill("250")
    screen.page.wait_for_function(TOLD, arg="No answer yet")
    form.get_by_role("button", name="Write machine.toml").click()
    screen.page.wait_for_function(TOLD, arg="No answer, so nothing may have been written.")
    assert not (folder / "machine.toml").exists()


@pytest.mark.parametrize("size", [(1300, 900), (360, 740)])
def test_the_fields_have_names_and_nothing_is_cut_off(opened, size) -> None:
    screen, form, _ = opened
    screen.page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    screen.page.evaluate("() => jupyterapp.shell.collapseLeft()")
    screen.page.wait_for_timeout(300)
    assert screen.page.evaluate(CLIPPED.replace("svg *", "svg *, .rollcalc-errors, .rollcalc-errors *")) == []
    axe = os.environ.get("ROLLCALC_AXE") or TOP / "node_modules" / "axe-core" / "axe.min.js"
    if Path(axe).is_file():
        screen.page.add_script_tag(path=str(axe))
        found = screen.page.evaluate("() => axe.run('.rollcalc-measure')")
        assert found["passes"]
        assert [rule["id"] for rule in found["violations"]] == []
    if shots := os.environ.get("ROLLCALC_SHOTS"):
        form.screenshot(path=f"{shots}/measure-{size[0]}.png")
