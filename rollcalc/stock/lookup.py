"""Tables: reading them, and asking them by name or by a single number."""

import csv
import re
from collections.abc import Iterable
from functools import cache
from typing import Any

from .quantities import InputError, shown


class UnknownNameError(InputError, KeyError):
    """A name that is in no table, explained in one sentence with the names that come near."""

    def __str__(self) -> str:
        """Return the sentence itself; a plain KeyError would put it in quotes."""
        return str(self.args[0]) if self.args else ""


def unknown_name(kind: str, asked: Any, names: Iterable[str]) -> UnknownNameError:
    """Return the error that says a name is unknown, and which come near; where none is near, it lists them all."""
    table = list(names)
    near = _near_names(asked, table) if isinstance(asked, str) else []
    choice = f"did you mean {_listed(near)}?" if near else f"it must be {_listed(table)}."
    return UnknownNameError(f"there is no {kind} {shown(asked)}: {choice}")


@cache
def data_text(file_name: str) -> str:
    """Return the text of one of the package's data files, read once and then kept."""
    from importlib.resources import files  # here and not above: loading it takes longer than the rest of the package

    return (files("rollcalc.stock") / "data" / file_name).read_text(encoding="utf-8")


@cache
def table_rows(file_name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of one of the package's tables; lines that start with # are its sources."""
    return tuple(csv.DictReader(line for line in data_text(file_name).splitlines() if not line.startswith("#")))


def _listed(names: list[str]) -> str:
    """Return quoted names with commas and a last "or" between them."""
    *first, last = map(repr, names)
    return f"{', '.join(first)} or {last}" if first else last


def _near_names(asked: str, names: list[str]) -> list[str]:
    """Return up to four names that have all the words asked for in one spelling, or else up to three spelled alike."""
    words = _plain_words(asked)
    having_all = [name for name in names
                  if words and all(any(own.startswith(word) for own in _plain_words(name)) for word in words)]
    if having_all:
        return having_all[:4]
    from difflib import get_close_matches  # here and not above: needed only once something went wrong

    by_spelling = {" ".join(_plain_words(name)): name for name in names}
    return [by_spelling[near] for near in get_close_matches(" ".join(words), by_spelling, n=3, cutoff=0.55)]


def one_spelling(name: str) -> str:
    """Return a name in small letters, each metal spelled as in the tables."""
    return name[:100].strip().lower().replace("aluminum", "aluminium").replace("galvanised", "galvanized")


def _plain_words(name: str) -> list[str]:
    """Return the words of a name in one spelling."""
    return re.findall(r"[a-z0-9]+", one_spelling(name))
