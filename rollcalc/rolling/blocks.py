"""Many cases at once, a few thousand at a time, so that the arrays stay in the processor's cache."""

from __future__ import annotations

import copy
import dataclasses
from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar

import numpy as np

from rollcalc.stock.quantities import InputError

BLOCK = 2048
"""Cases in a block: 16 Gauss points of them fill a quarter of a megabyte."""

Result = TypeVar("Result", bound=NamedTuple)


def common_shape(*things: Any) -> tuple[int, ...]:
    """Return the shape that all arrays in these things broadcast to.

    Parameters
    ----------
    *things : number, array, or dataclass that holds some
        Machine, stock, material and numbers.

    Returns
    -------
    shape : tuple of int
        The broadcast shape; empty for single numbers. [-]

    Raises
    ------
    InputError
        If the shapes do not fit together.

    Notes
    -----
    Validity: any shapes.

    Source: numpy's broadcasting.

    Examples
    --------
    >>> common_shape(1.0, np.ones(3), np.ones((2, 1)))
    (2, 3)
    """
    shapes = [array.shape for thing in things for array in _arrays(_as_array(thing)) if array.size]
    try:
        return np.broadcast_shapes(*shapes)
    except ValueError:
        raise InputError(f"the arrays have shapes {', '.join(map(str, shapes))}, but must fit together: "
                         "give single numbers, or arrays of one length.") from None  # fmt: skip


def checked_single_case(*things: Any) -> None:
    """Refuse arrays where one piece at one setting is meant.

    Parameters
    ----------
    *things : number, array, or dataclass that holds some
        Machine, stock, material and numbers.

    Returns
    -------
    None
        Nothing, where every number is a single one.

    Raises
    ------
    InputError
        If an array is among them.

    Notes
    -----
    Validity: any shapes.

    Examples
    --------
    >>> checked_single_case(1.0, np.ones(2))
    Traceback (most recent call last):
        ...
    rollcalc.stock.quantities.InputError: the numbers of machine, stock and metal are arrays of shape (2,), but must \
be single numbers here: take one case at a time.
    """
    shape = common_shape(*things)
    if shape:
        raise InputError(f"the numbers of machine, stock and metal are arrays of shape {shape}, but must be single "
                         "numbers here: take one case at a time.")  # fmt: skip


def in_blocks(compute: Callable[..., Result], shape: tuple[int, ...], *things: Any) -> Result:
    """Return what ``compute`` gives for these things, worked out block by block where there are many cases.

    Parameters
    ----------
    compute : callable
        Takes the things and returns a named tuple of numbers or arrays.
    shape : tuple of int
        The shape all arrays in the things broadcast to. [-]
    *things : number, array, or dataclass that holds some
        Its arguments.

    Returns
    -------
    result : named tuple
        The same, with arrays of the broadcast shape where there are many cases.

    Notes
    -----
    Validity: functions that treat every case by itself.

    Examples
    --------
    >>> class Doubled(NamedTuple):
    ...     value: Any
    >>> in_blocks(lambda x: Doubled(2 * x), (5000,), np.arange(5000.0)).value[-1]
    np.float64(9998.0)
    """
    cases = int(np.prod(shape))
    if cases <= BLOCK:
        return compute(*things)
    flat = [_each_array(thing, lambda array: np.broadcast_to(array, shape).reshape(-1)) for thing in things]
    blocks = [slice(start, start + BLOCK) for start in range(0, cases, BLOCK)]
    parts = [compute(*(_each_array(thing, lambda array: array[block]) for thing in flat)) for block in blocks]  # noqa: B023
    sizes = [min(BLOCK, cases - block.start) for block in blocks]
    columns = [
        np.concatenate([np.broadcast_to(part, size) for part, size in zip(column, sizes, strict=True)]).reshape(shape)
        for column in zip(*parts, strict=True)
    ]
    make: Any = type(parts[0])
    result: Result = make(*columns)
    return result


def _as_array(thing: Any) -> Any:
    """Return a list of numbers as an array, anything else as it is; what is wrong with it is said elsewhere."""
    try:
        return np.asarray(thing) if isinstance(thing, list) else thing
    except ValueError:
        return thing


def _arrays(thing: Any) -> list[Any]:
    """Return the arrays in a thing."""
    if isinstance(thing, np.ndarray):
        return [thing]
    if isinstance(thing, float | str) or not dataclasses.is_dataclass(thing):
        return []
    return [array for value in vars(thing).values() for array in _arrays(value)]


def _each_array(thing: Any, change: Callable[[Any], Any]) -> Any:
    """Return a thing with every array in it changed; dataclasses are copied without their checks."""
    if isinstance(thing, np.ndarray):
        return change(thing)
    if not dataclasses.is_dataclass(thing):
        return thing
    changed = {name: _each_array(value, change) for name, value in vars(thing).items()}
    if all(value is getattr(thing, name) for name, value in changed.items()):
        return thing
    twin = copy.copy(thing)
    for name, value in changed.items():
        object.__setattr__(twin, name, value)
    return twin
