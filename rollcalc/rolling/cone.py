"""A cone on straight rolls: how far the bending roll is tilted for it, and what a tilted roll really makes.

A sheet bends round a cone square to the wall. Where the cone's own radius is r and its wall leans by α, the radius of
that bend is r / cos α. The bending roll is a straight line; tilted, it travels evenly from one edge of the sheet to
the other, and gives a curvature, not a radius, that changes nearly evenly.
"""

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rollcalc.stock.kinds import checked_kind, checked_word
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked, checked_single, plain, shown
from rollcalc.stock.record import Record, Shown
from rollcalc.stock.sections import FlatBar, Sheet

from .cone_checks import ALTERNATIVES, ConeShape, cone_cautions, cone_checks, cone_verdict
from .limits.check import Check, named_check
from .limits.reach import check_one_piece
from .machine.kinds import Machine, checked_machine
from .radius import radius_for_travel, setting_for_radius
from .setting import Setting

STRIPS = 21
"""Narrow strips, from edge to edge, that the wall is looked at in."""


@dataclass(frozen=True, eq=False, repr=False)
class ConeSetting(Record):
    """Where the bending roll goes for a cone, and what comes out.

    Parameters
    ----------
    half_angle, roll_tilt : float
        How far the wall leans from the axis, half the angle at the tip; angle between bending and front rolls. [rad]
    travel_left, travel_right : float
        Travel at each screw, from touch; below zero where the screw stands lower than at touch. [mm]
    turns_left, turns_right : float
        The same in turns of the screws. [turns]
    places : array, shape (n,)
        Along the wall, from the small end to the large end. [mm]
    wanted_radii, released_radii : array, shape (n,)
        Radii of the bend at these places, square to the wall, to mid-thickness: asked for, and as they come out. [mm]
    feed_ratio : float
        How far the small end moves for each millimetre of the large end. [-]
    slip : float
        How far the rolls run on under the small end in one turn of the cone, if the large end does not slip. [mm]
    checks : tuple of Check
        What makes a cone slight, and what the rolls leave room for.
    cautions, alternatives : tuple of str
        What no check can see, and other ways to make a cone.
    """

    half_angle: float
    travel_left: float
    travel_right: float
    turns_left: float
    turns_right: float
    roll_tilt: float
    places: NDArray[np.float64]
    wanted_radii: NDArray[np.float64]
    released_radii: NDArray[np.float64]
    feed_ratio: float
    slip: float
    checks: tuple[Check, ...]
    cautions: tuple[str, ...]
    alternatives: tuple[str, ...]

    SHOWS = ("turns_left [turns], turns_right [turns], travel_left [mm], travel_right [mm], half_angle [rad], "
             "roll_tilt [rad], released_radii [mm], deviation [%], feed_ratio [-], slip [mm]")

    def shown(self) -> Shown:
        """Return where the screws go, what comes out, then each check with its numbers."""
        checks = tuple((check.name, " ".join((check.row[1], "of", check.row[2], f"({check.row[3]})")))
                       for check in self.checks)
        return replace(super().shown(), rows=super().shown().rows + checks, notes=self.cautions)

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"Setting for a cone: {self.verdict}"

    @property
    def deviation(self) -> NDArray[np.float64]:
        """How far each strip's radius is from the cone's, as a share of it; below zero where it is too tight. [-]"""
        return self.released_radii / self.wanted_radii - 1

    @property
    def verdict(self) -> str:
        """Whether it is a gentle cone for these rolls, and who has the last word."""
        return cone_verdict(self.checks)

    def __getitem__(self, name: str) -> Check:
        """Return the check of that name."""
        return named_check(self.checks, name)

    def __str__(self) -> str:
        """Return the verdict and every sentence, one a line."""
        return "\n".join([self.verdict, *(check.message for check in self.checks), *self.cautions, *self.alternatives])


def cone_setting(machine: Machine, stock: Sheet | FlatBar, material: Material, large_diameter: float | None = None,
                 small_diameter: float | None = None, *, height: float | None = None, pattern: Any = None,
                 position: float = 0.0, small_end: str = "right") -> ConeSetting:
    r"""Return how far the bending roll is tilted for a cone, and how near a straight roll comes to it.

    Parameters
    ----------
    machine, stock, material : Machine, Sheet or FlatBar, and Material
        The machine, its screws where its bearings are; the sheet, which is made as wide as the slant where a height or
        a pattern says how wide that is, and is the wall itself otherwise; and the metal, of one yield.
    large_diameter, small_diameter : float or None
        Diameters of the cone's ends, to mid-thickness; None with a pattern. [mm]
    height : float or None
        Height of the cone, to make the wall from. [mm]
    pattern : FrustumPattern or None
        The cone's pattern, instead of the sizes.
    position : float
        From the middle of the rolls to the middle of the stock; left is negative. [mm]
    small_end : str
        "left" or "right": where along the rolls the small end lies.

    Returns
    -------
    cone : ConeSetting
        Travel and turns at both screws, the strips' radii, the slip, checks and other ways.

    Raises
    ------
    InputError
        If the sizes make no cone, the wall lies outside the rolls, or as `setting_for_radius` for one of the ends.

    Notes
    -----
    With the half angle α and an end of diameter D, the radius of the bend is

    .. math:: \frac{D}{2 \cos\alpha}, \qquad \sin\alpha = \frac{D - d}{2 s}

    Both ends get theirs; between them travel changes evenly, and each strip bends by itself. Validity: strips of a
    real wall hold each other, which evens the radii out; the cone's lines are taken to be parallel between the rolls,
    which the check named "fan" watches. With a pinch force each strip is taken as if the whole wall needed its moment.
    Source: curvature of a cone, any text on surfaces (from memory); the rest by the span solver.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS
    >>> skirt = cone_setting(DEMO_MACHINE, Sheet(thickness=0.8, width=104.4), MATERIALS["aluminium 3003-H14"], 220, 160)
    >>> round(skirt.turns_left, 1), round(skirt.turns_right, 1), round(float(100 * skirt.deviation.min()), 1)
    (5.8, 20.3, -2.1)
    >>> skirt.verdict.split(".")[0]
    'a gentle cone, as far as checked'
    """
    checked_machine(machine)
    stock, large_diameter, small_diameter = _wall(stock, large_diameter, small_diameter, height, pattern)
    shape = _shape(stock, large_diameter, small_diameter)
    room = max((machine.working_width - float(stock.width)) / 2, 0.0)
    offset = checked_single("position", position, "mm", at_least=-room, at_most=room,
                            advice="lay the stock between the ends of the rolls")
    checked_word("small end", small_end, ("left", "right"), advice="say where it lies")
    check_one_piece(machine, stock, material)
    ends = _ends(machine, stock, material, shape)
    travels = np.asarray(ends.travel)
    share = np.linspace(0.0, 1.0, STRIPS)
    rise = (travels[0] - travels[1]) / shape.slant * (1 if small_end == "right" else -1)  # per mm to the right

    def travel_at(place: float) -> float:
        return float(travels.mean() + rise * (place - offset))

    wanted = np.asarray(shape.radii(share))
    released = np.asarray(radius_for_travel(machine, stock, material, travels[0] + (travels[1] - travels[0]) * share))
    screw, roll_end = machine.between_bearings / 2, machine.working_width / 2
    left, right = travel_at(-screw), travel_at(screw)
    checks = cone_checks(machine, ends, shape, released / wanted - 1, max(travel_at(-roll_end), travel_at(roll_end)))
    return ConeSetting(
        shape.half_angle, left, right, left / machine.screw_pitch, right / machine.screw_pitch, abs(math.atan(rise)),
        shape.slant * share, wanted, released, shape.small / shape.large, math.pi * (shape.large - shape.small), checks,
        cone_cautions(left, right), ALTERNATIVES)


def cone_waist(large_diameter: FloatLike, small_diameter: FloatLike) -> FloatLike:
    r"""Return how much too tight the middle of a cone's wall comes out of straight rolls, by a rule of thumb.

    Parameters
    ----------
    large_diameter, small_diameter : float or array, shape (...)
        Diameters of the ends, to mid-thickness. [mm]

    Returns
    -------
    waist : float or array, broadcast shape
        Share of the wanted radius that is missing half way up the wall. [-]

    Notes
    -----
    Half way, the mean of both curvatures stands where the mean of both radii is wanted:

    .. math:: 1 - \frac{2}{1/R + 1/r}\,\frac{2}{R + r} = \left(\frac{D - d}{D + d}\right)^2

    Validity: where curvature changes evenly with travel, as in a gentle bend; the span solver gives a sixth less.
    Source: derived here; compared with `cone_setting` in the tests.

    Examples
    --------
    >>> round(cone_waist(large_diameter=240, small_diameter=120), 3)
    0.111
    """
    large = np.asarray(checked("large diameter", large_diameter, "mm", above=0, advice="measure it"))
    small = np.asarray(checked("small diameter", small_diameter, "mm", above=0, advice="measure it"))
    check_shapes("large diameter and small diameter", large, small)
    if np.any(small > large):
        raise InputError("small diameter is larger than the large diameter [mm], but must not be: exchange the ends.")
    return plain(((large - small) / (large + small)) ** 2)


def _wall(stock: Any, large: Any, small: Any, height: Any, pattern: Any) -> tuple[Any, Any, Any]:
    """Return the wall and the diameters of its ends: from a pattern, from sizes with a height, or as given."""
    if pattern is not None:
        if large is not None or small is not None or height is not None:
            raise InputError("pattern is given beside sizes of a cone, but must stand alone: leave the sizes out.")
        wanted = ("large_diameter", "small_diameter", "slant")
        if not all(hasattr(pattern, name) for name in wanted):
            raise InputError(f"the pattern is {shown(pattern)}, but must be one of a cone: take it from "
                             "frustum_pattern.")
        large, small, slant = (getattr(pattern, name) for name in wanted)
    elif height is not None:
        tall = checked_single("height", height, "mm", above=0, advice="measure it along the axis")
        ends = [checked_single(f"{name} diameter", size, "mm", above=0, advice="measure it to mid-thickness")
                for name, size in (("large", large), ("small", small))]
        slant = math.hypot(tall, (ends[0] - ends[1]) / 2)
    else:
        return stock, large, small
    wall = replace(checked_kind("the stock", stock, (Sheet, FlatBar), advice="give the sheet"), width=slant)
    return wall, large, small


def _shape(stock: Any, large_diameter: float, small_diameter: float) -> ConeShape:
    """Return the cone, after looking at every number."""
    checked_kind("the stock", stock, (Sheet, FlatBar), advice="its width is the slant")
    large = checked_single("large diameter", large_diameter, "mm", above=0, advice="measure it to mid-thickness")
    small = checked_single("small diameter", small_diameter, "mm", above=0, at_most=large,
                           advice="exchange the ends, or cut the point off")
    slant = checked_single("width", stock.width, "mm", above=(large - small) / 2,
                           advice="give the slant, longer than half the difference of the diameters")
    thickness = checked_single("thickness", stock.thickness, "mm", above=0, advice="give one sheet")
    return ConeShape(large, small, slant, thickness)


def _ends(machine: Machine, stock: Sheet | FlatBar, material: Material, shape: ConeShape) -> Setting:
    """Return the settings for the small end and the large end; a refusal says which bends the cone asks for."""
    small, large = np.asarray(shape.radii(np.array([0.0, 1.0]))).tolist()
    try:
        return setting_for_radius(machine, stock, material, np.array([small, large]))
    except InputError as refused:
        raise InputError(f"square to its wall this cone bends to {large:.4g} mm at the large end and {small:.4g} mm "
                         f"at the small end: {refused}") from None
