"""A plan laid out on one page: what to cut, how to set the rolls, what to measure, what to do when it is wrong."""

from __future__ import annotations

from collections.abc import Sequence

from rollcalc.job import Plan
from rollcalc.job.plans.words import (BEFORE, CAUTIONS, CRANK_HARD, FEED, TOO_TIGHT, TURN, groove_words, off_steps,
                                turns_words)
from rollcalc.rolling import PinchMachine, zeroing_steps
from rollcalc.stock.gauges import MM_PER_INCH
from rollcalc.stock.labels import format_length, length_scale
from rollcalc.stock.quantities import InputError

from ..core.picture import Pair
from ..patterns.true_size import EDGE, PaperWords, TrueSizePage, check_lines
from .blocks import THICK, Block, Column, box, field_to_fill, level, lines_of, listed, table
from .figures import arcs_figure, blank_figure, rolls_figure
from .letters import shrunk
from .words import assumed_words, in_units, piece_words, title_words

GAP = 3.0
"""White between two blocks. [mm]"""

SIZES = (3.3, 3.1, 2.9, 2.75, 2.6, 2.45, 2.3)
"""Letters of the card's prose; the largest that fits on one page is taken. [mm]"""

FOOT = 13.0
"""Height of the lines to measure and the fields to sign. [mm]"""

MOST_ROWS = 12
"""Passes that a card has room for. [-]"""

USUAL = ("The frame,", "How far the nip", "The plate names")
"""How warnings begin that every plan has, and no card repeats."""

LEAST_ARC, MOST_ARC = 17.0, 40.0
"""Height of the room for the arcs at true size. [mm]"""

CHORDS_INCH = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0)
"""Chords that are round figures in inches. [inch]"""


def card_page(plan: Plan, paper: Pair, units: str) -> TrueSizePage:
    """Return the card as one page."""
    for size in SIZES:
        page = _tried(plan, paper, units, size)
        if page is not None:
            return page
    raise InputError(f"paper is {paper[0]:g} × {paper[1]:g} mm, but must be larger for this card: take A4 or Letter.")


def card_chord(plan: Plan, units: str) -> float:
    """Return the chord of a card: the plan's own, or the longest round one in inches that is no longer. [mm]"""
    if units == "mm":
        return plan.chord
    return MM_PER_INCH * max((chord for chord in CHORDS_INCH if chord * MM_PER_INCH <= 1.03 * plan.chord),
                             default=plan.chord / MM_PER_INCH)


def _tried(plan: Plan, paper: Pair, units: str, size: float) -> TrueSizePage | None:
    """Return the page with letters of one size, None where it does not fit."""
    left, width, bottom = EDGE, paper[0] - 2 * EDGE, EDGE + FOOT + GAP
    drawn, top = Block(), paper[1] - EDGE
    blocks = (_header, _figures, _passes, _advice) if plan.passes else (_header, _figures, _reasons)
    for make in blocks:
        block = make(plan, (left, top), width, size, units)
        drawn.add(block)
        top -= block.height + GAP
    room = top - bottom
    if plan.passes and room >= LEAST_ARC:
        drawn.add(arcs_figure((left, top), (width, min(room, MOST_ARC)), _arcs(plan, units), card_chord(plan, units),
                              size))
    if room < (LEAST_ARC if plan.passes else 0):
        return None
    drawn.add(_foot((left, EDGE), width, size))
    return TrueSizePage(*paper, drawn.strokes, drawn.words)


def _header(plan: Plan, at: Pair, width: float, size: float, units: str) -> Block:
    """Return title, piece, machine, and the verdict in a box."""
    block, verdict = Block(19.5), 58.0
    room = width - verdict - 4
    lines = ((title_words(plan, units), 6.4, True), (piece_words(plan, units), 4.2, False),
             (in_units(f"{plan.machine.caption}, {getattr(plan.machine, 'nip', '')}".rstrip(", "), units), 3.6, False))
    down = at[1]
    for words, most, bold in lines:
        fitted = shrunk(words, room, most, bold)
        down -= most * 1.3
        block.words.append(PaperWords((at[0], down + 0.25 * most), words, fitted, bold=bold))
    corner = at[0] + width - verdict
    block.strokes.append(box(corner, at[1], verdict, 19.0, THICK))
    said = lines_of((corner + 2, at[1] - 1.5), verdict - 4, plan.verdict.capitalize(), 4.2, bold=True)
    block.add(said)
    block.add(lines_of((corner + 2, at[1] - 2.0 - said.height), verdict - 4,
                       "as far as checked; plate and instructor have the last word.", 2.5))
    return block


def _figures(plan: Plan, at: Pair, width: float, size: float, units: str) -> Block:
    """Return the blank and the rolls at the left, what to do before cranking at the right."""
    half = (width - 5) / 2
    right, room = at[0] + half + 5, width - half - 5
    block = listed((right, at[1]), room, "Before you crank", BEFORE, size, mark="box")
    if plan.passes:
        steps = [step.words for step in zeroing_steps()] if isinstance(plan.machine, PinchMachine) else [
            "Lower the top roll until it just drags on two strips of the stock, one near each end, alike at both."]
        title = "Zero the screws: make the rolls parallel"
        zero = listed((right, at[1] - block.height - 1.5), room, title,
                      [*steps, "Count turns from touch: where the roll that moves just touches the flat stock."], size,
                      mark="1")
        block.add(zero)
        block.height += zero.height + 1.5
    tall = max(64.0, block.height)
    letters = max(size, 2.7)
    titles = 1.6 * size
    upper = 0.46 * (tall - 2 * titles)
    block.add(lines_of(at, half, "The blank", 1.15 * size, bold=True))
    block.add(blank_figure(plan, (at[0], at[1] - titles), (half, upper), letters, units))
    rolls, scale = rolls_figure(plan, (at[0], at[1] - 2 * titles - upper), (half, tall - 2 * titles - upper), letters)
    block.add(rolls)
    where = "the last pass" if plan.passes else "touch"
    where += " at the small end" if plan.cone and plan.passes else ""
    block.add(lines_of((at[0], at[1] - titles - upper), half, f"The rolls at {where}, to scale 1 : {scale:g}",
                       1.15 * size, bold=True))
    block.height = tall
    return block


def _passes(plan: Plan, at: Pair, width: float, size: float, units: str) -> Block:
    """Return the passes with boxes for what was measured, and two rows for passes more."""
    chord, scale = card_chord(plan, units), length_scale(units)[0]
    face = "in mid-thickness" if plan.face == "middle" else f"on the {plan.face} face"
    cone = plan.cone is not None
    title = (f"Passes, in turns from touch. Measure the rise {face} over a chord of {_chord_words(chord, units)}"
             f"{', near each end and square to the wall' if cone else ''}.")
    block = lines_of(at, width, title, 1.15 * size, bold=True)
    digits = 1 if units == "mm" else 2
    unit = length_scale(units)[1]
    columns = [Column("pass", 7, 0.8), Column("left screw", 19), Column("right screw", 19),
               *([Column("end", 13, 0.6)] if cone else []), Column(f"expect rise, {unit}", 17),
               Column("soft to hard metal", 24, 0.6), Column(f"radius to mid-thickness, {unit}", 23, 0.7),
               Column("rise measured", 22, empty=True), Column("radius measured", 22, empty=True),
               Column("turns left, right, as dialled", 26, empty=True)]
    rows = []
    shown = plan.passes[:MOST_ROWS]
    for number, one in enumerate(shown, start=1):
        for place, end in enumerate(one.checks):
            over = end.over(chord)
            first = (f"{number}", turns_words(one.turns_left), turns_words(one.turns_right)) if not place else ("",) * 3
            radius = "flat" if end.released_radius > 1e5 else f"{end.released_radius / scale:.{digits}f}"
            rows.append((*first, *([end.end.partition(" ")[0]] if cone else []), f"{over.rise / scale:.{digits}f}",
                         f"{over.highest_rise / scale:.{digits}f} to {over.lowest_rise / scale:.{digits}f}", radius,
                         "", "", ""))
    blank = ("+", *[""] * (len(columns) - 1))
    rows += [blank] * (2 if len(rows) < 6 else 1)
    tall = 7.8 if len(rows) <= 6 else 6.4 if len(rows) <= 9 else 5.4
    made = table((at[0], at[1] - block.height - 0.5), width, columns, rows, 1.5 * max(size, 2.9), tall)
    block.add(made)
    block.height += made.height + 0.5
    if len(plan.passes) > MOST_ROWS:
        more = lines_of((at[0], at[1] - block.height - 0.8), width,
                        f"{len(plan.passes) - MOST_ROWS} more passes follow: see the plan itself.", size)
        block.add(more)
        block.height += more.height + 0.8
    return block


def _advice(plan: Plan, at: Pair, width: float, size: float, units: str) -> Block:
    """Return three columns: what is wrong and what helps; the way through and off the rolls; cautions, assumptions."""
    seam = plan.blank.seam
    held = () if plan.cone is None else plan.cone.cautions
    through = (groove_words(plan.machine, plan.stock), FEED, *held, seam.nip_advice if not seam.can_be_trimmed else "",
               seam.flat_end_remedy, TURN)
    columns = ((("If it comes out wrong", (*plan.corrections, TOO_TIGHT, CRANK_HARD), "•"),),
               (("Through the rolls", tuple(filter(None, through)), "•"),
                ("Take it off in this order", off_steps(plan.machine), "1")),
               (("Cautions", (*CAUTIONS, *_short(plan.warnings)), "•"), ("Assumed", assumed_words(plan, units), "•")))
    return _columns(columns, at, width, size, units)


def _reasons(plan: Plan, at: Pair, width: float, size: float, units: str) -> Block:
    """Return why there are no turns, what would pass, and what else to know."""
    columns = ((("Why no turns are given", plan.stopped, "•"),), (("Instead", (*plan.nearest, plan.fold_words), "•"),),
               (("Cautions", (*CAUTIONS, *plan.warnings), "•"), ("Assumed", assumed_words(plan, units), "•")))
    return _columns(columns, at, width, size, units)


def _columns(columns: Sequence[Sequence[tuple[str, Sequence[str], str]]], at: Pair, width: float, size: float,
             units: str) -> Block:
    """Return lists in columns side by side; the block is as tall as the tallest."""
    whole, room = Block(), (width - 2 * 4.0) / 3
    for number, parts in enumerate(columns):
        left, tall = at[0] + number * (room + 4.0), 0.0
        for title, entries, mark in parts:
            block = listed((left, at[1] - tall), room, title, [in_units(entry, units) for entry in entries], size, mark)
            whole.add(block)
            tall += block.height + 1.2
        whole.height = max(whole.height, tall)
    return whole


def _short(warnings: Sequence[str]) -> tuple[str, ...]:
    """Return the warnings that a card repeats: not those that every plan has."""
    return tuple(words for words in warnings if not words.startswith(USUAL))


def _arcs(plan: Plan, units: str) -> list[tuple[float, str]]:
    """Return the radii to lay the finished piece on, with their names."""
    end, wanted = plan.passes[-1].checks[0], [(plan.released_radius, "")]
    if plan.cone is not None:
        ends = ((-1, ", large end"), (0, ", small end"))
        wanted = [(float(plan.cone.wanted_radii[place]), name) for place, name in ends]
    face = "mid-thickness" if plan.face == "middle" else f"{plan.face} face"
    return [(end.on_face(radius), f"True size, {face}{name}: R {format_length(end.on_face(radius), units)}")
            for radius, name in wanted]


def _chord_words(chord: float, units: str) -> str:
    """Return a chord with no more digits than it has."""
    scale, unit = length_scale(units)
    return f"{chord / scale:g} {unit}"


def _foot(at: Pair, width: float, size: float) -> Block:
    """Return the lines to measure before anything on the page is trusted, and the fields to sign."""
    checks, names = check_lines((at[0], at[1] + 2.5))
    block = Block(FOOT, list(checks), list(names))
    said = "Printed at 100 %? Measure these lines."
    left, room = at[0] + 122.0, width - 122.0
    block.words.append(PaperWords((at[0], at[1] + 10.9), said, 2.6))
    for number, name in enumerate(("Date, name", "Instructor's initials")):
        block.add(field_to_fill((left, at[1] + 11.5 - 5.6 * number), room, name, 3.0))
    block.strokes.append(level((at[0], at[1] + FOOT + 1.0), width))
    return block
