"""A plan as the job panel shows it: verdict, checks, blank and passes, as pieces of a web page."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from html import escape

from rollcalc.drawing import svg_text
from rollcalc.drawing.card.figures import blank_picture
from rollcalc.drawing.card.page import USUAL, card_chord
from rollcalc.drawing.card.words import in_units, piece_words, title_words
from rollcalc.job import CheckRadius, Plan, PlannedPass
from rollcalc.job.plans.words import BEFORE, CAUTIONS, CRANK_HARD, TOO_TIGHT, turns_words
from rollcalc.layout import CylinderBlank
from rollcalc.rolling import Check
from rollcalc.rolling.limits.check import AT, LAST_WORD, WITHIN
from rollcalc.stock import format_length

SIGNS = {WITHIN: ("✓", "within"), AT: ("!", "close")}
"""Verdict -> its sign and how it looks; everything else is a cross."""

BLANK_SIZE, THIN_SIZE = (620, 250), (620, 110)
"""Width and height of the picture of the blank, and of one that is much longer than wide. [px]"""


def verdict_html(plan: Plan, units: str) -> str:
    """Return the verdict in large words with a sign, what it is for, and why not, if not."""
    sign, look = SIGNS.get(plan.verdict, ("✕", "beyond"))
    said = f"{title_words(plan, units)}. {piece_words(plan, units)}."
    reasons = "".join(f"<li{kind}>{escape(in_units(words, units))}</li>" for kind, entries in (
        (' class="rollcalc-stop"', plan.stopped), ("", plan.nearest)) for words in entries)
    minded = [in_units(words, units) for words in plan.warnings if not words.startswith(USUAL)]
    return (f'<p class="rollcalc-verdict rollcalc-{look}"><span aria-hidden="true">{sign}</span> '
            f"{escape(plan.verdict.capitalize())}</p><p>{escape(said)} {escape(f'As far as checked. {LAST_WORD}')}</p>"
            + (f'<ul class="rollcalc-why">{reasons}</ul>' if reasons else "") + (_listed(minded) if minded else ""))


def checks_html(plan: Plan, units: str) -> str:
    """Return a table with a bar for each check, what counts first and the nearest to its limit on top."""
    known = {check.name for check in plan.capacity.checks}
    tilted = [replace(check, name=f"{check.name}, rolls tilted") if check.name in known else check
              for check in (plan.cone.checks if plan.cone else ())]
    rows = "".join(_check_row(check, units) for check in sorted((*plan.capacity.checks, *tilted), key=_weight))
    head = "".join(f'<th scope="col">{words}</th>' for words in ("check", "this job", "limit", "share"))
    return f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"


def _weight(check: Check) -> tuple[bool, float]:
    """Return what checks are sorted by."""
    return check.counts == 0, -check.share


def _check_row(check: Check, units: str) -> str:
    """Return the row of a check; its bar says nothing that the number beside it does not."""
    name, demand, limit, share = (in_units(cell, units) for cell in check.row)
    over = check.share > 1
    filled = min(check.share, 1.0) if check.share >= 0 else 0.0
    word = " only compared" if not check.counts else " over" if over else ""
    bar = (f'<span class="rollcalc-bar{" rollcalc-over" if over and check.counts else ""}" aria-hidden="true">'
           f'<span style="width:{filled:.0%}"></span></span>')
    return (f'<tr><th scope="row">{escape(name.removesuffix(" (only compared)"))}</th><td>{escape(demand)}</td>'
            f"<td>{escape(limit)}</td><td>{bar}{escape(share)}{word}</td></tr>")


def blank_html(plan: Plan, units: str) -> str:
    """Return what to cut and where to fold, in words and drawn."""
    blank = plan.blank
    thin = isinstance(blank, CylinderBlank) and blank.width < 0.12 * blank.length
    picture = blank_picture(plan, THIN_SIZE if thin else BLANK_SIZE, units)
    return f'<p>{escape(picture.sentence)}</p><div class="rollcalc-picture">{svg_text(picture)}</div>'


def notes_html(plan: Plan, units: str) -> str:
    """Return everything else to know, in the order of the work."""
    minded = (words for words in plan.warnings if not words.startswith(USUAL))
    left_out = (*plan.stopped, *plan.nearest, *minded, plan.fold_words, *plan.corrections, TOO_TIGHT, CRANK_HARD,
                *CAUTIONS)
    return _listed(in_units(note, units) for note in plan.notes if note not in left_out)


def before_html(plan: Plan) -> str:
    """Return what to look at before the crank is turned; nothing where nothing is to be rolled."""
    return _listed(BEFORE) if plan.passes else ""


def wrong_html(plan: Plan, units: str) -> str:
    """Return what to do when a pass comes out wrong, and the cautions."""
    wrong = (*plan.corrections, TOO_TIGHT, CRANK_HARD) if plan.passes else ()
    return _listed(in_units(note, units) for note in (*wrong, *CAUTIONS))


def _listed(entries: Iterable[str]) -> str:
    """Return sentences as a list."""
    return f"<ul>{''.join(f'<li>{escape(words)}</li>' for words in entries)}</ul>"


def measure_words(plan: Plan, units: str) -> str:
    """Return on which face and over which chord to measure, and where."""
    where = "in mid-thickness" if plan.face == "middle" else f"on the {plan.face} face"
    line = "" if plan.cone is None else ", close to each end and square to the wall"
    return f"Measure the rise {where} over a chord of {chord_words(plan, units)}{line}."


def chord_words(plan: Plan, units: str) -> str:
    """Return the chord to measure over, the card's."""
    chord = card_chord(plan, units)
    return f"{chord:g} mm" if units == "mm" else f"{chord / 25.4:g} in"


def pass_head(plan: Plan) -> list[str]:
    """Return the heads of the columns of the passes."""
    turns = ["left screw", "right screw"] if plan.cone else ["turns, both screws"]
    ends = [end.end for end in plan.passes[0].checks]
    columns = [f"{what}{f', {end}' if end else ''}" for what in
               ("rise to expect (soft to hard metal)", "radius to expect, mid-thickness") for end in ends]
    return ["pass", *turns, *columns, "what to do"]


def pass_cells(plan: Plan, number: int, units: str) -> list[str]:
    """Return the row of a planned pass: which, turns, what to expect, what to do."""
    one = plan.passes[number]
    before = plan.passes[number - 1] if number else None
    turns = [turns_words(one.turns_left), *([turns_words(one.turns_right)] if plan.cone else [])]
    return [f"{number + 1}", *turns, *expected_cells([end.over(card_chord(plan, units)) for end in one.checks], units),
            _do_words(one, before, last=number == len(plan.passes) - 1)]


def expected_cells(ends: Sequence[CheckRadius], units: str) -> list[str]:
    """Return the rise with its band, then the radius, that a pass should give, at each place."""
    rises = []
    for end in ends:
        low, high = (rise_words(rise, units).partition(" ")[0] for rise in (end.lowest_rise, end.highest_rise))
        rises.append(rise_words(end.rise, units) + (f" ({high} to {low})" if low != high else ""))
    return [*rises, *(radius_words(end.released_radius, units) for end in ends)]


def radius_words(radius: float, units: str) -> str:
    """Return a radius, or that a piece is as good as flat."""
    return format_length(radius, units) if math.isfinite(radius) and radius < 1e5 else "flat"


def rise_words(rise: float, units: str) -> str:
    """Return a rise as a rule shows it."""
    return format_length(rise, units, digits=1 if units == "mm" else 3)


def _do_words(one: PlannedPass, before: PlannedPass | None, last: bool) -> str:
    """Return what a pass asks of the hands, in a few words."""
    if before is None:
        return "From touch: set, feed once through, measure."
    further = [(now - then) for now, then in ((one.turns_left, before.turns_left),
                                              (one.turns_right, before.turns_right))]
    how = (f"{turns_words(further[0])} further" if further[0] == further[1] else
           f"{turns_words(further[0])} and {turns_words(further[1])} further")
    return f"{how}, feed once, measure{', stop when the rise is there' if last else ''}."
