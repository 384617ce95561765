"""From the sizes that were measured on the faces of a cone to mid-thickness."""

import math
from typing import Any

from rollcalc.stock.quantities import InputError, checked_single

from .cone import FrustumPattern, frustum_pattern


def mid_thickness_frustum(thickness: float, height: float, large_inside_diameter: float | None = None,
                          large_outside_diameter: float | None = None, small_inside_diameter: float | None = None,
                          small_outside_diameter: float | None = None, pieces: int = 1) -> FrustumPattern:
    r"""Return the pattern of a frustum that was measured on its faces.

    Parameters
    ----------
    thickness, height : float
        Thickness of the sheet, and distance along the axis between the two edges that were measured. [mm]
    large_inside_diameter, large_outside_diameter, small_inside_diameter, small_outside_diameter : float or None
        Diameter at the inside edge of the large end, or at its outside edge instead; the same at the small end. [mm]
    pieces : int
        Number of equal pieces around. [-]

    Returns
    -------
    pattern : FrustumPattern
        The pattern at mid-thickness.

    Raises
    ------
    InputError
        If a number is impossible, or not exactly one diameter is given for each end.

    Notes
    -----
    Half a thickness lies along the normal of the wall, not along the radius: with half apex angle α it changes
    a diameter by t cos α and moves the edge along the axis by (t/2) sin α. The angle follows from

    .. math:: 2 h \sin\alpha - (D - d) \cos\alpha = (e_D - e_d) t

    where e is +1 for an end measured inside and −1 for one measured outside. The pattern is laid out at mid-thickness
    because rolling keeps the length there, as `neutral_axis_factor` says. Validity: edges square to the wall, as a
    flat sheet is cut.
    Source: derived here; tests put the faces back.

    Examples
    --------
    >>> skirt = mid_thickness_frustum(0.8, 100, large_outside_diameter=220, small_outside_diameter=160)
    >>> round(skirt.large_diameter, 3), round(skirt.height, 3)
    (219.234, 100.0)
    """
    thick = checked_single("thickness", thickness, "mm", above=0, advice="measure it with a micrometer")
    upright = checked_single("height", height, "mm", above=0, advice="measure along the axis")
    large, large_side = _measured("large", large_inside_diameter, large_outside_diameter)
    small, small_side = _measured("small", small_inside_diameter, small_outside_diameter)
    shift = (large_side - small_side) * thick
    reach = math.hypot(2 * upright, large - small)
    if abs(shift) >= reach:
        raise InputError(f"thickness is {thick:.6g} mm, but must be below {reach / 2:.6g} mm for a frustum of this "
                         "size: measure both ends on the same face.")
    half_angle = math.atan2(large - small, 2 * upright) + math.asin(shift / reach)
    across, along = thick * math.cos(half_angle), thick / 2 * math.sin(half_angle)
    return frustum_pattern(large + large_side * across, small + small_side * across,
                           height=upright + (small_side - large_side) * along, pieces=pieces)


def _measured(end: str, inside: Any, outside: Any) -> tuple[float, int]:
    """Return the diameter of one end, and +1 where it was measured inside, −1 where outside."""
    if (inside is None) == (outside is None):
        given = "none" if inside is None else "both inside and outside"
        raise InputError(f"diameters given for the {end} end are {given}, but must be exactly one: "
                         "say on which face you measure.")
    side = "outside" if inside is None else "inside"
    number = checked_single(f"{end} {side} diameter", outside if inside is None else inside, "mm", at_least=0,
                            advice="measure from edge to edge")
    return number, 1 if side == "inside" else -1
