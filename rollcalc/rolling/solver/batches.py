"""Many cases at once, a few thousand at a time, so that the arrays stay in the processor's cache."""

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
    """Return the shape that all arrays in these things broadcast to."""
    shapes = [array.shape for thing in things for array in _arrays(_as_array(thing)) if array.size]
    try:
        return np.broadcast_shapes(*shapes)
    except ValueError:
        raise InputError(f"the arrays have shapes {', '.join(map(str, shapes))}, but must fit together: "
                         "give single numbers, or arrays of one length.") from None


def checked_single_case(*things: Any) -> None:
    """Refuse arrays where one piece at one setting is meant."""
    shape = common_shape(*things)
    if shape:
        raise InputError(f"the numbers of machine, stock and metal are arrays of shape {shape}, but must be single "
                         "numbers here: take one case at a time.")


def in_blocks(compute: Callable[..., Result], shape: tuple[int, ...], *things: Any) -> Result:
    """Return what ``compute`` gives for these things, worked out block by block where there are many cases."""
    cases = int(np.prod(shape))
    if cases <= BLOCK:
        return compute(*things)
    flat = [_each_array(thing, lambda array: np.broadcast_to(array, shape).reshape(-1)) for thing in things]
    columns: list[list[Any]] = []
    for start in range(0, cases, BLOCK):
        block = slice(start, min(start + BLOCK, cases))
        part = compute(*(_each_array(thing, lambda array: array[block]) for thing in flat))  # noqa: B023
        columns.append([np.broadcast_to(column, block.stop - start) for column in part])
    result: Result = part._make(np.concatenate(column).reshape(shape) for column in zip(*columns, strict=True))
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
