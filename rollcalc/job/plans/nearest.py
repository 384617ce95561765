"""The nearest job that passes, where one does not: found by asking every check about round figures near it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from rollcalc.layout import frustum_pattern
from rollcalc.rolling import Capacity, Check, ConeSetting, Machine, check_capacity, cone_setting, grooves
from rollcalc.rolling.cone_checks import SLIP_SHARE
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError
from rollcalc.stock.sections import FlatBar, RoundBar, Sheet, Stock

Sizes = NDArray[np.float64]

THICKNESSES: Sizes = np.array([0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0])
"""Thicknesses that are asked about: common practice, no source. [mm]"""

TRIED = 40
"""Widths and diameters that are asked about. [-]"""

LOOSE = ("ring off", "small end")
"""Checks that count against a closed piece on the rolls, and not against rolling it: it may be left open."""


def stops(check: Check) -> NDArray[np.bool_]:
    """Return whether a check is passed so far that no turns are given, for every case."""
    blocks = (check.counts == 2 or check.name == "grip") and check.name not in LOOSE
    return np.asarray(check.exceeded) >= (2 if blocks else 3)


def passing(found: Capacity) -> NDArray[np.bool_]:
    """Return whether nothing stops a job, for every case."""
    return np.asarray(~np.logical_or.reduce(np.broadcast_arrays(*map(stops, found.checks))))


def nearest_ring(machine: Machine, stock: Stock, material: Material, inside_diameter: float) -> tuple[str, ...]:
    """Return the nearest cylinders or rings that pass, one change at a time; nothing where no such change helps."""
    found, inside = [], inside_diameter / 2
    if isinstance(stock, Sheet | FlatBar):
        step = _round_step(min(float(stock.width), machine.working_width))
        widths: Sizes = np.asarray(np.arange(1, TRIED + 1) * step, float)
        widths = widths[(widths < stock.width) & (widths <= machine.working_width)]
        if widths.size:
            fits = widths[_fits(machine, replace(stock, width=widths), material, inside)]
            found += [f"{fits.max():g} mm wide"] if fits.size else []
        fits = THICKNESSES[_fits(machine, replace(stock, thickness=THICKNESSES), material, inside)]
        found += _nearest(fits, float(stock.thickness), "mm thick")
    else:
        bars = [bar.diameter for bar in grooves(machine)
                if bar.diameter != stock.diameter and _fits(machine, RoundBar(bar.diameter), material, inside).all()]
        found += _nearest(np.array(bars), float(stock.diameter), "mm bar")
    step = _round_step(inside_diameter)
    larger: Sizes = np.asarray((math.floor(inside_diameter / step) + np.arange(1, 3 * TRIED + 1)) * step, float)
    fits = larger[_fits(machine, stock, material, larger / 2)]
    return (*found, *([f"{fits.min():g} mm inside diameter"] if fits.size else []))


def nearest_cone(machine: Machine, stock: Sheet, material: Material, large: float, small: float, height: float,
                 placed: tuple[float, str]) -> tuple[str, ...]:
    """Return the smallest small end that passes at the same large end and height; nothing if none does."""
    step = _round_step(large)
    sizes = np.arange(math.ceil(max(small, (1 - SLIP_SHARE) * large) / step), math.floor(large / step) + 1) * step
    low, high = 0, len(sizes)
    while low < high:  # the first that passes: wider small ends are gentler
        middle = (low + high) // 2
        wall = replace(stock, width=frustum_pattern(large, float(sizes[middle]), height).slant)
        try:
            cone = cone_setting(machine, wall, material, large, float(sizes[middle]), position=placed[0],
                                small_end=placed[1])
            good = not cone_stopped(cone)
        except InputError:
            good = False
        low, high = (low, middle) if good else (middle + 1, high)
    return (f"{sizes[low]:g} mm at the small end, mid-thickness",) if low < len(sizes) else ()


def cone_stopped(cone: ConeSetting) -> tuple[Check, ...]:
    """Return the checks of a cone that keep it from being rolled."""
    return tuple(check for check in cone.checks if stops(check))


def nearest_words(found: Sequence[str]) -> str:
    """Return the nearest jobs that pass in a sentence."""
    if not found:
        return "No nearby job in this metal passes either: take a heavier machine."
    return f"Nearest that passes, all else the same: {', or '.join(found)}."


def _fits(machine: Machine, stock: Stock, material: Material, inside: float | Sizes) -> NDArray[np.bool_]:
    """Return which of some jobs pass, by the radius of their inside face."""
    return passing(check_capacity(machine, stock, material, np.asarray(inside + np.asarray(stock.depth) / 2)))


def _nearest(fits: Sizes, asked: float, unit: str) -> list[str]:
    """Return the figure next to what was asked for, in words."""
    return [f"{fits[np.argmin(np.abs(np.log(fits / asked)))]:g} {unit}"] if fits.size else []


def _round_step(size: float) -> float:
    """Return a round part of a size, of which about `TRIED` make it up."""
    least = size / TRIED
    power = 10.0 ** math.floor(math.log10(least))
    return next(power * times for times in (1, 2, 5, 10) if power * times >= least * (1 - 1e-9))
