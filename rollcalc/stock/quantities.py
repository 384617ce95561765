"""Checked numbers: every public function reads its arguments through this door.

A number that makes no sense is answered by one sentence that names the quantity,
the value with its unit, what is allowed, and what to do. Nothing is clamped or
turned into a NaN.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

FloatLike = float | NDArray[np.float64]
"""A number or an array of numbers; a number in gives a Python float out."""

HUGE = 1e75
"""Numbers beyond it, or closer to nothing than one over it, overflow in a formula; no workshop has them."""


class InputError(ValueError):
    """A value the library cannot work with, explained in one sentence."""

    def _render_traceback_(self) -> list[str]:
        """Return what a notebook shows: the sentence, without the library's own lines of code."""
        return [f"{type(self).__name__}: {self}"]


def allowed_range(unit: str, *, above: float | None = None, at_least: float | None = None,
                  below: float | None = None, at_most: float | None = None) -> str:  # fmt: skip
    """Return the words for a range, such as ``above 0 mm and at most 50 mm``.

    Parameters
    ----------
    unit : str
        Unit written after each bound; empty for a plain number.
    above, at_least : float or None
        Lower bound, left out or included. [unit]
    below, at_most : float or None
        Upper bound, left out or included. [unit]

    Returns
    -------
    words : str
        The range in words.

    Notes
    -----
    With no bound at all the words are ``finite``. Validity: any bounds.

    Examples
    --------
    >>> allowed_range("mm", above=0, at_most=50)
    'above 0 mm and at most 50 mm'
    """
    bounds = (("above", above), ("at least", at_least), ("below", below), ("at most", at_most))
    words = [f"{word} {bound:g} {unit}".strip() for word, bound in bounds if bound is not None]
    return " and ".join(words) or "finite"


def shown(value: Any) -> str:
    """Return a value as a sentence shows it: as Python writes it, or by its type where that is long.

    Parameters
    ----------
    value : any
        What was given.

    Returns
    -------
    words : str
        At most 40 characters of it, or its type.

    Notes
    -----
    Validity: any value.

    Examples
    --------
    >>> shown("half an inch")
    "'half an inch'"
    """
    written = repr(value)
    return written if len(written) <= 40 and "\n" not in written else f"of type {type(value).__name__}"


def checked(name: str, value: Any, unit: str, *, above: float | None = None, at_least: float | None = None,
            below: float | None = None, at_most: float | None = None, advice: str) -> FloatLike:  # fmt: skip
    """Return ``value`` as a float or float array, or raise the sentence that says what is wrong.

    Parameters
    ----------
    name : str
        The quantity in words, as the sentence shall name it.
    value : number or array of numbers, shape (...)
        The argument to read. [unit]
    unit : str
        Unit shown in the sentence; empty for a plain number.
    above, at_least : float or None
        Lower bound, left out or included. [unit]
    below, at_most : float or None
        Upper bound, left out or included. [unit]
    advice : str
        What the reader should do; ends the sentence, without a full stop.

    Returns
    -------
    number : float or array, shape (...)
        The value; a Python float when a single number came in. [unit]

    Raises
    ------
    InputError
        If the value is not a number, is not finite, or lies outside the range or `HUGE` (any element of an array).

    Notes
    -----
    Text, booleans, None and complex numbers are not numbers here. Validity: any shape.

    Examples
    --------
    >>> checked("thickness", 2, "mm", above=0, advice="measure the sheet")
    2.0
    >>> checked("thickness", -1, "mm", above=0, advice="measure the sheet")
    Traceback (most recent call last):
        ...
    rollcalc.stock.quantities.InputError: thickness is -1 mm, but must be above 0 mm: measure the sheet.
    """
    allowed = allowed_range(unit, above=above, at_least=at_least, below=below, at_most=at_most)
    array = _float_array(value)
    if array is None:
        wanted = f"a number{f' in {unit}' if unit else ''}"
        raise InputError(f"{name} is {shown(value)}, but must be {wanted}, {allowed}: {advice}.")
    good = np.isfinite(array)
    for passes, bound in (
        (np.greater, above),
        (np.greater_equal, at_least),
        (np.less, below),
        (np.less_equal, at_most),
    ):
        if bound is not None:
            good &= passes(array, bound)
    size = np.abs(array)
    good &= (size < HUGE) & ((size > 1 / HUGE) | (above is None))
    if not good.all():
        where = tuple(np.argwhere(~good)[0].tolist())
        place = f"[{', '.join(map(str, where))}]" if where else ""
        number = f"{array[where]:.6g} {unit}".strip()
        if np.isfinite(array[where]) and not 1 / HUGE < size[where] < HUGE and array[where]:
            allowed += f", of a size from {1 / HUGE:g} to {HUGE:g}"
        raise InputError(f"{name}{place} is {number}, but must be {allowed}: {advice}.")
    return plain(array)


def checked_single(name: str, value: Any, unit: str, *, above: float | None = None, at_least: float | None = None,
                   at_most: float | None = None, advice: str) -> float:  # fmt: skip
    """Return ``value`` as one float, or raise the sentence that says what is wrong.

    Parameters
    ----------
    name : str
        The quantity in words, as the sentence shall name it.
    value : number
        The argument to read. [unit]
    unit : str
        Unit shown in the sentence; empty for a plain number.
    above, at_least : float or None
        Lower bound, left out or included. [unit]
    at_most : float or None
        Upper bound, included. [unit]
    advice : str
        What the reader should do; ends the sentence, without a full stop.

    Returns
    -------
    number : float
        The value. [unit]

    Raises
    ------
    InputError
        If the value is not one finite number in the range.

    Notes
    -----
    As `checked`, where an array makes no sense. Validity: single numbers.

    Examples
    --------
    >>> checked_single("density", 7.85e-6, "kg/mm³", above=0, advice="look it up")
    7.85e-06
    """
    number = checked(name, value, unit, above=above, at_least=at_least, at_most=at_most, advice=advice)
    if not isinstance(number, float):
        wanted = f"one number in {unit}" if unit else "one number"
        raise InputError(f"{name} is an array of shape {number.shape}, but must be {wanted}: {advice}.")
    return number


def check_shapes(subject: str, *numbers: FloatLike) -> None:
    """Refuse arrays that do not broadcast together.

    Parameters
    ----------
    subject : str
        What the numbers are, as the sentence shall name them.
    numbers : floats or arrays
        The numbers, checked already. [any]

    Raises
    ------
    InputError
        If the arrays do not fit together.

    Notes
    -----
    Single numbers fit anything. Validity: any shapes.

    Examples
    --------
    >>> check_shapes("thickness and width", 0.76, np.array([30.0, 60.0]))
    """
    shapes = [np.shape(number) for number in numbers if not isinstance(number, float)]
    try:
        np.broadcast_shapes(*shapes)
    except ValueError:
        raise InputError(f"{subject} have shapes {', '.join(map(str, shapes))}, but must fit together: "
                         "give single numbers, or arrays of one length.") from None  # fmt: skip


def plain(value: Any) -> FloatLike:
    """Return a 0-d array or numpy scalar as a Python float, an array unchanged.

    Parameters
    ----------
    value : number or array, shape (...)
        What a computation gave. [any]

    Returns
    -------
    value : float or array, shape (...)
        The same number or numbers. [any]

    Notes
    -----
    Keeps the rule of the house: a scalar in gives a Python float out. Validity: any shape.

    Examples
    --------
    >>> plain(np.float64(2.5))
    2.5
    """
    return float(value) if np.ndim(value) == 0 else value


def first_where(wrong: Any, *values: FloatLike) -> tuple[float, ...]:
    """Return the values at the first place where ``wrong`` is true, for the sentence about it.

    Parameters
    ----------
    wrong : array of bool, shape (...)
        Where something is out of range; true somewhere. [-]
    values : floats or arrays, broadcastable with wrong
        The quantities the sentence names. [any]

    Returns
    -------
    numbers : tuple of float
        One number for each of the values. [any]

    Notes
    -----
    Validity: any shapes that broadcast.

    Examples
    --------
    >>> first_where(np.array([False, True]), np.array([1.0, 2.0]), 5.0)
    (2.0, 5.0)
    """
    place = int(np.argmax(wrong))
    return tuple(float(np.broadcast_to(value, np.shape(wrong)).flat[place]) for value in values)


def _float_array(value: Any) -> NDArray[np.float64] | None:
    """Return the value as a float array, or None where it is not made of real numbers."""
    if isinstance(value, bool | np.bool_ | str | bytes | np.ma.MaskedArray) or value is None:
        return None
    if isinstance(value, float | int):
        try:
            return np.array(float(value))
        except OverflowError:
            return np.array(math.inf)
    try:
        array = np.asarray(value)
    except ValueError:
        return None
    return array.astype(np.float64) if array.dtype.kind in "iuf" and array.size else None
