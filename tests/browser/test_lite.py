"""The lessons as a web site that computes in the browser alone, with the rest of the world cut off."""

from __future__ import annotations

import functools
import http.server
import os
import threading
from pathlib import Path

import pytest

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
LESSONS = sorted(path.name for path in NOTEBOOKS.glob("[0-9][0-9]_*.ipynb") if not path.name.startswith("00"))
TYPES = {**http.server.SimpleHTTPRequestHandler.extensions_map, ".wasm": "application/wasm", ".mjs": "text/javascript"}

pytestmark = pytest.mark.browser


class Quiet(http.server.SimpleHTTPRequestHandler):
    """A file server that does not write about each file."""

    extensions_map = TYPES

    def log_message(self, *_):
        pass


@pytest.fixture
def site():
    """The built site, served on this computer; its address."""
    place = os.environ.get("ROLLCALC_LITE_SITE", "")
    if not place:
        pytest.skip("no site given in ROLLCALC_LITE_SITE (build one with binder/build_lite.py)")
    assert (Path(place) / "lab" / "index.html").is_file(), f"{place} holds no site"
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=place))
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.mark.parametrize("lesson", LESSONS)
def test_a_lesson_runs_and_its_panel_moves_to_both_ends(site, screen, lesson):
    screen.show(f"{site}lab/index.html?path={lesson}", lesson)
    screen.run_all()
    assert screen.errors() == []
    panel = screen.panel()
    sliders = panel.locator("input[type=range]")
    if not sliders.count():  # a form, whose own test types into it
        assert panel.locator(".rollcalc-verdict").inner_text().strip()
        return
    sliders.first.focus()
    for key in ("ArrowRight", "End", "Home"):
        before = screen.state()
        screen.page.keyboard.press(key)
        screen.wait_for_change(before)
    assert screen.outside == []
    assert screen.console == []
