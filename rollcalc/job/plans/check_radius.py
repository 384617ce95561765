"""Where a curve is measured on the way, with which chord, and what to expect there."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

from rollcalc.rolling import rise_of_chord
from rollcalc.stock.kinds import checked_word
from rollcalc.stock.quantities import checked_single
from rollcalc.stock.record import Record

FACES = {"inside": -1, "middle": 0, "outside": 1}
"""Face that is measured -> on which side of mid-thickness it lies."""

ROUND_CHORDS = (5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300, 400, 500, 600, 800, 1000)
"""Chords to choose from: round figures, as a template is cut. [mm]"""

USUAL_CHORD = 100.0
"""A chord that is long enough for most rings, as an error of reading counts by its square: our own choice. [mm]"""

LONGEST_CHORD = 1.6
"""Longest chord over the radius that is measured: beyond it the ends of a rule slide down the sides of the ring. [-]"""


@dataclass(frozen=True, eq=False, repr=False)
class CheckRadius(Record):
    """A radius to check after a pass, and how.

    Parameters
    ----------
    end, face : str
        At which end of a cone, empty for anywhere on the piece; the face that is measured, "inside", "middle" or
        "outside".
    depth : float
        Size of the stock in the direction it is bent. [mm]
    released_radius, lowest_radius, highest_radius : float
        Radius to expect, and with the softest and the hardest metal sold under the name, to mid-thickness; infinite
        where no set remains. [mm]
    travel : float
        Travel of the roll at that place, from touch. [mm]
    chord : float
        Straight line across the curve, on that face. [mm]
    """

    end: str
    face: str
    depth: float
    released_radius: float
    lowest_radius: float
    highest_radius: float
    travel: float
    chord: float

    SHOWS = ("end, face, released_radius [mm], lowest_radius [mm], highest_radius [mm], face_radius [mm], "
             "chord [mm], rise [mm], highest_rise [mm], lowest_rise [mm]")

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"Check radius{f', {self.end}' if self.end else ''}, {self.face}"

    @property
    def face_radius(self) -> float:
        """Radius of the face that is measured. [mm]"""
        return self.on_face(self.released_radius)

    @property
    def rise(self) -> float:
        """Height of that face over the middle of the chord. [mm]"""
        return self.rise_at(self.released_radius)

    @property
    def highest_rise(self) -> float:
        """The rise with the softest metal. [mm]"""
        return self.rise_at(self.lowest_radius)

    @property
    def lowest_rise(self) -> float:
        """The rise with the hardest metal. [mm]"""
        return self.rise_at(self.highest_radius)

    def on_face(self, released_radius: float) -> float:
        """Return the radius of the face for one to mid-thickness. [mm]"""
        return released_radius + FACES[self.face] * self.depth / 2

    def rise_at(self, released_radius: float) -> float:
        """Return the rise over the chord for a radius to mid-thickness, half a ring at most. [mm]"""
        radius = self.on_face(released_radius)
        return float(rise_of_chord(radius, min(self.chord, 2 * radius)))

    def over(self, chord: float) -> CheckRadius:
        """Return the same radius to be measured over another chord."""
        return replace(self, chord=chord)


def checked_chord(chord: Any, face: Any, released_radius: float, depth: float) -> float:
    """Return the chord to measure at: as given, or else a round figure for the ring, which must be long enough."""
    checked_word("face", face, FACES, advice="say on which face you measure")
    radius = released_radius + FACES[face] * depth / 2
    if chord is None:
        return round_chord(radius)
    return checked_single("chord", chord, "mm", above=0, at_most=LONGEST_CHORD * radius,
                          advice="give the straight line across the curve that you measure at")


def round_chord(face_radius: float, unit: float = 1.0) -> float:
    """Return a round chord for a radius, in whole figures of a unit of so many mm. [mm]"""
    most = min(LONGEST_CHORD * face_radius, max(USUAL_CHORD, 0.8 * face_radius)) / unit
    figures = ROUND_CHORDS if unit == 1 else tuple(step / 4 for step in range(1, 41)) + ROUND_CHORDS[3:]
    fits = [figure for figure in figures if figure <= most * (1 + 1e-9)]
    return unit * float(fits[-1] if fits else 10 ** math.floor(math.log10(most)))
