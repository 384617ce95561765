"""What bowed rolls do to a wide sheet: the middle comes out larger than the edges."""

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.bending.law import fibre_law
from rollcalc.bending.moment import first_moments
from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import FloatLike, checked, plain
from rollcalc.stock.record import Record

from .deflection import roll_bow, stock_position
from .machine.kinds import Machine, PinchMachine
from .setting import Setting
from .solver.span import STEEPEST


@dataclass(frozen=True, eq=False, repr=False)
class BowedRadii(Record):
    """What the bow of the rolls does across the stock.

    Parameters
    ----------
    bending_bow, nip_spread : float or array, shape (...)
        How much further the bending roll bows, and the front rolls part, at the middle of the stock than at its edge.
        [mm]
    edge_radius, middle_radius : float or array, shape (...)
        Radii after release, to mid-thickness; infinite where nothing would remain. [mm]
    """

    bending_bow: FloatLike
    nip_spread: FloatLike
    edge_radius: FloatLike
    middle_radius: FloatLike

    SHOWS = "bending_bow [mm], nip_spread [mm], edge_radius [mm], middle_radius [mm]"
    caption = "Rolls that bow under the stock"


def bowed_radii(setting: Setting, position: FloatLike | None = None) -> BowedRadii:
    """Return the radii at the middle and at the edge of the stock, when the rolls bow.

    Parameters
    ----------
    setting : Setting
        A setting, taken to hold at the edge of the stock.
    position : float or array, broadcastable with the setting's numbers, or None
        From the middle of the rolls to the middle of the stock; None for the middle, or a bar's groove. [mm]

    Returns
    -------
    radii : BowedRadii
        Bow, spread of the nip, and radii.

    Notes
    -----
    A bow δ along the force, and a nip tilted further by Δφ, take ΔT = (δ + a Δφ)/cos(θ_c − λ) from the travel, with λ
    the lean of the guide and a = M₀/F − R_u sin θ_c the arm of the force about the upper roll, round which the sheet
    tilts; the tilt of a nip open by s is about √(2 s/D), D from axle to axle. Travel becomes radius through the circle
    through the rolls and the two-thirds rule. A perfect nip, a teaching ideal, does not part.
    Validity: an upper estimate: slices of a real sheet hold each other, and a parted nip presses less.
    Source: derived here; compared with the full solution of two settings in the tests.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Material, Sheet, setting_for_radius
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> radii = bowed_radii(setting_for_radius(DEMO_MACHINE, Sheet(thickness=0.76, width=300), steel, 90))
    >>> round(radii.middle_radius, 1)
    96.9
    """
    checked_kind("the setting", setting, Setting, advice="take it from setting_for_radius")
    machine, stock = setting.machine, setting.stock
    position = stock_position(machine, position)
    checked("position", position, "mm", advice="count it from the middle of the rolls")
    perfect = ~np.isfinite(setting.front_roll_force)
    front, inside = (np.where(perfect, 0.0, force) for force in (setting.front_roll_force, setting.inside_roll_force))
    away = _bow_difference(setting, setting.bending_roll_force, position, "bending")
    apart = _bow_difference(setting, inside, position, "upper")
    if isinstance(machine, PinchMachine):
        spread = apart + _bow_difference(setting, front, position, "lower")
    else:
        away, spread = away + apart, np.zeros_like(away)
    loaded, released = 1 / np.asarray(setting.loaded_radius), 1 / np.asarray(setting.released_radius)
    law = fibre_law(stock, setting.material)
    with np.errstate(divide="ignore", invalid="ignore"):
        force = np.asarray(setting.bending_roll_force)
        arm = law.modulus * stock.second_moment * (loaded - released) / np.where(force > 0, force, np.inf)
    lost = travel_lost(machine, stock.depth, arm, setting.contact_angle, away, spread, setting.tilt)
    slope = np.maximum(first_moments(stock, law, loaded)[1], 1e-12)
    change = curvature_per_travel(machine, stock.depth, setting.travel) / (1 / 3 + 2 / (3 * slope))
    middle = released - np.minimum(lost * change, released)
    with np.errstate(divide="ignore"):
        return BowedRadii(plain(away), plain(spread), setting.released_radius, plain(1 / middle))


def travel_lost(machine: Machine, thickness: FloatLike, arm: FloatLike, contact_angle: FloatLike, away: FloatLike,
                spread: FloatLike, tilt: FloatLike) -> FloatLike:
    """Return the travel that a bow and a parted nip take away."""
    if not isinstance(machine, PinchMachine):
        return plain(np.asarray(away))
    apart = (machine.upper_roll_diameter + machine.lower_roll_diameter) / 2 + np.asarray(thickness)
    more = np.sqrt(np.asarray(tilt) ** 2 + 2 * np.asarray(spread) / apart) - tilt
    lean = math.radians(machine.guide_angle_degrees - 90)
    about_roll = arm - (machine.upper_roll_diameter + np.asarray(thickness)) / 2 * np.sin(contact_angle)
    return plain((np.asarray(away) + about_roll * more) / np.maximum(np.cos(contact_angle - lean), np.cos(STEEPEST)))


def curvature_per_travel(machine: Machine, thickness: FloatLike, travel: FloatLike) -> FloatLike:
    """Return how fast the curvature of the circle through the rolls grows with travel.

    It is the slope of R = x²/(2h) + h/2 − c, with x behind the nip, h the rise, c a roll's radius and half the stock.
    """
    (right, up), roll = machine.guide_direction, machine.roll_diameters[2] / 2
    moved = np.where(np.isfinite(travel), travel, 0.0)
    behind, risen = machine.touch_distance + moved * right, np.maximum(moved * up, 1e-9)
    radius = behind**2 / (2 * risen) + risen / 2 - roll - np.asarray(thickness) / 2
    slope = behind * right / risen - behind**2 * up / (2 * risen**2) + up / 2
    return plain(np.abs(slope) / radius**2)


def _bow_difference(setting: Setting, force: FloatLike, position: FloatLike, roll: str) -> FloatLike:
    """Return how much further a roll bows under the middle of the stock than under the edge where it bows least."""
    half, span = np.asarray(getattr(setting.stock, "width", 0.0)) / 2, setting.machine.between_bearings / 2
    middle, left, right = (roll_bow(setting.machine, setting.stock, force, position=position, roll=roll,
                                    place=plain(np.clip(position + side * half, -span, span)))
                           for side in (0.0, -1.0, 1.0))
    return plain(np.maximum(middle - np.minimum(left, right), 0.0))
