"""The side view of the sheet as it really lies between the rolls, with the circle everybody assumes."""

import math

import numpy as np

from rollcalc.rolling import PinchMachine, Setting, circle_radius, setting_for_travel, span_shape
from rollcalc.stock import Material, Stock, format_length

from ..core.marks import arc, bent_line
from ..core.picture import Line, Mark, Pair, Picture, Points, Text
from .circle_view import circle_sentence
from .machine_view import SIZE, roll_places, rolls, travel_dimension, view_frame

FURTHEST = 1e5  # a released radius above this is drawn and told as flat [mm]
TURNED = (1.45 * math.pi, 0.85 * math.pi)
"""How far a ring is drawn around: one that fits stays off the sheet that enters, another does not come back. [rad]"""


def span_view(machine: PinchMachine, stock: Stock, material: Material, travel: float, units: str = "mm") -> Picture:
    """Return the sheet between the rolls and behind them, and the circle that is usually assumed."""
    setting = setting_for_travel(machine, stock, material, travel)
    circle, depth = float(circle_radius(machine, stock, travel)), float(stock.depth)
    down, around = -math.pi / 2, min(2 * math.pi, 800 / circle)
    marks: list[Mark] = [
        *rolls(machine, depth, travel), *travel_dimension(machine, depth, travel, units),
        *(() if math.isinf(circle) else  # the assumed circle touches the sheet line in the nip
          arc((0, circle), circle, down - around / 6, down + 5 * around / 6, "loaded", points=240)),
        Line(sheet_line(setting), "sheet"), *_key(setting, circle, view_frame(machine)[:2], units)]
    return Picture(
        f"{travel / machine.screw_pitch:.2f} turns of the screws, {format_length(travel, units)} of travel. "
        f"{circle_sentence(circle, units, 'The bending roll just touches')} {_sheet_words(setting, units)}",
        marks, size=SIZE, alt="Side view of the sheet between the rolls, and the circle", frame=view_frame(machine))


def sheet_line(setting: Setting) -> Points:
    """Return the sheet's middle line through the machine: flat, bent between the rolls, released behind them."""
    left, _, right, top = view_frame(setting.machine)
    left, right = left - 20, right + 20
    if not float(setting.bending_roll_force) > 0:
        return _lying_loose(setting, left, right)
    shape = span_shape(setting)
    first, last = shape.slope[0], shape.slope[-1]
    start = np.array([(left, shape.y[0] + (left - shape.x[0]) * math.tan(first))])
    radius = float(setting.released_radius)
    turned = TURNED[0] if 2 * radius < top + 10 else TURNED[1]
    along = np.linspace(0, min(3 * right, turned * radius), 121)[1:]
    behind = bent_line(along, radius, (shape.x[-1], shape.y[-1]), last)
    return np.concatenate([start, np.column_stack([shape.x, shape.y]), behind])


def _lying_loose(setting: Setting, left: float, right: float) -> Points:
    """Return the straight line of a sheet that rests on lower and bending roll, and that nothing bends."""
    lower, bending = roll_places(setting.machine, float(setting.stock.depth), float(setting.travel))[1:]
    (x, y), (x2, y2) = lower[1], bending[1]
    first, second = (place[2] / 2 + float(setting.stock.depth) / 2 for place in (lower, bending))
    slope = math.atan2(y2 - y, x2 - x) - math.asin((first - second) / math.hypot(x2 - x, y2 - y))
    start = np.array([x - first * math.sin(slope), y + first * math.cos(slope)])
    ends = np.array([[left], [right]]) - start[0]
    line: Points = start + ends * np.array([1.0, math.tan(slope)])
    return line


def _key(setting: Setting, circle: float, corner: Pair, units: str) -> list[Mark]:
    """Return what the two lines are, in the corner that the lines never reach."""
    released, held = float(setting.released_radius), float(setting.loaded_radius)
    bent = ["sheet:", f"{_radius(held, units)} in the nip", f"{_radius(released, units)} let go"]
    sheet = bent if math.isfinite(held) else ["sheet: flat"]
    round_line = [] if math.isinf(circle) else ["circle:", f"R {format_length(circle, units)}"]
    marks: list[Mark] = []
    down = 18.0 * (len(sheet) + len(round_line)) + 4
    for role, rows in (("sheet", sheet), ("loaded", round_line)):
        for number, words in enumerate(rows):
            down -= 18.0
            if not number:
                marks.append(Line([corner, corner], role, offset=[(-28, down + 5), (-2, down + 5)]))
            marks.append(Text(corner, words, role, "start", (-28 if number else 6, down)))
        down -= 4
    return marks


def _radius(radius: float, units: str) -> str:
    """Return a radius as a label, or the word for none."""
    return f"R {format_length(radius, units)}" if radius < FURTHEST else "flat"


def _sheet_words(setting: Setting, units: str) -> str:
    """Return what the sheet does, as a sentence."""
    if math.isinf(setting.loaded_radius):
        return "Nothing bends."
    held = f"The sheet is bent to {format_length(float(setting.loaded_radius), units)} in the nip, "
    if setting.released_radius > FURTHEST:
        return held + "has not yielded there, and leaves the rolls flat."
    left = format_length(float(setting.released_radius), units)
    return f"{held}opens all the way to the bending roll, and leaves it at {left}."
