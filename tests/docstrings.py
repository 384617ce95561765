"""Reading the library's docstrings as data: which names are public, and what each one promises."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from types import ModuleType

from numpydoc.docscrape import NumpyDocString, Parameter

import rollcalc

UNIT = re.compile(r"\[([^\[\]]+)\]\.?\s*$")
"""A unit stands in brackets at the end of a description; several results may each have their own before it."""

LENGTH = {"mm", "mm²", "mm³", "mm⁴", "1/mm", "1/mm²", "inch"}
FORCE = {"N", "N mm", "N mm²", "N/mm", "MPa", "kg/mm³"}
PLAIN = {"-", "rad", "deg", "%", "turns", "s", "px"}
PLUMBING = {"unit", "any", "default_unit"}
UNITS = LENGTH | FORCE | PLAIN | PLUMBING
"""Units a description may end with; the last belong to functions that serve every quantity."""


def modules(*rooms: str) -> list[ModuleType]:
    """Return every public module of these rooms of the library, such as "stock"."""
    packages = [importlib.import_module(f"{rollcalc.__name__}.{room}") for room in rooms]
    found = [module.name for room in packages for module in pkgutil.walk_packages(room.__path__, room.__name__ + ".")]
    return packages + [importlib.import_module(name) for name in found if "._" not in name]


def public(*rooms: str) -> list[object]:
    """Return every public function and class, each from the module that defines it."""
    return [thing for module in modules(*rooms) for name, thing in vars(module).items()
            if not name.startswith("_") and callable(thing) and getattr(thing, "__module__", "") == module.__name__
            and getattr(thing, "__name__", "") == name]


def face(*rooms: str) -> list[object]:
    """Return the functions and classes that these rooms list for a user to call, each once."""
    packages = [importlib.import_module(f"{rollcalc.__name__}.{room}") for room in rooms]
    named = {id(thing): thing for package in packages for thing in map(vars(package).__getitem__, package.__all__)}
    return [thing for thing in named.values() if inspect.isfunction(thing) or isinstance(thing, type)]


def members(thing: type) -> Iterator[tuple[str, object]]:
    """Yield the public methods and properties that a class defines itself, unwrapped to functions."""
    for name, member in vars(thing).items():
        if not name.startswith("_"):
            function = member.fget if isinstance(member, property) else getattr(member, "__func__", member)
            if inspect.isfunction(function):
                yield name, function


def signature(thing: object) -> dict[str, str]:
    """Return name -> annotation as text, for every argument of a function or class, without self."""
    arguments = inspect.signature(thing).parameters.values()  # type: ignore[arg-type]
    return {argument.name: _text(argument.annotation) for argument in arguments if argument.name != "self"}


def returned(thing: object) -> str:
    """Return the annotation of what a function returns, as text."""
    return _text(inspect.signature(thing).return_annotation)  # type: ignore[arg-type]


def read(thing: object) -> NumpyDocString:
    """Return the parsed docstring."""
    return NumpyDocString(inspect.getdoc(thing) or "")


def described(entries: list[Parameter]) -> dict[str, str]:
    """Return name -> description; names that share a line share it."""
    return {name.strip(" *"): " ".join(entry.desc).strip() for entry in entries for name in entry.name.split(",")}


def unit(description: str) -> str | None:
    """Return the unit in brackets at the end of a description, None where there is none."""
    found = UNIT.search(description)
    return found[1] if found else None


def is_number(annotation: str) -> bool:
    """Return whether something of this type is a quantity, and so has a unit."""
    without_functions = re.sub(r"Callable\[.*\]", "", annotation)
    return re.search(r"\b(float|int|FloatLike|NDArray|ArrayLike|ndarray)\b", without_functions) is not None


def _text(annotation: object) -> str:
    """Return an annotation as text."""
    return annotation if isinstance(annotation, str) else getattr(annotation, "__name__", str(annotation))
