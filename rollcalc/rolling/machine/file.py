"""Your own machine, read from a small file that you write by measuring it.

A machine file is a list of lines ``key = value`` in TOML, read by the standard library. `MACHINE_KEYS` says
what each key is; `write_machine` writes such a file.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import MISSING, fields
from typing import TYPE_CHECKING, Any

from rollcalc.stock.files import FileError, checked_path, file_text, named
from rollcalc.stock.lookup import unknown_name
from rollcalc.stock.quantities import InputError

from .keys import MACHINE_KEYS, read_value, spoilt, toml_value
from .kinds import DEMO_MACHINE, USUAL_PINCH, Machine, PinchMachine, PyramidMachine

if TYPE_CHECKING:
    from pathlib import Path

LONGEST_LINE = 500
"""Characters of a line of a machine file."""

STRAIGHT = 100_000.0
"""Radius above which a curve is none, on any machine. [mm]"""

FILE_NAME = "machine.toml"
VARIABLE = "ROLLCALC_MACHINE"
"""Environment variable that names the file for a whole class, or says ``demo``; then no folder is searched."""
DEMO = "demo"
KINDS: dict[str, type[Machine]] = {"pinch": PinchMachine, "pyramid": PyramidMachine}
"""The word after ``kind`` -> what it makes."""

_UNITS = {"mm": "mm", "inch": "inch", "in": "inch", "inches": "inch"}


def not_toml(file: Path, problem: Exception) -> FileError:
    """Return the error that says where a file is not written as TOML."""
    import re  # here and not above: needed only once something went wrong

    place = re.search(r"at (line \d+,? col(umn)? \d+|end of document)", str(problem))
    where = f" {place[0]}" if place else ""
    return FileError(f"{file} is not written as TOML{where}: each line is a key, an equals sign and a number, "
                            'or text in "quotes"; a key may stand only once.')


def load_machine(path: str | os.PathLike[str] | None = None) -> Machine:
    """Return the machine of a machine file, or the demo machine where there is no file.

    Parameters
    ----------
    path : str or path or None
        The file; None for the one that ``ROLLCALC_MACHINE`` names, or else the nearest ``machine.toml`` in the
        current folder or a folder above it.

    Returns
    -------
    machine : PinchMachine or PyramidMachine
        The machine; its name and `machine_source` tell which it is.

    Raises
    ------
    FileError
        If the file cannot be read, a key is unknown or missing, or a value is wrong.

    Notes
    -----
    Numbers are in the file's own units; text may have a unit of its own ("1 3/16 in"). A pinch machine whose file
    names neither ``nip_slack`` nor ``pinch_force`` is taken to press with `USUAL_PINCH`, and `machine_source` says so;
    ``nip_slack = 0`` is a perfect nip, a teaching ideal. ``not_measured`` lists the keys whose values are assumed.
    Validity: as good as the measurements in the file.
    Source: common practice, no source.

    Examples
    --------
    >>> load_machine("no such folder/machine.toml")
    Traceback (most recent call last):
        ...
    rollcalc.stock.files.FileError: there is no file no such folder/machine.toml: look at its path again.
    """
    file = machine_path(path)
    if file is None:
        return DEMO_MACHINE
    table = toml_table(file_text(file), file)
    try:
        return machine_from_table(table)
    except InputError as problem:
        comma = ", " if str(problem).startswith("key ") else ": "
        raise FileError(f"{named(file)}{comma}{problem}") from None


def machine_path(path: str | os.PathLike[str] | None = None) -> Path | None:
    """Return the file that `load_machine` would read, None where it gives the demo machine."""
    if path is None:
        path = os.environ.get(VARIABLE) or None
        if path == DEMO:
            return None
    if path is not None:
        return checked_path(path)
    try:
        here = checked_path(os.getcwd())
    except OSError:
        raise InputError("the current folder no longer exists: give the path of the machine file.") from None
    places = (folder / FILE_NAME for folder in (here, *here.parents))
    return next((place for place in places if os.path.lexists(place)), None)


def machine_source(path: str | os.PathLike[str] | None = None) -> str:
    """Return the sentence that says which machine `load_machine` gives and where it comes from.

    Parameters
    ----------
    path : str or path or None
        As for `load_machine`.

    Returns
    -------
    sentence : str
        The machine's name and its file, or that it is the invented demo machine; and what its nip is taken to be.

    Notes
    -----
    Reads the file again, so that the sentence is true now. Validity: any path.
    Source: none needed, this only tells.

    Examples
    --------
    >>> machine_source("no such folder/machine.toml")
    Traceback (most recent call last):
        ...
    rollcalc.stock.files.FileError: there is no file no such folder/machine.toml: look at its path again.
    """
    machine, file = load_machine(path), machine_path(path)
    if file is None:
        why = (f"{VARIABLE} is {DEMO}" if os.environ.get(VARIABLE) == DEMO
               else f"no {FILE_NAME} is in this folder or in one above it")
        return f"The machine is {machine.name}, as {why}."
    said = f"The machine is {machine.name or 'the one you measured'}, from {file}."
    keys = toml_table(file_text(file), file).keys()
    if isinstance(machine, PinchMachine) and not {"nip_slack", "pinch_force"} & keys:
        said += f" It names neither nip_slack nor pinch_force, so {machine.nip} is taken (an invented value)."
    elif isinstance(machine, PinchMachine):
        said += f" It has {machine.nip}."
    return said + machine.assumed_note


def machine_from_table(table: Mapping[str, Any]) -> Machine:
    """Return the machine that the keys and values of a machine file describe."""
    kind, units = file_kind_and_units(table)
    entries = {key: value for key, value in table.items() if key not in ("kind", "units")}
    for name, usual in defaults(KINDS[kind]).items():
        if usual is MISSING and name not in entries:
            raise InputError(f"key {name} is missing, but a {kind} machine needs it: write a line like "
                             f"{name} = {MACHINE_KEYS[name].example}.")
    values = {key: read_value(key, value, units) for key, value in entries.items()}
    if kind == "pinch" and not {"nip_slack", "pinch_force"} & values.keys():
        values |= {"pinch_force": USUAL_PINCH, "not_measured": values.get("not_measured", ())}
        values["not_measured"] = (*(key for key in values["not_measured"] if key != "pinch_force"), "pinch_force")
    try:
        machine = KINDS[kind](**values)
        check_room(machine)
        return machine
    except InputError as problem:
        words = {key: key.removesuffix("_degrees").replace("_", " ") for key in entries}
        spoken_of = next((key for key, word in words.items() if str(problem).startswith(word)), None)
        raise (spoilt(spoken_of, entries[spoken_of], problem) if spoken_of else problem) from None


def check_room(machine: Machine) -> None:
    """Refuse rolls that stand in each other before anything is bent, and screws too short to bend anything."""
    from rollcalc.stock.sections import Sheet  # here, as a machine knows nothing of limits and stock

    from ..limits.reach import usable_travel
    from ..rules import circle_travel

    thin = Sheet(thickness=0.1, width=1.0)
    if isinstance(machine, PyramidMachine):
        if machine.bottom_roll_spacing <= machine.bottom_roll_diameter:
            raise InputError(f"bottom roll spacing is {machine.bottom_roll_spacing:.6g} mm, but must be above "
                             f"{machine.bottom_roll_diameter:.6g} mm, the diameter of the bottom rolls, or they "
                             "overlap: measure from the middle of one to the middle of the other.")
    elif usable_travel(machine, thin) <= 0:
        raise InputError(f"guide distance is {machine.guide_distance:.6g} mm, but must be larger: where it touches the "
                         "sheet the bending roll stands in a front roll, or cannot rise; measure distance, angle and "
                         "diameters again.")
    least = float(circle_travel(machine, thin, STRAIGHT))
    if machine.max_travel is not None and machine.max_travel < least:
        raise InputError(f"max travel is {machine.max_travel:.6g} mm, but must be at least {least:.3g} mm, or the roll "
                         "hardly rises and bends nothing: wind it from touch to where it stops, and measure how far.")


def file_kind_and_units(table: Mapping[str, Any]) -> tuple[str, str]:
    """Return the kind of machine a file describes, and what its bare lengths are in."""
    kind = _choice(table, "kind", {name: name for name in KINDS}, "say which machine it is")
    units = _choice(table, "units", _UNITS, "say what lengths without a unit are in")
    known = ["kind", "units", *defaults(KINDS[kind])]
    for key in table:
        if key not in known:
            owner = next((other for other, made in KINDS.items() if key in defaults(made)), None)
            if owner:
                raise InputError(f"key {key} belongs to a {owner} machine, but kind is {toml_value(table['kind'])}: "
                                 "take the key out, or change the kind.")
            raise InputError(f"key {key} = {toml_value(table[key])}: {unknown_name('key', key, known)}")
    return kind, units


def toml_table(text: str, file: Path, longest_line: int = LONGEST_LINE) -> dict[str, Any]:
    """Return the keys and values of a file's text, or raise the sentence that says which line is wrong."""
    import tomllib  # here and not above: it would slow every import, and is needed only for a file

    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > longest_line:  # a key of a hundred thousand dots would take half a minute to read
            raise FileError(f"{named(file)}, line {number} is {len(line)} characters long, but must be at most "
                            f"{longest_line}: write it shorter.")
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as problem:
        raise not_toml(file, problem) from None


def _choice(table: Mapping[str, Any], key: str, words: Mapping[str, str], advice: str) -> str:
    """Return what the word after a key stands for."""
    allowed = " or ".join(dict.fromkeys(toml_value(meant) for meant in words.values()))
    if key not in table:
        raise InputError(f"key {key} is missing, but must be {allowed}: {advice}.")
    word = table[key]
    if not isinstance(word, str) or word not in words:
        raise InputError(f"key {key} = {toml_value(word)}, but must be {allowed}: {advice}.")
    return words[word]


def defaults(kind: type[Machine]) -> dict[str, Any]:
    """Return the keys of a kind of machine in the order of its file -> default, or MISSING."""
    usual = {field.name: field.default for field in fields(kind)}
    return {name: usual[name] for name in MACHINE_KEYS if name in usual}
