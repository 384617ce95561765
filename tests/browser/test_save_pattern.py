"""The buttons that save a pattern, in JupyterLab: by keyboard, into the notebook's folder or as a download."""

from __future__ import annotations

import os
from pathlib import Path

import nbformat
import pytest

from tests.browser.test_lab import CLIPPED, TOP

pytestmark = pytest.mark.browser
CELL = """\
from rollcalc.layout import frustum_pattern
from rollcalc.lessons.engine.save_pattern import SavePattern
SavePattern(frustum_pattern(large_diameter=220, small_diameter=160, height=100), "skirt", part="lantern skirt")"""


@pytest.fixture
def opened(lab, screen):
    """A notebook with the buttons, run; its folder too."""
    path = lab.fresh("00_start_here.ipynb")
    folder = (lab.folder / path).parent
    book = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(CELL)])
    book.metadata = {"kernelspec": {"name": "python3", "display_name": "Python 3"}}
    (lab.folder / path).unlink()
    nbformat.write(book, folder / "save.ipynb")
    screen.show(lab.address((folder / "save.ipynb").relative_to(lab.folder).as_posix()), "save.ipynb")
    screen.run_all()
    screen.page.locator(".rollcalc-save").wait_for()
    return screen, folder


def saved(folder: Path) -> list[str]:
    return sorted(name for name in os.listdir(folder) if name.startswith("skirt"))


def test_each_button_saves_beside_the_notebook_and_says_so(opened) -> None:
    screen, folder = opened
    assert screen.errors() == []
    assert saved(folder) == []
    buttons = screen.page.locator(".rollcalc-save")
    sentence = buttons.locator("[aria-live=polite]")
    for format in ("PDF", "SVG", "DXF"):
        buttons.get_by_role("button", name=f"Save {format}").focus()
        screen.page.keyboard.press("Enter")
        screen.page.wait_for_function(
            "end => document.querySelector('.rollcalc-save [aria-live]').textContent.includes(`skirt.${end}`)",
            arg=format.lower(),
        )
        assert sentence.inner_text().startswith("Saved as ")
    assert saved(folder) == ["skirt.dxf", "skirt.pdf", "skirt.svg"]
    buttons.get_by_role("button", name="Save SVG").click()
    buttons.locator(".rollcalc-problem").wait_for()
    assert "exists already" in sentence.inner_text()
    buttons.get_by_label("Replace a file of that name").check()
    buttons.get_by_role("button", name="Save SVG").click()
    screen.page.wait_for_function("() => !document.querySelector('.rollcalc-save .rollcalc-problem')")
    assert screen.console == []


def test_the_browser_downloads_the_same_file(opened, tmp_path: Path) -> None:
    screen, folder = opened
    buttons = screen.page.locator(".rollcalc-save")
    buttons.get_by_label("File name").fill("roof")
    buttons.get_by_label("Save to").select_option("the browser's downloads")
    buttons.get_by_label("Paper of the PDF").select_option("Letter")
    with screen.page.expect_download() as coming:
        buttons.get_by_role("button", name="Save PDF").click()
    assert coming.value.suggested_filename == "roof.pdf"
    coming.value.save_as(tmp_path / "roof.pdf")
    assert (tmp_path / "roof.pdf").read_bytes()[:5] == b"%PDF-"
    assert buttons.get_by_role("link", name="Download roof.pdf again").is_visible()
    assert not [name for name in os.listdir(folder) if name.startswith(("roof", "skirt"))]


@pytest.mark.parametrize("size", [(1300, 900), (360, 740)])
def test_the_buttons_have_names_and_nothing_is_cut_off(opened, size) -> None:
    screen, _ = opened
    screen.page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    screen.page.evaluate("() => jupyterapp.shell.collapseLeft()")
    screen.page.wait_for_timeout(300)
    assert screen.page.evaluate(CLIPPED) == []
    axe = os.environ.get("ROLLCALC_AXE") or TOP / "node_modules" / "axe-core" / "axe.min.js"
    if Path(axe).is_file():
        screen.page.add_script_tag(path=str(axe))
        found = screen.page.evaluate("() => axe.run('.rollcalc-save')")
        assert found["passes"]
        assert [rule["id"] for rule in found["violations"]] == []
    if shots := os.environ.get("ROLLCALC_SHOTS"):
        screen.page.locator(".rollcalc-save").screenshot(path=f"{shots}/save-{size[0]}.png")
