"""How thick stock may be at each width before a limit of the machine is met: the curves of a capacity chart."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike
from rollcalc.stock.sections import FlatBar, Sheet

from .capacity import Capacity, check_capacity
from .checks import Check
from .machines import Machine

Points = NDArray[np.float64]

THINNEST, THICKEST, TRIED = 0.2, 20.0, 26
"""Thicknesses that are tried, evenly in their logarithm: checks are nearly powers of thickness, so few will do. [mm]"""

CLOSE = 1.2
"""How close about a first reading the second one looks, a little less than the step of the first. [-]"""


@dataclass(frozen=True, eq=False)
class ThicknessLimits:
    """What thickness each width allows, for one metal and one inside radius.

    Parameters
    ----------
    widths : array, shape (n,)
        Widths of the stock. [mm]
    thickest : array, shape (n,)
        Where the first limit is passed; 0 where nothing goes, infinite where nothing stops it. [mm]
    asking : array, shape (n,)
        From where one has to ask: metal as hard as it may be, or the crank. [mm]
    thinnest : array, shape (n,)
        Below this the rolls cannot hold the curve; 0 where they always can. [mm]
    binding : tuple of str
        The check that sets `thickest`; empty where none does.

    Notes
    -----
    Validity: as `thickness_limits`.

    Examples
    --------
    >>> nothing = np.zeros(1)
    >>> ThicknessLimits(np.ones(1), nothing, nothing, nothing, ("width",)).binding
    ('width',)
    """

    widths: Points
    thickest: Points
    asking: Points
    thinnest: Points
    binding: tuple[str, ...]


def thickness_limits(machine: Machine, stock: Sheet | FlatBar, material: Material, inside_radius: float,
                     widths: Points) -> ThicknessLimits:  # fmt: skip
    """Return the thickness at which each limit of `check_capacity` is met, for stock of many widths.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    stock : Sheet or FlatBar
        The kind of stock; its own sizes do not count.
    material : Material
        The metal.
    inside_radius : float
        Wanted radius after release, to the inside. [mm]
    widths : array, shape (n,)
        Widths of the stock. [mm]

    Returns
    -------
    limits : ThicknessLimits
        The curves.

    Raises
    ------
    InputError
        If the stock is a round bar, or a number makes no sense.

    Notes
    -----
    Every check is asked at some thicknesses; between them it is taken as a power of the thickness, which the bending
    moment is. Validity: as `check_capacity`, stock at the middle of the rolls.

    Source: as `check_capacity`.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> from rollcalc.stock import MATERIALS
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> limits = thickness_limits(DEMO_MACHINE, Sheet(1, 1), steel, 90, np.array([760.0]))
    >>> round(float(limits.thickest[0]), 3), limits.binding
    (0.76, ('bending moment',))
    """
    checked_kind("the stock", stock, (Sheet, FlatBar), advice="lay a round bar in its groove")
    thickness = np.repeat(np.geomspace(THINNEST, THICKEST, TRIED)[:, None], len(widths), axis=1)
    found = _tried(machine, stock, material, inside_radius, widths, thickness)
    rough = _read(found, widths, thickness, slice(None))
    near = np.concatenate([_near(rough.thickest), _near(rough.asking)])
    found, half = _tried(machine, stock, material, inside_radius, widths, near), len(near) // 2
    thickest = _closer(_read(found, widths, near, slice(half)).thickest, rough.thickest)
    asking = _closer(_read(found, widths, near, slice(half, None)).asking, rough.asking)
    return replace(rough, thickest=thickest, asking=np.minimum(asking, thickest))


def _tried(machine: Machine, stock: Sheet | FlatBar, material: Material, inside_radius: float, widths: Points,
           thickness: Points) -> Capacity:  # fmt: skip
    """Return the capacity for thicknesses in each column of widths, shape (tried, n)."""
    tried = type(stock)(thickness, np.broadcast_to(widths, thickness.shape))
    return check_capacity(machine, tried, material, inside_radius + tried.depth / 2)


def _read(found: Capacity, widths: Points, thickness: Points, rows: slice) -> ThicknessLimits:
    """Return the limits read off between some of the rows that were tried, whose thickness rises."""

    def crossings(check: Check, demand: FloatLike) -> tuple[Points, Points]:
        return _crossings(check, demand, thickness, rows)

    named = [check.name for check in found.checks if check.counts == 2]
    firm = [crossings(check, check.demand) for check in found.checks if check.counts == 2]
    doubt = [crossings(check, check.hard_demand) for check in found.checks if check.counts]
    upper = np.array([over for over, _ in firm])
    first = np.argmin(upper, axis=0)
    thickest = upper.min(axis=0)
    binding = tuple(named[row] if np.isfinite(limit) else "" for row, limit in zip(first, thickest, strict=True))
    asking = np.minimum(thickest, np.min([over for over, _ in doubt], axis=0))
    return ThicknessLimits(widths, thickest, asking, np.max([under for _, under in doubt], axis=0), binding)


def _near(curve: Points) -> Points:
    """Return thicknesses close about a curve, to read it off once more; some number where it has none."""
    middle = np.where(np.isfinite(curve) & (curve > 0), curve, 1.0)
    return np.asarray(middle * np.geomspace(1 / CLOSE, CLOSE, 5)[:, None])


def _closer(again: Points, rough: Points) -> Points:
    """Return the second reading where it lies within its thicknesses, and else the first."""
    found = np.isfinite(again) & np.isfinite(rough) & (again > rough / CLOSE) & (again < rough * CLOSE)
    return np.where(found, again, rough)


def _crossings(check: Check, demand: FloatLike, thickness: Points, rows: slice) -> tuple[Points, Points]:
    """Return the thickness above which a check is passed for good, and the one below which it is; shape (n,) each."""
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.asarray(demand) / np.asarray(check.limit)
        ratio = np.log(np.clip(np.where(np.isnan(share), np.inf, share), 1e-9, 1e9))
    ratio, thickness = np.broadcast_to(ratio, thickness.shape)[rows], thickness[rows]
    fits = ratio <= 1e-9
    column, last = np.arange(thickness.shape[1]), len(thickness) - 1
    low, high = np.argmax(fits, axis=0), last - np.argmax(fits[::-1], axis=0)
    some = fits.any(axis=0)
    logs = np.log(thickness)

    def between(inside: Points, outside: Points) -> Points:
        """Return where the logarithm of the ratio is zero, between a row that fits and its neighbour that does not."""
        a, b = ratio[inside, column], ratio[outside, column]
        share = np.where(inside == outside, 0.0, -a / np.where(a == b, 1.0, b - a))
        return np.asarray(np.exp(logs[inside, column] + share * (logs[outside, column] - logs[inside, column])))

    over = np.where(high == last, np.inf, between(high, np.minimum(high + 1, last)))
    under = np.where(low == 0, 0.0, between(low, np.maximum(low - 1, 0)))
    return np.where(some, over, 0.0), np.where(some, under, np.inf)
