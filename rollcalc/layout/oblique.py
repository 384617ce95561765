"""A frustum whose ends are not above each other: triangulation with true lengths, as on the bench."""

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.kinds import checked_word
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record

from .cone import _checked_ends, _count
from .pattern import BESIDE, FlatPattern, Label, Layout, Polyline, Size, checked_polyline, enclosed_area

Points = NDArray[np.float64]


@dataclass(frozen=True, eq=False, repr=False)
class ObliqueFrustumPattern(Layout, Record):
    """The flat pattern of an off-centre frustum; made by `oblique_frustum_pattern`.

    x and y start at the large end of the element opposite the seam, y up along it. `large_ring` and `small_ring`
    are the ends in space, `large_edge` and `small_edge` the same points laid flat, each from seam to seam.

    Parameters
    ----------
    large_diameter, small_diameter, height, offset : float
        Diameters of the ends, at mid-thickness; distance between their planes; how far the small one is aside. [mm]
    segments : int
        Number of parts that both ends are divided into. [-]
    seam_side : str
        "short" or "long": the element that is cut open.
    """

    large_diameter: float
    small_diameter: float
    height: float
    offset: float
    segments: int
    seam_side: str = "short"
    large_ring: Points = field(init=False)
    small_ring: Points = field(init=False)
    large_edge: Polyline = field(init=False)
    small_edge: Polyline = field(init=False)

    SHOWS = ("large_diameter [mm], small_diameter [mm], height [mm], offset [mm], segments [-], shortage [mm], area "
             "[mm²]")
    caption = "Pattern of an oblique cone"

    def __post_init__(self) -> None:
        around = np.linspace(0, 2 * np.pi, self.segments + 1) + (np.pi if self.seam_side == "long" else 0)
        circle = np.stack([np.cos(around), -np.sin(around), np.zeros_like(around)], axis=1)
        circle[-1] = circle[0]
        large = self.large_diameter / 2 * circle
        small = self.small_diameter / 2 * circle + np.array([self.offset, 0, self.height])
        large_edge, small_edge = _laid_flat(large, small)
        self._keep(large_ring=large, small_ring=small, large_edge=large_edge, small_edge=small_edge)

    @property
    def true_lengths(self) -> Points:
        """True lengths of the elements from seam to seam, shape (segments + 1,). [mm]"""
        return _lengths(self.small_ring - self.large_ring)

    @property
    def diagonals(self) -> Points:
        """True lengths from each point of the large end to the next of the small end, shape (segments,). [mm]"""
        return _lengths(self.small_ring[1:] - self.large_ring[:-1])

    @property
    def large_step(self) -> float:
        """Chord of one part of the large end, for the dividers. [mm]"""
        return self.large_diameter * math.sin(math.pi / self.segments)

    @property
    def small_step(self) -> float:
        """Chord of one part of the small end, for the dividers. [mm]"""
        return self.small_diameter * math.sin(math.pi / self.segments)

    @property
    def shortage(self) -> float:
        """How much shorter the large edge is than its circle, because chords are stepped. [mm]"""
        return math.pi * self.large_diameter - self.segments * self.large_step

    @property
    def area(self) -> float:
        """Area of the pattern. [mm²]"""
        return enclosed_area(self.outline())

    def outline(self) -> Polyline:
        """Return the cut edge, closed. [mm]"""
        return np.concatenate([self.large_edge, self.small_edge[::-1], self.large_edge[:1]])

    def marks(self) -> list[Polyline]:
        """Return the elements at each quarter. [mm]"""
        quarter = self.segments // 4
        return [np.stack([self.large_edge[i], self.small_edge[i]]) for i in (quarter, 2 * quarter, 3 * quarter)]

    def flat_pattern(self) -> FlatPattern:
        """Return all of it for a writer. [mm]"""
        title = (f"Off-centre frustum {self.large_diameter:.6g} to {self.small_diameter:.6g}, {self.height:.6g} high, "
                 f"offset {self.offset:.6g}")
        opposite = "long side" if self.seam_side == "short" else "short side"
        label = Label(opposite, (BESIDE, float(self.true_lengths[self.segments // 2]) / 2), math.pi / 2)
        lengths = Size("longest element", self.true_lengths.max()), Size("shortest element", self.true_lengths.min())
        return FlatPattern(title, (self.outline(),), (), tuple(self.marks()), (label,), lengths)

    def rolled_up(self, points: ArrayLike) -> Points:
        """Return where points of the pattern lie on the frustum, shape (n, 3). [mm]"""
        flat = checked_polyline("points", points)
        corners, places = self._triangles()
        origin, along, across = corners[:, 0], corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        size = along[:, 0] * across[:, 1] - along[:, 1] * across[:, 0]
        whole = np.abs(size) > 1e-12 * np.max(np.abs(size))
        away = flat[:, None] - origin[whole]
        second = (away[..., 0] * across[whole, 1] - away[..., 1] * across[whole, 0]) / size[whole]
        third = (along[whole, 0] * away[..., 1] - along[whole, 1] * away[..., 0]) / size[whole]
        shares = np.stack([1 - second - third, second, third], axis=-1)
        best = shares.min(axis=-1).argmax(axis=1)
        share = shares[np.arange(len(flat)), best]
        if np.any(share.min(axis=1) < -1e-6):
            raise InputError("points lie beside the pattern, but must lie on it: only the pattern can be rolled up.")
        return (share[:, :, None] * places[whole][best]).sum(axis=1)  # type: ignore[no-any-return]

    def _triangles(self) -> tuple[Points, Points]:
        """Return the corners of the triangles, flat (m, 3, 2) and in space (m, 3, 3)."""
        flat, space = (np.concatenate([np.stack([large[:-1], small[1:], small[:-1]], axis=1),
                                       np.stack([large[:-1], large[1:], small[1:]], axis=1)])
                       for large, small in ((self.large_edge, self.small_edge), (self.large_ring, self.small_ring)))
        return flat, space


def oblique_frustum_pattern(large_diameter: float, small_diameter: float, height: float, offset: float,
                            segments: int = 180, seam_side: str = "short") -> ObliqueFrustumPattern:
    """Return the flat pattern of a frustum whose small end is moved aside, both ends level.

    Parameters
    ----------
    large_diameter, small_diameter, height, offset : float
        Diameters of the ends, at mid-thickness, the small one 0 for a point; distance between the planes of the ends;
        how far the small end is moved aside, 0 for a right frustum. [mm]
    segments : int
        Number of parts that both ends are divided into, a multiple of 4. [-]
    seam_side : str
        "short" or "long": the element that is cut open.

    Returns
    -------
    pattern : ObliqueFrustumPattern
        True lengths, edges, area and outline of the pattern.

    Notes
    -----
    Both circles are divided alike; a line joins each pair of points, and a diagonal splits the piece between two
    lines into triangles. True lengths of all sides come from the heights and the plan, and the triangles are laid
    side by side. The pieces between lines are flat, so only the chords of the ends are approximate: the area and
    the lengths of the edges grow to the true ones with the square of the number of parts. Validity: sizes to
    mid-thickness; level ends; the default keeps the edges of class work within 0.05 mm.
    Source: triangulation, Longfield, Sheet Metal Drafting, 1921, pp. 187 and 204.

    Examples
    --------
    >>> hood = oblique_frustum_pattern(large_diameter=220, small_diameter=160, height=100, offset=40)
    >>> hood.true_lengths[[0, 90]].round(2).tolist()
    [100.5, 122.07]
    """
    large, small = _checked_ends(large_diameter, small_diameter, "point")
    upright = checked_single("height", height, "mm", above=0, advice="measure square to the ends")
    aside = checked_single("offset", offset, "mm", at_least=0, advice="it has no sign, so turn the piece")
    if _count("segments", segments) % 4:
        raise InputError(f"segments are {segments}, but must be a multiple of 4: the quarters are marked.")
    checked_word("seam side", seam_side, ("short", "long"), advice="say where it is cut open")
    return ObliqueFrustumPattern(large, small, upright, aside, int(segments), seam_side)


def _laid_flat(large: Points, small: Points) -> tuple[Polyline, Polyline]:
    """Return both edges laid flat, triangle by triangle, the middle element upright over the origin."""
    upper = _beside(large[:-1], small[:-1], small[1:])
    lower = _beside(large[:-1], small[1:], large[1:])
    low, high = [0j], [1j * float(_lengths(small[:1] - large[:1])[0])]
    for small_corner, large_corner in zip(upper.tolist(), lower.tolist(), strict=True):
        high.append(low[-1] + small_corner * (high[-1] - low[-1]))
        low.append(low[-1] + large_corner * (high[-1] - low[-1]))
    middle = len(upper) // 2
    turn = 1j * abs(high[middle] - low[middle]) / (high[middle] - low[middle])
    flat = (np.array([low, high]) - low[middle]) * turn
    edges = np.stack([flat.real, flat.imag], axis=-1)
    return edges[0], edges[1]


def _lengths(sides: Points) -> Points:
    """Return the lengths of rows of sides in space."""
    return np.sqrt((sides**2).sum(axis=1))  # type: ignore[no-any-return]


def _beside(first: Points, second: Points, third: Points) -> NDArray[np.complex128]:
    """Return where the third corner of each triangle lies to the right of its base, the base being 1.

    The triangle is that of the three true lengths; products of sides give it with all digits.
    """
    base, side = second - first, third - first
    square = (base**2).sum(axis=1)
    along, away = (base * side).sum(axis=1) / square, _lengths(np.cross(base, side)) / square
    return along - 1j * away  # type: ignore[no-any-return]
