"""Seams of a rolled piece: how much metal each takes, where it folds, and what can be done about flat ends."""

from dataclasses import dataclass
from typing import ClassVar

from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Written

from .pattern import Size

SIDES = ("left", "right")  # the first and the last edge, as drawn
FOLDS = ("fold up", "fold down")  # at the first and the last edge
FOLD_SHARE = 2.0  # thicknesses that the folds of a grooved seam take on top of three widths, see `GroovedSeam`
FINISHED_SHARE = 1.5  # thicknesses that such a seam is wider than its turned edge: one outer fold, closed on a sheet
GROOVER_ROOM = 1.6  # by how much the groove of a groover is wider than the seam that it closes, 1/16 in [mm]


class _Seam(Written):
    """What all seams share."""

    can_be_trimmed = True
    flat_end_remedy: ClassVar[str]  # what this seam lets you do about flat ends, in one sentence
    nip_advice: ClassVar[str]  # how the edges pass the rolls, in one sentence

    def edges(self, thickness: float) -> tuple[float, float]:
        """Lengths added at the first and the last edge; below zero where metal is left out. [mm]"""
        raise NotImplementedError

    def allowance(self, thickness: float) -> float:
        """Length that the seam adds to the blank, both edges together. [mm]"""
        return sum(self.edges(thickness))

    def fold_lines(self, thickness: float) -> tuple[float | None, float | None]:
        """Distances of the folds from the first and the last edge; None where there is none. [mm]"""
        return None, None

    def mark_lines(self, thickness: float) -> tuple[float | None, float | None]:
        """Distances of the lines to mark from the first and the last edge; None where there is none. [mm]"""
        return None, None

    def lines(self, thickness: float, trim: float = 0.0) -> list[tuple[str, str, float]]:
        """Return what each line beside the seam is, the edge it is measured from, and how far it lies off. [mm]"""
        mark = "rivets" if getattr(self, "rivet_diameter", None) else "lap"
        kinds = (FOLDS, self.fold_lines(thickness)), ((mark, mark), self.mark_lines(thickness))
        return [("trim", side, trim) for side in SIDES if trim] + [
            (words, side, trim + line) for names, lines in kinds
            for words, side, line in zip(names, SIDES, lines, strict=True) if line is not None]

    def sizes(self, thickness: float) -> list[Size]:
        """Return the width of the seam, and what it adds or takes at each edge."""
        width, added = getattr(self, "width", 0.0), zip(SIDES, self.edges(thickness), strict=True)
        rows = [Size(f"{'seam adds' if more > 0 else 'gap takes'}, {side} edge", abs(more))
                for side, more in added if more]
        return [Size("width of the seam", width), *rows] if width else rows


@dataclass(frozen=True, eq=False, repr=False)
class ButtSeam(_Seam):
    """The two edges meet, or stand a gap apart to be welded or brazed.

    Parameters
    ----------
    gap : float
        Distance between the edges when the piece is closed. [mm]

    Notes
    -----
    Validity: edges cut square; welding draws the gap together, so try it on scrap.
    Source: common practice, no source.

    Examples
    --------
    >>> ButtSeam(gap=1.5).allowance(thickness=0.8)
    -1.5
    """

    gap: float = 0.0

    caption = "Butt seam"
    SHOWS = "gap [mm]"
    flat_end_remedy = ("A butt seam can be trimmed: cut the blank long, roll it, cut the flat ends off and close it; "
                       "or pre-bend the ends, or turn the blank end for end.")
    nip_advice = "The edges are as thin as the sheet and pass the rolls like the rest of it."

    def __post_init__(self) -> None:
        self._keep(gap=checked_single("gap", self.gap, "mm", at_least=0, advice="give the distance between the edges"))

    def edges(self, thickness: float) -> tuple[float, float]:
        """Lengths added at the first and the last edge; below zero where metal is left out. [mm]"""
        return 0.0 - self.gap / 2, 0.0 - self.gap / 2  # not -gap / 2: minus zero reads oddly


@dataclass(frozen=True, eq=False, repr=False)
class LapSeam(_Seam):
    """One edge lies on the other, to be soldered, spot-welded or riveted.

    Parameters
    ----------
    width, rivet_diameter : float, and float or None
        How far one edge lies over the other; diameter of one row of rivets along the middle, None for a plain lap. [mm]

    Notes
    -----
    The whole width is added at the last edge. A rivet's centre stands at least two diameters from an edge, so
    the lap is at least four diameters wide. Validity: thin sheet; the outer layer runs one thickness further
    out, which costs width × thickness / radius, a tenth of a millimetre or less in class work.
    Source: edge distance of two rivet diameters in a single row, U.S. Army TM 9-2320-303-24-2, page 0289.

    Examples
    --------
    >>> LapSeam(width=16, rivet_diameter=4).mark_lines(thickness=0.8)
    (8.0, 8.0)
    """

    width: float
    rivet_diameter: float | None = None

    caption = "Lap seam"
    SHOWS = "width [mm], rivet_diameter [mm]"
    flat_end_remedy = ("A lap seam can be trimmed: cut the blank long, roll it, cut the flat ends off, and only then "
                       "mark the lap; or pre-bend the ends, or turn the blank end for end.")
    nip_advice = "The edges are as thin as the sheet and pass the rolls like the rest of it; rivet after rolling."

    def __post_init__(self) -> None:
        width = checked_single("lap width", self.width, "mm", above=0, advice="give how far one edge lies over")
        self._keep(width=width)
        if self.rivet_diameter is None:
            return
        rivet = checked_single("rivet diameter", self.rivet_diameter, "mm", above=0, advice="measure a rivet")
        self._keep(rivet_diameter=rivet)
        if width < 4 * rivet:
            raise InputError(f"lap width is {width:.6g} mm, but must be at least {4 * rivet:.6g} mm: "
                             "each rivet stands two of its diameters from both edges.")

    def edges(self, thickness: float) -> tuple[float, float]:
        """Lengths added at the first and the last edge. [mm]"""
        return 0.0, self.width

    def mark_lines(self, thickness: float) -> tuple[float | None, float | None]:
        """Where the other edge comes to lie, or the row of rivets: distances from the first and last edge. [mm]"""
        return (None, self.width) if self.rivet_diameter is None else (self.width / 2, self.width / 2)


@dataclass(frozen=True, eq=False, repr=False)
class GroovedSeam(_Seam):
    """Both edges are folded over, hooked into each other and locked with a groover: a lock seam.

    Parameters
    ----------
    width : float
        Width of the edge that is turned over, from the fold to the raw edge; the same at both edges. [mm]
    fold_allowance : float or None
        A little extra that the folds take, both edges together; None for two thicknesses. [mm]

    Notes
    -----
    Four layers lie in the joint and one of them is the ring itself, so three widths are added, half at each
    edge, and a little for the folds. How little depends on the metal and the hammer: tight folds over one
    thickness take 0.2 thicknesses more than three widths and the step of three thicknesses, which the groover
    sets, about 1.2, so two thicknesses is a start. The fold lines lie one width from the raw edges, one folds up
    and one down. An edge ends in the hollow of the other's fold, so the finished seam is wider than the edge that
    was turned, by the outer half of that fold: 1.5 thicknesses. Validity: thin sheet, both edges folded before
    rolling. Make a trial seam and measure it.
    Source: three widths of the turned edge plus a little for the folds, a public workshop page on lock seams; the
    little and the finished width are derived here, see the tests. The groover's 1/16 in: common practice, no source.

    Examples
    --------
    >>> seam = GroovedSeam(width=6)
    >>> seam.allowance(thickness=0.76), GroovedSeam(width=6, fold_allowance=0).allowance(thickness=0.76)
    (19.52, 18.0)
    >>> round(seam.finished_width(thickness=0.76), 2), round(seam.groover_width(thickness=0.76), 2)
    (7.14, 8.74)
    """

    width: float
    fold_allowance: float | None = None

    caption = "Grooved seam"
    SHOWS = "width [mm], fold_allowance [mm]"
    can_be_trimmed = False
    flat_end_remedy = ("A lock seam folded before rolling cannot be trimmed: pre-bend the ends behind the folds, "
                       "or turn the blank end for end.")
    nip_advice = ("Fold both edges before rolling, one up and one down, and leave the hooks open by more than a "
                  "thickness: slacken the pinch to let a fold through, set it again behind the fold, and never squeeze "
                  "a hook shut.")

    def __post_init__(self) -> None:
        self._keep(width=checked_single("seam width", self.width, "mm", above=0,
                                        advice="give how far each edge is turned over"))
        if self.fold_allowance is not None:
            self._keep(fold_allowance=checked_single("fold allowance", self.fold_allowance, "mm", at_least=0,
                                                     advice="measure it on a trial seam"))

    def edges(self, thickness: float) -> tuple[float, float]:
        """Lengths added at the first and the last edge. [mm]"""
        little = FOLD_SHARE * thickness if self.fold_allowance is None else self.fold_allowance
        return ((3 * self.width + little) / 2,) * 2

    def fold_lines(self, thickness: float) -> tuple[float | None, float | None]:
        """Distances of the folds from the first and the last edge. [mm]"""
        return self.width, self.width

    def finished_width(self, thickness: float) -> float:
        """Return how wide the locked seam is, from fold to fold. [mm]"""
        sheet = checked_single("thickness", thickness, "mm", above=0, advice="measure it with a micrometer")
        return self.width + FINISHED_SHARE * sheet

    def groover_width(self, thickness: float) -> float:
        """Return how wide the groove of the groover should be: the finished seam and a little room. [mm]"""
        return self.finished_width(thickness) + GROOVER_ROOM


Seam = ButtSeam | LapSeam | GroovedSeam
"""Any seam along the length of a rolled piece."""


def checked_seam(seam: Seam) -> Seam:
    """Return the seam, or raise the sentence that says which seams there are."""
    if not isinstance(seam, ButtSeam | LapSeam | GroovedSeam):
        raise InputError(f"seam is {type(seam).__name__}, but must be a seam: give ButtSeam(), LapSeam(width) or "
                         "GroovedSeam(width).")
    return seam
