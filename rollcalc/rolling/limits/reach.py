"""What a machine cannot do: rolls that meet, screws that end, stock that does not fit."""

import numpy as np

from rollcalc.stock.materials import Material, checked_material
from rollcalc.stock.quantities import FloatLike, InputError, checked, first_where, plain
from rollcalc.stock.sections import RoundBar, Stock, checked_stock

from ..machine.grooves import machine_for, width_along
from ..machine.kinds import Machine, PyramidMachine, RollPair, checked_machine
from ..solver.batches import checked_single_case

_TOUCHING = 1e-9
"""Rolls that overlap by less than this are said to touch; it is rounding. [mm]"""


def clearance(machine: Machine, stock: Stock, travel: FloatLike) -> FloatLike:
    """Return the smallest gap between rolls from touch to a travel; the stock holds the front rolls apart."""
    moved = checked("travel", travel, "mm", at_least=0, advice="count it from touch")
    pairs = machine_for(machine, checked_stock(stock)).roll_pairs(stock.depth)
    return plain(np.minimum(_gap(pairs[0], moved), _gap(pairs[1], moved)))


def usable_travel(machine: Machine, stock: Stock) -> FloatLike:
    """Return the travel at which rolls would first touch, or the screws stop.

    Parameters
    ----------
    machine, stock : Machine and Stock
        The machine, and the piece, whose depth sets where the rolls stand at touch.

    Returns
    -------
    travel : float or array, shape of the stock's depth
        Largest travel; infinite where nothing stops the roll, zero where rolls overlap from the start. [mm]

    Notes
    -----
    Says nothing about what the stock allows. Validity: straight parallel rolls.
    Source: geometry.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> round(usable_travel(DEMO_MACHINE, Sheet(thickness=0.76, width=300)), 1)
    37.0
    """
    pairs = machine_for(machine, checked_stock(stock)).roll_pairs(stock.depth)
    screws = np.inf if machine.max_travel is None else machine.max_travel
    return plain(np.minimum(np.minimum(_meeting(pairs[0]), _meeting(pairs[1])), screws))


SLENDER = 0.7
"""Thickest stock a pyramid's bottom rolls still bend like a beam, as a share of their spacing; above about 0.8 what a
plate takes off the moment below the top roll, P t/2π, would be the whole of it (our own limit). [-]"""


def check_stock(machine: Machine, stock: Stock) -> None:
    """Refuse a machine that is none, and stock that is too wide or too thick for it."""
    checked_machine(machine)
    checked_stock(stock)
    width = width_along(stock)
    if np.any(width > machine.working_width):
        raise InputError(f"the stock is {np.max(width):.6g} mm wide, but must be at most {machine.working_width:.6g} "
                         "mm wide, the working width of this machine: cut it, or turn it.")
    opening = None if isinstance(stock, RoundBar) else machine.nip_opening
    if opening is not None and np.any(stock.depth > opening):
        raise InputError(f"the stock is {np.max(stock.depth):.6g} mm thick, but must be at most {opening:.6g} mm, as "
                         "far as the nip opens: take thinner stock.")
    if isinstance(machine, PyramidMachine) and np.any(stock.depth > SLENDER * machine.bottom_roll_spacing):
        raise InputError(f"the stock is {np.max(stock.depth):.6g} mm thick, but must be at most "
                         f"{SLENDER * machine.bottom_roll_spacing:.6g} mm for bottom rolls so near each other, or it "
                         "is crushed rather than bent: take thinner stock.")


def check_one_piece(machine: Machine, stock: Stock, material: Material, *numbers: FloatLike) -> None:
    """Refuse what is no machine, stock or metal, what does not go in, and arrays where one piece is meant."""
    check_stock(machine, stock)
    checked_single_case(machine, stock, checked_material(material), *numbers)


def check_travel(machine: Machine, stock: Stock, travel: FloatLike, wanted: str) -> None:
    """Refuse a travel that the screws do not reach, or on the way to which rolls would overlap; they may touch."""
    if machine.max_travel is not None and np.any(np.asarray(travel) > machine.max_travel):
        raise InputError(f"travel is {np.max(travel):.6g} mm, but must be at most {machine.max_travel:.6g} mm, where "
                         f"the screws stop: {wanted}.")
    overlap = np.asarray(clearance(machine, stock, travel)) < -_TOUCHING
    if np.any(overlap):
        (number,) = first_where(overlap, travel)
        most = float(np.min(usable_travel(machine, stock)))
        if most == 0:
            raise InputError("two rolls of this machine overlap before anything moves, but there must be room between "
                             "them: measure diameters and distances again.")
        raise InputError(f"travel is {number:.6g} mm, but must be at most {most:.6g} mm, where two rolls would touch: "
                         f"{wanted}.")


def _gap(pair: RollPair, travel: FloatLike) -> FloatLike:
    """Return the smallest gap between two rolls on the way to a travel; the centres pass each other on a line."""
    (x, y), (right, up), reach = pair
    nearest = np.clip(-(x * right + y * up), 0.0, travel)
    return np.hypot(x + nearest * right, y + nearest * up) - reach


def _meeting(pair: RollPair) -> FloatLike:
    """Return the travel at which two rolls first touch."""
    (x, y), (right, up), reach = pair
    towards = -(x * right + y * up)
    beside = np.abs(x * up - y * right) if right or up else np.inf
    meets = (towards > 0) & (beside < reach)
    first = towards - np.sqrt(np.where(meets, reach**2 - np.minimum(beside, reach) ** 2, 0.0))
    apart = np.hypot(x, y) >= reach - _TOUCHING
    return np.where(apart, np.where(meets, np.maximum(first, 0.0), np.inf), 0.0)
