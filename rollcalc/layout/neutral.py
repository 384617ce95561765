"""Where the length of a sheet stays as it is: half way when it is rolled, further in when a die presses it."""

import math

import numpy as np

from rollcalc.stock.kinds import checked_word
from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked, first_where, plain

RULES = ("middle", "table", "DIN 6935")  # of the neutral axis: one for what is rolled, two for bends pressed in a die
_RATIOS = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0)
_FACTORS = (0.350, 0.375, 0.398, 0.415, 0.428, 0.440, 0.459, 0.470, 0.480, 0.500)
_LEAST = {"middle": 1.0, "table": 1.0, "DIN 6935": 0.5}


def neutral_axis_factor(inside_radius: FloatLike, thickness: FloatLike, rule: str = "middle") -> FloatLike:
    r"""Return how far the neutral axis lies from the inside face, as a share of the thickness.

    Parameters
    ----------
    inside_radius, thickness : float or array, broadcastable
        Radius of the inside face, and thickness of the sheet. [mm]
    rule : str
        "middle" for anything rolled; for a fold or a bend pressed in a die "table" (a handbook's table) or
        "DIN 6935" (a standard's formula).

    Returns
    -------
    factor : float or array, broadcast shape
        0.5 is the middle of the thickness; less lies nearer to the inside. [-]

    Notes
    -----
    Rolls bend without pulling. The thickness then stays as it is, and so does the area that the metal shows from
    the side, l t = φ (r_o² − r_i²)/2 = φ t (r_i + t/2): the middle keeps its length, K = 0.5, however tight the ring.

    A punch that presses a fold into a die also pulls and squeezes. The metal thins there, and handbooks place the
    neutral axis further in. The table has straight lines between its rows and 0.5 above its last row, inside radius
    16 thicknesses. The formula of the standard is

    .. math:: K = \tfrac12 (0.65 + 0.5 \log_{10}(r/t)) \le 0.5

    Above 20 thicknesses all three give a blank of the same length within 0.1 %. Validity: "middle" for bending
    without tension, from r = t; table from r = t and formula from r = t/2 for bends of one curve in a die.
    Source: thickness kept in bending of sheet without tension: R. Hill, The Mathematical Theory of Plasticity,
    1950 (from memory). Table of K against R/S of a Russian designer's handbook, as shown on a public page (the
    handbook's name, Anuryev, from memory); DIN 6935 from memory, standard not seen.

    Examples
    --------
    >>> neutral_axis_factor(inside_radius=7, thickness=2)
    0.5
    >>> round(neutral_axis_factor(inside_radius=7, thickness=2, rule="table"), 4)
    0.4065
    """
    checked_word("rule", rule, RULES, advice="say where the length stays")
    inside = checked("inside radius", inside_radius, "mm", above=0, advice="measure to the inside face")
    thick = checked("thickness", thickness, "mm", above=0, advice="measure it with a micrometer")
    check_shapes("inside radius and thickness", inside, thick)
    ratio = np.asarray(inside) / np.asarray(thick)
    tight = ratio < _LEAST[rule] * (1 - 1e-12)
    if np.any(tight):
        radius, least = first_where(tight, inside, _LEAST[rule] * np.asarray(thick))
        raise InputError(f"inside radius is {radius:.6g} mm, but must be at least {least:.6g} mm for this thickness: "
                         "a tighter bend is folded, not rolled.")
    if rule == "table":
        return plain(np.interp(ratio, _RATIOS, _FACTORS))
    if rule == "middle":
        return plain(np.full_like(ratio, 0.5))
    return plain(np.minimum(0.5, (0.65 + 0.5 * np.log10(ratio)) / 2))


def bend_length(inside_radius: FloatLike, thickness: FloatLike, angle: FloatLike, factor: FloatLike) -> FloatLike:
    r"""Return the flat length that a bend takes.

    Parameters
    ----------
    inside_radius, thickness : float or array, broadcastable
        Radius of the inside face, and thickness of the sheet. [mm]
    angle : float or array, broadcastable with inside_radius
        How far the bend turns; a whole ring is 2π. [rad]
    factor : float or array, broadcastable with inside_radius
        Where the neutral axis lies; see `neutral_axis_factor`. [-]

    Returns
    -------
    length : float or array, broadcast shape
        Length along the neutral axis. [mm]

    Notes
    -----
    .. math:: l = \varphi (r + K t)

    Validity: as good as the factor; K = 0.5 for anything rolled.
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
    check_shapes("inside radius, thickness, angle and factor", inside, thick, turn, share)
    return plain(np.asarray(turn) * (np.asarray(inside) + np.asarray(share) * np.asarray(thick)))
