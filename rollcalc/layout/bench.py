"""Drawing big arcs on a small bench: by ordinates, from a baseline, and by stepping a chord."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record

from .cone import FrustumPattern, _count
from .pattern import Polyline


def arc_ordinates(radius: float, chord: float, stations: int = 9) -> Polyline:
    r"""Return the heights of an arc above its chord, at equal distances along the chord.

    Parameters
    ----------
    radius, chord : float
        Radius of the arc, and straight distance between its ends. [mm]
    stations : int
        Number of places, the two ends among them. [-]

    Returns
    -------
    ordinates : array, shape (stations, 2)
        Distance along the chord from its middle, and height above the chord. [mm]

    Notes
    -----
    Spring a thin batten through the points. With half chord c and distance x:

    .. math:: y = \sqrt{R^2 - x^2} - \sqrt{R^2 - c^2}

    Validity: an arc of at most half a circle.
    Source: geometry.

    Examples
    --------
    >>> arc_ordinates(radius=500, chord=600, stations=3).tolist()
    [[-300.0, 0.0], [0.0, 100.0], [300.0, 0.0]]
    """
    size = checked_single("radius", radius, "mm", above=0, advice="give the radius of the arc")
    half = checked_single("chord", chord, "mm", above=0, at_most=2 * size, advice="a chord is at most a diameter") / 2
    if _count("stations", stations) < 2:
        raise InputError("stations are 1, but must be at least 2: the ends of the chord are two of them.")
    x = np.linspace(-half, half, stations)
    roots = np.sqrt((size - x) * (size + x)) + math.sqrt((size - half) * (size + half))  # their difference loses digits
    height = np.divide((half - x) * (half + x), roots, out=np.zeros_like(x), where=roots > 0)
    return np.stack([x, height], axis=1)


@dataclass(frozen=True, eq=False, repr=False)
class BaselineLayout(Record):
    """Points of a frustum pattern as distances along a straight line and up from it.

    Parameters
    ----------
    large, small : array, shape (parts + 1, 2)
        Points on the large arc, and on the small arc on the same elements. [mm]
    """

    large: NDArray[np.float64]
    small: NDArray[np.float64]

    SHOWS = "large [mm], small [mm]"
    caption = "Arcs from a baseline"


def baseline_layout(pattern: FrustumPattern, parts: int = 12) -> BaselineLayout:
    """Return a frustum pattern as points measured from a baseline, with no use of the point of the cone.

    Parameters
    ----------
    pattern : FrustumPattern
        The pattern.
    parts : int
        Number of equal parts that the arcs are divided into. [-]

    Returns
    -------
    layout : BaselineLayout
        Points on both arcs: along the baseline from its middle, and square up from it.

    Notes
    -----
    The baseline touches the large arc in its middle, so every height is above zero. Mark the places along a
    straight edge, square up, and join the points with a batten. Validity: any frustum; this is how to lay one out
    whose radius is longer than the bench.
    Source: geometry.

    Examples
    --------
    >>> from rollcalc.layout import frustum_pattern
    >>> layout = baseline_layout(frustum_pattern(220, 160, height=100), parts=4)
    >>> layout.large.round(1).tolist()
    [[-300.5, 145.7], [-167.0, 38.3], [0.0, 0.0], [167.0, 38.3], [300.5, 145.7]]
    """
    checked_kind("the pattern", pattern, FrustumPattern, advice="take it from frustum_pattern")
    along = np.linspace(-0.5, 0.5, _count("parts", parts) + 1) * pattern.arc()
    return BaselineLayout(pattern.at(along, 0.0), pattern.at(along, pattern.slant))


def stepped_arc_error(pattern: FrustumPattern, steps: int, end: str = "large") -> float:
    """Return how much too long a pattern gets when chords of the finished circle are stepped along its arc.

    Dividers set to a chord of the round end (diameter D, N steps) and walked along the flatter arc of radius R give
    2 N R arcsin(D sin(π/N)/2R) for π D; set to `FrustumPattern.chord` of the pattern's own arc, they are right.
    """
    checked_kind("the pattern", pattern, FrustumPattern, advice="take it from frustum_pattern")
    if _count("steps", steps) < 3:
        raise InputError(f"steps are {steps}, but must be at least 3: fewer do not go around.")
    diameter = pattern.arc(end) * pattern.pieces / math.pi
    radius = pattern.outer_radius if end == "large" else pattern.inner_radius
    if diameter == 0:
        raise InputError("end is small, but must be large for a full cone: its small end is a point.")
    chord = diameter * math.sin(math.pi / steps)
    walked = steps * (2 * radius * math.asin(chord / (2 * radius)) if math.isfinite(radius) else chord)
    return walked / (math.pi * diameter) - 1
