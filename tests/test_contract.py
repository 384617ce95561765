"""The docstring contract: what every name that a user may call promises, read by machine.

What a user may call is what the packages list in ``__all__``.

* Physics (stock, bending, rolling, layout) and plans (job): a first sentence that ends in a full stop; a Parameters
  section that names exactly the arguments of the signature. Every argument and result whose type is a number (float,
  FloatLike, array) ends its description with its unit in brackets, from UNITS; a count has [-]. A function has Returns,
  Notes with the word Validity and a line that begins with Source:, and Examples with >>>; a record needs none of these.
* Drawing: the first sentence and the Parameters.
* Methods and properties of physics: one sentence, with the unit in brackets where they return a number.
* Everything else that has no leading underscore: one sentence.
* Nobody says nothing: no "Raises: None", no "Source: house definition".
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.docstrings import UNITS, described, face, is_number, members, public, read, returned, signature, unit

FULL, LIGHT = ("stock", "bending", "rolling", "layout", "job"), ("drawing", "lessons")
SOURCES = sorted((Path(__file__).resolve().parents[1] / "rollcalc").rglob("*.py"))


def sentence_faults(thing: object) -> list[str]:
    """Return what is wrong where one sentence is asked for."""
    text = inspect.getdoc(thing) or ""
    found = re.match(r"\S[^\n]*(\n\S[^\n]*)*?\.($|\n|\s)", text)
    return [] if found else ["no first sentence that ends in a full stop"]


def light_faults(thing: object) -> list[str]:
    """Return what breaks the light contract."""
    if sentence_faults(thing):
        return sentence_faults(thing)
    if isinstance(thing, type) and issubclass(thing, BaseException):
        return []
    documented, wanted = set(described(read(thing)["Parameters"])), set(_arguments(thing))
    return [f"Parameters lacks {name}" for name in sorted(wanted - documented)] + [
        f"Parameters names {name}, which is no argument" for name in sorted(documented - wanted)
    ]


def full_faults(thing: object) -> list[str]:
    """Return what breaks the full contract."""
    faults = light_faults(thing)
    arguments = _arguments(thing)
    if faults or (isinstance(thing, type) and (issubclass(thing, BaseException) or not arguments)):
        return faults
    doc = read(thing)
    descriptions = described(doc["Parameters"])
    faults += [_unit_fault(name, descriptions[name]) for name, kind in arguments.items() if is_number(kind)]
    if not isinstance(thing, type) and returned(thing) != "None":
        results = described(doc["Returns"] + doc["Yields"])
        faults += [] if results else ["no Returns"]
        faults += [_unit_fault(name, words) for name, words in results.items() if is_number(returned(thing))]
    if isinstance(thing, type):
        return [fault for fault in faults if fault]
    faults += [f"no {section}" for section in ("Notes", "Examples") if not doc[section]]
    if "Validity" not in "\n".join(doc["Notes"]):
        faults.append("Notes say nothing about Validity")
    if not any(line.startswith("Source:") for line in doc["Notes"]):
        faults.append("no line that begins with Source:")
    if not any(">>>" in line for line in doc["Examples"]):
        faults.append("Examples have no >>>")
    return [fault for fault in faults if fault]


def member_faults(function: object) -> list[str]:
    """Return what breaks the contract of a method or property."""
    text = inspect.getdoc(function) or ""
    if not re.match(r"\S[^\n]*\.( \[[^\]]+\])?$", text.partition("\n")[0]):
        return ["first line is not a sentence, with its unit after it"]
    units = re.findall(r"\[([^\[\]]+)\]", text)
    if is_number(returned(function)) and not units:
        return ["returns a number, but has no unit in brackets"]
    return [f"unit [{found}] is not one of ours" for found in units if found not in UNITS]


def _arguments(thing: object) -> dict[str, str]:
    """Return the arguments that must be documented; those of a class count only where it defines them."""
    if isinstance(thing, type) and not (thing.__dict__.keys() & {"__init__", "__dataclass_fields__"}):
        return {} if not read(thing)["Parameters"] else signature(thing)
    return signature(thing)


def _unit_fault(name: str, description: str) -> str:
    """Return what is wrong with the unit of a description, empty where nothing is."""
    found = unit(description)
    if found is None:
        return f"{name} is a number, but its description does not end with a unit in brackets"
    return "" if found in UNITS else f"{name} has the unit [{found}], which is not one of ours"


def _label(thing: object) -> str:
    """Return how a test names a thing."""
    return f"{thing.__module__.removeprefix('rollcalc.')}.{thing.__qualname__}"  # type: ignore[attr-defined]


def faults(things: list[object], judge: Callable[[object], list[str]]) -> dict[str, list[str]]:
    """Return what is wrong with each of some things, by name; nothing where all is well."""
    return {_label(thing): found for thing in things if (found := judge(thing))}


def test_what_a_user_may_call_keeps_the_full_contract() -> None:
    assert faults(face(*FULL), full_faults) == {}


def test_what_a_user_may_draw_keeps_the_light_contract() -> None:
    assert faults(face("drawing"), light_faults) == {}


def test_everything_else_has_a_sentence() -> None:
    assert faults(public(*FULL, *LIGHT), sentence_faults) == {}


METHODS = [function for thing in face(*FULL) if isinstance(thing, type) for _, function in members(thing)]


def test_methods_say_what_they_return_and_in_which_unit() -> None:
    assert faults(METHODS, member_faults) == {}


def test_the_walk_finds_the_library() -> None:
    names = {_label(thing) for thing in public(*FULL, *LIGHT)}
    assert {"stock.sections.Sheet", "stock.sections.gauss_points", "stock.materials.Material"} <= names
    assert {"bending.moment.released_curvature", "lessons.engine.exercises.check",
            "drawing.core.picture.Picture"} <= names
    called = {_label(thing) for thing in face(*FULL)}
    assert {"stock.sections.Sheet", "rolling.limits.capacity.check_capacity"} <= called
    assert {"stock.sections.RoundBar.depth"} <= {_label(f) for f in METHODS}


def test_nobody_says_nothing() -> None:
    empty = re.compile(r"Raises\n\s*-+\n\s*None\n|Source: house (definition|style)")
    assert [path.name for path in SOURCES if empty.search(path.read_text("utf-8"))] == []


def good(thickness: float, label: str, points: int = 3) -> float:
    """Return half the thickness.

    Parameters
    ----------
    thickness : float
        Thickness of the sheet. [mm]
    label : str
        What to call it.
    points : int
        Number of points. [-]

    Returns
    -------
    half : float
        Half of it. [mm]

    Notes
    -----
    Validity: everywhere.

    Source: arithmetic.

    Examples
    --------
    >>> good(2, "a")
    1.0
    """
    return thickness / 2


MUTATIONS = (
    ("Return half the thickness.", "", "first sentence"),
    ("half the thickness.", "half the thickness", "first sentence"),
    ("    label : str\n        What to call it.\n", "", "lacks label"),
    ("label : str", "lable : str", "names lable"),
    ("sheet. [mm]", "sheet.", "thickness is a number"),
    ("sheet. [mm]", "[mm] of the sheet.", "thickness is a number"),
    ("sheet. [mm]", "sheet. [metres]", "[metres]"),
    ("points. [-]", "points.", "points is a number"),
    ("Half of it. [mm]", "Half of it.", "half is a number"),
    ("Returns\n    -------\n    half : float\n        Half of it. [mm]\n", "", "no Returns"),
    ("Validity: everywhere.", "Fine everywhere.", "Validity"),
    ("Source: arithmetic.", "From arithmetic.", "Source:"),
    (">>> good", "good", ">>>"),
)


@pytest.mark.parametrize(("old", "new", "complaint"), MUTATIONS, ids=[row[2] for row in MUTATIONS])
def test_the_contract_notices(old: str, new: str, complaint: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert full_faults(good) == []
    assert old in (good.__doc__ or "")
    monkeypatch.setattr(good, "__doc__", (good.__doc__ or "").replace(old, new, 1))
    assert any(complaint in fault for fault in full_faults(good)), full_faults(good)


def test_the_contract_notices_a_method_without_a_unit() -> None:
    class Piece:
        @property
        def half(self) -> float:
            """Half the thickness."""
            return 1.0

        @property
        def name(self) -> str:
            """What it is called."""
            return "piece"

    assert [bool(member_faults(function)) for _, function in members(Piece)] == [True, False]
