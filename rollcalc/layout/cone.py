"""Cones and frustums: the piece of a ring that rolls up into one.

Places on a pattern are given along the large edge and up the slant. Everything is written with the curvature
of the large arc instead of its radius, so that a cylinder, whose pattern is a rectangle, is no special case.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.kinds import checked_word
from rollcalc.stock.quantities import InputError, checked_single, shown
from rollcalc.stock.record import Record

from .pattern import BESIDE, FlatPattern, Layout, Polyline, Size, along_line, checked_polyline, rectangle_sizes

CHORD_ERROR = 0.01  # how far a straight piece of an outline may stand off its curve, unless said otherwise [mm]
LONG = 60.0  # the shortest line that more than one word runs along [mm]
MOST_PARTS = 100_000  # most parts that anything is divided into [-]


@dataclass(frozen=True, eq=False, repr=False)
class FrustumPattern(Layout, Record):
    """The flat pattern of a cone with its point cut off; made by `frustum_pattern`.
    x and y start in the middle of the large arc, y towards the point of the cone.

    Parameters
    ----------
    large_diameter, small_diameter, height : float
        Diameters at mid-thickness, the small one 0 for a full cone; distance between the ends along the axis. [mm]
    pieces : int
        Number of equal pieces around; the pattern is that of one. [-]
    """

    large_diameter: float
    small_diameter: float
    height: float
    pieces: int = 1

    SHOWS = ("outer_radius [mm], inner_radius [mm], sector_angle [rad], slant [mm], half_angle [rad], pieces [-], area "
             "[mm²]")

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"Pattern of a cone, {self.large_diameter:g} to {self.small_diameter:g} mm, {self.height:g} mm high"

    @property
    def slant(self) -> float:
        """Length of the side, from end to end. [mm]"""
        return math.hypot(self.height, (self.large_diameter - self.small_diameter) / 2)

    @property
    def half_angle(self) -> float:
        """Angle between side and axis, half the angle of the point. [rad]"""
        return math.atan2((self.large_diameter - self.small_diameter) / 2, self.height)

    @property
    def curvature(self) -> float:
        """One over the outer radius; zero for a cylinder. [1/mm]"""
        return (self.large_diameter - self.small_diameter) / (self.slant * self.large_diameter)

    @property
    def outer_radius(self) -> float:
        """Radius of the large arc of the pattern; infinite for a cylinder. [mm]"""
        return 1 / self.curvature if self.curvature else math.inf

    @property
    def inner_radius(self) -> float:
        """Radius of the small arc of the pattern; infinite for a cylinder, zero for a full cone. [mm]"""
        spread = self.large_diameter - self.small_diameter
        return self.slant * self.small_diameter / spread if spread else math.inf

    @property
    def sector_angle(self) -> float:
        """Angle of one piece of the pattern; zero for a cylinder. [rad]"""
        return math.pi * (self.large_diameter - self.small_diameter) / (self.slant * self.pieces)

    @property
    def area(self) -> float:
        """Area of one piece. [mm²]"""
        return math.pi * (self.large_diameter + self.small_diameter) / 2 * self.slant / self.pieces

    def arc(self, end: str = "large") -> float:
        """Length of the large or small arc of one piece. [mm]"""
        diameters = {"large": self.large_diameter, "small": self.small_diameter}
        chosen = checked_word("end", end, diameters, advice="say which end of the frustum")
        return math.pi * diameters[chosen] / self.pieces

    def chord(self, end: str = "large", parts: int = 1) -> float:
        """Straight distance across one of equal parts of the large or small arc; 1 is all of it. [mm]"""
        half = self.sector_angle / _count("parts", parts) / 2
        return self.arc(end) / parts * float(np.sinc(half / math.pi))

    def rise(self, end: str = "large", parts: int = 1) -> float:
        """Height of the arc above that chord. [mm]"""
        half = self.sector_angle / _count("parts", parts) / 2
        return self.arc(end) / parts / 2 * math.sin(half / 2) * float(np.sinc(half / 2 / math.pi))

    def at(self, along: ArrayLike, up: ArrayLike) -> NDArray[np.float64]:
        """Return points at lengths along the large arc from its middle and up the slant, shape (n, 2). [mm]"""
        a, v = np.broadcast_arrays(np.asarray(along, dtype=np.float64), np.asarray(up, dtype=np.float64))
        angle = self.curvature * a
        x = a * np.sinc(angle / np.pi) - v * np.sin(angle)
        y = a * np.sin(angle / 2) * np.sinc(angle / 2 / np.pi) + v * np.cos(angle)
        return np.stack([x, y], axis=-1)

    def edge(self, up: float, first: float, last: float, chord_error: float = CHORD_ERROR) -> Polyline:
        """Return the arc at a height up the slant, between two lengths along the large arc. [mm]"""
        error = checked_single("chord error", chord_error, "mm", above=0, advice="0.01 is finer than a scriber's line")
        angle, steps = (last - first) * self.curvature, 1
        radius = abs(1 - self.curvature * up) / self.curvature if self.curvature else math.inf
        if math.isfinite(radius) and radius and angle:
            step = 4 * math.asin(math.sqrt(min(1.0, error / (2 * radius))))  # the chord whose rise is the error
            steps = max(1, math.ceil(abs(angle) / min(step, math.pi / 2)))
        return self.at(np.linspace(first, last, steps + 1), up)

    def outline(self, chord_error: float = CHORD_ERROR) -> Polyline:
        """Return the cut edge of one piece, closed, within a distance of the true curve. [mm]"""
        half = self.arc() / 2
        large = self.edge(0.0, -half, half, chord_error)
        small = self.edge(self.slant, half, -half, chord_error) if self.small_diameter else self.at([0.0], self.slant)
        return np.concatenate([large, small, large[:1]])

    def marks(self) -> list[Polyline]:
        """Return the elements at each quarter, lines that stay straight and meet at the point. [mm]"""
        return [self.at([share * self.arc()] * 2, [0.0, self.slant]) for share in (-0.25, 0.0, 0.25)]

    def flat_pattern(self) -> FlatPattern:
        """Return all of it for a writer. [mm]"""
        kind, share = "Frustum" if self.small_diameter else "Cone", f", one of {self.pieces}" * (self.pieces > 1)
        ends = f"{self.large_diameter:.6g}" + (f" to {self.small_diameter:.6g}" if self.small_diameter else "")
        quarters = tuple(self.marks())
        words = "quarter, along the rolls" if self.slant > LONG else "quarter"
        return FlatPattern(f"{kind} {ends}, {self.height:.6g} high{share}", (self.outline(),), (), quarters,
                           tuple(along_line(words, line, BESIDE) for line in quarters), tuple(self._sizes()))

    def _sizes(self) -> list[Size]:
        """Return radii and angle, or the length of a rectangle, and what to check them by."""
        ends = ("large", "small") if self.small_diameter else ("large",)
        if not self.curvature:
            return rectangle_sizes(self.arc(), self.slant)
        radii = [Size("outer radius", self.outer_radius), Size("inner radius", self.inner_radius)][: len(ends)]
        return [*radii, Size("angle", math.degrees(self.sector_angle), "°"), Size("slant", self.slant),
                *(Size(f"{name}, {end} end", size(end)) for end in ends
                  for name, size in (("arc", self.arc), ("chord", self.chord), ("rise of the arc", self.rise)))]

    def rolled_up(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the pattern lie on the cone, shape (n, 3). [mm]"""
        x, y = checked_polyline("points", points).T
        k = self.curvature
        reach = np.hypot(k * x, 1 - k * y)  # distance from the point of the cone, in outer radii
        up = (2 * y - k * (x**2 + y**2)) / (1 + reach)
        along = np.arctan2(k * x, 1 - k * y) / k if k else x
        around = 2 * along / self.large_diameter
        radius = self.large_diameter / 2 - up * math.sin(self.half_angle)
        return np.stack([radius * np.cos(around), -radius * np.sin(around), up * math.cos(self.half_angle)], axis=1)


def frustum_pattern(large_diameter: float, small_diameter: float, height: float | None = None,
                    slant: float | None = None, pieces: int = 1) -> FrustumPattern:
    r"""Return the flat pattern of a frustum, or of a full cone.

    Parameters
    ----------
    large_diameter, small_diameter : float
        Diameters of the ends, at mid-thickness; the small one is 0 for a full cone. [mm]
    height, slant : float or None
        Distance between the ends along the axis, or the length of the side instead. [mm]
    pieces : int
        Number of equal pieces around; the pattern is that of one. [-]

    Returns
    -------
    pattern : FrustumPattern
        Radii, angle, chords, area and outline of the pattern.

    Raises
    ------
    InputError
        If a number is impossible, the ends are exchanged, or not exactly one of height and slant is given.

    Notes
    -----
    With diameters D and d and slant s:

    .. math:: R = \frac{s D}{D - d}, \quad r = R - s, \quad \theta = \frac{\pi (D - d)}{s}, \quad
        A = \pi s \frac{D + d}{2}

    Equal ends make a cylinder: a rectangle, with infinite radii. Validity: sizes to mid-thickness, see
    `mid_thickness_frustum`; edges square to the wall; no seam, see `cone_blank`.
    Source: arc lengths equal circumferences, derived; tests compare with worked examples of old trade manuals.

    Examples
    --------
    >>> skirt = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
    >>> round(skirt.outer_radius, 1), round(skirt.inner_radius, 1), round(math.degrees(skirt.sector_angle), 1)
    (382.8, 278.4, 103.4)
    """
    large, small = _checked_ends(large_diameter, small_diameter, "full cone")
    if (height is None) == (slant is None):
        given = "none" if height is None else "both"
        raise InputError(f"height and slant given are {given}, but must be exactly one: the other one follows from it.")
    if height is None:
        side = checked_single("slant", slant, "mm", above=(large - small) / 2,
                              advice="a side is longer than half the difference of the diameters")
        height = math.sqrt(side - (large - small) / 2) * math.sqrt(side + (large - small) / 2)
    upright = checked_single("height", height, "mm", above=0, advice="measure along the axis")
    return FrustumPattern(large, small, upright, _count("pieces", pieces))


def _checked_ends(large_diameter: float, small_diameter: float, point: str) -> tuple[float, float]:
    """Return the diameters of both ends, or raise the sentence about them."""
    large = checked_single("large diameter", large_diameter, "mm", above=0, advice="measure to mid-thickness")
    small = checked_single("small diameter", small_diameter, "mm", at_least=0, advice=f"give 0 for a {point}")
    if small > large:
        raise InputError(f"small diameter is {small:.6g} mm, but must be at most the large diameter of {large:.6g} mm: "
                         "exchange the ends.")
    return large, small


def _count(name: str, number: int) -> int:
    """Return a whole number of at least one, or raise the sentence about it."""
    if not isinstance(number, int | np.integer) or isinstance(number, bool) or number < 1:
        raise InputError(f"{name} is {shown(number)}, but must be a whole number of at least 1: count them.")
    if number > MOST_PARTS:
        raise InputError(f"{name} is more than {MOST_PARTS}, but must be at most that many: take fewer.")
    return int(number)
