"""Between flat and closed: a frustum's pattern as it rolls up, never stretched on the way."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import checked_single

from .cone import FrustumPattern
from .pattern import checked_polyline


def partly_rolled(pattern: FrustumPattern, points: ArrayLike, share: float) -> NDArray[np.float64]:
    r"""Return where points of a frustum's pattern are when it is partly rolled up.

    Parameters
    ----------
    pattern : FrustumPattern
        The pattern, flat in x and y.
    points : array, shape (n, 2)
        Points on the flat pattern. [mm]
    share : float
        How far it is rolled: 0 is flat, 1 is closed. [-]

    Returns
    -------
    places : array, shape (n, 3)
        The same points in space; the middle element stays where it is, and z is up. [mm]

    Raises
    ------
    InputError
        If the share is not from 0 to 1, or the points are not pairs of finite numbers.

    Notes
    -----
    On the way the piece is part of a blunter cone with the same point, of half angle α′:

    .. math:: \sin\alpha' = 1 - \text{share}\,(1 - \sin\alpha)

    so every length on it is kept. Ends equal to a part in 1e9 make a cylinder, on the way part of a wider
    one. Validity: thin sheet.

    Source: developable surfaces, derived; tests hold lengths and the closed seam.

    Examples
    --------
    >>> from rollcalc.layout.cone import frustum_pattern
    >>> skirt = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
    >>> ends = partly_rolled(skirt, skirt.at([-skirt.arc() / 2, skirt.arc() / 2], [0.0, 0.0]), share=1)
    >>> bool(np.allclose(ends[0], ends[1]))
    True
    """
    checked_kind("the pattern", pattern, FrustumPattern, advice="take it from frustum_pattern")
    rolled = checked_single("share", share, "", at_least=0, at_most=1, advice="0 is flat, 1 is closed")
    x, y = checked_polyline("points", points).T
    if pattern.curvature * pattern.large_diameter < 1e-9:
        turn = 2 * rolled / pattern.large_diameter * x  # angle around the cylinder so far
        out = x * np.sinc(turn / np.pi)
        up = x * np.sin(turn / 2) * np.sinc(turn / 2 / np.pi)
        return np.stack([out, y, up], axis=1)
    sine = 1 - rolled * (1 - math.sin(pattern.half_angle))
    cosine = math.sqrt((1 - sine) * (1 + sine))
    reach = np.hypot(x, pattern.outer_radius - y)  # from the point of the cone
    around = np.arctan2(x, pattern.outer_radius - y) / sine
    axial, towards = cosine * reach, sine * reach * np.cos(around)
    return np.stack(
        [
            sine * reach * np.sin(around),
            pattern.outer_radius - axial * cosine - towards * sine,
            axial * sine - towards * cosine,
        ],
        axis=1,
    )
