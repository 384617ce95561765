"""The capacity chart: thickness against width, where the machine ends, and where the student's piece lies."""

import math
from dataclasses import replace

import numpy as np

from rollcalc.rolling import Capacity, Machine, PinchMachine, check_capacity
from rollcalc.rolling.limits.check import AT, BEYOND, LAST_WORD, WITHIN, Check
from rollcalc.rolling.limits.thickness import OUT_OF_REACH, THICKEST, ThicknessLimits, thickness_limits
from rollcalc.stock import FlatBar, Material, Sheet, format_length
from rollcalc.stock.labels import length_scale
from rollcalc.stock.quantities import plain

from ..core.marks import on_circle
from ..core.picture import Axes, Line, Mark, Pair, Picture, Points, Text
from ..metal.bend_view import piece_words

SIZE = (660, 440)
COLUMNS = 12  # widths at which the limits are worked out, crowded where the curves are steep [-]
NARROWEST = 5.0  # where the curves begin [mm]
STRIPS = 160.0  # where the chart ends for a piece less than half as wide, too near the axis in the whole [mm]


def chart_ends(machine: Machine) -> tuple[float, float]:
    """Return where the chart of a machine ends."""
    rated = machine.rated_thickness or 0.0
    return 10.0 * math.ceil(machine.working_width * 0.105), max(6.0, float(math.ceil(3 * rated)))


def capacity_view(machine: Machine, stock: Sheet | FlatBar, material: Material, inside_radius: float,
                  units: str = "mm") -> Picture:
    """Return the chart of what a machine may roll in one metal to one radius, with one piece as a point."""
    thickness, width = float(stock.thickness), float(stock.width)
    piece = piece_words(stock, material, units, yield_too=False, width_too=True)
    found = check_capacity(machine, stock, material, inside_radius + thickness / 2)
    word = str(found.word)
    right, top = chart_ends(machine)
    right = STRIPS if width < STRIPS / 2 and machine.working_width > STRIPS else right
    widths = np.append(np.geomspace(NARROWEST, min(right, machine.working_width), COLUMNS), width)
    limits = thickness_limits(machine, stock, material, inside_radius, widths)
    scale, unit = length_scale(units)
    marks = [*_areas(limits, right, top), *_names(limits, machine, right, top), *_point(width, thickness, top, right)]
    return Picture(
        " ".join((f"{word.capitalize()}. Your piece: {piece}, inside radius {format_length(inside_radius, units)}.",
                  *_reasons(found, word, machine, units), *_room(limits, machine, units), LAST_WORD)),
        [replace(mark, points=mark.points / scale) if isinstance(mark, Line)
         else replace(mark, at=(mark.at[0] / scale, mark.at[1] / scale)) for mark in marks],
        Axes(f"width along the rolls, {unit}", f"thickness, {unit}", (0, right / scale), (0, top / scale)),
        size=SIZE, alt="Chart of thickness against width, with the limits of the machine")


def _areas(limits: ThicknessLimits, right: float, top: float) -> list[Mark]:
    """Return the hatched area beyond the limits, the shaded one where to ask, and the lines between."""
    tried, above = limits.widths[:-1], 2 * top  # the last width is the piece's own
    edge = float(tried[-1])
    wide = np.geomspace(tried[0], edge, 4 * len(tried) - 3)
    over, ask, under, held = (_between(wide, tried, curve) for curve in _curves(limits, above))
    nothing, above_all, line = np.zeros_like(wide), np.full_like(wide, above), np.column_stack([wide, over])

    def area(low: Points, high: Points, role: str) -> Line:
        outline = np.concatenate([np.column_stack([wide, low]), np.column_stack([wide, high])[::-1]])
        return Line(outline, role, closed=True)

    marks: list[Mark] = [area(over, above_all, "hatch")]
    if edge < right:
        marks.append(Line([(edge, 0), (right, 0), (right, above), (edge, above)], "hatch", closed=True))
        line = np.append(line, [(edge, 0)], axis=0)
    if np.any(over > ask):
        marks += [area(ask, over, "band"), Line(np.column_stack([wide, ask]), "hidden")]
    if np.any(under > 0):
        marks += [area(nothing, under, "hatch"), Line(np.column_stack([wide, under]), "outline")]
    if np.any(held < top):
        marks.append(area(held, above_all, "roll"))
    return [*marks, Line(line, "outline")]


def _curves(limits: ThicknessLimits, above: float) -> tuple[Points, Points, Points, Points]:
    """Return the curves beyond, ask, too thin and held no more, none above another; where nothing goes they meet."""
    over, ask, under, held = (np.minimum(curve[:-1], above) for curve in (limits.thickest, limits.asking,
                                                                          limits.thinnest, limits.held))
    some = over > under
    if np.any(some) and not np.all(some):
        middle = np.sqrt(over[some] * np.maximum(under[some], 0.01))
        over[~some] = under[~some] = np.interp(np.flatnonzero(~some), np.flatnonzero(some), middle)
    return np.maximum(over, under), np.clip(ask, under, np.maximum(over, under)), under, held


def _between(wide: Points, tried: Points, curve: Points) -> Points:
    """Return a curve at more widths than were tried, as a power of the width between them; nothing stays nothing."""
    level = np.exp(np.interp(np.log(wide), np.log(tried), np.log(np.maximum(curve, 1e-9))))
    return np.where(level < 1e-3, 0.0, level)


def _names(limits: ThicknessLimits, machine: Machine, right: float, top: float) -> list[Mark]:
    """Return the names of the areas, and of the limits at the places where each is the first to be met."""
    wide, edge = limits.widths[:-1], float(limits.widths[-2])
    over, ask, under, held = _curves(limits, 2 * top)
    marks: list[Mark] = []
    if np.interp(0.7 * edge, wide, over) < 0.8 * top:
        marks.append(Text((edge, top), _area(BEYOND), "outline", "end", (-8, -44)))
        if held[-1] < top:
            marks.append(Text((edge, top), f"blue: {_loose(machine)}", "roll", "end", (-8, -62)))
    if edge < right:
        marks.append(Text((edge, 0), "ends of the rolls", "dimension", "start", (17, 60), 90))
    low = float(under[-1])
    if max(low, float(ask[-1])) > 0.07 * top and (low == 0 or low > 0.07 * top):
        marks.append(Text((edge, 0), "springs back too far" if low else _area(WITHIN), "outline", "end", (-8, 7)))
    shown, place = over < 0.65 * top, 0.68 * edge
    level = float(np.interp(place, wide, (ask + over) / 2))
    if shown[-1] and np.interp(place, wide, over - ask) > 0:
        marks += _pointer((place, level), _area(AT), (26, 34), "released")
    names, lowest = np.array(limits.binding[:-1]), -1.0
    for name in dict.fromkeys(names.tolist()):
        mine = np.flatnonzero((names == name) & shown & (over > under))
        if not name or not mine.size or wide[mine[0]] > 0.42 * edge:
            continue
        at = min(float(np.sqrt(wide[mine[0]] * wide[mine[-1]])), 0.42 * edge)
        if at > lowest + 0.2 * edge or lowest < 0:
            there = float(np.interp(at, wide, over))
            loose = name == OUT_OF_REACH and there > 0.98 * np.interp(at, wide, held)
            marks += _pointer((at, there), _loose(machine) if loose else name, (26, 30), "outline")
            lowest = at
    return marks


def _loose(machine: Machine) -> str:
    """Return why no travel holds a thick wide sheet."""
    pressed = isinstance(machine, PinchMachine) and machine.pinch_force is not None
    return "the pinch cannot hold it" if pressed else "no travel holds it"


def _pointer(at: Pair, words: str, offset: Pair, role: str) -> list[Mark]:
    """Return words with a thin arrow from them to a place of the chart."""
    line = Line([at, at], "dimension", arrows="end", offset=[offset, (0, 0)])
    return [line, Text(at, words, role, "start", (offset[0] + 3, offset[1] - 1))]


def _point(width: float, thickness: float, top: float, right: float) -> list[Mark]:
    """Return the piece as a ring with a cross, and its name above with an arrow down to it."""
    ring, here = on_circle((0, 0), 6, np.linspace(0, 2 * math.pi, 25)), (width, thickness)
    side = 1 if width < 0.7 * right else -1
    marks: list[Mark] = [
        *(Line([here] * len(offset), "sheet", offset=offset)
          for offset in (ring, [(-11, 0), (11, 0)], [(0, -11), (0, 11)])),
        Text((width, top), "your piece", "sheet", "start" if side > 0 else "end", (side * 12, -18))]
    if thickness < 0.86 * top:
        marks.append(Line([(width, top), here], "dimension", offset=[(0, -4), (0, 14)], arrows="end"))
    return marks


def _reasons(found: Capacity, word: str, machine: Machine, units: str) -> list[str]:
    """Return the check that decides, the roll that works hardest, and what could not be checked, as sentences."""
    check, stress = _shown(found.binding, units), found["roll stress"]
    reached, said = bool(np.isfinite(found.setting.travel)), []
    if (word != AT or np.any(check.exceeded)) and np.isfinite(check.ratio):  # else something unknown makes it ask
        said.append(f"{'Nearest to its limit' if word == WITHIN else 'Reason'}: {check.message}")
    if not reached and found["smallest ring"].ratio <= 1:
        harder = "pinch harder, or " if isinstance(machine, PinchMachine) else ""
        said.append(f"{_loose(machine).capitalize()}: {harder}ask for a larger radius.")
    if reached and check.name != stress.name and stress.demand > 0:
        said.append(f"R{stress.message[1:]}")
    return [*said, *found.unchecked]


def _shown(check: Check, units: str) -> Check:
    """Return a check with its lengths in the units to show."""
    scale, unit = length_scale(units)
    if check.unit != "mm":
        return check
    demand, limit, hard = (plain(np.asarray(part) / scale) for part in (check.demand, check.limit, check.hard_demand))
    return replace(check, demand=demand, limit=limit, hard_demand=hard, unit=unit)


def _area(word: str) -> str:
    """Return a word of the verdict, short enough for the chart."""
    return word.replace("the machine's ", "the ")


def _room(limits: ThicknessLimits, machine: Machine, units: str) -> list[str]:
    """Return what this width allows, as sentences."""
    over, ask, under, held = (float(curve[-1]) for curve in (limits.thickest, limits.asking, limits.thinnest,
                                                             limits.held))
    if not under < over:
        return []
    said, asks = [], []
    if ask < over:
        where = f"from {format_length(ask, units)}" if under < ask else "at any thickness"
        asks.append(f"close {where} ({limits.doubtful[-1]})")
    if math.isfinite(over):
        asks.append(f"beyond from {format_length(over, units)} ({limits.binding[-1]})")
    if asks:
        said.append(f"At this width: {', '.join(asks)}.")
    if held < THICKEST / 2:
        said.append(f"From {format_length(held, units)} {_loose(machine)}.")
    if under > 0:
        said.append(f"Below {format_length(under, units)} it springs back too far for this radius.")
    return said
