"""A cylinder cut by a plane: one end square, one end mitred."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record

from .cone import CHORD_ERROR, _count
from .pattern import FlatPattern, Label, Layout, Polyline, Size, checked_polyline


@dataclass(frozen=True, eq=False, repr=False)
class MitredCylinderPattern(Layout, Record):
    """The flat pattern of a cylinder with one end cut by a plane; made by `mitred_cylinder_pattern`.
    x runs around from the longest element, y along the axis; the seam is the shortest element.

    Parameters
    ----------
    diameter, height : float
        Diameter at mid-thickness, and height along the axis from the square end to the cut. [mm]
    cut_angle : float
        Angle between the cut and a square end. [rad]
    """

    diameter: float
    height: float
    cut_angle: float

    SHOWS = "length [mm], longest [mm], shortest [mm], cut_angle [rad], area [mm²]"

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"Pattern of a pipe cut at a slant, {self.diameter:g} mm"

    @property
    def length(self) -> float:
        """Length around. [mm]"""
        return math.pi * self.diameter

    @property
    def swing(self) -> float:
        """How far the cut runs above and below the height at the axis. [mm]"""
        return self.diameter / 2 * math.tan(self.cut_angle)

    @property
    def shortest(self) -> float:
        """Length of the shortest element, the seam. [mm]"""
        return self.height - self.swing

    @property
    def longest(self) -> float:
        """Length of the longest element, opposite the seam. [mm]"""
        return self.height + self.swing

    @property
    def area(self) -> float:
        """Area of the pattern. [mm²]"""
        return self.length * self.height

    def ordinates(self, stations: int = 13) -> Polyline:
        """Return distances around from the longest element and heights there, shape (stations, 2). [mm]"""
        if _count("stations", stations) < 2:
            raise InputError("stations are 1, but must be at least 2: both edges of the seam are among them.")
        x = np.linspace(-0.5, 0.5, stations) * self.length
        return np.stack([x, self.height + self.swing * np.cos(2 * x / self.diameter)], axis=1)

    def outline(self, chord_error: float = CHORD_ERROR) -> Polyline:
        """Return the cut edge, closed, within a distance of the true curve. [mm]"""
        error = checked_single("chord error", chord_error, "mm", above=0, advice="0.01 is finer than a scriber's line")
        steps = 2 * max(4, math.ceil(self.length / 2 * math.sqrt(self.swing / (8 * error)) / (self.diameter / 2)))
        curve, half = self.ordinates(steps + 1)[::-1], self.length / 2
        return np.concatenate([[(-half, 0.0), (half, 0.0)], curve, [(-half, 0.0)]])

    def marks(self) -> list[Polyline]:
        """Return the elements at each quarter. [mm]"""
        return [np.array([(x, 0.0), (x, y)]) for x, y in self.ordinates(5)[1:-1].tolist()]

    def flat_pattern(self) -> FlatPattern:
        """Return all of it for a writer. [mm]"""
        angle = math.degrees(self.cut_angle)
        title = f"Cylinder {self.diameter:.6g}, {self.height:.6g} high at the axis, cut at {angle:.4g} degrees"
        label = Label("longest element", (0.04 * self.length, self.height / 2), math.pi / 2)
        return FlatPattern(title, (self.outline(),), (), tuple(self.marks()), (label,), (
            Size("length", self.length), Size("longest element", self.longest),
            Size("shortest element, the seam", self.shortest)))

    def rolled_up(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the pattern lie on the cylinder, shape (n, 3). [mm]"""
        x, y = checked_polyline("points", points).T
        radius = self.diameter / 2
        return np.stack([radius * np.cos(x / radius), -radius * np.sin(x / radius), y], axis=1)


def mitred_cylinder_pattern(diameter: float, height: float, cut_angle_degrees: float) -> MitredCylinderPattern:
    r"""Return the flat pattern of a cylinder with one end square and one cut by a plane.

    Parameters
    ----------
    diameter, height : float
        Diameter at mid-thickness, and height along the axis from the square end to the cut. [mm]
    cut_angle_degrees : float
        Angle between the cut and a square end; half the angle of a two-piece elbow. [deg]

    Returns
    -------
    pattern : MitredCylinderPattern
        Ordinates, area and outline of the pattern.

    Raises
    ------
    InputError
        If a number is impossible, or the cut reaches below the square end.

    Notes
    -----
    With radius R, height h and cut angle β, at distance x around from the longest element:

    .. math:: y = h + R \tan\beta \cos(x / R)

    Validity: the mid-thickness surface. The inside edge touches first on the short side and the outside edge on
    the long side, by t tan β; file to fit, or chamfer to weld.
    Source: derived here; the method by parallel lines is in the U.S. Navy Steelworker manual, figures 2-50 and 2-51.

    Examples
    --------
    >>> elbow = mitred_cylinder_pattern(diameter=100, height=120, cut_angle_degrees=45)
    >>> elbow.ordinates(5)[:, 1].round(3).tolist()
    [70.0, 120.0, 170.0, 120.0, 70.0]
    """
    across = checked_single("diameter", diameter, "mm", above=0, advice="measure to mid-thickness")
    upright = checked_single("height", height, "mm", above=0, advice="measure along the axis")
    degrees = checked_single("cut angle", cut_angle_degrees, "degrees", at_least=0, at_most=85,
                             advice="0 is a square end")
    pattern = MitredCylinderPattern(across, upright, math.radians(degrees))
    if pattern.shortest < 0:
        raise InputError(f"height is {upright:.6g} mm, but must be at least {pattern.swing:.6g} mm for this cut: "
                         "the cut would reach below the square end.")
    return pattern
