"""Where the length of a sheet stays as it is: the neutral axis, from handbook tables."""

from __future__ import annotations

import math

import numpy as np

from rollcalc.stock.kinds import checked_word
from rollcalc.stock.quantities import FloatLike, InputError, checked, first_where, plain

RULES = ("table", "DIN 6935", "middle")
"""Ways to place the neutral axis."""

_RATIOS = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0)
_FACTORS = (0.350, 0.375, 0.398, 0.415, 0.428, 0.440, 0.459, 0.470, 0.480, 0.500)
_LEAST = {"table": 1.0, "DIN 6935": 0.5, "middle": 0.0}


def neutral_axis_factor(inside_radius: FloatLike, thickness: FloatLike, rule: str = "table") -> FloatLike:
    r"""Return how far the neutral axis lies from the inside face, as a share of the thickness.

    Parameters
    ----------
    inside_radius : float or array, shape (...)
        Radius of the inside face. [mm]
    thickness : float or array, broadcastable with inside_radius
        Thickness of the sheet. [mm]
    rule : str
        "table" (a handbook's table), "DIN 6935" (a standard's formula) or "middle" (the mean diameter).

    Returns
    -------
    factor : float or array, broadcast shape
        0.5 is the middle of the thickness; less lies nearer to the inside. [-]

    Raises
    ------
    InputError
        If a number is not finite or out of range, the bend is tighter than the rule goes, or the rule is unknown.

    Notes
    -----
    The table has straight lines between its rows and 0.5 above its last row, inside radius 16 thicknesses. The
    formula of the standard is

    .. math:: K = \tfrac12 (0.65 + 0.5 \log_{10}(r/t)) \le 0.5

    Above 20 thicknesses all three give a blank of the same length within 0.1 %. Validity: table from r = t,
    formula from r = t/2; bends of one curve, not stretched over a form.

    Source: table K against R/S of a Russian designer's handbook, as shown on a public page (the handbook's name,
    Anuryev, from memory); DIN 6935 from memory, standard not seen.

    Examples
    --------
    >>> neutral_axis_factor(inside_radius=90, thickness=0.76)
    0.5
    >>> round(neutral_axis_factor(inside_radius=7, thickness=2), 4)
    0.4065
    """
    checked_word("rule", rule, RULES, advice="say where the length stays")
    inside = checked("inside radius", inside_radius, "mm", above=0, advice="measure to the inside face")
    thick = checked("thickness", thickness, "mm", above=0, advice="measure it with a micrometer")
    ratio = np.asarray(inside) / np.asarray(thick)
    tight = ratio < _LEAST[rule] * (1 - 1e-12)
    if np.any(tight):
        radius, least = first_where(tight, inside, _LEAST[rule] * np.asarray(thick))
        raise InputError(f"inside radius is {radius:.6g} mm, but must be at least {least:.6g} mm for this thickness: "
                         "a tighter bend is folded, not rolled.")  # fmt: skip
    if rule == "table":
        return plain(np.interp(ratio, _RATIOS, _FACTORS))
    if rule == "middle":
        return plain(np.full_like(ratio, 0.5))
    return plain(np.minimum(0.5, (0.65 + 0.5 * np.log10(ratio)) / 2))


def bend_length(inside_radius: FloatLike, thickness: FloatLike, angle: FloatLike, factor: FloatLike) -> FloatLike:
    r"""Return the flat length that a bend takes.

    Parameters
    ----------
    inside_radius : float or array, shape (...)
        Radius of the inside face. [mm]
    thickness : float or array, broadcastable with inside_radius
        Thickness of the sheet. [mm]
    angle : float or array, broadcastable with inside_radius
        How far the bend turns; a whole ring is 2π. [rad]
    factor : float or array, broadcastable with inside_radius
        Where the neutral axis lies; see `neutral_axis_factor`. [-]

    Returns
    -------
    length : float or array, broadcast shape
        Length along the neutral axis. [mm]

    Raises
    ------
    InputError
        If a number is not finite or out of range.

    Notes
    -----
    .. math:: l = \varphi (r + K t)

    Validity: as good as the factor; thin sheet on large radii needs none of it.

    Source: geometry; tests compare with a worked example of Machinery's Handbook, 31st edition, p. 1421.

    Examples
    --------
    >>> round(bend_length(inside_radius=9.525, thickness=3.175, angle=math.pi, factor=0.4074), 2)
    33.99
    """
    inside = checked("inside radius", inside_radius, "mm", at_least=0, advice="measure to the inside face")
    thick = checked("thickness", thickness, "mm", above=0, advice="measure it with a micrometer")
    turn = checked("angle", angle, "rad", at_least=0, at_most=2 * math.pi, advice="a whole ring is 2π")
    share = checked("neutral axis factor", factor, "", above=0, at_most=1, advice="it lies within the thickness")
    return plain(np.asarray(turn) * (np.asarray(inside) + np.asarray(share) * np.asarray(thick)))
