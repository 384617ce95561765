"""Between flat and closed: a frustum's pattern as it rolls up, never stretched on the way."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import checked_single

from .cone import FrustumPattern
from .pattern import checked_polyline


def partly_rolled(pattern: FrustumPattern, points: ArrayLike, share: float) -> NDArray[np.float64]:
    """Return where points of a frustum's pattern are when it is partly rolled up.

    On the way the piece is part of a blunter cone with the same point, sin α′ = 1 − share (1 − sin α), so every length
    on it is kept. Ends equal to a part in 1e9 make a cylinder, on the way part of a wider one.
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
    return np.stack([sine * reach * np.sin(around), pattern.outer_radius - axial * cosine - towards * sine,
                     axial * sine - towards * cosine], axis=1)
