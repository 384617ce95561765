"""Things that are no numbers: is it a stock, a metal, a machine, one of the words that are known?"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from .quantities import InputError, shown


def checked_kind(name: str, value: Any, kind: type | tuple[type, ...], advice: str) -> Any:
    """Return ``value`` if it is of a kind, or raise the sentence that says which kinds there are.

    Parameters
    ----------
    name : str
        What it is, as the sentence shall name it.
    value : any
        The argument to read.
    kind : type or tuple of types
        What it must be.
    advice : str
        What the reader should do; ends the sentence, without a full stop.

    Returns
    -------
    value : any
        The same value.

    Raises
    ------
    InputError
        If it is of another kind.

    Notes
    -----
    Validity: any value.

    Examples
    --------
    >>> checked_kind("the part", 5, str, advice="write its name in quotes")
    Traceback (most recent call last):
        ...
    rollcalc.stock.quantities.InputError: the part is 5, but must be a str: write its name in quotes.
    """
    if not isinstance(value, kind):
        kinds = kind if isinstance(kind, tuple) else (kind,)
        names = " or a ".join(one.__name__ for one in kinds)
        raise InputError(f"{name} is {shown(value)}, but must be a {names}: {advice}.")
    return value


def checked_word(name: str, value: Any, words: Iterable[str], advice: str) -> str:
    """Return ``value`` if it is one of some words, or raise the sentence that says which there are.

    Parameters
    ----------
    name : str
        What it is, as the sentence shall name it.
    value : any
        The argument to read.
    words : iterable of str
        The words that are known.
    advice : str
        What the reader should do; ends the sentence, without a full stop.

    Returns
    -------
    word : str
        The same word.

    Raises
    ------
    InputError
        If it is none of them, or no text at all.

    Notes
    -----
    Validity: any value.

    Examples
    --------
    >>> checked_word("end", "top", ("large", "small"), advice="say which end")
    Traceback (most recent call last):
        ...
    rollcalc.stock.quantities.InputError: end is 'top', but must be 'large' or 'small': say which end.
    """
    known = tuple(words)
    if not isinstance(value, str) or value not in known:
        choice = " or ".join(map(repr, known)) if len(known) == 2 else f"one of {', '.join(known)}"
        raise InputError(f"{name} is {shown(value)}, but must be {choice}: {advice}.")
    return value
