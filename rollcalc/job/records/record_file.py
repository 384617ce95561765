"""Jobs in a file that a person reads: each is added below the others, whole or not at all.

The file is TOML, read by the standard library. A file that is wrong, cut short or newer than this library gets a
sentence and stays as it is. Every job ends with its note, if only an empty one, so that a job that was cut short is
always noticed.
"""

from __future__ import annotations

import datetime
import os
from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from rollcalc.rolling.machine.file import FILE_NAME, toml_table
from rollcalc.rolling.machine.keys import toml_value
from rollcalc.stock.files import FileError, checked_path, file_text, named, put_text, sole_writer
from rollcalc.stock.kinds import checked_kind, checked_word
from rollcalc.stock.lookup import unknown_name
from rollcalc.stock.quantities import InputError, shown
from rollcalc.stock.sections import FlatBar, RoundBar, Sheet

from .record import Believed, JobRecord, PlannedTurns, Reading

if TYPE_CHECKING:
    from pathlib import Path

VERSION = 1
"""Of the form of the file. [-]"""

LONGEST, LONGEST_LINE = 1_000_000, 2500
"""Bytes of a file, which is about a thousand jobs, and characters of a line."""

MOST_FILES = 200
"""Files of a folder that are read at once. [-]"""

_HEAD = f"""\
# Jobs on a three-roll machine: what was wanted, planned, measured and found. The newest job stands last.
#
# Lengths are in mm, forces in N, stresses in MPa; turns are those of the screws from touch. Radii are to
# mid-thickness. Of what was found: its mean, and the low and high end of the range that holds 80 % of the belief.
# Lines that start with # are notes of yours, and stay. Every job ends with its note, which may be "".
version = {VERSION}
"""

_STOCKS = {"sheet": Sheet, "flat bar": FlatBar, "round bar": RoundBar}
_SIZES = {"thickness_mm": "thickness", "width_mm": "width", "diameter_mm": "diameter"}
_PLANNED = {"turns": "turns", "radius_mm": "released_radius", "end": "end"}
_READING = {"turns": "turns", "chord_mm": "chord", "rise_mm": "rise", "diameter_mm": "diameter", "face": "face",
            "end": "end"}
_BELIEVED = {one.name: one.name for one in fields(Believed)}
_PARTS: dict[str, tuple[type, dict[str, str]]] = {
    "planned": (PlannedTurns, _PLANNED), "readings": (Reading, _READING), "yield_strength": (Believed, _BELIEVED),
    "pinch_force": (Believed, _BELIEVED), "touch_turns": (Believed, _BELIEVED)}
"""Field of a job that holds records -> their kind, and key in the file -> field."""

_KEYS = {"date": "date", "part": "part", "machine": "machine", "nip": "nip", "metal": "metal", "stock": "stock",
         "wanted_radius_mm": "wanted_radius", "planned": "planned", "readings": "readings",
         "final_radius_mm": "final_radius", "yield_MPa": "yield_strength", "pinch_N": "pinch_force",
         "touch_turns": "touch_turns", "note": "note"}
"""Key in the file -> field, in the order of the file; a stock has the keys of its sizes behind it."""

_NEEDED = ("date", "part", "machine", "metal", "stock", "wanted_radius_mm", "note")


def save_record(record: JobRecord, path: str | os.PathLike[str]) -> None:
    """Add a job to a file of jobs, which is made where there is none.

    Parameters
    ----------
    record : JobRecord
        The job.
    path : str or path
        The file; its name ends in .toml.

    Raises
    ------
    FileError
        If a file of that name is there and cannot be read as jobs, whole and of this version; it stays as it is. Also
        if it cannot be written, or somebody else is saving to it.

    Notes
    -----
    What is in the file stays, letter by letter. The file is swapped in whole, so nobody ever reads half of it. Who
    saves holds a lock beside the file meanwhile, which the system lets go when a program stops: two who save at once
    wait for each other. Validity: programs that save through here; an editor that has the file open knows of no lock.
    Source: common practice, no source.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from rollcalc import Sheet
    >>> body = JobRecord(date="2026-11-27", part="lantern body", machine="bench roll", stock=Sheet(thickness=0.76,
    ...                  width=240), metal="low-carbon steel, cold rolled", wanted_radius=90.4, final_radius=91.0)
    >>> with TemporaryDirectory() as folder:
    ...     save_record(body, f"{folder}/jobs.toml")
    ...     load_records(f"{folder}/jobs.toml")[0].final_radius
    91.0
    """
    checked_kind("record", record, JobRecord, "make one of the job, or take it from the plan")
    file = checked_path(path)
    if file.suffix != ".toml":
        raise InputError(f"the path is {shown(path)}, but its name must end in .toml, or a class's folder is read "
                         "without it: add the ending.")
    with sole_writer(file):
        there = os.path.lexists(file)
        old = file_text(file, LONGEST) if there else _HEAD
        jobs = records_in(old, file)
        text = f"{old}{'' if old.endswith(chr(10)) else chr(10)}\n{job_text(record)}"
        if len(text.encode()) > LONGEST:
            raise FileError(f"{named(file)} is full, as it would be longer than {LONGEST} bytes: save to another file; "
                            "the files of a folder are read together.")
        if _readable(text, file) != (*jobs, record):
            raise FileError(f"{named(file)} has its jobs in a form that none can be added to, and stays as it is: "
                            "write each below a line [[job]], or save to another file.")
        put_text(file, text, overwrite=there)


def load_records(path: str | os.PathLike[str]) -> tuple[JobRecord, ...]:
    """Return the jobs of a file, or of all files of a folder, such as a class has.

    Parameters
    ----------
    path : str or path
        A file of jobs; or a folder, of which every file that ends in .toml is read, but no machine file.

    Returns
    -------
    records : tuple of JobRecord
        The jobs in the order of the file; of a folder, file by file in the order of their names.

    Raises
    ------
    FileError
        If a file cannot be read, was cut short, is of a newer version, or a key or value is wrong; the sentence names
        file, job and key. Also if a folder has no file of jobs, or too many.

    Notes
    -----
    A file that was cut off between two jobs is as good as one that never had the rest. Validity: as good as what was
    written in the file.
    Source: common practice, no source.

    Examples
    --------
    >>> load_records("no such folder/jobs.toml")
    Traceback (most recent call last):
        ...
    rollcalc.stock.files.FileError: there is no file no such folder/jobs.toml: look at its path again.
    """
    place = checked_path(path)
    if not os.path.isdir(place):
        return records_in(file_text(place, LONGEST), place)
    files = _files_of(place)
    found = [(file, file_text(file, LONGEST)) for file in files if file.name != FILE_NAME]
    kept = [(file, text) for file, text in found if not _is_machine(text)]
    if not kept:
        raise FileError(f"{named(place)} has no file of jobs in it, one that ends in .toml: save a job first, or look "
                        "at the path again.")
    return tuple(job for file, text in kept for job in records_in(text, file))


def job_text(record: JobRecord) -> str:
    """Return a job as the file has it, from its [[job]] to its note."""
    lines = ["[[job]]"]
    for key, name in _KEYS.items():
        value = getattr(record, name)
        if key == "date":
            lines.append(f"date = {value}")
        elif key == "stock":
            lines.append(f"stock = {toml_value(next(word for word, kind in _STOCKS.items() if type(value) is kind))}")
            lines += [f"{size} = {toml_value(getattr(value, own))}" for size, own in _SIZES.items()
                      if hasattr(value, own)]
        elif isinstance(value, tuple):
            each = (f"    {_inline(one, _PARTS[name][1])},\n" for one in value)
            lines += [f"{key} = [\n{''.join(each)}]"] if value else []
        elif name in _PARTS and value is not None:
            lines.append(f"{key} = {_inline(value, _BELIEVED)}")
        elif value not in (None, "") or key == "note":
            lines.append(f"{key} = {toml_value(value)}")
    return "\n".join(lines) + "\n"


def records_in(text: str, file: Path) -> tuple[JobRecord, ...]:
    """Return the jobs of a file's text, or raise the sentence that says what is wrong where."""
    table = toml_table(text, file, LONGEST_LINE)
    try:
        _check_version(table)
        _check_keys(table, ("version", "job"), ("version",))
        jobs = table.get("job", [])
        if not _are_tables(jobs):
            raise InputError(f"key job = {_short(jobs)}, but must begin a job: write [[job]] on a line of its own.")
    except InputError as problem:
        raise FileError(f"{named(file)}: {problem}") from None
    found = []
    for number, job in enumerate(jobs, start=1):
        try:
            found.append(_record(job))
        except InputError as problem:
            part = job.get("part")
            which = f" ({part[:30]})" if isinstance(part, str) and part.isprintable() else ""
            raise FileError(f"{named(file)}, job {number}{which}: {problem}") from None
    return tuple(found)


def _readable(text: str, file: Path) -> tuple[JobRecord, ...] | None:
    """Return the jobs of a text, None where it is none."""
    try:
        return records_in(text, file)
    except FileError:
        return None


def _files_of(folder: Path) -> list[Path]:
    """Return the files of a folder that may hold jobs, by name."""
    try:
        names = sorted(name for name in os.listdir(folder) if name.endswith(".toml") and not name.startswith("."))
    except OSError as problem:
        raise FileError(f"{named(folder)} cannot be read ({problem.strerror}): give a folder you may read.") from None
    if len(names) > MOST_FILES:
        raise FileError(f"{named(folder)} has {len(names)} files that end in .toml, but must have {MOST_FILES} at "
                        "most: give a folder with nothing but jobs.")
    return [folder / name for name in names]


def _is_machine(text: str) -> bool:
    """Whether a text is that of a machine, which has a kind and no jobs."""
    import re  # here and not above: needed only for a folder

    return bool(re.search(r"^kind\s*=", text, re.MULTILINE)) and not re.search(r"^(version\s*=|\[\[job)", text,
                                                                               re.MULTILINE)


def _check_version(table: Mapping[str, Any]) -> None:
    """Refuse a file of another version than this one."""
    version = table.get("version", VERSION)
    if isinstance(version, int) and not isinstance(version, bool) and version > VERSION:
        raise InputError(f"version = {_short(version)} is newer than this rollcalc, which reads version {VERSION}: "
                         "install a newer rollcalc; the file stays as it is.")
    if version is True or version != VERSION:
        raise InputError(f"key version = {_short(version)}, but must be {VERSION}: put it right if you changed it.")


def _record(job: dict[str, Any]) -> JobRecord:
    """Return one job."""
    stock = _STOCKS[checked_word("key stock", job["stock"], _STOCKS, "say what was rolled")] if "stock" in job else None
    sizes = [size for size, own in _SIZES.items() if stock and own in {one.name for one in fields(stock)}]
    _check_keys(job, [*_KEYS, *(sizes or _SIZES)], (*_NEEDED, *sizes))
    assert stock is not None  # as the key is needed
    values: dict[str, Any] = {name: job[key] for key, name in _KEYS.items() if key in job}
    values["stock"] = stock(**{_SIZES[size]: job[size] for size in sizes})
    for key, name in _KEYS.items():
        if key in job and name in _PARTS:
            kind, keys = _PARTS[name]
            values[name] = _believed(key, job[key]) if kind is Believed else _several(key, job[key], kind, keys)
    return JobRecord(**values)


def _several(key: str, written: Any, kind: type, keys: dict[str, str]) -> tuple[Any, ...]:
    """Return the planned turns or the readings of a job."""
    if not _are_tables(written):
        raise InputError(f"key {key} = {_short(written)}, but must be a list: write [{{turns = 8.5, …}}, …].")
    found = []
    for number, one in enumerate(written, start=1):
        try:
            _check_keys(one, keys, ("turns", "radius_mm") if kind is PlannedTurns else ("turns",))
            found.append(kind(**{keys[name]: value for name, value in one.items()}))
        except InputError as problem:
            raise InputError(f"{key}, number {number}: {problem}") from None
    return tuple(found)


def _believed(key: str, written: Any) -> Believed:
    """Return what a job found."""
    try:
        _check_keys(written if isinstance(written, dict) else {}, _BELIEVED, tuple(_BELIEVED))
        return Believed(**written)
    except InputError as problem:
        raise InputError(f"key {key} = {_short(written)}: {problem}") from None


def _check_keys(table: Mapping[str, Any], known: Iterable[str], needed: tuple[str, ...]) -> None:
    """Refuse a key that means nothing, which may be a slip of the pen, and a key that is missing."""
    for key in table:
        if key not in known:
            near = str(unknown_name("key", key, known)).partition(": ")[2]
            advice = near if near.startswith("did") else "take it out, or put a # before it."
            raise InputError(f"there is no key {shown(key)}: {advice}")
    for key in needed:
        if key not in table:
            raise InputError(f"key {key} is missing: write it in; where the file was cut short, fetch the rest or take "
                             "the unfinished job out.")


def _are_tables(written: Any) -> bool:
    """Whether something is a list of tables."""
    return isinstance(written, list) and all(isinstance(one, dict) for one in written)


def _inline(record: object, keys: dict[str, str]) -> str:
    """Return a small record in braces, without what it leaves out."""
    values = ((key, getattr(record, name)) for key, name in keys.items())
    return "{" + ", ".join(f"{key} = {toml_value(value)}" for key, value in values if value not in (None, "")) + "}"


def _short(written: Any) -> str:
    """Return a value as the file has it, or what it is where that is long."""
    if isinstance(written, dict | list) and any(isinstance(one, dict) for one in [written, *written]):
        return "{…}" if isinstance(written, dict) else "[…]"
    text = written.isoformat() if isinstance(written, datetime.date | datetime.time) else toml_value(written)
    return text if len(text) <= 40 else f"{text[:38]}…"
