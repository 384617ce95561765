"""Things that are no numbers: is it a stock, a metal, a machine, one of the words that are known?"""

from collections.abc import Iterable
from typing import Any

from .quantities import InputError, shown


def checked_kind(name: str, value: Any, kind: type | tuple[type, ...], advice: str) -> Any:
    """Return ``value`` if it is of a kind, or raise the sentence that says which kinds there are."""
    if not isinstance(value, kind):
        kinds = kind if isinstance(kind, tuple) else (kind,)
        names = " or a ".join(one.__name__ for one in kinds)
        raise InputError(f"{name} is {shown(value)}, but must be a {names}: {advice}.")
    return value


def checked_word(name: str, value: Any, words: Iterable[str], advice: str) -> str:
    """Return ``value`` if it is one of some words, or raise the sentence that says which there are."""
    known = tuple(words)
    if not isinstance(value, str) or value not in known:
        choice = " or ".join(map(repr, known)) if len(known) == 2 else f"one of {', '.join(known)}"
        raise InputError(f"{name} is {shown(value)}, but must be {choice}: {advice}.")
    return value
