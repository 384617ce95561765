"""A real browser on the lessons: Debian's Chromium, driven by Playwright, cut off from every other host.

Where Chromium is missing these tests skip, unless ROLLCALC_BROWSER=required says that they must run.
ROLLCALC_CHROMIUM names the browser's file, ROLLCALC_AXE that of axe-core (axe.min.js),
ROLLCALC_LITE_SITE a folder built by binder/build_lite.py.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn
from urllib.parse import urlparse

import pytest

TOP = Path(__file__).resolve().parents[2]
FLAGS = ["--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"]
PATIENCE = 60_000  # ms; a limit on hope, not a claim about speed

NOTEBOOK = "window.jupyterapp.shell.currentWidget"
OPENED = f"name => window.jupyterapp && {NOTEBOOK}?.context?.isReady && {NOTEBOOK}.context.path.endsWith(name)"
IDLE = f"() => {NOTEBOOK}.sessionContext.session?.kernel?.status === 'idle'"
FORGET = f"() => {{ for (const c of {NOTEBOOK}.content.model.cells) if (c.type === 'code') c.executionCount = null }}"
CELLS = f"() => {NOTEBOOK}.context.model.toJSON().cells"
ALL_RAN = f"() => ({IDLE})() && ({CELLS})().every(c => c.cell_type !== 'code' || c.execution_count !== null)"
STATE = """() => {
    const panel = document.querySelector('.rollcalc-panel'), part = name => panel.querySelector('.rollcalc-' + name);
    return [part('picture').innerHTML, part('sentence').textContent];
}"""


def unavailable(reason: str) -> NoReturn:
    """Skip, or fail where the browser tests are required."""
    if os.environ.get("ROLLCALC_BROWSER") == "required":
        pytest.fail(f"{reason}, and ROLLCALC_BROWSER=required", pytrace=False)
    pytest.skip(reason)


@dataclass
class Screen:
    """A page with what it logged and asked for, and the few moves a learner makes in JupyterLab."""

    page: Any
    console: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)

    def show(self, address: str, name: str) -> None:
        """Open a notebook and wait until it is there and its kernel is ready."""
        self.page.goto(address)
        self.page.wait_for_function(OPENED, arg=name, timeout=PATIENCE)
        self.page.wait_for_function(IDLE, timeout=PATIENCE)

    def run_all(self) -> None:
        """Choose Run, Run All Cells in the menu, and wait until every cell has run."""
        self.page.evaluate(FORGET)
        self.page.get_by_role("menuitem", name="Run", exact=True).click()
        self.page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
        self.page.wait_for_function(ALL_RAN, timeout=2 * PATIENCE)

    def errors(self) -> list[str]:
        """Return what went wrong in cells that are not meant to go wrong."""
        cells = [cell for cell in self.page.evaluate(CELLS) if cell["cell_type"] == "code"]
        meant = [cell for cell in cells if "raises-exception" not in cell["metadata"].get("tags", [])]
        return [f"{out['ename']}: {out['evalue']}" for cell in meant for out in cell["outputs"] if "ename" in out]

    def panel(self) -> Any:
        """Return the lesson's first panel, scrolled into view."""
        panel = self.page.locator(".rollcalc-panel").first
        panel.wait_for(timeout=PATIENCE)
        panel.scroll_into_view_if_needed()
        return panel

    def state(self) -> list[str]:
        """Return the first panel's picture and sentence as they stand."""
        return self.page.evaluate(STATE)

    def wait_for_change(self, before: list[str]) -> list[str]:
        """Wait until both picture and sentence of the first panel differ from before, and return them."""
        changed = "now[0].includes('<svg') && now[0] !== then[0] && now[1] !== then[1]"
        self.page.wait_for_function(f"then => {{ const now = ({STATE})(); return {changed} }}", arg=before)
        return self.state()

    def wait_for_return(self, before: list[str]) -> None:
        """Wait until picture and sentence of the first panel are again what they were."""
        self.page.wait_for_function(f"then => ({STATE})().join() === then.join()", arg=before)

    def report(self) -> str:
        """Return what is on the page, and save how it looks."""
        shot = Path(tempfile.mkdtemp(prefix="rollcalc-screen-")) / "page.png"
        self.page.screenshot(path=str(shot))
        text = self.page.evaluate("() => document.body.innerText")
        return "\n".join([f"title: {self.page.title()}", f"address: {self.page.url.split('?')[0]}",
                          f"screenshot: {shot}", f"console errors: {self.console}",
                          f"blocked requests: {self.outside}", "text:", text[:3000]])


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Iterator[None]:
    """Add to every failure what was on the page."""
    report = yield
    if report.failed and call.when == "call":
        for screen in (screen for screen in getattr(item, "screens", []) if not screen.page.is_closed()):
            try:
                report.sections.append(("On the page", screen.report()))
            except Exception as problem:
                report.sections.append(("On the page", f"the page cannot be read any more: {problem}"))
    return report


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """One Chromium for all pages."""
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    chromium = os.environ.get("ROLLCALC_CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
    if not chromium:
        unavailable("no Chromium on this computer (apt-get install chromium, or name one in ROLLCALC_CHROMIUM)")
    with sync_api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def new_screen(browser: Any, request: pytest.FixtureRequest) -> Iterator[Callable[..., Screen]]:
    """A maker of pages that can reach this computer only."""
    contexts: list[Any] = []
    request.node.screens = []

    def made(width: int = 1300, height: int = 900) -> Screen:
        context = browser.new_context(viewport={"width": width, "height": height})
        context.set_default_timeout(PATIENCE / 4)
        contexts.append(context)
        screen = Screen(context.new_page())
        request.node.screens.append(screen)

        def only_here(route: Any) -> None:
            if urlparse(route.request.url).hostname in ("127.0.0.1", "localhost", None):
                route.continue_()
            else:
                screen.outside.append(route.request.url)
                route.abort()

        context.route("**/*", only_here)
        screen.page.on("console", lambda said: screen.console.append(said.text[:300]) if said.type == "error" else None)
        screen.page.on("pageerror", lambda error: screen.console.append(f"page error: {str(error)[:300]}"))
        return screen

    yield made
    for context in contexts:
        context.close()


@pytest.fixture
def screen(new_screen: Callable[..., Screen]) -> Screen:
    """A page on an ordinary screen."""
    return new_screen()


@dataclass
class Lab:
    """A running ``rollcalc``: the learner's folder, the server's address and its key."""

    folder: Path
    url: str
    token: str

    def fresh(self, lesson: str) -> str:
        """Return the path, in the learner's folder, of a copy of a lesson that nobody has opened."""
        place = Path(tempfile.mkdtemp(dir=self.folder, prefix="fresh-"))
        shutil.copy(TOP / "notebooks" / lesson, place / lesson)
        return (place / lesson).relative_to(self.folder).as_posix()

    def address(self, path: str) -> str:
        """Return the address that opens a notebook alone, in a workspace of its own."""
        return f"{self.url}lab/workspaces/{path.split('/')[0]}/tree/{path}?token={self.token}"

    def call(self, method: str, what: str) -> Any:
        """Return the answer of the server's own interface."""
        request = urllib.request.Request(f"{self.url}api/{what}?token={self.token}", method=method)
        with urllib.request.urlopen(request, timeout=10) as answer:
            return json.loads(answer.read() or "null")

    def stop_kernels(self) -> None:
        """Free what the last lesson used."""
        for session in self.call("GET", "sessions"):
            self.call("DELETE", f"sessions/{session['id']}")


@pytest.fixture(scope="session")
def running_lab(browser: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lab]:
    """The lessons opened as a learner opens them, but with settings of their own and no window."""
    home = tmp_path_factory.mktemp("home")
    own = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")
    places = {name: str(home / name) for name in own}
    (home / "JUPYTER_CONFIG_DIR").mkdir()
    (home / "JUPYTER_CONFIG_DIR" / "jupyter_lab_config.json").write_text('{"LabApp": {"expose_app_in_browser": true}}')
    command = [sys.executable, "-m", "rollcalc", "--no-browser", str(home / "my-lessons")]
    with open(home / "log", "w") as log:
        server = subprocess.Popen(command, env={**os.environ, **places}, stdout=log, stderr=subprocess.STDOUT)
    try:
        yield _answering(server, home)
    finally:
        server.terminate()
        server.wait(30)


def _answering(server: subprocess.Popen[bytes], home: Path) -> Lab:
    """Return the server once it answers; fail with its log if it does not."""
    runtime = home / "JUPYTER_RUNTIME_DIR" / f"jpserver-{server.pid}.json"
    deadline = time.monotonic() + PATIENCE / 1000
    while server.poll() is None and time.monotonic() < deadline:
        try:
            known = json.loads(runtime.read_text())
            lab = Lab(home / "my-lessons", known["url"], known["token"])
            lab.call("GET", "status")
            return lab
        except (OSError, ValueError):
            time.sleep(0.2)
    pytest.fail(f"JupyterLab did not start:\n{(home / 'log').read_text()[-3000:]}", pytrace=False)


@pytest.fixture
def lab(running_lab: Lab) -> Iterator[Lab]:
    """The running lessons, their kernels stopped after each test."""
    yield running_lab
    running_lab.stop_kernels()
