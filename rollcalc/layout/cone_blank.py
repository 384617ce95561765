"""The blank of a frustum: its pattern with seam, stiffened edges and notches."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record

from .cone import CHORD_ERROR, FrustumPattern
from .pattern import FlatPattern, Layout, Polyline, Size, along_line
from .seams import FOLDS, ButtSeam, Seam, checked_seam


def wired_edge_allowance(wire_diameter: float, thickness: float | None = None) -> float:
    r"""Return how much to add at an edge that is rolled around a wire.

    Parameters
    ----------
    wire_diameter, thickness : float, and float or None
        Diameter of the wire, and thickness of the sheet to follow the second rule. [mm]

    Returns
    -------
    allowance : float
        Length added at the edge. [mm]

    Notes
    -----
    Two rules of the trade: 2.5 d for thin sheet, or 2 d + 4 t where the thickness counts. On a round edge the
    large end needs a little less and the small end a little more. Validity: straight edges and gentle cones.
    Source: 2.5 d: U.S. Navy Steelworker manual, fabrication of edges (example: 1/8 in wire, 5/16 in). 2 d + 4 t:
    Atkins, Practical Sheet and Plate Metal Work, allowance for wiring (example: 1/4 in wire, 1/16 in sheet, 3/4 in).

    Examples
    --------
    >>> wired_edge_allowance(wire_diameter=3), wired_edge_allowance(wire_diameter=3, thickness=0.8)
    (7.5, 9.2)
    """
    wire = checked_single("wire diameter", wire_diameter, "mm", above=0, advice="measure the wire")
    if thickness is None:
        return 2.5 * wire
    return 2 * wire + 4 * checked_single("thickness", thickness, "mm", above=0, advice="measure the sheet")


@dataclass(frozen=True, eq=False, repr=False)
class ConeBlank(Layout, Record):
    """A frustum pattern with everything that is cut with it, in the pattern's x and y; made by `cone_blank`.

    Parameters
    ----------
    pattern, seam : FrustumPattern; ButtSeam, LapSeam or GroovedSeam
        The pattern without allowances, and how its edges are joined.
    thickness, large_edge, small_edge : float
        Thickness of the sheet; added at the large and the small end, to be wired, hemmed or flanged. [mm]
    """

    pattern: FrustumPattern
    thickness: float
    seam: Seam
    large_edge: float
    small_edge: float

    SHOWS = "thickness [mm], large_edge [mm], small_edge [mm], seam_allowance [mm]"
    caption = "Blank of a cone"

    @property
    def seam_allowance(self) -> float:
        """Width that the seam adds, square to the edge; below zero for a gap. [mm]"""
        return self.seam.allowance(self.thickness)

    def outline(self, chord_error: float = CHORD_ERROR) -> Polyline:
        """Return the cut edge, closed: end edges, seam strips and the notches between them. [mm]"""
        first, last = self.seam.edges(self.thickness)
        top = self.pattern.slant
        low, high = -self.large_edge, top + self.small_edge
        large = self.pattern.edge(low, *self._ends(low, first, last), chord_error)
        right, left = self._strip(last, 1), self._strip(first, -1)[::-1]
        if self.pattern.small_diameter:
            small = self.pattern.edge(high, *self._ends(high, first, last), chord_error)[::-1]
        else:  # one point is enough for a point
            small, right, left = self.pattern.at([0.0], top), right[:-1], left[1:]
        return np.concatenate([large, right, small, left, large[:1]])

    def folds(self) -> list[Polyline]:
        """Return the lines to fold on: seam folds, then the lines of the end edges. [mm]"""
        lines, ends = self._seam_lines(self.seam.fold_lines(self.thickness)), self.seam.edges(self.thickness)
        return lines + [self.pattern.edge(up, *self._ends(up, *ends)) for added, up in (
            (self.large_edge, 0.0), (self.small_edge, self.pattern.slant)) if added]

    def marks(self) -> list[Polyline]:
        """Return the quarter elements, then laps and rivet rows. [mm]"""
        return self.pattern.marks() + self._seam_lines(self.seam.mark_lines(self.thickness))

    def flat_pattern(self) -> FlatPattern:
        """Return all of it for a writer. [mm]"""
        plain = self.pattern.flat_pattern()
        middles = self._seam_lines([line and line / 2 for line in self.seam.fold_lines(self.thickness)])
        labels = (*plain.labels, *map(along_line, FOLDS, middles))
        edges = ((self.large_edge, "large", self.pattern.outer_radius + self.large_edge),
                 (self.small_edge, "small", self.pattern.inner_radius - self.small_edge))
        sizes = (*plain.sizes, *self.seam.sizes(self.thickness),
                 *(Size(f"{words}, from the {side} edge", far) for words, side, far in self.seam.lines(self.thickness)),
                 *(Size(*row) for added, end, cut in edges if added and self.pattern.curvature
                   for row in ((f"fold, from the {end} end", added), (f"radius of the cut, {end} end", cut))))
        return FlatPattern(plain.title, (self.outline(),), tuple(self.folds()), tuple(self.marks()), labels, sizes)

    def rolled_up(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the blank lie on the cone, shape (n, 3). [mm]"""
        return self.pattern.rolled_up(points)

    def _seam_lines(self, distances: Iterable[float | None]) -> list[Polyline]:
        """Return the lines that are there, at distances from the raw edges, shortened by the notches."""
        rows = zip((-1, 1), distances, self.seam.edges(self.thickness), strict=True)
        return [self._parallel(edge - line, side, max(edge - line, 0.0)) for side, line, edge in rows
                if line is not None]

    def _parallel(self, offset: float, side: int, notch: float) -> Polyline:
        """Return a line beside a seam edge, shortened by the notch at both ends."""
        end = side * self.pattern.arc() / 2
        angle = self.pattern.curvature * end
        outwards = side * offset * np.array([math.cos(angle), math.sin(angle)])
        return self.pattern.at([end, end], [notch, self.pattern.slant - notch]) + outwards

    def _strip(self, offset: float, side: int) -> Polyline:
        """Return the corners of the strip for the seam, from the large to the small end; none without a strip."""
        if offset <= 0:
            return np.empty((0, 2))
        end, top = side * self.pattern.arc() / 2, self.pattern.slant
        strip = self._parallel(offset, side, offset)
        return np.concatenate([self.pattern.at([end], 0.0), strip, self.pattern.at([end], top)])

    def _ends(self, up: float, first: float, last: float) -> tuple[float, float]:
        """Return where an end edge starts and stops, along the large arc; a gap takes a little from both."""
        half, k = self.pattern.arc() / 2, self.pattern.curvature
        start, stop = (math.asin(max(-1.0, offset * k / (1 - k * up))) / k if offset and k else offset
                       for offset in (min(first, 0.0), min(last, 0.0)))
        return -half - start, half + stop


def cone_blank(pattern: FrustumPattern, thickness: float, seam: Seam = ButtSeam(),  # noqa: B008
               large_edge: float = 0.0, small_edge: float = 0.0) -> ConeBlank:
    """Return a frustum pattern with seam edges, stiffened ends and notches.

    Parameters
    ----------
    pattern, seam : FrustumPattern; ButtSeam, LapSeam or GroovedSeam
        The pattern without allowances, and how its edges are joined; each piece has one.
    thickness, large_edge, small_edge : float
        Thickness of the sheet; added at the large and the small end, to be wired, hemmed or flanged. [mm]

    Returns
    -------
    blank : ConeBlank
        The blank, with its outline, folds and marks.

    Raises
    ------
    InputError
        If a number is impossible, an edge is added at a point or past it, or the seam is wider than the blank.

    Notes
    -----
    Seam strips run parallel to the edges, so that they come together along the whole side. They are notched at
    45° where they meet the ends, and the end edges stop at the seam, so that folds never lie on folds. Validity:
    narrow edges on gentle cones; a wide flange has to stretch or shrink.
    Source: parallel locks: Longfield, Sheet Metal Drafting, 1921, p. 82; notching: common practice, no source.

    Examples
    --------
    >>> from rollcalc.layout import GroovedSeam, frustum_pattern
    >>> skirt = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
    >>> blank = cone_blank(skirt, thickness=0.8, seam=GroovedSeam(6), large_edge=wired_edge_allowance(3))
    >>> len(blank.folds()), round(blank.seam_allowance, 1)
    (3, 19.6)
    """
    checked_kind("the pattern", pattern, FrustumPattern, advice="take it from frustum_pattern")
    thick = checked_single("thickness", thickness, "mm", above=0, advice="measure it with a micrometer")
    large = checked_single("large edge", large_edge, "mm", at_least=0, advice="give what is added")
    small = checked_single("small edge", small_edge, "mm", at_least=0, advice="give what is added")
    if small and small >= pattern.inner_radius:
        raise InputError(f"small edge is {small:.6g} mm, but must be below the inner radius of "
                         f"{pattern.inner_radius:.6g} mm: it would reach past the point of the cone.")
    blank = ConeBlank(pattern, thick, checked_seam(seam), large, small)
    widest = max(abs(edge) for edge in blank.seam.edges(thick))
    room = min(pattern.slant, pattern.arc()) / 2
    if widest >= room:
        raise InputError(f"seam takes {widest:.6g} mm at one edge, but must take less than {room:.6g} mm on this "
                         "blank: give a narrower seam.")
    open_half = math.pi - pattern.sector_angle / 2  # half of the angle between the two seam edges
    if open_half < math.pi / 2 and math.atan2(widest, pattern.inner_radius + widest) >= open_half:
        raise InputError(f"seam takes {widest:.6g} mm at each edge, but must leave the edges apart on a pattern of "
                         f"{math.degrees(pattern.sector_angle):.4g} degrees: make it in more pieces.")
    return blank
