"""The command ``rollcalc``: lay the lessons out in a folder the learner owns, and open the first one.

The lessons are copied, because JupyterLab saves as it goes: working in the installed
files would change what the next learner and the tests read. Nothing of the learner's is ever overwritten: each file is
whole or not there, whenever the computer stops, and an original that is asked for comes beside one's own, renamed.
"""

import argparse
import hashlib
import itertools
import json
import os
import sys
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path

from .rolling.machine.file import FILE_NAME
from .rolling.machine.writer import demo_machine_text
from .stock.files import named, place_whole, remedy

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
    for stream in (sys.stdout, sys.stderr):
        with suppress(AttributeError, ValueError):  # a terminal without a letter of a folder's name shows its number
            stream.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]
    asked = _parser().parse_args(words)
    try:
        folder = _own_folder(asked.folder)
        if find_spec("jupyterlab") is None:
            raise LaunchError("The lessons need JupyterLab, which this Python does not have: install rollcalc "
                              'with its lessons, as in  pip install ".[lessons]"  in the project folder.')
        if asked.fresh:
            print(fresh_lesson(asked.fresh, folder), flush=True)
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
    parser.add_argument("--fresh", metavar="LESSON",
                        help="bring the original of a lesson, such as 04, beside your own, which gets another name")
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


def _own_folder(words: str) -> Path:
    """Return the folder that was asked for, or raise the sentence that says why it is none."""
    try:
        folder = Path(words).expanduser().absolute()
        if folder.is_symlink() and not folder.exists():
            raise LaunchError(f"{named(folder)} is a link that leads nowhere: choose another folder.")
        folder.resolve()
    except (ValueError, RuntimeError, OSError):
        raise LaunchError(f"{named(words)!r} is no name for a folder: choose another.") from None
    return folder


def delivered_lessons(source: Path, folder: Path) -> Delivery:
    """Copy what is not there yet from source into folder, and return what was done."""
    if folder.resolve().is_relative_to(source.resolve()):
        raise LaunchError(f"The folder {named(folder)} holds the originals of the lessons: choose another folder.")
    if folder.exists() and not folder.is_dir():
        raise LaunchError(f"{named(folder)} is a file, but a folder is needed: choose another name.")
    delivery = Delivery()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        record = _read_record(folder / RECORD)
        for path in _lesson_files(source):
            _deliver(path.read_bytes(), folder, path.relative_to(source).as_posix(), record, delivery)
        _deliver(demo_machine_text().encode(), folder, FILE_NAME, record, delivery)
        delivery.kept = [name for name in delivery.kept if name != FILE_NAME]  # no lesson
    except OSError as problem:
        raise LaunchError(f"The folder {named(folder)} cannot take the lessons ({problem.strerror}): "
                          f"{remedy(problem)}.") from problem
    return delivery


def fresh_lesson(number: str, folder: Path | None = None, source: Path | None = None) -> str:
    """Put the original of a lesson into the learner's folder, keep theirs under another name, and return what was done.

    The folder is the one the notebook runs in where none is given. The learner's file is renamed first: whenever the
    computer stops, it is there under one name or the other.
    """
    source, folder = source or lesson_source(), folder or Path.cwd()
    names = [path.name for path in _lesson_files(source) if path.suffix == ".ipynb" and path.parent == source]
    found = [name for name in names if str(number).strip() and name.startswith(str(number).strip().zfill(2))]
    if len(found) != 1:
        raise LaunchError(f"There is no lesson {named(number)}: the lessons are "
                          f"{', '.join(name[:2] for name in names)}.")
    target, content = folder / found[0], (source / found[0]).read_bytes()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        kept = _renamed(target) if os.path.lexists(target) else ""
        place_whole(target, content)
        record = _read_record(folder / RECORD)
        _note(folder, record, found[0], content)
    except OSError as problem:
        raise LaunchError(f"The original of {found[0]} could not be brought ({problem.strerror}): "
                          f"{remedy(problem)}.") from problem
    return f"{found[0]} is the original again." + (f" Yours is kept as {kept}." if kept else "")


def original(lesson: str = "") -> None:
    """Print what became of the wish for the original of a lesson, from a cell of lesson 00."""
    try:
        print(fresh_lesson(lesson) if lesson else 'Write  original("04")  and run: the original of lesson 04 comes '
              "beside your own, which is kept under another name.")
    except LaunchError as problem:
        print(problem)


def _renamed(target: Path) -> str:
    """Give a learner's file a name that nothing has, and return it."""
    for number in itertools.count(1):
        kept = target.with_name(f"{target.stem} (mine {number}){target.suffix}")
        if not os.path.lexists(kept):
            os.rename(target, kept)
            return kept.name
    raise AssertionError


def _lesson_files(source: Path) -> list[Path]:
    """Return every lesson file below source, in order, without hidden ones."""
    files = (path for path in source.rglob("*") if path.is_file())
    return sorted(path for path in files if not any(part.startswith(".") for part in path.relative_to(source).parts))


def _deliver(content: bytes, folder: Path, name: str, record: dict[str, str], delivery: Delivery) -> None:
    """Bring one file unless it is there; note in the record which version the learner was given.

    A file that is only the beginning of ours was cut off when a computer stopped, and is brought anew.
    """
    target = folder / name
    mine = target.read_bytes() if target.is_file() else b""
    cut_off = (target.is_file() and len(mine) < len(content) and content.startswith(mine)
               and record.get(name) != _version(mine))
    if not os.path.lexists(target) or cut_off:
        target.parent.mkdir(parents=True, exist_ok=True)
        with suppress(FileExistsError):  # another launch was quicker
            place_whole(target, content, overwrite=cut_off)
        _note(folder, record, name, content)
        delivery.new.append(name)
    elif mine == content:
        _note(folder, record, name, content)
        delivery.kept.append(name)
    else:  # the machine file is meant to be changed, so a newer one is no news
        newer = name != FILE_NAME and record.get(name) != _version(content)
        (delivery.newer if newer else delivery.kept).append(name)


def _version(content: bytes) -> str:
    """Return what stands for a file's content in the record."""
    return hashlib.sha256(content).hexdigest()


def _note(folder: Path, record: dict[str, str], name: str, content: bytes) -> None:
    """Write into the record which version the learner has, unless it says so already."""
    if record.get(name) == _version(content):
        return
    record[name] = _version(content)
    with suppress(PermissionError):  # a folder that can only be read holds its lessons all the same
        place_whole(folder / RECORD, (json.dumps(record, indent=1, sort_keys=True) + "\n").encode(), overwrite=True)


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
