"""The drawings on a card: the blank, the rolls to scale, and arcs at true size to lay the piece on."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from rollcalc.job import Plan
from rollcalc.layout import CylinderBlank
from rollcalc.rolling import Machine, PyramidMachine, Setting, circle_radius, setting_for_travel
from rollcalc.rolling.machine.grooves import machine_for
from rollcalc.stock import InputError, RoundBar, format_length

from ..core.dimensions import dimension
from ..core.marks import centre_lines, circle, on_circle
from ..core.page import FONT_SIZE, MARGIN, page
from ..core.picture import Line, Mark, Pair, Picture, Role, Text, pair
from ..machine.circle_view import circle_sheet
from ..machine.machine_view import roll_places, view_frame
from ..machine.span_view import sheet_line
from ..patterns.true_size import PaperLine, PaperWords, Pen
from .blocks import THICK, THIN, Block
from .letters import shrunk
from .words import in_units, length

SCALES = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100)
"""By how much a drawing to scale may be smaller than the thing: round figures. [-]"""

LEAST_RISE = 1.5
"""Rise of an arc below which it tells nothing on paper. [mm]"""


def placed(picture: Picture, at: Pair, mm_per_px: float) -> Block:
    """Return a picture as lines and words on paper, its upper left corner at a place."""
    laid, (width, height) = page(picture), picture.size
    corner, flip = np.array(at), np.array([mm_per_px, -mm_per_px])
    window = (at[0], at[1] - height * mm_per_px, at[0] + width * mm_per_px, at[1])
    strokes = [PaperLine(corner + run * flip, _pen(stroke.role, mm_per_px, stroke.closed), stroke.closed, window)
               for stroke in (*laid.behind, *laid.inside) for run in stroke.runs]
    words = [PaperWords(pair(corner + np.array(text.at) * flip), text.words, FONT_SIZE * mm_per_px, text.anchor,
                        text.angle) for text in laid.words]
    return Block(height * mm_per_px, strokes, words)


def _pen(role: Role, mm_per_px: float, closed: bool) -> Pen:
    """Return the pen for a role of the pictures."""
    share = role.fill if closed else 0.0
    tint = "#" + "".join(f"{round(255 - share * (255 - int(role.colour[place : place + 2], 16))):02X}"
                         for place in (1, 3, 5))
    return Pen(role.colour, max(role.width * mm_per_px, 0.15), tuple(dash * mm_per_px for dash in role.dash),
               tint if share else "")


def blank_figure(plan: Plan, at: Pair, size: Pair, letters: float, units: str) -> Block:
    """Return the blank with its sizes, in a room of a width and a height."""
    factor = letters / FONT_SIZE
    return placed(blank_picture(plan, (round(size[0] / factor), round(size[1] / factor)), units), at, factor)


def blank_picture(plan: Plan, size: tuple[int, int], units: str) -> Picture:
    """Return the blank with its sizes on a page of a width and a height in px."""
    marks = _cylinder_marks(plan, units) if isinstance(plan.blank, CylinderBlank) else _cone_marks(plan, units)
    return Picture(in_units(plan.fold_words, units), marks, size=size, alt="The blank with its sizes")


def _cylinder_marks(plan: Plan, units: str) -> list[Mark]:
    """Return a rectangle with its folds and marks, and all its sizes."""
    blank = plan.blank
    assert isinstance(blank, CylinderBlank)
    long, width = blank.length, blank.width
    thin = width < 0.12 * long
    marks: list[Mark] = [Line(blank.outline(), "outline", closed=True),
                         *(Line(line, "hidden") for line in blank.folds()),
                         *(Line(line, "centre") for line in blank.marks()),
                         *dimension((0, 0), (long, 0), f"cut {format_length(long, units)}", -24)]
    if isinstance(plan.stock, RoundBar):
        return marks
    if thin:
        marks.append(Text((long / 2, width), f"{length(width, units)} along the rolls", "outline", "middle",
                          (0, 12)))
    else:
        marks += dimension((0, 0), (0, width), length(width, units), 22)
        marks.append(Text((long / 2, width / 2), "this way round the rolls", "outline", "middle", (0, -5)))
    said = [f"{what} {length(line, units)} from {where}" for what, lines in (
        ("fold", blank.seam.fold_lines(blank.thickness)), ("line", blank.seam.mark_lines(blank.thickness)))
        for line, where in zip(lines[-1:], ("both ends" if lines[0] else "the last edge",), strict=False) if line]
    if blank.trim:
        said.append(f"trim {length(blank.trim / 2, units)} off both ends")
    words = "; ".join(said)
    if words:
        marks.append(Text((long / 2, width), words, "outline", "middle", (0, 30 if thin else 10)))
    return marks


def _cone_marks(plan: Plan, units: str) -> list[Mark]:
    """Return a cone's blank with its folds and marks, its radii, its angle and its slant."""
    blank = plan.blank
    assert not isinstance(blank, CylinderBlank)
    pattern, flat = blank.pattern, blank.outline()
    marks: list[Mark] = [Line(flat, "outline", closed=True), *(Line(line, "hidden") for line in blank.folds()),
                         *(Line(line, "centre") for line in blank.marks()[:3])]
    edge = pattern.at([pattern.arc() / 2] * 2, [0.0, pattern.slant])
    marks += dimension(pair(edge[0]), pair(edge[1]), format_length(pattern.slant, units), -16)
    low, high = pattern.at([0.0, 0.0], [0.0, pattern.slant])
    radii = [format_length(radius, units) for radius in (pattern.outer_radius, pattern.inner_radius)] if (
        pattern.curvature) else []
    if not radii:
        return [*marks, *dimension(pair(flat[0]), pair(edge[0]), format_length(pattern.arc(), units), -24)]
    chord = pattern.at([-pattern.arc() / 2, pattern.arc() / 2], 0.0) if pattern.sector_angle < math.pi else None
    angle = f"{math.degrees(pattern.sector_angle):.1f}°"
    marks += [Text(pair(low), f"R {radii[0]}, {angle}", "outline", "middle", (0, -18)),
              Text(pair(high), f"r {radii[1]}", "outline", "middle", (0, 7))]
    if chord is not None:
        words, below = f"chord {format_length(pattern.chord(), units)}", -18 if pattern.rise() < 20 else 6
        marks += [Line(chord, "centre"), Text(pair(chord.mean(axis=0)), words, "outline", "middle", (0, below))]
    return marks


def rolls_figure(plan: Plan, at: Pair, size: Pair, letters: float) -> tuple[Block, float]:
    """Return the rolls from the crank side with the piece in its last pass, and by how much smaller it is drawn."""
    factor = letters / FONT_SIZE
    box = (round(size[0] / factor), round(size[1] / factor))
    machine, setting = _last_setting(plan)
    travel = float(setting.travel) if setting else 0.0
    depth = float(plan.stock.depth)
    left, bottom, right, top = _frame(machine, depth, travel)
    room = [factor * (side - 2 * MARGIN) for side in box]
    least = max((right - left) / room[0], (top - bottom) / room[1])
    scale = next((scale for scale in SCALES if scale >= least), least)
    middle, half = ((left + right) / 2, (bottom + top) / 2), (scale * room[0] / 2, scale * room[1] / 2)
    frame = (middle[0] - half[0], middle[1] - half[1], middle[0] + half[0], middle[1] + half[1])
    marks: list[Mark] = []
    for name, centre, diameter in roll_places(machine, depth, travel):
        marks += [*circle(centre, diameter / 2, "outline"), *centre_lines(centre, diameter / 2, beyond=3.0)]
        side = 1 if centre[0] > 0 else -1
        marks.append(Text((centre[0] + side * diameter / 2, centre[1]), name, "outline",
                          "start" if side > 0 else "end", (7 * side, -5)))
    if setting is None:
        marks.append(Line([(frame[0], 0.0), (frame[2], 0.0)], "sheet"))
    elif isinstance(machine, PyramidMachine):
        marks += circle_sheet(machine, depth, travel, float(circle_radius(machine, plan.stock, travel)))[::2]
    else:
        marks.append(Line(sheet_line(setting), "sheet"))
    return placed(Picture("The rolls.", marks, size=box, alt="Rolls", frame=frame), at, factor), float(scale)


def _frame(machine: Machine, depth: float, travel: float) -> tuple[float, float, float, float]:
    """Return the window of the rolls, with a little room around them."""
    places = roll_places(machine, depth, travel)
    left, bottom = (min(centre[axis] - diameter / 2 for _, centre, diameter in places) for axis in (0, 1))
    right, top = (max(centre[axis] + diameter / 2 for _, centre, diameter in places) for axis in (0, 1))
    return left, bottom, right, max(top, min(view_frame(machine)[3], top + 0.15 * (top - bottom)))


def _last_setting(plan: Plan) -> tuple[Machine, Setting | None]:
    """Return the machine as the stock meets it, and its setting in the last pass, of a cone at its small end."""
    try:
        machine = machine_for(plan.machine, plan.stock)
    except InputError:  # no groove takes the bar
        return plan.machine, None
    if not plan.passes:
        return machine, None
    end = plan.passes[-1].checks[-1]
    entering = plan.passes[-2].checks[-1].released_radius if len(plan.passes) > 1 else math.inf
    travel = end.travel
    return machine, setting_for_travel(machine, plan.stock, plan.material, travel, entering_radius=entering)


def arcs_figure(at: Pair, size: Pair, arcs: Sequence[tuple[float, str]], chord: float, letters: float) -> Block:
    """Return arcs at true size, each under the other, their names within, and ticks where the chord ends; an arc of
    which too little fits is only named.
    """
    block, gap, names = Block(size[1]), 1.4 * letters, []
    for number, (radius, name) in enumerate(arcs):
        tall = size[1] - 0.5 - gap * number
        half = min(math.acos(max(1 - tall / radius, -1.0)), math.asin(min(1.0, size[0] / 2 / radius)), 1.2)
        if radius * (1 - math.cos(half)) < LEAST_RISE:
            names.append(f"{name}: too flat for this page, go by the rise")
            continue
        names.append(name)
        middle = (at[0] + size[0] / 2, at[1] - 0.5 - gap * number - radius)
        block.strokes.append(PaperLine(on_circle(middle, radius, math.pi / 2 + np.linspace(-half, half, 181)), THICK))
        reach = math.asin(min(1.0, chord / 2 / radius))
        for side in (-1, 1) if reach <= half + 1e-9 else ():
            (tick,) = on_circle(middle, radius, np.array([math.pi / 2 + side * reach]))
            block.strokes.append(PaperLine(tick + np.array([(0, 2.0), (0, -2.0)]), THIN))
    words = (*names, "Lay the piece on the line; the ticks stand a chord apart.")
    for number, line in enumerate(words):
        foot = at[0] + size[0] / 2, at[1] - size[1] + 0.6 + 1.3 * letters * (len(words) - 1 - number)
        block.words.append(PaperWords(foot, line, shrunk(line, 0.5 * size[0], letters), "middle"))
    return block
