"""What was set and measured at one pass, and how well a person reads it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from rollcalc.rolling import radius_from_chord
from rollcalc.stock.kinds import checked_word
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record
from rollcalc.stock.sections import Stock

from ..plans.check_radius import FACES

RISE_ERROR = 0.2
"""How far a rise may be misread with a rule, either way: our own choice. [mm]"""

DIAMETER_ERROR = 1.0
"""How far the diameter of a ring may be misread, which is never quite round: our own choice. [mm]"""

KNOB_ERROR = 1 / 16
"""How far the screws may stand from what their knobs were meant to show, either way: our own choice. [turns]"""

FLATTEST = 1e5
"""A larger radius counts as flat. [mm]"""


@dataclass(frozen=True, eq=False, repr=False)
class Band(Record):
    """What is believed of one number, and how surely.

    Parameters
    ----------
    mean : float
        What to count on. [any]
    low, high : float
        The truth lies between them in 80 of 100 cases. [any]
    """

    mean: float
    low: float
    high: float

    SHOWS = "mean [-], low [-], high [-]"


@dataclass(frozen=True, eq=False, repr=False)
class Measured(Record):
    """One pass, and what came out.

    Parameters
    ----------
    stock : Stock
        The piece.
    turns : float
        Turns of both screws from touch, counted on the knobs. [turns]
    released_radius : float
        Radius that was measured, to mid-thickness; infinite where the piece came out flat. [mm]
    tightest, widest : float
        Radii with the reading as far off as it may be. [mm]
    entering_radius : float
        Radius the piece had before this pass; infinite for flat stock. [mm]
    pass_number : int
        Which pass of this piece it was; 1 is the first. [-]
    """

    stock: Stock
    turns: float
    released_radius: float
    tightest: float
    widest: float
    entering_radius: float
    pass_number: int

    SHOWS = "stock, turns [turns], released_radius [mm], entering_radius [mm], pass_number [-]"

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"{self.turns:g} turns, {self.released_radius:.4g} mm"


def measured_radii(stock: Stock, chord: Any, rise: Any, diameter: Any, face: Any) -> tuple[float, float, float]:
    """Return the radius to mid-thickness that was measured, the tightest, and the widest that it may be."""
    towards = -FACES[checked_word("face", face, FACES, advice="say on which face you measured")]
    half = float(stock.depth) / 2
    if diameter is not None and (chord is None) == (rise is None) == True:  # noqa: E712
        across = checked_single("diameter", diameter, "mm", above=0, advice="measure across the ring")
        radii = [(across + off) / 2 + towards * half for off in (0.0, -DIAMETER_ERROR, DIAMETER_ERROR)]
    elif diameter is None and chord is not None and rise is not None:
        line = checked_single("chord", chord, "mm", above=0, advice="give the straight line across the curve")
        height = checked_single("rise", rise, "mm", at_least=0, at_most=line / 2,
                                advice="take a chord that is shorter than the diameter, and measure again")
        heights = (height, min(height + RISE_ERROR, line / 2), max(height - RISE_ERROR, 0.0))
        radii = [float(radius_from_chord(line, one)) + towards * half if one > 0 else math.inf for one in heights]
    else:
        raise InputError("a reading needs chord [mm] and rise [mm], or diameter [mm] in their place: give the one or "
                         "the other.")
    if radii[1] <= half:
        raise InputError(f"measured radius is {radii[0]:.6g} mm to mid-thickness, but must be above {half:.6g} mm by "
                         "more than it may be misread: measure again, and say on which face.")
    return radii[0], radii[1], radii[2]
