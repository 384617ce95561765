"""Out of parallel and out of square: two screws that differ, and a sheet that enters askew."""

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked, checked_single, plain, shown
from rollcalc.stock.record import Record
from rollcalc.stock.sections import RoundBar, Stock

from .deflection import stock_position
from .limits.reach import check_one_piece
from .machine.grooves import machine_for, width_along
from .machine.kinds import Machine
from .radius import radius_for_travel, setting_for_radius


@dataclass(frozen=True, eq=False, repr=False)
class Taper(Record):
    """What two screws give that are not turned alike.

    Parameters
    ----------
    radius_left, radius_right, joint_mismatch : float
        Radii after release at both edges of the stock, to mid-thickness; how much wider the joint of a ring gapes at
        one edge than at the other. [mm]
    half_angle : float
        Half the angle at the tip of the cone that comes out; 0 for a cylinder. [rad]
    """

    radius_left: float
    radius_right: float
    half_angle: float
    joint_mismatch: float

    SHOWS = "radius_left [mm], radius_right [mm], half_angle [rad], joint_mismatch [mm]"
    caption = "Screws that are not turned alike"


def taper(machine: Machine, stock: Stock, material: Material, turns_left: float, turns_right: float) -> Taper:
    """Return what comes out when the two screws differ.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, its screws where its bearings are; the piece, of one size, flat stock in the middle of the rolls,
        a round bar in its groove; and the metal, of one yield.
    turns_left, turns_right : float
        Turns of each screw from touch. [turns]

    Returns
    -------
    taper : Taper
        Radii at both edges, cone, mismatch of the joint.

    Raises
    ------
    InputError
        As `setting_for_travel`, or if no set remains at an edge.

    Notes
    -----
    Travel changes evenly from screw to screw; slices bend by themselves. With the radii at the edges,
    tan α = |R_l − R_r|/w and the mismatch is 2π |R_l − R_r|. A round bar is as wide as it is thick: it makes no cone to
    speak of, and its radius tells how much each screw counts at the groove. Validity: small differences; slices of a
    real sheet hold each other, which evens the radii out.
    Source: geometry; that unequal turns make a cone is common practice, no source.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, Sheet
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> out = taper(DEMO_MACHINE, Sheet(thickness=0.76, width=240), steel, 13.0, 12.875)
    >>> round(out.radius_left, 1), round(out.radius_right, 1), round(out.joint_mismatch, 1)
    (89.5, 90.0, 3.4)
    """
    ends = [checked_single(f"turns on the {side}", turns, "turns", above=0, advice="count them from touch")
            for side, turns in (("left", turns_left), ("right", turns_right))]
    check_one_piece(machine, stock, material)
    width = float(width_along(stock))
    edges = stock_position(machine_for(machine, stock), None) + width / 2 * np.array([-1.0, 1.0])
    rise = (ends[1] - ends[0]) / machine.between_bearings  # turns for every mm to the right
    travels = (sum(ends) / 2 + rise * edges) * machine.screw_pitch
    left, right = np.asarray(radius_for_travel(machine, stock, material, travels)).tolist()
    if math.isinf(left) or math.isinf(right):
        raise InputError("no curve stays at one edge of the stock, but both must bend: turn both screws further.")
    return Taper(left, right, math.atan(abs(left - right) / width), 2 * math.pi * abs(left - right))


def tolerable_turns(machine: Machine, stock: Stock, material: Material, released_radius: float,
                    joint_gap: float) -> float:
    """Return how far the two screws may differ, so that the joint of a ring gapes no more than a stated gap.

    Parameters
    ----------
    machine, stock, material : Machine, Sheet or FlatBar, and Material
        As for `taper`, without round bars.
    released_radius, joint_gap : float
        Wanted released radius, to mid-thickness; how much wider one edge of the joint may gape than the other. [mm]

    Returns
    -------
    turns : float
        Difference between the screws; times eight for eighths of a turn. [turns]

    Raises
    ------
    InputError
        As `setting_for_radius`, or if the stock is a round bar, which has no joint to gape: two screws that differ
        change its radius, and `taper` says how much.

    Notes
    -----
    The ring keeps the wanted radius in the middle, and its edges lie a quarter of the gap over π above and below it;
    the screws differ by the travels of those two radii. The inverse of `taper`. Validity: as there.
    Source: as `taper`.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, Sheet
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> round(8 * tolerable_turns(DEMO_MACHINE, Sheet(thickness=0.76, width=240), steel, 90.4, joint_gap=2), 1)
    0.6
    """
    wanted = checked_single("released radius", released_radius, "mm", above=0, advice="give the radius of the ring")
    gap = checked_single("joint gap", joint_gap, "mm", above=0, at_most=2 * wanted,
                         advice="give what the seam can close")
    check_one_piece(machine, stock, material)
    machine_for(machine, stock)
    if isinstance(stock, RoundBar):
        raise InputError(f"the stock is {shown(stock)}, but must be sheet or flat bar, whose joint can gape: ask taper "
                         "what each screw does to the radius of a round bar.")
    edges = wanted + gap / (4 * math.pi) * np.array([-1.0, 1.0])
    tighter, wider = np.asarray(setting_for_radius(machine, stock, material, edges).turns).tolist()
    return float(tighter - wider) * machine.between_bearings / float(width_along(stock))


def seam_offset(released_radius: FloatLike, skew_degrees: FloatLike) -> FloatLike:
    """Return how far the two edges of a seam miss each other along the rolls, when a sheet enters out of square.

    Parameters
    ----------
    released_radius : float or array, shape (...)
        Radius of the ring, to mid-thickness. [mm]
    skew_degrees : float or array, broadcastable with released_radius
        How far the sheet is out of square. [deg]

    Returns
    -------
    offset : float or array, broadcast shape
        Along the rolls, from one edge to the other. [mm]

    Notes
    -----
    π D tan(angle), with D the diameter. Validity: a full ring.
    Source: geometry.

    Examples
    --------
    >>> round(seam_offset(released_radius=90.38, skew_degrees=0.5), 1)
    5.0
    """
    radius = checked("released radius", released_radius, "mm", above=0, advice="give the radius of the ring")
    angle = checked("angle out of square", skew_degrees, "deg", at_least=0, below=45, advice="square the sheet first")
    check_shapes("released radius and angle out of square", radius, angle)
    return plain(2 * np.pi * np.asarray(radius) * np.tan(np.radians(angle)))


def tolerable_skew_degrees(released_radius: FloatLike, joint_gap: FloatLike) -> FloatLike:
    """Return how far out of square a sheet may enter, so that the edges of its seam miss by no more than a gap.

    Parameters
    ----------
    released_radius, joint_gap : float or array, shapes that broadcast
        Radius of the ring, to mid-thickness; how far the edges may miss. [mm]

    Returns
    -------
    angle : float or array, broadcast shape
        How far the sheet may be out of square. [deg]

    Notes
    -----
    The inverse of `seam_offset`. Validity: as there.
    Source: geometry.

    Examples
    --------
    >>> round(tolerable_skew_degrees(released_radius=90.38, joint_gap=1), 2)
    0.1
    """
    radius = checked("released radius", released_radius, "mm", above=0, advice="give the radius of the ring")
    gap = checked("joint gap", joint_gap, "mm", above=0, advice="give what the seam can close")
    check_shapes("released radius and joint gap", radius, gap)
    return plain(np.degrees(np.arctan(gap / (2 * np.pi * np.asarray(radius)))))
