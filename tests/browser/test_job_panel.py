"""The job panel in JupyterLab, by keyboard alone: a job planned, a pass measured, a card written."""

from __future__ import annotations

import os
from pathlib import Path

import nbformat
import pytest

from tests.browser.test_lab import CLIPPED, TOP

pytestmark = pytest.mark.browser
CELL = "from rollcalc.lessons.lesson13 import panels\npanels.job()"
SAYS = "words => document.querySelector('.rollcalc-job .rollcalc-sentence').textContent.includes(words)"


@pytest.fixture
def opened(lab, screen):
    """A notebook with the panel, run; its folder too."""
    path = lab.fresh("00_start_here.ipynb")
    folder = (lab.folder / path).parent
    book = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(CELL)])
    book.metadata = {"kernelspec": {"name": "python3", "display_name": "Python 3"}}
    (lab.folder / path).unlink()
    nbformat.write(book, folder / "job.ipynb")
    screen.show(lab.address((folder / "job.ipynb").relative_to(lab.folder).as_posix()), "job.ipynb")
    screen.run_all()
    screen.page.evaluate("() => jupyterapp.shell.collapseLeft()")
    screen.page.locator(".rollcalc-job").wait_for()
    return screen, folder


def typed(screen, box, words: str) -> None:
    """Go to a field and type, as a person does."""
    box.focus()
    screen.page.keyboard.press("Control+a")
    screen.page.keyboard.type(words)
    screen.page.keyboard.press("Tab")


def thickness(job):
    """Return the field of the thickness that is in sight."""
    return job.get_by_label("Thickness (mm)").locator("visible=true")


def test_a_job_is_planned_measured_and_its_card_written_by_keyboard(opened) -> None:
    screen, folder = opened
    page, job = screen.page, screen.page.locator(".rollcalc-job")
    assert screen.errors() == []
    page.wait_for_function(SAYS, arg="3 passes")
    typed(screen, thickness(job), "0.8x")
    page.wait_for_function(SAYS, arg="Thickness is '0.8x'")
    assert thickness(job).input_value() == "0.8x"
    assert job.locator("table:visible").count() == 0
    typed(screen, thickness(job), "0,76")
    page.wait_for_function(SAYS, arg="3 passes")
    rise = job.get_by_label("Pass 1: rise measured (mm)")
    typed(screen, rise, "5.2")
    page.wait_for_function(SAYS, arg="After pass 1. Next")
    assert job.get_by_label("Pass 1: turns really dialled").input_value() == "8 7/8"
    assert job.get_by_label("Pass 2: rise measured (mm)").is_visible()
    assert job.locator(".rollcalc-belief .rollcalc-picture > svg").is_visible()
    assert job.locator(".rollcalc-next").inner_text().startswith("Next: ")
    typed(screen, job.get_by_label("Pass 2: rise measured (mm)"), "16.1")
    page.wait_for_function(SAYS, arg="Too tight")
    job.get_by_label("Bare numbers are in").select_option("inch")
    page.wait_for_function("() => document.querySelector('[data-name=rise-1]').value.startsWith('0.2')")
    job.get_by_role("button", name="Clear what was measured").focus()
    page.keyboard.press("Enter")
    page.wait_for_function(SAYS, arg="3 passes")
    job.get_by_role("button", name="Save the card as HTML").focus()
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.querySelector('.rollcalc-saved').textContent.startsWith('Saved as ')")
    assert sorted(name for name in os.listdir(folder) if name.startswith("setup-card")) == ["setup-card.html"]
    assert "Traceback" not in page.inner_text("body")
    assert screen.console == []


def test_a_kernel_that_is_gone_is_told_and_what_was_typed_stays(opened, lab) -> None:
    screen, _ = opened
    lab.stop_kernels()
    box = thickness(screen.page.locator(".rollcalc-job"))
    typed(screen, box, "0.9")
    screen.page.wait_for_function(SAYS, arg="No answer yet")
    assert box.input_value() == "0.9"


@pytest.mark.parametrize("size", [(1300, 900), (360, 740)])
@pytest.mark.parametrize("piece", ["cylinder of sheet", "cone of sheet", "ring of round bar"])
def test_everything_has_a_name_and_nothing_is_cut_off(opened, piece, size) -> None:
    screen, _ = opened
    page, job = screen.page, screen.page.locator(".rollcalc-job")
    page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    job.get_by_label("What do you make?").select_option(piece)
    page.wait_for_function("word => document.querySelector('.rollcalc-verdict + p').textContent.startsWith(word)",
                           arg={"cy": "Cylinder", "co": "Cone", "ri": "Ring"}[piece[:2]])
    if piece != "cone of sheet":
        typed(screen, job.get_by_label("Pass 1: rise measured (mm)"), "5.0")
        page.wait_for_function(SAYS, arg="After pass 1")
    page.wait_for_timeout(300)
    scrolls = "part => !part.includes('rollcalc-scroll') && !part.includes('rollcalc-checks')"
    assert page.evaluate(f"() => ({CLIPPED})().filter({scrolls}).filter(part => !/^<(t|input|span)/.test(part))") == []
    axe = os.environ.get("ROLLCALC_AXE") or TOP / "node_modules" / "axe-core" / "axe.min.js"
    if Path(axe).is_file():
        page.add_script_tag(path=str(axe))
        found = page.evaluate("() => axe.run('.rollcalc-job')")
        assert found["passes"]
        assert [rule["id"] for rule in found["violations"]] == []
    if shots := os.environ.get("ROLLCALC_SHOTS"):
        page.set_viewport_size({"width": size[0], "height": 5000})
        job.screenshot(path=f"{shots}/job-{piece.replace(' ', '-')}-{size[0]}.png")
