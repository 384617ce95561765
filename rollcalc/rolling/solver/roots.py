"""Roots of many equations at once, each kept between a low and a high end."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from rollcalc.stock.quantities import FloatLike

NO_ROOT = 1e-6
"""How near an end, as a share of the upper one, halving gives up: thick wide stock that no pinch holds has no root and
would cost every chart ten times the steps of the rest. [-]"""


def newton_root(miss: Callable[[FloatLike], tuple[FloatLike, FloatLike]], high: float, start: FloatLike) -> FloatLike:
    """Return where functions that begin below zero first cross it, by Newton's method kept between 0 and ``high``. A
    step that would leave the ends known so far is replaced by halving. It stops when the next step would be rounding,
    and gives up where halving has left only the first or the last millionth.
    """
    root, low, top = np.minimum(start, high), np.zeros(np.shape(start)), np.full(np.shape(start), high)
    for _ in range(100):
        value, slope = miss(root)
        below = value < 0
        low, top = np.where(below, root, low), np.where(below, top, root)
        step = np.where(slope > 0, value / np.where(slope > 0, slope, 1.0), np.inf)
        kept = (root - step >= low) & (root - step <= top)
        new = np.where(kept, root - step, (low + top) / 2)
        fine = np.where((low > 0) & (top < high), 1e-15, NO_ROOT) * high
        near = np.where(kept, np.abs(step) <= 1e-8 * root, top - low <= fine)
        root = new
        if np.all(near):
            break
    return np.where((top >= high) & (top - root <= NO_ROOT * high), high, root)


def rising_root(miss: Callable[[FloatLike], FloatLike], low: FloatLike, high: FloatLike) -> NDArray[np.float64]:
    """Return where rising functions cross zero, by Chandrupatla's choice of halving or inverse quadratic steps."""
    a, b = np.asarray(high, float), np.asarray(low, float)  # a is the newest point, b lies across the root
    fa, fb = miss(a), miss(b)
    least, most, too_low, too_high = b, a, fa <= 0, fb >= 0
    share: FloatLike = 0.5
    for _ in range(120):
        x = a + share * (b - a)
        f = miss(x)
        same = np.sign(f) == np.sign(fa)
        c, fc = np.where(same, a, b), np.where(same, fa, fb)
        b, fb = np.where(same, b, a), np.where(same, fb, fa)
        a, fa = x, f
        best = np.where(np.abs(fa) < np.abs(fb), a, b)
        width, room = np.abs(b - a), 2e-16 * np.abs(best) + 1e-300
        if np.all((width <= 4 * room) | (fa == 0) | too_low | too_high):
            break
        with np.errstate(all="ignore"):
            xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
            smooth = (phi**2 < xi) & ((1 - phi) ** 2 < 1 - xi)
            inverse = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
            end = 2 * room / np.maximum(width, 1e-300)
        share = np.clip(np.where(smooth & np.isfinite(inverse), inverse, 0.5), end, 1 - end)
    return np.where(too_low, most, np.where(too_high, least, best))
