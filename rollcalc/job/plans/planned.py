"""A plan as it is written down, and what it shows of itself."""

from __future__ import annotations

import math
import os
from dataclasses import dataclass
from functools import cached_property

from rollcalc.layout import ConeBlank, CylinderBlank
from rollcalc.rolling import Capacity, ConeSetting, FlatEnds, Machine, Schedule, flat_ends
from rollcalc.stock.materials import Material
from rollcalc.stock.record import Record, Shown, said, said_in_short
from rollcalc.stock.sections import Stock

from .check_radius import CheckRadius
from .words import CAUTIONS, CRANK_HARD, FEED, TOO_TIGHT, TURN, groove_words, off_words, turns_words


@dataclass(frozen=True, eq=False, repr=False)
class PlannedPass(Record):
    """One feed through the rolls.

    Parameters
    ----------
    turns_left, turns_right : float
        Turns of the screws from touch, counted on the knobs; below zero where a screw stands lower than at touch.
        [turns]
    checks : tuple of CheckRadius
        What to measure after it: anywhere on a cylinder or ring; at the large end and at the small end of a cone.
    crank_force : float or None
        Force at the crank with greased bearings, of a cone the mean of its ends; None where the crank is not known. [N]
    """

    turns_left: float
    turns_right: float
    checks: tuple[CheckRadius, ...]
    crank_force: float | None

    SHOWS = ("turns_left [turns], turns_right [turns], released_radius [mm], chord [mm], rise [mm], "
             "lowest_radius [mm], highest_radius [mm], crank_force [N]")
    caption = "One pass of a plan"

    @property
    def released_radius(self) -> float:
        """Radius to expect, to mid-thickness; at the large end of a cone. [mm]"""
        return self.checks[0].released_radius

    @property
    def lowest_radius(self) -> float:
        """The same with the softest metal sold under the name. [mm]"""
        return self.checks[0].lowest_radius

    @property
    def highest_radius(self) -> float:
        """The same with the hardest metal. [mm]"""
        return self.checks[0].highest_radius

    @property
    def chord(self) -> float:
        """Straight line to measure across. [mm]"""
        return self.checks[0].chord

    @property
    def rise(self) -> float:
        """Rise to expect over the chord, on the face that is measured. [mm]"""
        return self.checks[0].rise


@dataclass(frozen=True, eq=False, repr=False)
class Plan(Record):
    """A job on a machine: whether it goes, the blank, every pass; made by `plan_cylinder`, `plan_cone`, `plan_ring`.

    Parameters
    ----------
    job : str
        What is made, in a few words.
    machine, stock, material : Machine, Stock and Material
        The machine, the piece, and its metal; the stock of a cone is as wide as its slant.
    released_radius : float
        Radius the rolls are set for, to mid-thickness; of a cone at its small end, square to the wall. [mm]
    face : str
        The face that is measured.
    chord : float
        Straight line to measure across. [mm]
    capacity : Capacity
        The verdict and its checks, of a cone for a cylinder as tight as its small end.
    blank : CylinderBlank or ConeBlank
        The piece to cut.
    passes : tuple of PlannedPass
        The passes; none where the plan is stopped.
    schedule : Schedule or None
        The passes of a cylinder or ring as `pass_schedule` gives them.
    cone : ConeSetting or None
        How straight rolls make the cone, in one pass.
    stopped, nearest, warnings, corrections : tuple of str
        Why no turns are given; the nearest jobs that pass; what speaks against it though turns are given; and what to
        do when a radius is wrong.
    """

    job: str
    machine: Machine
    stock: Stock
    material: Material
    released_radius: float
    face: str
    chord: float
    capacity: Capacity
    blank: CylinderBlank | ConeBlank
    passes: tuple[PlannedPass, ...]
    schedule: Schedule | None
    cone: ConeSetting | None
    stopped: tuple[str, ...]
    nearest: tuple[str, ...]
    warnings: tuple[str, ...]
    corrections: tuple[str, ...]

    @property
    def verdict(self) -> str:
        """What the checks say together, in a few words."""
        if self.stopped:
            return "not on this machine"
        return str(self.capacity.word)

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        piece = ", ".join(map(said_in_short, (self.stock, self.material, self.machine)))
        return f"Plan of a {self.job}: {self.verdict} ({piece})"

    @property
    def notes(self) -> tuple[str, ...]:
        """Everything to know besides the numbers, in the order of the work; what stops the plan comes first."""
        return (*self.stopped, *self.nearest, *self.warnings, self.fold_words, *self._passes_notes, *CAUTIONS)

    @property
    def _passes_notes(self) -> tuple[str, ...]:
        """What to do during the passes; nothing where there are none."""
        if not self.passes:
            return ()
        held = () if self.cone is None else self.cone.cautions
        said_of = (groove_words(self.machine, self.stock), FEED, *held, self.blank.seam.nip_advice, self.measure_words,
                   *self.corrections, TOO_TIGHT, CRANK_HARD, self.blank.seam.flat_end_remedy, TURN,
                   off_words(self.machine))
        return tuple(filter(None, said_of))

    @property
    def fold_words(self) -> str:
        """What to cut, and where to fold."""
        seam, thick = self.blank.seam, self.blank.thickness
        if isinstance(self.blank, CylinderBlank):
            cut = f"Cut {self.blank.length:.1f} × {self.blank.width:.1f} mm"
            cut += f", {self.blank.trim:g} mm of it to trim after rolling" if self.blank.trim else ""
        else:
            pattern = self.blank.pattern
            cut = (f"Cut by the pattern, radii {pattern.outer_radius:.1f} and {pattern.inner_radius:.1f} mm, "
                   f"{math.degrees(pattern.sector_angle):.1f}°"
                   if pattern.curvature else f"Cut {pattern.arc():.1f} × {pattern.slant:.1f} mm")
        folds = [f"{line:g} mm from the {edge} edge" for edge, line in
                 zip(("first", "last"), seam.fold_lines(thick), strict=True) if line is not None]
        return f"{cut}; fold {' and '.join(folds)}, one up and one down." if folds else f"{cut}."

    @property
    def measure_words(self) -> str:
        """How a radius is measured, and what the yield range makes of the last one."""
        where = "in mid-thickness" if self.face == "middle" else f"on the {self.face} face"
        line = "" if self.cone is None else ", close to each end and square to the wall"
        said_of = f"Measure the rise {where} over a chord of {self.chord:g} mm{line}."
        ends = self.passes[-1].checks
        if self.material.yield_range is None:
            return said_of
        bands = [f"{one.end}{': ' if one.end else ''}{one.lowest_radius:.1f} to {said(one.highest_radius, 'mm')}"
                 for one in ends]
        return (f"{said_of} Metal as soft and as hard as it is sold gives radii of {'; '.join(bands)} to mid-thickness "
                "after the last pass: so measure after every pass, and stop early where it comes out tight.")

    @cached_property
    def flat_ends(self) -> FlatEnds:
        """How the piece starts and ends in one pass, marched; of a cone, a cylinder as tight as its small end."""
        return flat_ends(self.machine, self.stock, self.material, self.released_radius)

    def shown(self) -> Shown:
        """Return a row for each pass, then what to know."""
        if not self.passes:
            return Shown(self.caption, (), notes=self.notes)
        alike = all(one.turns_left == one.turns_right for one in self.passes)
        rows = tuple((f"{number}", turns_words(one.turns_left), *(() if alike else (turns_words(one.turns_right),)),
                      *(cell for end in one.checks for cell in (said(end.released_radius, "mm"), f"{end.rise:.1f} mm")))
                     for number, one in enumerate(self.passes, start=1))
        ends = [f", {one.end}" if one.end else "" for one in self.passes[0].checks]
        head = ("pass", *(("turns",) if alike else ("turns left", "turns right")),
                *(words for end in ends for words in (f"radius{end}", f"rise {self.face}, {self.chord:g} mm chord")))
        return Shown(self.caption, rows, head, self.notes)

    def card(self, path: str | os.PathLike[str], paper: str = "A4", units: str = "mm", *,
             overwrite: bool = False) -> None:
        """Write the plan on one page to take to the machine, as PDF or HTML by the end of the file's name."""
        from rollcalc.drawing.card.files import write_card  # the one way up: a plan that writes its own card

        write_card(self, path, paper, units, overwrite=overwrite)
