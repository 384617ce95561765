"""The benchmark's browser half: a key on a slider in JupyterLab, and the time until the picture has changed."""

from __future__ import annotations

import contextlib
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

KEYS, WARM_UP = 40, 3
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

OURS = """
from {module} import {name}
{name}()
"""
PLOTTED = """
%matplotlib inline
from ipywidgets import FloatSlider, Dropdown, interact
from rollcalc.drawing import paper_figure
from {module} import {name}
panel = {name}()
def draw(**values):
    return paper_figure(panel._drawn(values, panel.units, panel.has_units))
controls = dict()
for c in panel.controls:
    start = panel.start[c["name"]]
    controls[c["name"]] = (Dropdown(options=c["options"], value=start) if "options" in c
        else FloatSlider(min=c["low"], max=c["high"], step=c["step"], value=start))
interact(draw, **controls);
"""

RUN_ALL = """async () => {
  const pause = () => new Promise((resolve) => setTimeout(resolve, 100));
  while (!window.jupyterapp) await pause();
  await window.jupyterapp.restored;
  const notebook = () => [...window.jupyterapp.shell.widgets("main")].find((widget) => widget.sessionContext);
  while (!notebook()) await pause();
  await notebook().sessionContext.ready;
  window.jupyterapp.shell.activateById(notebook().id);
  await window.jupyterapp.commands.execute("notebook:run-all-cells");
}"""

# What a reader sees of the picture: its text, or the source of a loaded image.
SHOWN = """([selector, attribute]) => {
  window.rollcalcShown = () => {
    const found = [...document.querySelectorAll(selector)].pop();
    if (!found || (found.tagName === "IMG" && !(found.complete && found.naturalWidth))) return null;
    return attribute ? found.getAttribute(attribute) : found.outerHTML;
  };
}"""

# Arms a watch: the clock starts at the next real key, and stops after the frame that shows another picture.
WATCH = """() => {
  const before = window.rollcalcShown();
  window.rollcalcWatch = new Promise((resolve, reject) => {
    document.addEventListener("keydown", (key) => {
      const look = () => {
        const now = window.rollcalcShown();
        if (now !== null && now !== before) {
          const painted = new MessageChannel();
          painted.port1.onmessage = () => resolve(performance.now() - key.timeStamp);
          painted.port2.postMessage(0);
        } else if (performance.now() - key.timeStamp > 8000) reject(new Error("the picture did not change"));
        else requestAnimationFrame(look);
      };
      requestAnimationFrame(look);
    }, { capture: true, once: true });
  });
}"""

# Notes the time of every frame that shows another picture than the one before.
RECORD = """() => {
  let last = window.rollcalcShown();
  window.rollcalcTimes = [];
  const look = () => {
    const now = window.rollcalcShown();
    if (now !== null && now !== last) { last = now; window.rollcalcTimes.push(performance.now()); }
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}"""


@dataclass(frozen=True)
class Slider:
    """Times from key to picture, and what a drag of the mouse showed. [s]"""

    keys: list[float]
    drag: float
    pictures: int
    settled: float


@dataclass(frozen=True)
class Place:
    """Where a notebook has its slider, the rail the slider runs on, and the picture."""

    notebook: str
    slider: str
    rail: str
    picture: tuple[str, str]


PANEL = Place("ours", ".rollcalc-panel input[type=range]", ".rollcalc-panel input[type=range]",
              (".rollcalc-picture svg", ""))
INTERACT = Place("plotted", ".jp-OutputArea .noUi-handle", ".jp-OutputArea .noUi-target",
                 (".jp-OutputArea-output img", "src"))


def measured_sliders(place: str) -> tuple[Slider, Slider]:
    """Return what the panel made by ``module:function`` does, and what interact does that draws the same."""
    from playwright.sync_api import sync_playwright

    module, _, name = place.partition(":")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        for where, code in ((PANEL, OURS), (INTERACT, PLOTTED)):
            _write_notebook(Path(folder, f"{where.notebook}.ipynb"), code.format(module=module, name=name).strip())
        chromium = playwright.chromium.launch(executable_path=_chromium(), args=FLAGS)
        with _jupyterlab(folder) as address:
            ours, plotted = (_measured(chromium, address, where) for where in (PANEL, INTERACT))
        chromium.close()
    return ours, plotted


def _measured(chromium: Any, address: str, where: Place) -> Slider:
    """Return the times of one notebook's first slider."""
    page = chromium.new_page(viewport={"width": 1300, "height": 1200})
    page.goto(f"{address}/lab/tree/{where.notebook}.ipynb?reset")
    page.evaluate(RUN_ALL)
    handle = page.locator(where.slider).first
    try:
        handle.wait_for(timeout=60_000)
        page.locator(where.picture[0]).last.wait_for(timeout=60_000)
    except Exception:
        print(f"{where.notebook} shows:\n{page.inner_text('body')[:2000]}")
        raise
    page.evaluate(SHOWN, list(where.picture))
    keys = _key_times(page, handle)
    drag, times, released = _drag(page, handle.bounding_box(), page.locator(where.rail).first.bounding_box())
    page.close()
    return Slider(keys, drag, len(times), max(0.0, times[-1] - released))


def _key_times(page: Any, handle: Any) -> list[float]:
    """Return the times from key to picture. [s]"""
    handle.focus()
    times = []
    for index in range(KEYS + WARM_UP):
        page.evaluate(WATCH)
        page.keyboard.press("ArrowRight" if index % 8 < 4 else "ArrowLeft")
        times.append(page.evaluate("() => window.rollcalcWatch") / 1000)
        # A key by itself: one that comes within about 100 ms waits some 40 ms longer for the server in between,
        # whatever draws. The drag of the mouse is the hurried case.
        page.wait_for_timeout(250)
    return times[WARM_UP:]


def _drag(page: Any, handle: dict[str, float], rail: dict[str, float]) -> tuple[float, list[float], float]:
    """Drag the slider along; return how long that took, when new pictures came, and when the mouse let go. [s]"""
    page.evaluate(RECORD)
    height = handle["y"] + handle["height"] / 2
    grip = handle["x"] + handle["width"] * (0.2 if handle["width"] > rail["width"] / 2 else 0.5)
    page.mouse.move(grip, height)
    page.mouse.down()
    start = page.evaluate("performance.now()")
    for step in range(60):
        page.mouse.move(rail["x"] + rail["width"] * (0.2 + 0.7 * step / 59), height)
        page.wait_for_timeout(12)
    page.mouse.up()
    released = page.evaluate("performance.now()")
    page.wait_for_timeout(3000)  # far more than the slowest redraw, so that the last picture has come
    times = page.evaluate("window.rollcalcTimes")
    return (released - start) / 1000, [time / 1000 for time in times], released / 1000


@contextlib.contextmanager
def _jupyterlab(folder: str) -> Iterator[str]:
    """Run JupyterLab of this environment on a free port of this machine, without the user's settings."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    settings = {name: str(Path(folder, ".jupyter")) for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR")}
    root = str(Path(__file__).parents[1])
    paths = os.pathsep.join(filter(None, (root, os.environ.get("PYTHONPATH"))))
    server = subprocess.Popen(
        [sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", "--ServerApp.ip=127.0.0.1",
         f"--ServerApp.port={port}", "--IdentityProvider.token=", "--ServerApp.password=",
         "--LabApp.expose_app_in_browser=True", "--LabApp.news_url=None",
         "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate", f"--ServerApp.root_dir={folder}"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env={**os.environ, **settings, "JUPYTER_PREFER_ENV_PATH": "1", "PYTHONPATH": paths},
    )
    try:
        _wait_for(port)
        yield f"http://127.0.0.1:{port}"
    finally:
        server.terminate()
        server.wait(30)


def _wait_for(port: int) -> None:
    """Wait until a server answers at the port."""
    until = time.monotonic() + 60
    while time.monotonic() < until:
        with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 0.5):
            return
        time.sleep(0.25)
    raise TimeoutError("JupyterLab did not start within a minute")


def _write_notebook(path: Path, code: str) -> None:
    """Write a notebook of one cell."""
    import nbformat

    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(code)])
    notebook.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3 (ipykernel)", "language": "python"}
    nbformat.write(notebook, path)


def _chromium() -> str:
    """Return where Chromium is."""
    named = os.environ.get("ROLLCALC_CHROMIUM")
    found = named or next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if found is None:
        raise SystemExit("Chromium was not found: install it, or name it in ROLLCALC_CHROMIUM.")
    return found
