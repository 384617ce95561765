"""What was measured after each pass: read from the form, and what it says about the next."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from html import escape
from typing import Any

from rollcalc.drawing import svg_text
from rollcalc.drawing.card.page import card_chord
from rollcalc.drawing.card.words import in_units
from rollcalc.drawing.passes.belief_view import belief_view
from rollcalc.job import Estimate, NextPass, Plan, estimate
from rollcalc.job.plans.check_radius import FACES
from rollcalc.job.learning.next_pass import NEAR
from rollcalc.job.learning.reading import RISE_ERROR
from rollcalc.job.plans.words import turns_words
from rollcalc.rolling import Machine, radius_error_from_chord, radius_from_chord
from rollcalc.rolling.passes.words import BACK
from rollcalc.stock import Material, Stock
from rollcalc.stock.quantities import InputError, shown
from rollcalc.stock.record import said_in_short
from rollcalc.stock.units import parse_quantity

from . import page
from .form import LONGEST, typed_length

LENGTHS = ("rise", "chord")
"""What of a row is a length."""

MOST_PASSES = 12
"""Passes that may be measured. [-]"""

ROLL_BACK = ("Or, while it is still open, roll it back: turn it over, hollow side down, and feed it once with a little "
             "travel. How much that opens it nobody can say, as metal bent back yields early and no number here counts "
             "with that: begin with far less than you think, on scrap first (common practice, no source).")
"""The other way to open a ring that came out too tight, and how unsure it is."""

IF_TIGHT = "If it is as tight as it was read, see “Too tight” below; no turns help."
"""What is added where a reading that does not agree is too tight."""

CONE_WORDS = ("Hold what you measure at each end against its rise above, and correct by the list below. What a reading "
              "tells is not worked out for a cone: its two ends pull at each other, and a reading at one end tells "
              "little of the other.")
"""Why the readings of a cone are not asked for."""

Reading = tuple[float, float, float, str]
"""Turns, chord and rise [mm], and the face of one reading."""


@dataclass(frozen=True)
class Row:
    """What stands in the fields after one pass, and on which piece it was measured; all of it as typed."""

    turns: str = ""
    rise: str = ""
    chord: str = ""
    of: str = ""

    @classmethod
    def sent(cls, row: Any) -> Row:
        """Return what the browser sent as a row."""
        known = row if isinstance(row, Mapping) else {}
        return cls(**{name: text.strip() if isinstance(text := known.get(name), str) else ""
                      for name in ("turns", "rise", "chord", "of")})


@dataclass(frozen=True)
class Learnt:
    """What the browser shows of passes and readings."""

    rows: tuple[Row, ...]  # what stands in the fields, what was left empty filled in
    shown: list[dict[str, Any]]  # a row of the table for each pass
    learns: bool = False  # whether readings are asked for
    html: str = ""  # what to do next
    svg: str = ""  # what is believed
    caption: str = ""
    sentence: str = ""
    faults: dict[str, str] = field(default_factory=dict)  # "0.rise" -> sentence


def learnt(plan: Plan, rows: Sequence[Row], units: str) -> Learnt:
    """Return the passes of a plan with what was measured after each, and what to do next."""
    planned = [_shown_row(page.pass_cells(plan, number, units)) for number in range(len(plan.passes))]
    if not plan.passes:
        return Learnt(tuple(rows), [])
    if plan.cone is not None:
        return Learnt(tuple(rows), planned, html=f"<p>{escape(CONE_WORDS)}</p>")
    typed = [row for row in rows[:MOST_PASSES] if row.rise or row.turns or row.chord]
    measured = next((number for number, row in enumerate(typed) if not row.rise), len(typed))
    if not measured:
        return Learnt(tuple(typed), [{**row, "input": not number} for number, row in enumerate(planned)], learns=True)
    return _after_readings(plan, typed, measured, planned[0], units)


class _WrongError(InputError):
    """What a field of a reading holds makes no sense; it says which field."""

    def __init__(self, name: str, sentence: str) -> None:
        super().__init__(sentence)
        self.name = name


def _after_readings(plan: Plan, typed: list[Row], measured: int, first: dict[str, Any], units: str) -> Learnt:
    """Return the passes where at least one was measured."""
    of, rows, shown_rows, readings = _piece_words(plan), list(typed), [first], list[Reading]()
    told = Learnt((), shown_rows, learns=True)
    for number in range(measured):
        here = rows[number] = _filled(rows[number], shown_rows[number]["turns"], plan, units, of)
        shown_rows[number]["input"] = True
        try:
            readings.append(_read(here, readings, plan.face, units, of))
            radius = _radius(plan, readings[-1])
            shown_rows[number]["cells"][-1] = _came_out(plan, readings[-1], radius, units)
            known = _known(plan.machine, plan.material, plan.stock, tuple(readings))
            following = _next(plan.machine, plan.material, plan.stock, tuple(readings), plan.released_radius)
        except InputError as refused:
            place = f"{number}.{getattr(refused, 'name', 'rise')}"
            return replace(told, rows=tuple(rows), faults={place: f"Pass {number + 1}: {refused}"})
        told = replace(_told(plan, known, following, radius, len(readings), units), shown=shown_rows)
        if following.turns is None:
            break
        shown_rows.append(_next_row(plan, following, number + 1, units))
    return replace(told, rows=tuple(rows))


def _told(plan: Plan, known: Estimate, following: NextPass, radius: float, count: int, units: str) -> Learnt:
    """Return what to do next, and the picture of what is believed."""
    chance = f"Believed chance of being within {NEAR:.0%} of the wanted radius: {min(following.chance, 0.99):.0%}."
    if following.turns is not None:
        dial, words = f"Next: {turns_words(following.turns)} turns on both screws", (chance, *following.notes)
    elif count - 1 in known.left_out:
        dial, words = "Measure again", (*following.notes, *((IF_TIGHT,) if radius < (1 - NEAR) * plan.released_radius
                                                            else ()))
    elif BACK in following.notes:
        dial, words = "Too tight: no fewer turns open it", (following.notes[0], ROLL_BACK, *following.notes[1:])
    elif not following.finished:
        dial, words = "No turns on this machine give that radius", following.notes
    else:
        dial, words = "Finished: measure all round before you close it", following.notes
    picture = belief_view(known, estimate(plan.machine, plan.material))
    html = f'<p class="rollcalc-dial">{escape(dial)}</p>' + "".join(
        f"<p>{escape(in_units(word, units))}</p>" for word in dict.fromkeys((*words, *known.notes)))
    return Learnt((), [], learns=True, html=html, svg=svg_text(picture), caption=picture.sentence,
                  sentence=f"After pass {count}. {dial}.")


def _next_row(plan: Plan, following: NextPass, number: int, units: str) -> dict[str, Any]:
    """Return the row of the pass that the readings ask for."""
    reach, dialled = following.released_radius, following.turns or 0.0
    end = replace(plan.passes[-1].checks[0], released_radius=reach.mean, lowest_radius=reach.low,
                  highest_radius=reach.high)
    cells = [f"{number + 1}", turns_words(dialled), *page.expected_cells([end.over(card_chord(plan, units))], units),
             "From what was measured: set, feed once through, measure."]
    return {**_shown_row(cells), "input": True}


def _shown_row(cells: list[str]) -> dict[str, Any]:
    """Return a row of the table, its turns where the fields take them from."""
    return {"cells": cells, "input": False, "turns": cells[1]}


@lru_cache(maxsize=64)
def _known(machine: Machine, material: Material, stock: Stock, readings: tuple[Reading, ...]) -> Estimate:
    """Return what is believed after some readings; those before the last are remembered."""
    if not readings:
        return estimate(machine, material)
    turns, chord, rise, face = readings[-1]
    before = _known(machine, material, stock, readings[:-1])
    return before.updated(stock, turns=turns, chord=chord, rise=rise, face=face)


@lru_cache(maxsize=64)
def _next(machine: Machine, material: Material, stock: Stock, readings: tuple[Reading, ...], radius: float) -> NextPass:
    """Return the next pass after some readings."""
    return _known(machine, material, stock, readings).next_pass(stock, radius)


def _filled(row: Row, turns: str, plan: Plan, units: str, of: str) -> Row:
    """Return a row with what was left empty: dialled as planned, measured over the plan's chord on this piece."""
    return replace(row, turns=row.turns or turns, of=row.of or of,
                   chord=row.chord or page.chord_words(plan, units).partition(" ")[0])


def _read(row: Row, before: Sequence[Reading], face: str, units: str, of: str) -> Reading:
    """Return the reading that a row holds, or raise the sentence about the field that makes no sense."""
    if row.of != of:
        raise _WrongError("rise", f"this was measured on {in_units(row.of, units)}: put that back in the form, or "
                                  "clear what was measured.")
    rise, chord = (typed_length(text, units) for text in (row.rise, row.chord))
    if rise is None:
        raise _WrongError("rise", f"the rise is {_cut(row.rise)}, but must be a length: write it like “15.1”, “15,1” "
                                  "or “19/32 in”.")
    if not chord:
        raise _WrongError("chord", f"the chord is {_cut(row.chord)}, but must be a length, above zero: write it like "
                                   "“100”, “80,5” or “4 in”.")
    if rise > chord / 2:
        raise _WrongError("rise", f"the rise is {page.rise_words(rise, units)} over a chord of "
                                  f"{page.rise_words(chord, units)}, but must be at most half of it: look at the "
                                  "decimal point.")
    turns = _turns(row.turns)
    if not turns > 0:
        raise _WrongError("turns", f"the turns are {_cut(row.turns)}, but must be a number above zero: write them like "
                                   "“8 7/8” or “8.875”.")
    if before and turns < before[-1][0]:
        raise _WrongError("turns", f"the turns are {row.turns}, fewer than the pass before: screws turned back leave a "
                                   "piece as it was, so type what was dialled, or clear all for a new piece.")
    return turns, chord, rise, face


def _turns(text: str) -> float:
    """Return the turns that were typed, zero where they are none. [turns]"""
    try:
        return parse_quantity(text, "turns") if len(text) <= LONGEST else 0.0
    except InputError:
        return 0.0


def _cut(text: str) -> str:
    """Return what was typed as a sentence shows it."""
    return shown(text) if len(text) <= LONGEST else "no number"


def _radius(plan: Plan, reading: Reading) -> float:
    """Return the radius to mid-thickness of a reading. [mm]"""
    _, chord, rise, face = reading
    if not rise:
        return math.inf
    return float(radius_from_chord(chord, rise)) - FACES[face] * float(plan.stock.depth) / 2


def _came_out(plan: Plan, reading: Reading, radius: float, units: str) -> str:
    """Return what a pass gave against what is wanted."""
    error = float(radius_error_from_chord(reading[1], reading[2], RISE_ERROR)) if reading[2] else math.inf
    wanted = f"wanted {page.radius_words(plan.released_radius, units)}."
    if not error < radius / 2:
        return f"Came out too flat to tell over this chord; {wanted}"
    return (f"Came out at R {page.radius_words(radius, units)}, give or take {page.radius_words(error, units)} where "
            f"the rise is read to {page.rise_words(RISE_ERROR, units)}; {wanted}")


def _piece_words(plan: Plan) -> str:
    """Return what a reading depends on besides its own numbers: piece, metal, machine and face."""
    pieces = ", ".join(map(said_in_short, (plan.stock, plan.material, plan.machine)))
    return f"{pieces}, {plan.face} face"
