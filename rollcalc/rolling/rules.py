"""Rules for the bench: the circle through the rolls, and the arcs that are nearly right.

The circle is the obvious way to set a machine, and it is wrong: the sheet is flatter towards the
roll it leaves over. The two-thirds and two-arc rules put that right with an arc for each span.
"""

import numpy as np

from rollcalc.bending.law import fibre_law
from rollcalc.bending.moment import first_moments
from rollcalc.bending.release import checked_radius, loaded_curvature
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, InputError, checked, first_where, plain, shown
from rollcalc.stock.sections import Stock, checked_stock

from .machine.grooves import machine_for
from .machine.kinds import Machine, PinchMachine, PyramidMachine
from .solver.contact import contacts
from .solver.roots import rising_root
from .solver.span import entering_span, leaving_span


def circle_radius(machine: Machine, stock: Stock, travel: FloatLike) -> FloatLike:
    """Return the radius of the circle through the rolls.

    Parameters
    ----------
    machine, stock : Machine and Stock
        The machine and the piece.
    travel : float or array, broadcastable with the stock's numbers
        Travel of the roll that moves. [mm]

    Returns
    -------
    radius : float or array, broadcast shape
        Radius to mid-thickness; infinite at touch. [mm]

    Notes
    -----
    Pinch: the circle tangent to the flat sheet in the nip and to the bending roll with centre (x, y), where c is that
    roll's radius and half the thickness, R = (x² + y² − c²)/(2(y + c)); pyramid: tangent to the three rolls, at a
    spacing a and a travel T, R = a²/(8T) + T/2 − c. Validity: geometry only. The sheet is no circle: use
    `two_thirds_radius` or `radius_for_travel`.
    Source: derived in rollcalc.lessons.lesson02.derivations.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> round(circle_radius(DEMO_MACHINE, Sheet(thickness=0.76, width=300), travel=15), 1)
    88.5
    """
    machine = machine_for(machine, checked_stock(stock))
    moved = np.asarray(checked("travel", travel, "mm", at_least=0, advice="count it from touch"))
    half, (right, up) = machine.touch_distance, machine.guide_direction
    with np.errstate(divide="ignore", over="ignore"):
        radius = (half**2 + moved**2) / (2 * moved * up) + half * right / up - _roll(machine, stock)
    inside = np.asarray(machine.inside_roll_diameter / 2 + np.asarray(stock.depth) / 2)
    if np.any(radius < inside * (1 - 1e-12)):
        number, least = first_where(radius < inside, np.broadcast_to(moved, np.shape(radius)), inside)
        raise InputError(f"travel is {number:.6g} mm, but must be smaller: no circle of {least:.6g} mm or more, which "
                         "goes around the inside roll, fits between the rolls there, so set less.")
    return plain(radius)


def circle_travel(machine: Machine, stock: Stock, radius: FloatLike) -> FloatLike:
    """Return the travel at which the circle through the rolls has a radius.

    Parameters
    ----------
    machine, stock : Machine and Stock
        The machine and the piece.
    radius : float or array, broadcastable with the stock's numbers
        Radius of the circle, to mid-thickness. [mm]

    Returns
    -------
    travel : float or array, broadcast shape
        Travel of the roll that moves. [mm]

    Notes
    -----
    With g the guide distance, a the guide angle and c as in `circle_radius`, T = b − √(b² − g²) and
    b = (R + c) sin a − g cos a; for a pyramid b = R + c with half the spacing for g. Validity: as `circle_radius`.
    Source: derived in rollcalc.lessons.lesson02.derivations.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> round(circle_travel(DEMO_MACHINE, Sheet(thickness=0.76, width=300), radius=60), 3)
    19.814
    """
    machine = machine_for(machine, stock)
    number = np.asarray(checked_radius(stock, "radius of the circle", radius))
    half, (right, up), roll = machine.touch_distance, machine.guide_direction, _roll(machine, stock)
    middle = (number + roll) * up - half * right
    inside = machine.inside_roll_diameter / 2 + np.asarray(stock.depth) / 2
    impossible = (middle < half) | (number < inside * (1 - 1e-12))
    if np.any(impossible):
        wrong, least = first_where(impossible, number, np.maximum(inside, (half + half * right) / up - roll))
        raise InputError(f"radius of the circle is {wrong:.6g} mm, but must be at least {least:.6g} mm between these "
                         "rolls: ask for a larger one.")
    return plain(half**2 / (middle + np.sqrt(middle**2 - half**2)))


def two_thirds_travel(machine: PinchMachine, stock: Stock, material: Material, released_radius: FloatLike) -> FloatLike:
    """Return the travel for a wanted radius by the two-thirds rule.

    Parameters
    ----------
    machine, stock, material : PinchMachine, Stock and Material
        The machine, taken with a perfect nip, the piece and its metal.
    released_radius : float or array, broadcastable with the stock's and material's numbers
        Wanted radius after release, to mid-thickness. [mm]

    Returns
    -------
    travel : float or array, broadcast shape
        Travel of the bending roll. [mm]

    Notes
    -----
    The moment falls nearly in a straight line from the nip to the bending roll, so the circle through the rolls holds
    two thirds of the springback: 1/R_circle = κ_r + 2M/(3E′I). Validity: a perfect nip. On the bench roll, against
    `setting_for_radius`, travel is within 0.6 % up to a contact angle of 0.9 rad where three quarters of the loaded
    curvature stay, 1.2 % where half, 3.2 % where less.
    Source: derived in rollcalc.lessons.lesson02.derivations.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> round(two_thirds_travel(DEMO_MACHINE, Sheet(thickness=0.76, width=300), steel, 90), 2)
    17.84
    """
    _check_kind(machine, PinchMachine, "two-thirds rule", "two_arc_travel")
    stays = 1 / np.asarray(checked_radius(stock, "released radius", released_radius))
    loaded = np.asarray(loaded_curvature(stock, material, stays))
    return circle_travel(machine, stock, 1 / (stays + 2 / 3 * (loaded - stays)))


def two_thirds_radius(machine: PinchMachine, stock: Stock, material: Material, travel: FloatLike) -> FloatLike:
    """Return the released radius that a travel gives by the two-thirds rule.

    Parameters
    ----------
    machine, stock, material : PinchMachine, Stock and Material
        The machine, taken with a perfect nip, the piece and its metal.
    travel : float or array, broadcastable with the stock's and material's numbers
        Travel of the bending roll. [mm]

    Returns
    -------
    radius : float or array, broadcast shape
        Radius after release, to mid-thickness; infinite where no set remains. [mm]

    Notes
    -----
    The inverse of `two_thirds_travel`: 1/R_circle = (2 κ + κ_r)/3 solved for κ. Validity: as there.
    Source: derived in rollcalc.lessons.lesson02.derivations.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> round(two_thirds_radius(DEMO_MACHINE, Sheet(thickness=0.76, width=300), steel, 17.84), 1)
    90.0
    """
    _check_kind(machine, PinchMachine, "two-thirds rule", "radius_for_travel")
    circle, law = 1 / np.asarray(circle_radius(machine, stock, travel)), fibre_law(stock, material)
    held = lambda curvature: (2 * curvature + first_moments(stock, law, curvature)[0]) / 3 - circle
    loaded = rising_root(held, circle, np.asarray(1.5 * circle) + 1e-12)
    with np.errstate(divide="ignore"):
        return plain(1 / np.asarray(first_moments(stock, law, loaded)[0]))


def two_arc_travel(machine: PyramidMachine, stock: Stock, material: Material, released_radius: FloatLike) -> FloatLike:
    """Return the travel of a pyramid machine for a wanted radius by the two-arc rule.

    Parameters
    ----------
    machine, stock, material : PyramidMachine, Stock and Material
        The machine, the piece, flat before it is rolled, and its metal.
    released_radius : float or array, broadcastable with the stock's and material's numbers
        Wanted radius after release, to mid-thickness. [mm]

    Returns
    -------
    travel : float or array, broadcast shape
        Drop of the top roll. [mm]

    Notes
    -----
    One arc on either side, tangent at the top roll, of the curvatures that rise as far as the true spans while slopes
    are small: κ_r + 2M/(3E′I) where the stock leaves, (2/M²) ∫κM dM from 0 to M where it enters. Validity: within 0.4 %
    of `setting_for_radius` in travel up to slopes of 0.6 rad.
    Source: derived in the module `span`.

    Examples
    --------
    >>> from rollcalc import Sheet
    >>> machine = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240,
    ...                          screw_pitch=6, working_width=1500)
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> round(two_arc_travel(machine, Sheet(thickness=6, width=1000), steel, 500), 2)
    9.84
    """
    _check_kind(machine, PyramidMachine, "two-arc rule", "two_thirds_travel")
    machine_for(machine, stock)  # refuses a round bar, which needs a groove
    stays = 1 / np.asarray(checked_radius(stock, "released radius", released_radius))
    loaded = np.asarray(loaded_curvature(stock, material, stays))
    spans = (entering_span(stock, fibre_law(stock, material), loaded, 0.0), leaving_span(loaded, stays))
    front, bending = (leaving_span(span.mean_curvature, span.mean_curvature) for span in spans)
    travel = np.asarray(contacts(machine, stock.depth, 0.0, front, bending).travel)
    if not np.all(np.isfinite(travel)):
        (wrong,) = first_where(~np.isfinite(travel), 1 / stays)
        raise InputError(f"released radius is {wrong:.6g} mm, but must be larger: the rolls cannot hold arcs "
                         "as tight as it needs.")
    return plain(travel)


def _roll(machine: Machine, stock: Stock) -> FloatLike:
    """Return c, the radius of the roll that sets the curve and half the thickness."""
    return machine.roll_diameters[2] / 2 + np.asarray(stock.depth) / 2


def _check_kind(machine: Machine, kind: type, rule: str, other: str) -> None:
    """Refuse a machine of the other kind."""
    if not isinstance(machine, kind):
        raise InputError(f"the machine is {shown(machine)}, but must be a {kind.__name__} for the {rule}: "
                         f"use {other} for this one.")
