"""The job is its own trial: every pass tells of the metal, the pinch and the touch, and so where to set the next."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations
from typing import Any

from rollcalc.bending.release import checked_radius
from rollcalc.rolling import Machine
from rollcalc.rolling.limits.reach import check_one_piece
from rollcalc.rolling.machine.kinds import checked_machine
from rollcalc.rolling.solver.batches import checked_single_case
from rollcalc.stock.materials import Material, checked_material
from rollcalc.stock.quantities import checked_single
from rollcalc.stock.record import Record, Shown, said, said_in_short
from rollcalc.stock.sections import Stock

from .belief import Belief, prior_belief
from .next_pass import NextPass, next_pass
from .reading import FLATTEST, Band, Measured, measured_radii


MOST_ODD = 2
"""Readings that are left out together at most, where they do not agree with the others. [-]"""


@dataclass(frozen=True, eq=False, repr=False)
class Estimate(Record):
    """What is believed of a metal, a pinch and a touch after some readings.

    Parameters
    ----------
    machine, material : Machine and Material
        The machine, and the metal as it is sold.
    readings : tuple of Measured
        The readings, the first one first.
    left_out : tuple of int
        Places of readings that agree with no combination that explains the others; 0 is the first. [-]
    notes : tuple of str
        A sentence for each of them.
    """

    machine: Machine
    material: Material
    readings: tuple[Measured, ...] = ()
    left_out: tuple[int, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        count = len(self.readings)
        return (f"Estimate: {said_in_short(self.material)}, {said_in_short(self.machine)}, after "
                f"{count} reading{'' if count == 1 else 's'}")

    def shown(self) -> Shown:
        """Return a row for each number that is believed."""
        bands = [("yield strength", self.yield_strength, "MPa"), ("touch later by", self.touch_turns, "turns")]
        if self.pinch_force is not None:
            bands.insert(1, ("pinch force", self.pinch_force, "N"))
        rows = tuple((name, said(band.mean, unit), said(band.low, unit), said(band.high, unit))
                     for name, band, unit in bands)
        return Shown(self.caption, rows, ("", "believed", "80 % above", "80 % below"), self.notes)

    @property
    def yield_strength(self) -> Band:
        """Yield strength of this sheet or bar. [MPa]"""
        return self._belief.band(0)

    @property
    def pinch_force(self) -> Band | None:
        """Force of this evening's pinch; None where the machine has no pinch to learn. [N]"""
        return None if self._belief.pinches is None else self._belief.band(1)

    @property
    def touch_turns(self) -> Band:
        """How many turns later than counted the roll touches: real travel = turns × pitch − touch. [turns]"""
        touch, pitch = self._belief.band(2), self.machine.screw_pitch
        return Band(touch.mean / pitch, touch.low / pitch, touch.high / pitch)

    def updated(self, stock: Stock, *, turns: float, chord: float | None = None, rise: float | None = None,
                diameter: float | None = None, face: str = "inside",
                entering_radius: float | None = None) -> Estimate:
        """Return the estimate after one more reading: turns on the knobs, and chord and rise or the diameter on a face.

        A piece of the same size at no fewer turns is the same piece, and enters with the radius that was read before;
        any other is taken to enter flat. Give ``entering_radius`` [mm] where it is otherwise, infinity for flat stock.
        """
        check_one_piece(self.machine, stock, self.material)
        dialled = checked_single("turns", turns, "turns", above=0, advice="count them from touch")
        measured = measured_radii(stock, chord, rise, diameter, face)
        before = self._piece(stock, entering_radius)
        if before is not None and dialled < before.turns:
            before = None
        entering = _entering(stock, entering_radius, math.inf if before is None else before.released_radius)
        reading = Measured(stock, dialled, *measured, entering, 1 if before is None else before.pass_number + 1)
        return self._with(reading)

    def next_pass(self, stock: Stock, released_radius: float, *, entering_radius: float | None = None) -> NextPass:
        """Return where to put the screws next for a wanted radius to mid-thickness [mm], and whether to go on at all.

        A piece of the size of one that was read goes on from there; any other starts flat, or from ``entering_radius``.
        """
        check_one_piece(self.machine, stock, self.material)
        wanted = checked_single("released radius", checked_radius(stock, "released radius", released_radius), "mm",
                                above=0, at_most=FLATTEST, advice="give the radius that you want")
        last = self._piece(stock, entering_radius)
        entering = _entering(stock, entering_radius, math.inf)
        if last is not None and len(self.readings) - 1 in self.left_out and last is self.readings[-1]:
            read = Band(last.released_radius, last.tightest, last.widest)
            return NextPass(None, read, 0.0, False, True, self.notes[-1:])
        return next_pass(self._belief, stock, wanted, last, entering)

    def _piece(self, stock: Stock, entering_radius: float | None) -> Measured | None:
        """Return the last reading of a piece; none where it is said how the piece enters."""
        same = [one for one in self.readings if one.stock == stock]
        return same[-1] if same and entering_radius is None else None

    @cached_property
    def _belief(self) -> Belief:
        """What is believed of each combination."""
        return self._without(*self.left_out)

    def _without(self, *places: int) -> Belief:
        """Return what is believed without some of the readings."""
        belief = prior_belief(self.machine, self.material)
        for place, reading in enumerate(self.readings):
            belief = belief if place in places else belief.learned(reading)
        return belief

    def _with(self, reading: Measured) -> Estimate:
        """Return the estimate with one more reading. Where no combination explains all, the fewest are left out, and of
        several ways the one that explains the others best.
        """
        every = Estimate(self.machine, self.material, (*self.readings, reading))
        places = range(len(every.readings))
        for count in range(MOST_ODD + 1):
            ways = {odd: every._without(*odd).agreement for odd in combinations(reversed(places), count)}
            best = max(ways, key=lambda odd: ways[odd], default=())
            if ways.get(best, -math.inf) > -math.inf:
                odd = tuple(sorted(best))
                return replace(every, left_out=odd, notes=tuple(odd_words(one, every.readings) for one in odd))
        left = (*self.left_out, places[-1])
        return replace(every, left_out=left, notes=(*self.notes, odd_words(places[-1], every.readings)))


def estimate(machine: Machine, material: Material) -> Estimate:
    r"""Return what is believed of a metal, a pinch and a touch before anything is measured.

    Parameters
    ----------
    machine : Machine
        The machine.
    material : Material
        The metal as it is sold; its yield range says how far it may stray.

    Returns
    -------
    estimate : Estimate
        Its ``updated(stock, turns=…, chord=…, rise=…)`` learns from a pass, ``next_pass(stock, released_radius)`` says
        where to put the screws, and ``yield_strength``, ``pinch_force`` and ``touch_turns`` what is believed.

    Notes
    -----
    Every combination of yield y, pinch N and touch T has a weight. A reading multiplies it by how well it explains it,

    .. math:: \int e^{-(c - c_m)^2 / 2 \sigma^2}\,dF(c), \qquad
              F(c) = F_0(c)\,P\left((s + k)\,p - T < z(c; y, N)\right)

    with c_m the curvature that was measured and σ its error (0.2 mm of rise either way, 1 mm of a diameter), F_0 what
    was believed of the piece before, s the turns and k how far the knobs may be off (1/16 turn either way), p the
    pitch, and z the solver's travel for the curvature c, entering as it did. So a pass that asks for less than the
    piece has leaves it as it was. All start alike: yield over the metal's range, or 30 % either way where it has none,
    the logarithm of the pinch from 1000 to 6000 N, touch to 0.4 mm either way. A pinch that the machine states is taken
    for a guess too, since screws turned by hand change it: the range then reaches to half and twice that force at
    least, and a perfect nip, which no machine has, is taken for a pinch not known. A pyramid machine, or a nip that
    stands open, has no pinch to learn. The next pass weighs the chance of being within 2 % against that of being too
    tight.

    A strip of another width tells of the metal and hardly of the pinch. The pinch presses with its whole force on
    whatever lies in the nip, the moment that tilts the sheet there grows with the width, and the tilt is M w/(N D): a
    strip a sixth as wide tilts a sixth as much whatever the pinch, so its radius tells little of it. But the touch
    point is the same, and so is the metal. Validity: one pinch, one touch and one metal for all readings; fed the same
    way each time; as `setting_for_radius` otherwise.
    Source: Bayes' rule on the solver's own travels; the errors are our own choice. Checked by simulated jobs.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, Sheet
    >>> body = Sheet(thickness=0.76, width=240)
    >>> start = estimate(DEMO_MACHINE, MATERIALS["low-carbon steel, cold rolled"])
    >>> start.next_pass(body, 90.4).turns
    11.375
    """
    checked_machine(machine)
    checked_single_case(machine, checked_material(material))
    return Estimate(machine, material)


def odd_words(place: int, readings: tuple[Measured, ...]) -> str:
    """Return the sentence about a reading that does not agree."""
    what = f"Reading {place + 1} ({readings[place].caption})"
    if len(readings) == 1:
        return (f"{what} agrees with no yield of this metal, pinch and touch that are to be expected, and is left out: "
                "measure again, count the turns from touch, and see that it is this metal.")
    either = ", but either may be wrong" if len(readings) == 2 else ""
    return (f"{what} does not agree with the other{'s' if len(readings) > 2 else ''}, and is left out{either}: measure "
            "again, and see that zero, pinch and face are the same.")


def _entering(stock: Stock, given: Any, found: float) -> float:
    """Return the radius a piece enters with: as given, infinity allowed, or else as found."""
    if given is None or (isinstance(given, float) and given == math.inf):
        return found if given is None else math.inf
    number = checked_radius(stock, "entering radius", given)
    return checked_single("entering radius", number, "mm", above=0, advice="give the radius that was measured before")
