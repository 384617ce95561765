r"""How far a roll bends between its bearings under the stock's load, and how hard that strains it.

A roll is a round bar on two bearings, the stock presses on a part of it evenly. With x from the left
bearing, the stock from a to b, the span L, the force F and ⟨z⟩ for max(z, 0), the moment is

.. math:: M = F\,\frac{L - (a+b)/2}{L}\,x - \frac{F}{b-a}\,\frac{\langle x-a\rangle^2 - \langle x-b\rangle^2}{2}

and the bow follows by integrating M/(E I) twice, with no bow in the bearings.
"""

import numpy as np

from rollcalc.stock.kinds import checked_word
from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked, first_where, plain
from rollcalc.stock.sections import RoundBar, Stock, checked_stock

from .machine.grooves import GroovedMachine, machine_for
from .machine.kinds import Machine, checked_machine

Ends = tuple[FloatLike, FloatLike]
"""Where the stock begins and ends, from the left bearing. [mm]"""


def roll_bow(machine: Machine, stock: Stock, force: FloatLike, *, position: FloatLike | None = None,
             place: FloatLike | None = None, roll: str = "bending") -> FloatLike:
    r"""Return how far a roll bows between its bearings when the stock presses on it.

    Parameters
    ----------
    machine, stock : Machine and Stock
        The machine, whose bearing span and roll modulus count, and the piece, over whose width the force is spread.
    force : float or array, shape (...)
        Force between roll and stock over the whole width. [N]
    position, place : float or array, broadcastable with force, or None
        From the middle of the rolls to the middle of the stock, None for the middle, and for a round bar where its
        groove is; to where the bow is asked for, None for the middle of the stock. Left is negative. [mm]
    roll : str
        "bending", "upper" or "lower"; on a pyramid machine "bottom" or "top" for "bending" or "upper".

    Returns
    -------
    bow : float or array, broadcast shape
        How far the roll's axle moves away from the stock. [mm]

    Notes
    -----
    Macaulay's method on a simply supported bar of E I with I = π d⁴/64, see the module's first lines.
    Validity: bearings that do not hold the roll's ends straight; no shear, no bow of the frame.
    Source: beam theory, any strength text (from memory); compared with sympy's beam module in the tests.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> round(roll_bow(DEMO_MACHINE, Sheet(thickness=0.76, width=760), force=5000), 3)
    0.612
    """
    pressed = checked("force", force, "N", at_least=0, advice="give the force over the whole width")
    machine = machine_for(machine, checked_stock(stock))
    centre, span = stock_position(machine, position), machine.between_bearings
    diameter = machine.body_diameter(checked_word("roll", roll, machine.ROLLS, advice="say which roll bows"))
    ends = stock_ends(machine, stock, centre)
    asked = centre if place is None else checked("place", place, "mm", advice="count it from the middle of the rolls")
    along = np.asarray(asked) + span / 2
    outside = (along < 0) | (along > span)
    if np.any(outside):
        (number,) = first_where(outside, along - span / 2)
        raise InputError(f"place is {number:.6g} mm, but must be from {-span / 2:.6g} to {span / 2:.6g} mm, between "
                         "the bearings: count it from the middle of the rolls.")
    return plain(pressed * unit_bow(along, ends, span) / (machine.roll_modulus * np.pi * diameter**4 / 64))


def roll_stress(machine: Machine, stock: Stock, force: FloatLike, *, position: FloatLike | None = None,
                roll: str = "bending") -> FloatLike:
    """Return the largest bending stress in a roll when the stock presses on it.

    Parameters
    ----------
    machine, stock, roll : Machine, Stock and str
        As for `roll_bow`.
    force : float or array, shape (...)
        As for `roll_bow`. [N]
    position : float or array, broadcastable with force, or None
        As for `roll_bow`. [mm]

    Returns
    -------
    stress : float or array, broadcast shape
        Largest bending stress. [MPa]

    Notes
    -----
    A narrow strip at the middle of the rolls strains them up to twice as hard as the same force over the
    full width. Validity: as `roll_bow`; grooves and the step to the journal strain the roll more.
    Source: beam theory, any strength text (from memory).

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> [round(roll_stress(DEMO_MACHINE, Sheet(thickness=0.76, width=width), force=5000), 1) for width in (30, 760)]
    [82.0, 44.8]
    """
    pressed = checked("force", force, "N", at_least=0, advice="give the force over the whole width")
    machine = machine_for(machine, checked_stock(stock))
    ends = stock_ends(machine, stock, stock_position(machine, position))
    check_shapes("force and place of the stock", pressed, *ends)
    which = machine.ROLLS[checked_word("roll", roll, machine.ROLLS, advice="say which roll bows")]
    diameter = machine.roll_diameters[which]  # at the bottom of a bar's groove
    return plain(pressed * unit_moment(ends, machine.between_bearings) * 32 / (np.pi * diameter**3))


def bearing_span(machine: Machine) -> float:
    """Return the length of a roll between its bearings; the working width where the machine does not say."""
    return checked_machine(machine).between_bearings


def stock_position(machine: Machine, position: FloatLike | None) -> FloatLike:
    """Return where the stock lies along the rolls: as given, or in its groove, or in the middle. [mm]"""
    if position is not None:
        return position
    return (machine.groove.position or 0.0) if isinstance(machine, GroovedMachine) else 0.0


def pressed_width(stock: Stock) -> FloatLike:
    """Return the width that the stock presses on; a round bar, which presses on a line, a tenth of its diameter."""
    return stock.depth / 10 if isinstance(stock, RoundBar) else stock.width


def stock_ends(machine: Machine, stock: Stock, position: FloatLike) -> Ends:
    """Return where the stock begins and ends, from the left bearing."""
    centre = np.asarray(checked("position", position, "mm", advice="count it from the middle of the rolls"))
    width, span = pressed_width(checked_stock(stock)), machine.between_bearings
    beyond = np.abs(centre) + np.asarray(width) / 2 > span / 2 * (1 + 1e-12)
    if np.any(beyond):
        number, wide = first_where(beyond, centre, width)
        raise InputError(f"position is {number:.6g} mm, but stock {wide:.6g} mm wide must lie between bearings "
                         f"{span:.6g} mm apart: move it towards the middle.")
    return plain(span / 2 + centre - width / 2), plain(span / 2 + centre + width / 2)


def unit_bow(along: FloatLike, ends: Ends, span: float) -> FloatLike:
    """Return E I times the bow for a force of one; products for differences keep the digits of narrow stock."""
    begin, end = (np.asarray(place) for place in ends)
    share = 1 - (begin + end) / (2 * span)
    tilt = (share * span**3 / 6 - _load_part(span, begin, end)) / span
    return plain(tilt * along - share * np.asarray(along) ** 3 / 6 + _load_part(along, begin, end))


def unit_moment(ends: Ends, span: float) -> FloatLike:
    """Return the largest moment in the roll for a force of one: where the shear force is nothing, under the stock."""
    begin, end = (np.asarray(place) for place in ends)
    share = 1 - (begin + end) / (2 * span)
    return plain(share * (begin + share * (end - begin) / 2))


def _load_part(along: FloatLike, begin: FloatLike, end: FloatLike) -> FloatLike:
    """Return (⟨x − a⟩⁴ − ⟨x − b⟩⁴) / (24 (b − a))."""
    high, low = np.maximum(along - begin, 0.0), np.maximum(along - end, 0.0)
    return plain((high - low) / (end - begin) * (high + low) * (high**2 + low**2) / 24)
