"""Writing a machine file: a note above every key says how to measure it, and notes of your own are kept."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any

from rollcalc.stock.files import FileError, check_overwrite, checked_path, file_text, put_text
from rollcalc.stock.gauges import MM_PER_INCH
from rollcalc.stock.quantities import InputError, shown
from rollcalc.stock.units import parse_length

from .file import FILE_NAME, KINDS, defaults, file_kind_and_units, not_toml
from .keys import MACHINE_KEYS, read_value, toml_value
from .kinds import DEMO_MACHINE, USUAL_PINCH, Machine

if TYPE_CHECKING:
    from pathlib import Path

    from tomlkit import TOMLDocument

_HEAD = f"""\
# A three-roll machine, as the lessons read it.
#
# Keep this file under the name {FILE_NAME} in the folder of your lessons, or in a folder above it.
# Lines that start with # are notes. A length without a unit is in the unit below; a length may also have a
# unit of its own, in quotes, such as "1 3/16 in". Where a key stands behind a #, take the # away to use it.
# The plate on the machine, your instructor and local rules outrank every number here.

# Which machine: "pinch" has two front rolls that grip and one bending roll behind them,
# "pyramid" has one top roll between two bottom rolls.
kind = {{kind}}

# What lengths without a unit are in: "mm" or "inch".
units = "mm" """.rstrip()

_DEMO_HEAD = """\
# This machine is invented. Measure your own and put your numbers in place of these.
#
"""


def machine_text(machine: Machine) -> str:
    """Return the text of a machine file: a note above every key, and an example where the machine leaves it out."""
    blocks = [_HEAD.format(kind=toml_value(_kind(machine)))]
    for name, value in _values(machine).items():
        line = f"# {name} = {MACHINE_KEYS[name].example}" if value is None else f"{name} = {toml_value(value)}"
        blocks.append("\n".join([*_notes(name), line]))
    return "\n\n".join(blocks) + "\n"


def demo_machine_text() -> str:
    """Return the machine file of the demo machine, for a learner to put their own numbers in."""
    return _DEMO_HEAD + machine_text(DEMO_MACHINE)


def write_machine(machine: Machine, path: str | os.PathLike[str], *, overwrite: bool = False) -> None:
    """Write a machine file; one that is there is changed only when asked, and keeps its notes and its units.

    Parameters
    ----------
    machine, path, overwrite : PinchMachine or PyramidMachine, str or path, and bool
        The machine; the file to write; whether a file of that name may be changed.

    Raises
    ------
    FileError
        If the file is there and may not be changed, cannot be read as a machine file, or cannot be written.
    InputError
        If it is not a machine, or one of its numbers is an array.

    Notes
    -----
    The file is swapped in whole, so nobody ever reads half of it. A value that still means the same stays as
    it was written ("1 3/16 in"). A key that no longer holds becomes a note. Validity: single numbers.
    Source: common practice, no source.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from rollcalc import load_machine
    >>> with TemporaryDirectory() as folder:
    ...     write_machine(DEMO_MACHINE, f"{folder}/machine.toml")
    ...     load_machine(f"{folder}/machine.toml").screw_pitch
    1.5
    """
    file = checked_path(path)
    text = machine_text(machine)
    check_overwrite(overwrite)
    if overwrite and os.path.lexists(file):
        text = _changed_text(file, machine)
    put_text(file, text, overwrite=overwrite)


def _kind(machine: Machine) -> str:
    """Return the word for this kind of machine."""
    for word, made in KINDS.items():
        if type(machine) is made:
            return word
    raise InputError(f"the machine is {shown(machine)}, but must be a PinchMachine or a PyramidMachine: make one, or "
                     "load one.")


def _values(machine: Machine) -> dict[str, Any]:
    """Return what each key stands for, in the order of the file; None where the machine leaves it out."""
    _kind(machine)
    values = {name: getattr(machine, name) for name in defaults(type(machine))}
    for name, value in values.items():
        if hasattr(value, "shape"):
            raise InputError(f"{name} is an array of shape {value.shape}, but a machine file holds one number: "
                             "write a machine with one number.")
    if values.get("pinch_force") is not None:
        values["nip_slack"] = None
    return {name: None if value in ((), "") else value for name, value in values.items()}


def _notes(name: str) -> list[str]:
    """Return the lines that say how to measure a key."""
    from textwrap import wrap  # here and not above: needed only for a file

    return wrap(MACHINE_KEYS[name].how, 100, initial_indent="# ", subsequent_indent="# ")


def _changed_text(file: Path, machine: Machine) -> str:
    """Return the text of a file that is there, with this machine's values and its own notes."""
    try:
        import tomlkit  # here and not above: only this needs it
    except ImportError:
        raise FileError(f"{file} stays as it is, because keeping its notes needs tomlkit: install it with  "
                               "pip install tomlkit  or write to another name.") from None
    text = file_text(file)
    try:
        document = tomlkit.parse(text)
        table = document.unwrap()
    except (tomlkit.exceptions.TOMLKitError, RecursionError) as problem:
        raise not_toml(file, problem) from None
    try:
        _, units = file_kind_and_units(table)
    except InputError as problem:
        raise FileError(f"{file}, {problem}") from None
    _change(document, table, machine, units)
    return document.as_string()


def _change(document: TOMLDocument, table: dict[str, Any], machine: Machine, units: str) -> None:
    """Put a machine's values into a document, where they differ from what it says."""
    import tomlkit

    left_out = defaults(type(machine)) | {"nip_slack": None}
    values, added = _values(machine), {}
    if not {"nip_slack", "pinch_force"} & table.keys() and "pinch_force" in machine.not_measured and (
            machine.pinch_force == USUAL_PINCH):  # as a file that names no nip is read
        rest = tuple(name for name in machine.not_measured if name != "pinch_force")
        values |= {"pinch_force": None, "not_measured": rest or None}
    document["kind"] = _kind(machine)
    for name, value in values.items():
        if value is None or (_means(name, table[name], units, value) if name in table else value == left_out[name]):
            continue
        is_length = MACHINE_KEYS[name].kind_of_value in ("length", "lengths")
        written = tomlkit.value(toml_value(_in_units(value, units) if is_length else value))
        if name in table:
            document[name] = written
        else:
            added[name] = written
    for name in table.keys() - {"kind", "units"}:  # from here on the document's own look-up by key no longer holds
        if values.get(name) is None:
            _become_note(document, name)
    for name, written in added.items():
        _add(document, name, written)


def _means(name: str, written: Any, units: str, value: Any) -> bool:
    """Whether what a file says already stands for a value."""
    try:
        return bool(read_value(name, written, units) == value)
    except InputError:
        return False


def _in_units(length: Any, units: str) -> Any:
    """Return a length [mm], or several, in a file's units, or with its own unit where that would not read back."""
    if isinstance(length, tuple):
        return [_in_units(one, units) for one in length]
    if units == "mm":
        return length
    short = round(length / MM_PER_INCH, 9)
    return short if parse_length(short, "inch") == length else f"{length!r} mm"


def _become_note(document: TOMLDocument, name: str) -> None:
    """Put the mark of a note before a key that no longer holds, so that its value is not lost."""
    import tomlkit

    place, item = next((place, item) for place, (key, item) in enumerate(document.body) if key and key.key == name)
    lines = f"{name} = {item.as_string()}{item.trivia.comment_ws}{item.trivia.comment}".splitlines()
    document.body[place : place + 1] = [(None, tomlkit.comment(line)) for line in lines]


def _add(document: TOMLDocument, name: str, written: Any) -> None:
    """Add a key: in place of the note that shows how it would look, or else at the end with its notes."""
    import tomlkit

    body = document.body
    place = next((place for place, (_, item) in enumerate(body) if _shows(item.as_string(), name)), None)
    line = tomlkit.parse(f"{name} = 0\n" if place is None else body[place][1].as_string().lstrip("# \t"))
    line[name] = written
    if place is not None:
        body[place] = line.body[0]
    else:
        notes = [(None, tomlkit.comment(note.removeprefix("# "))) for note in _notes(name)]
        body.extend([(None, tomlkit.nl()), *notes, *line.body])


def _shows(line: str, name: str) -> bool:
    """Whether a line is a note that becomes a key when its # is taken away."""
    import tomllib

    try:
        return name in tomllib.loads(line.lstrip("# \t"))
    except tomllib.TOMLDecodeError:
        return False
