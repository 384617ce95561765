"""The command ``rollcalc``: lay the lessons out in a folder the learner owns, and open the first one.

The lessons are copied, because JupyterLab saves as it goes: working in the installed
files would change what the next learner and the tests read. Nothing is ever overwritten.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path

from .rolling.machine.file import FILE_NAME
from .rolling.machine.writer import demo_machine_text

FIRST_LESSON = "00_start_here.ipynb"
RECORD = ".rollcalc-lessons.json"


class LaunchError(Exception):
    """Why the lessons cannot be opened, in one sentence."""


@dataclass
class Delivery:
    """What became of each lesson file: new here, kept as it was, kept although a newer one exists."""

    new: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    newer: list[str] = field(default_factory=list)

    def sentences(self, folder: Path) -> list[str]:
        """Return the sentences that tell the learner what is in the folder."""
        told = [f"Lessons in {folder}: {len(self.new)} new, {len(self.kept) + len(self.newer)} kept as you left them."]
        if self.newer:
            told.append(f"A newer version exists of {', '.join(self.newer)}: yours was kept; to get the new one, "
                        "rename yours and start again.")
        return told


def main(words: Sequence[str] | None = None) -> int:
    """Run the command and return its exit code: 0, or 2 when the lessons cannot be opened."""
    asked = _parser().parse_args(words)
    folder = Path(asked.folder).expanduser().absolute()
    try:
        if find_spec("jupyterlab") is None:
            raise LaunchError("The lessons need JupyterLab, which this Python does not have: install rollcalc "
                              'with its lessons, as in  pip install ".[lessons]"  in the project folder.')
        delivery = delivered_lessons(lesson_source(), folder)
    except LaunchError as problem:
        print(problem, file=sys.stderr)
        return 2
    print(*delivery.sentences(folder), sep="\n", flush=True)
    return open_lessons(folder, browser=asked.browser)


def _parser() -> argparse.ArgumentParser:
    """Return the reader of the command's words."""
    parser = argparse.ArgumentParser(
        prog="rollcalc",
        description="Copy the lessons into a folder of your own, keeping what is there, and open them in JupyterLab.",
    )
    parser.add_argument("folder", nargs="?", default="my-lessons", help="your folder (my-lessons if left out)")
    parser.add_argument("--no-browser", dest="browser", action="store_false",
                        help="open no browser window; print the address instead")
    return parser


def lesson_source() -> Path:
    """Return the folder the lessons come from: the installed package's, or the project's own."""
    package = Path(__file__).resolve().parent
    for place in (package.parent / "notebooks", package / "notebooks"):
        if (place / FIRST_LESSON).is_file():
            return place
    raise LaunchError("The lessons did not come with this rollcalc: install it again from the project folder.")


def delivered_lessons(source: Path, folder: Path) -> Delivery:
    """Copy what is not there yet from source into folder, and return what was done."""
    if folder.resolve().is_relative_to(source.resolve()):
        raise LaunchError(f"The folder {folder} holds the originals of the lessons: choose another folder.")
    if folder.exists() and not folder.is_dir():
        raise LaunchError(f"{folder} is a file, but a folder is needed: choose another name.")
    delivery = Delivery()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        record = _read_record(folder / RECORD)
        for path in _lesson_files(source):
            name = path.relative_to(source).as_posix()
            _deliver(path.read_bytes(), folder / name, name, record, delivery)
        if not os.path.lexists(folder / FILE_NAME):  # the learner is meant to change it, so a newer one is no news
            _deliver(demo_machine_text().encode(), folder / FILE_NAME, FILE_NAME, record, delivery)
        (folder / RECORD).write_text(json.dumps(record, indent=1, sort_keys=True) + "\n", encoding="utf-8")
    except OSError as problem:
        raise LaunchError(f"The folder {folder} cannot take the lessons ({problem.strerror}): "
                          "choose a folder you may write in.") from problem
    return delivery


def _lesson_files(source: Path) -> list[Path]:
    """Return every lesson file below source, in order, without hidden ones."""
    files = (path for path in source.rglob("*") if path.is_file())
    return sorted(path for path in files if not any(part.startswith(".") for part in path.relative_to(source).parts))


def _deliver(content: bytes, target: Path, name: str, record: dict[str, str], delivery: Delivery) -> None:
    """Write one lesson file unless it exists; note in the record which version the learner was given."""
    version = hashlib.sha256(content).hexdigest()
    if os.path.lexists(target):
        mine = hashlib.sha256(target.read_bytes()).hexdigest() if target.is_file() else ""
        is_newer = version not in (mine, record.get(name))
        (delivery.newer if is_newer else delivery.kept).append(name)
        return
    target.parent.mkdir(parents=True, exist_ok=True)
    with open(target, "xb") as file:
        file.write(content)
    record[name] = version
    delivery.new.append(name)


def _read_record(path: Path) -> dict[str, str]:
    """Return which version of each lesson was delivered earlier; nothing when that is not known."""
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
    except (FileNotFoundError, ValueError):
        return {}
    return dict(record) if isinstance(record, Mapping) else {}


def open_lessons(folder: Path, *, browser: bool) -> int:
    """Run JupyterLab on the folder, first lesson open, until it is stopped."""
    from jupyterlab.labapp import LabApp

    # A kernel called python3 may be known elsewhere on this computer; the one beside this Python comes first.
    _put_first("JUPYTER_PATH", Path(sys.prefix) / "share" / "jupyter")
    # Defaults from the folder labconfig beside this file, under the learner's own settings: no question about news;
    # panels are saved with their picture, so that a lesson opened again shows it and not an error; a lesson is short
    # enough to be drawn whole, so that nothing is blank while one scrolls.
    _put_first("JUPYTER_CONFIG_PATH", Path(__file__).resolve().parent)
    options = [f"--ServerApp.root_dir={folder}", f"--LabApp.default_url=/lab/tree/{FIRST_LESSON}",
               "--Application.log_level=WARN"]
    if not browser:
        options.append("--no-browser")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        options.append("--allow-root")  # In a container one is usually root, and Jupyter would refuse.
    LabApp.launch_instance(options)
    return 0


def _put_first(variable: str, folder: Path) -> None:
    """Put a folder before those an environment variable names."""
    os.environ[variable] = os.pathsep.join(filter(None, [str(folder), os.environ.get(variable)]))
