"""Checked numbers: every public function reads its arguments through this door.

A number that makes no sense is answered by one sentence that names the quantity, the value with its unit, what is
allowed, and what to do. Nothing is clamped or turned into a NaN.
"""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

FloatLike = float | NDArray[np.float64]
"""A number or an array of numbers; a number in gives a Python float out."""

HUGE = 1e75
"""Numbers beyond it, or closer to nothing than one over it, overflow in a formula; no workshop has them."""


class InputError(ValueError):
    """A value the library cannot work with, explained in one sentence.

    Raised wherever a number is not finite or outside the range that a description allows; a docstring has Raises only
    where there is more to say.
    """

    def _render_traceback_(self) -> list[str]:
        """Return what a notebook shows: the sentence, without the library's own lines of code."""
        return [f"{type(self).__name__}: {self}"]


def allowed_range(unit: str, *, above: float | None = None, at_least: float | None = None,
                  below: float | None = None, at_most: float | None = None) -> str:
    """Return the words for a range, such as ``above 0 mm and at most 50 mm``, or ``finite`` with no bound at all."""
    bounds = (("above", above), ("at least", at_least), ("below", below), ("at most", at_most))
    words = [f"{word} {bound:g} {unit}".strip() for word, bound in bounds if bound is not None]
    return " and ".join(words) or "finite"


def shown(value: Any) -> str:
    """Return a value as a sentence shows it: as Python writes it, or by its type where that is long."""
    written = repr(value)
    plain_words = len(written) <= 40 and "\n" not in written and " at 0x" not in written
    return written if plain_words else f"of type {type(value).__name__}"


def checked(name: str, value: Any, unit: str, *, above: float | None = None, at_least: float | None = None,
            below: float | None = None, at_most: float | None = None, advice: str) -> FloatLike:
    """Return ``value`` as floats, or raise the sentence about it; text, booleans and None are no numbers here."""
    allowed = allowed_range(unit, above=above, at_least=at_least, below=below, at_most=at_most)
    array = _float_array(value)
    if array is None:
        wanted = f"a number{f' in {unit}' if unit else ''}"
        raise InputError(f"{name} is {shown(value)}, but must be {wanted}, {allowed}: {advice}.")
    good = np.isfinite(array)
    for passes, bound in ((np.greater, above), (np.greater_equal, at_least),
                          (np.less, below), (np.less_equal, at_most)):
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
                   at_most: float | None = None, advice: str) -> float:
    """Return ``value`` as one float, or raise the sentence about it: `checked` where an array makes no sense."""
    number = checked(name, value, unit, above=above, at_least=at_least, at_most=at_most, advice=advice)
    if not isinstance(number, float):
        wanted = f"one number in {unit}" if unit else "one number"
        raise InputError(f"{name} is an array of shape {number.shape}, but must be {wanted}: {advice}.")
    return number


def check_shapes(subject: str, *numbers: FloatLike) -> None:
    """Refuse arrays that do not broadcast together; single numbers fit anything."""
    shapes = [np.shape(number) for number in numbers if not isinstance(number, float)]
    try:
        np.broadcast_shapes(*shapes)
    except ValueError:
        raise InputError(f"{subject} have shapes {', '.join(map(str, shapes))}, but must fit together: "
                         "give single numbers, or arrays of one length.") from None


def plain(value: Any) -> FloatLike:
    """Return an array unchanged, and a single number as a Python float: a scalar in gives a float out."""
    return float(value) if np.ndim(value) == 0 else value


def first_where(wrong: Any, *values: FloatLike) -> tuple[float, ...]:
    """Return the values at the first place where ``wrong`` is true, for the sentence about it."""
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
