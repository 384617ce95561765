"""The blank of a cylinder: how long to cut, where to fold, where to trim."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record
from rollcalc.stock.sections import Sheet

from .neutral import neutral_axis_factor
from .pattern import BESIDE, FlatPattern, Layout, Polyline, Size, along_line, checked_polyline, rectangle_sizes
from .seams import FOLDS, ButtSeam, Seam, checked_seam


@dataclass(frozen=True, eq=False, repr=False)
class CylinderBlank(Layout, Record):
    """A flat rectangle that rolls up into a cylinder; made by `cylinder_blank`.
    x runs around the cylinder from the first edge, y along the rolls.

    Parameters
    ----------
    thickness, width, inside_diameter, trim : float
        Thickness of the sheet; its size along the rolls, the height of the cylinder; diameter of the inside face; and
        length cut off again after rolling, both ends together. [mm]
    seam : ButtSeam, LapSeam or GroovedSeam
        How the ends are joined.
    neutral_axis_factor : float
        Where the length stays as it is, as a share of the thickness from the inside. [-]
    """

    thickness: float
    width: float
    inside_diameter: float
    seam: Seam
    trim: float
    neutral_axis_factor: float

    SHOWS = ("length [mm], width [mm], mean_diameter [mm], developed_length [mm], seam_allowance [mm], trim [mm], area "
             "[mm²]")

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"Blank of a cylinder, {self.inside_diameter:g} mm inside, {self.thickness:g} mm sheet"

    @property
    def mean_diameter(self) -> float:
        """Diameter of the middle of the thickness. [mm]"""
        return self.inside_diameter + self.thickness

    @property
    def outside_diameter(self) -> float:
        """Diameter of the outside face. [mm]"""
        return self.inside_diameter + 2 * self.thickness

    @property
    def mean_radius(self) -> float:
        """Radius to mid-thickness, the one the rolls are set for. [mm]"""
        return self.mean_diameter / 2

    @property
    def neutral_radius(self) -> float:
        """Radius of the line that keeps its length. [mm]"""
        return self.inside_diameter / 2 + self.neutral_axis_factor * self.thickness

    @property
    def developed_length(self) -> float:
        """Length of the ring itself, laid flat, without seam and trim. [mm]"""
        return 2 * math.pi * self.neutral_radius

    @property
    def mean_diameter_length(self) -> float:
        """The same by the rule of the mean diameter, for comparison. [mm]"""
        return math.pi * self.mean_diameter

    @property
    def seam_allowance(self) -> float:
        """Length that the seam adds; below zero for a gap. [mm]"""
        return self.seam.allowance(self.thickness)

    @property
    def edge_allowances(self) -> tuple[float, float]:
        """Lengths that the seam adds at the first and the last edge. [mm]"""
        return self.seam.edges(self.thickness)

    @property
    def length(self) -> float:
        """Length to cut: the ring, the seam and the trim. [mm]"""
        return self.developed_length + self.seam_allowance + self.trim

    @property
    def area(self) -> float:
        """Area to cut. [mm²]"""
        return self.length * self.width

    def outline(self) -> Polyline:
        """Return the cut edge, closed. [mm]"""
        corners = [(0, 0), (self.length, 0), (self.length, self.width), (0, self.width), (0, 0)]
        return np.array(corners, dtype=np.float64)

    def folds(self) -> list[Polyline]:
        """Return the lines to fold on. [mm]"""
        return self._across(*self.seam.fold_lines(self.thickness))

    def marks(self) -> list[Polyline]:
        """Return the lines to mark: the cuts after rolling, then laps and rivet rows. [mm]"""
        half = self.trim / 2
        inner = [None if line is None else half + line for line in self.seam.mark_lines(self.thickness)]
        return self._across(half or None, half or None) + self._across(*inner)

    def flat_pattern(self) -> FlatPattern:
        """Return all of it for a writer. [mm]"""
        folds = self._across(*(line and line / 2 for line in self.seam.fold_lines(self.thickness)))
        trims = self._across(self.trim / 4, self.trim / 4) if self.trim else []
        (middle,) = self._across(self.length / 2, None)
        labels = [*map(along_line, FOLDS, folds), *(along_line("trim", line) for line in trims),
                  along_line("middle, along the rolls", middle, BESIDE)]
        lines = [*self.seam.lines(self.thickness, self.trim / 2), ("middle, along the rolls", "left", self.length / 2)]
        sizes = [*rectangle_sizes(self.length, self.width),
                 *(Size(f"{words}, from the {side} edge", far, at=(far if side == "left" else self.length - far, 0.0))
                   for words, side, far in lines), *self.seam.sizes(self.thickness)]
        title = f"Cylinder, inside diameter {self.inside_diameter:.6g}, {self.width:.6g} high"
        return FlatPattern(title, (self.outline(),), tuple(self.folds()), (*self.marks(), middle), tuple(labels),
                           tuple(sizes))

    def rolled_up(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the blank lie on the cylinder, at the neutral axis, shape (n, 3). [mm]"""
        x, y = checked_polyline("points", points).T
        angle = (x - self.edge_allowances[0] - self.trim / 2) / self.neutral_radius
        return np.stack([self.neutral_radius * np.cos(angle), -self.neutral_radius * np.sin(angle), y], axis=1)

    def _across(self, first: float | None, last: float | None) -> list[Polyline]:
        """Return straight lines over the width, at distances from the first and the last edge."""
        places = (first, None if last is None else self.length - last)
        return [np.array([(x, 0.0), (x, self.width)]) for x in places if x is not None]


def cylinder_blank(sheet: Sheet, *, inside_diameter: float | None = None, outside_diameter: float | None = None,
                   mean_diameter: float | None = None, seam: Seam = ButtSeam(), trim: float = 0.0,  # noqa: B008
                   rule: str = "middle") -> CylinderBlank:
    r"""Return the blank of a cylinder of one of three diameters.

    Parameters
    ----------
    sheet, seam : Sheet; ButtSeam, LapSeam or GroovedSeam
        The sheet, whose width is the height of the cylinder, and how its ends are joined.
    inside_diameter, outside_diameter, mean_diameter : float or None
        Diameter of the inside face, of the outside face, or of the middle of the thickness. [mm]
    trim : float
        Length to cut off after rolling, both ends together; the flat ends of the machine. [mm]
    rule : str
        Where the length stays as it is: "middle" for a rolled ring, the others of `neutral_axis_factor` for one that
        is pressed in a die.

    Returns
    -------
    blank : CylinderBlank
        Length, width, allowances and lines of the blank.

    Raises
    ------
    InputError
        If a number is impossible, not exactly one diameter is given, the seam is too wide, or a lock seam trimmed.

    Notes
    -----
    .. math:: l = 2 \pi (r + K t) + \text{seam} + \text{trim}

    with inside radius r and the neutral axis at K thicknesses. Rolling is bending without tension, so K = 0.5 and
    the ring takes π times its mean diameter, thick or thin. Validity: rolled, not stretched; a ring out of round
    still has this length.
    Source: geometry and `neutral_axis_factor`; the rule of the mean diameter is checked against a worked plate of a
    public training page and a hoop of an old pocket book, see the tests.

    Examples
    --------
    >>> from rollcalc.layout import GroovedSeam
    >>> blank = cylinder_blank(Sheet(thickness=0.76, width=240), inside_diameter=180, seam=GroovedSeam(6))
    >>> round(blank.developed_length, 1), round(blank.seam_allowance, 1), round(blank.length, 1)
    (567.9, 19.5, 587.4)
    """
    if not isinstance(sheet, Sheet):
        raise InputError(f"sheet is {type(sheet).__name__}, but must be a Sheet: give Sheet(thickness, width).")
    thickness = checked_single("thickness", sheet.thickness, "mm", above=0, advice="lay out one sheet at a time")
    width = checked_single("width", sheet.width, "mm", above=0, advice="lay out one sheet at a time")
    inside = _inside_diameter(thickness, inside_diameter, outside_diameter, mean_diameter)
    cut_off = checked_single("trim", trim, "mm", at_least=0, advice="give what is cut off after rolling")
    joint = checked_seam(seam)
    if cut_off and not joint.can_be_trimmed:
        raise InputError(f"trim is {cut_off:.6g} mm, but must be 0 mm with this seam: {joint.flat_end_remedy}")
    factor = float(neutral_axis_factor(inside / 2, thickness, rule))
    blank = CylinderBlank(thickness, width, inside, joint, cut_off, factor)
    if abs(blank.seam_allowance) >= blank.developed_length:
        raise InputError(f"seam takes {abs(blank.seam_allowance):.6g} mm, but must take less than the "
                         f"{blank.developed_length:.6g} mm around the cylinder: give a narrower seam.")
    return blank


def _inside_diameter(thickness: float, inside: Any, outside: Any, mean: Any) -> float:
    """Return the inside diameter from the one diameter that was given."""
    ways = (("inside diameter", inside, 0.0), ("outside diameter", outside, 2.0), ("mean diameter", mean, 1.0))
    given = [way for way in ways if way[1] is not None]
    if len(given) != 1:
        names = " and ".join(name for name, _, _ in given) or "none"
        raise InputError(f"diameters given are {names}, but must be exactly one of inside, outside and mean diameter: "
                         "say to which face you measure.")
    name, value, layers = given[0]
    least = layers * thickness
    return checked_single(name, value, "mm", above=least, advice="measure across the cylinder") - least
