"""What goes through the rolls: sheet, flat bar and round bar, and the fibres they are made of."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import ClassVar, Self

import numpy as np

from .kinds import checked_kind
from .quantities import FloatLike, check_shapes, checked
from .record import Written, said


@dataclass(frozen=True, eq=False, repr=False)
class Rectangle(Written):
    """The section of sheet and flat bar; whether it may narrow where it stretches tells one from the other."""

    thickness: FloatLike
    width: FloatLike

    exact_points: ClassVar[int] = 2
    """Gauss points that integrate a straight-line stress over this section without error."""

    SHOWS = "thickness [mm], width [mm]"

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        kind = "sheet" if isinstance(self, Sheet) else "flat bar"
        return f"{kind} {said(self.thickness)} × {said(self.width, 'mm')}"

    def __post_init__(self) -> None:
        self._keep(thickness=checked("thickness", self.thickness, "mm", above=0, advice="measure it with a micrometer"),
                   width=checked("width", self.width, "mm", above=0, advice="give the size along the rolls"))
        check_shapes("thickness and width", self.thickness, self.width)

    @property
    def depth(self) -> FloatLike:
        """Size of the section in the direction it is bent. [mm]"""
        return self.thickness

    def with_depth(self, depth: FloatLike) -> Self:
        """Return the same piece with another thickness. [mm]"""
        return replace(self, thickness=depth)

    @property
    def second_moment(self) -> FloatLike:
        """Second moment of area about mid-thickness, w t³/12. [mm⁴]"""
        return self.width * self.thickness**3 / 12

    def outer_fibres(self, core: FloatLike, points: int) -> Iterator[tuple[FloatLike, FloatLike]]:
        """Yield (height [mm], area [mm²]) of fibres that stand for everything further out than ``core``, both sides.

        The sum of f(height) × area over the fibres is the Gauss–Legendre integral of f over the outer area.
        """
        for place, weight in gauss_points(points):
            yield self.fibre_at(core, place, weight)

    def fibre_at(self, core: FloatLike, place: FloatLike, weight: FloatLike) -> tuple[FloatLike, FloatLike]:
        """Return height [mm] and area [mm²] of the fibre at a place of the rule, 0 at ``core`` and 1 at the surface."""
        span = self.thickness / 2 - core
        return core + span * place, 2 * self.width * span * weight


class Sheet(Rectangle):
    """A sheet or plate: so wide along the rolls that it cannot narrow where it stretches.

    Parameters
    ----------
    thickness, width : float or array, broadcastable
        Thickness of the sheet, and its size along the rolls. [mm]

    Notes
    -----
    Bends in plane strain. Validity: width²/(radius × thickness) large, say above 100; below about 1
    the piece bends as a `FlatBar`, and in between the truth lies between the two: `rollcalc.width_parameter`
    and `rollcalc.width_caution` say where and which way.
    Source: plane strain of wide plates; derived in rollcalc.lessons.lesson03.derivations.

    Examples
    --------
    >>> Sheet(thickness=0.76, width=300).depth
    0.76
    """

    plane_strain: ClassVar[bool] = True

    def __init__(self, *, thickness: FloatLike, width: FloatLike) -> None:
        super().__init__(thickness, width)


class FlatBar(Rectangle):
    """A flat bar or narrow strip: free to narrow where it stretches.

    Parameters
    ----------
    thickness, width : float or array, broadcastable
        Sizes in the direction it is bent, and along the rolls. [mm]

    Notes
    -----
    Bends in uniaxial stress. Validity: width²/(radius × thickness) below about 1; above, see `rollcalc.width_band`.
    Source: beam theory, any strength text (from memory).

    Examples
    --------
    >>> round(FlatBar(thickness=3, width=25).second_moment, 2)
    56.25
    """

    plane_strain: ClassVar[bool] = False


@dataclass(frozen=True, eq=False, repr=False)
class RoundBar(Written):
    """A solid round bar.

    Parameters
    ----------
    diameter : float or array, shape (...)
        Diameter of the bar. [mm]

    Notes
    -----
    Bends in uniaxial stress. Validity: solid bar that keeps its round section.
    Source: beam theory, any strength text (from memory).

    Examples
    --------
    >>> round(RoundBar(diameter=6).second_moment, 2)
    63.62
    """

    diameter: FloatLike

    plane_strain: ClassVar[bool] = False
    exact_points: ClassVar[int | None] = None
    SHOWS = "diameter [mm]"

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"round bar {said(self.diameter, 'mm')}"

    def __post_init__(self) -> None:
        self._keep(diameter=checked("diameter", self.diameter, "mm", above=0, advice="measure the bar with a calliper"))

    @property
    def depth(self) -> FloatLike:
        """Size of the section in the direction it is bent. [mm]"""
        return self.diameter

    def with_depth(self, depth: FloatLike) -> Self:
        """Return the same piece with another diameter. [mm]"""
        return replace(self, diameter=depth)

    @property
    def second_moment(self) -> FloatLike:
        """Second moment of area about the middle, π d⁴/64. [mm⁴]"""
        return np.pi * self.diameter**4 / 64

    def outer_fibres(self, core: FloatLike, points: int) -> Iterator[tuple[FloatLike, FloatLike]]:
        """Yield (height [mm], area [mm²]) of fibres that stand for everything further out than ``core``, both sides.

        Stepped in the angle φ of height = r sin φ, where the breadth 2 r cos φ is smooth: a few points are enough.
        """
        for place, weight in gauss_points(points):
            yield self.fibre_at(core, place, weight)

    def fibre_at(self, core: FloatLike, place: FloatLike, weight: FloatLike) -> tuple[FloatLike, FloatLike]:
        """Return height [mm] and area [mm²] of the fibre at a place of the rule, 0 at ``core`` and 1 at the surface."""
        radius = self.diameter / 2
        start = np.arcsin(np.minimum(core / radius, 1.0))
        span, angle = np.pi / 2 - start, start + (np.pi / 2 - start) * place
        return radius * np.sin(angle), 4 * (radius * np.cos(angle)) ** 2 * span * weight


Stock = Sheet | FlatBar | RoundBar
"""Anything that goes through the rolls."""


def checked_stock(stock: Stock) -> Stock:
    """Return the stock, or raise the sentence that says what stock there is."""
    checked_kind("the stock", stock, (Sheet, FlatBar, RoundBar), advice="write Sheet(thickness, width)")
    return stock


@cache
def gauss_points(points: int) -> tuple[tuple[float, float], ...]:
    """Return (place, weight) of the Gauss–Legendre rule on 0…1, exact up to degree 2 × points − 1."""
    rule = np.polynomial.legendre.leggauss(points)
    return tuple(((1 + place) / 2, weight / 2) for place, weight in np.transpose(rule).tolist())
