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
{name}() if callable({name}) else {name}
"""
PLOTTED = """
%matplotlib inline
from ipywidgets import FloatSlider, Dropdown, interact
from rollcalc.drawing import paper_figure
from {module} import {name}
panel = {name}() if callable({name}) else {name}
def draw(**values):
    return paper_figure(panel._picture_function(**values))
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

# Arms a watch: the clock starts at the next real key, and stops after the frame that shows another picture.
WATCH = """([selector, attribute]) => {
  const shown = () => {
    const found = [...document.querySelectorAll(selector)].pop();
    if (!found || (found.tagName === "IMG" && !(found.complete && found.naturalWidth))) return null;
    return attribute ? found.getAttribute(attribute) : found.outerHTML;
  };
  const before = shown();
  window.rollcalcWatch = new Promise((resolve, reject) => {
    document.addEventListener("keydown", (key) => {
      const look = () => {
        const now = shown();
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


def slider_latencies(place: str) -> tuple[list[float], list[float]]:
    """Return the times from key to picture of the panel at ``module:name``, and of interact drawing the same. [s]"""
    from playwright.sync_api import sync_playwright

    module, _, name = place.partition(":")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        for stem, code in (("ours", OURS), ("plotted", PLOTTED)):
            _write_notebook(Path(folder, f"{stem}.ipynb"), code.format(module=module, name=name).strip())
        chromium = playwright.chromium.launch(executable_path=_chromium(), args=FLAGS)
        with _jupyterlab(folder) as address:
            ours = _measured(chromium, f"{address}/lab/tree/ours.ipynb?reset", ".rollcalc-panel input[type=range]",
                             (".rollcalc-picture svg", ""))  # fmt: skip
            plotted = _measured(chromium, f"{address}/lab/tree/plotted.ipynb?reset", ".jp-OutputArea .noUi-handle",
                                (".jp-OutputArea-output img", "src"))  # fmt: skip
        chromium.close()
    return ours, plotted


def _measured(chromium: Any, url: str, slider: str, picture: tuple[str, str]) -> list[float]:
    """Return the times from key to picture in one notebook. [s]"""
    page = chromium.new_page(viewport={"width": 1300, "height": 1200})
    page.goto(url)
    page.evaluate(RUN_ALL)
    handle = page.locator(slider).first
    try:
        handle.wait_for(timeout=60_000)
        page.locator(picture[0]).last.wait_for(timeout=60_000)
    except Exception:
        print(f"{url} shows:\n{page.inner_text('body')[:2000]}")
        raise
    handle.focus()
    times = []
    for index in range(KEYS + WARM_UP):
        page.evaluate(WATCH, list(picture))
        page.keyboard.press("ArrowRight" if index % 8 < 4 else "ArrowLeft")
        times.append(page.evaluate("() => window.rollcalcWatch") / 1000)
        page.wait_for_timeout(60)  # lets the last message of one redraw pass before the next key
    page.close()
    return times[WARM_UP:]


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
    )  # fmt: skip
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
