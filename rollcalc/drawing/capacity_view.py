"""The capacity chart: thickness against width, where the machine ends, and where the student's piece lies."""

from __future__ import annotations

import math

import numpy as np

from rollcalc.rolling import Capacity, Machine, check_capacity
from rollcalc.rolling.checks import AT, BEYOND, LAST_WORD, WITHIN
from rollcalc.rolling.thickness_limits import ThicknessLimits, thickness_limits
from rollcalc.stock import FlatBar, Material, Sheet, format_length, length_scale

from .bend_view import piece_words
from .picture import Axes, Line, Mark, Picture, Points, Text

SIZE = (660, 440)
COLUMNS = 12
"""Widths at which the limits are worked out, crowded where the curves are steep. [-]"""
NARROWEST = 5.0
"""Where the curves begin. [mm]"""
STRIPS = 160.0
"""Where the chart ends for a piece less than half as wide, which would stand too near the axis in the whole. [mm]"""


def chart_ends(machine: Machine) -> tuple[float, float]:
    """Return where the chart of a machine ends.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.

    Returns
    -------
    ends : tuple of float
        Largest width, beyond the ends of the rolls, and largest thickness. [mm]

    Notes
    -----
    Validity: rolls longer than 100 mm.

    Examples
    --------
    >>> from rollcalc.rolling import DEMO_MACHINE
    >>> chart_ends(DEMO_MACHINE)
    (800.0, 6.0)
    """
    rated = machine.rated_thickness or 0.0
    return 10.0 * math.ceil(machine.working_width * 0.105), max(6.0, float(math.ceil(3 * rated)))


def capacity_view(machine: Machine, stock: Sheet | FlatBar, material: Material, inside_radius: float,
                  units: str = "mm") -> Picture:  # fmt: skip
    """Return the chart of what a machine may roll in one metal to one radius, with one piece as a point.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    stock : Sheet or FlatBar
        The piece; its kind holds for the whole chart.
    material : Material
        The metal.
    inside_radius : float
        Wanted radius after release, to the inside. [mm]
    units : str
        "mm" or "inch".

    Returns
    -------
    picture : Picture
        A graph of thickness against width: what is beyond the plate is hatched, where to ask is shaded.

    Raises
    ------
    InputError
        If a number makes no sense.

    Notes
    -----
    Validity: as `check_capacity`, stock at the middle of the rolls.

    Examples
    --------
    >>> from rollcalc.rolling import DEMO_MACHINE
    >>> from rollcalc.stock import MATERIALS
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> capacity_view(DEMO_MACHINE, Sheet(0.76, 240), steel, 90).alt
    'Chart of thickness against width, with the limits of the machine'
    """
    thickness, width = float(stock.thickness), float(stock.width)
    piece = f"{piece_words(stock, material, units, yield_too=False)}, {format_length(width, units)} wide"
    found = check_capacity(machine, stock, material, inside_radius + thickness / 2)
    word = str(found.word)
    right, top = chart_ends(machine)
    right = STRIPS if width < STRIPS / 2 and machine.working_width > STRIPS else right
    edge = min(right, machine.working_width)
    widths = np.append(np.geomspace(NARROWEST, edge, COLUMNS), width)
    limits = thickness_limits(machine, stock, material, inside_radius, widths)
    scale, unit = length_scale(units)
    marks: list[Mark] = [
        *_areas(limits, right, top, scale),
        *_names(limits, right, top, scale),
        *_point(width / scale, thickness / scale, top / scale, right / scale),
    ]
    return Picture(
        " ".join((f"{word.capitalize()}. Your piece: {piece}, inside radius {format_length(inside_radius, units)}.",
                  *_reasons(found, word), *_room(limits, units), f"{LAST_WORD.capitalize()}.")),
        tuple(marks),
        axes=Axes(f"width along the rolls, {unit}", f"thickness, {unit}", (0, right / scale), (0, top / scale)),
        size=SIZE,
        alt="Chart of thickness against width, with the limits of the machine",
    )  # fmt: skip


def _areas(limits: ThicknessLimits, right: float, top: float, scale: float) -> list[Mark]:
    """Return the hatched area beyond the limits, the shaded one where to ask, and the lines between."""
    tried, above = limits.widths[:-1], 2 * top  # the last width is the piece's own
    edge = float(tried[-1])
    wide = np.geomspace(tried[0], edge, 4 * len(tried) - 3)
    over, ask, under = (_between(wide, tried, np.minimum(curve[:-1], above))
                        for curve in (limits.thickest, limits.asking, limits.thinnest))  # fmt: skip
    over, ask = np.maximum(over, under), np.maximum(ask, under)
    marks: list[Mark] = [
        Line(_closed(wide, over, np.full_like(wide, above)) / scale, "hatch", closed=True),
    ]
    if edge < right:
        beside = np.array([(edge, 0), (right, 0), (right, above), (edge, above)])
        marks.append(Line(beside / scale, "hatch", closed=True))
    if np.any(over > ask):
        marks += [Line(_closed(wide, ask, over) / scale, "band", closed=True),
                  Line(np.column_stack([wide, ask]) / scale, "hidden")]  # fmt: skip
    if np.any(under > 0):
        marks += [Line(_closed(wide, np.zeros_like(wide), under) / scale, "hatch", closed=True),
                  Line(np.column_stack([wide, under]) / scale, "outline")]  # fmt: skip
    line = np.column_stack([wide, over])
    marks.append(Line((np.append(line, [(edge, 0)], axis=0) if edge < right else line) / scale, "outline"))
    return marks


def _between(wide: Points, tried: Points, curve: Points) -> Points:
    """Return a curve at more widths than were tried, as a power of the width between them; nothing stays nothing."""
    level = np.exp(np.interp(np.log(wide), np.log(tried), np.log(np.maximum(curve, 1e-9))))
    return np.where(level < 1e-3, 0.0, level)


def _closed(wide: Points, low: Points, high: Points) -> Points:
    """Return the outline of the area between two curves."""
    return np.concatenate([np.column_stack([wide, low]), np.column_stack([wide, high])[::-1]])


def _names(limits: ThicknessLimits, right: float, top: float, scale: float) -> list[Mark]:
    """Return the names of the areas, and of the limits at the places where each is the first to be met."""
    wide, over, ask = limits.widths[:-1], limits.thickest[:-1], limits.asking[:-1]
    edge = float(wide[-1])
    marks: list[Mark] = []
    if np.interp(0.7 * edge, wide, over) < 0.8 * top:
        marks.append(Text((edge / scale, top / scale), BEYOND, "outline", "end", (-8, -44)))
    if edge < right:
        marks.append(Text((edge / scale, 0), "ends of the rolls", "dimension", "start", (17, 60), 90))
    low = float(limits.thinnest[-2])
    if max(low, float(ask[-1])) > 0.07 * top and (low == 0 or low > 0.07 * top):
        words = "springs back too far" if low else WITHIN
        marks.append(Text((edge / scale, 0), words, "outline", "end", (-8, 7)))
    shown = over < 0.65 * top
    place = 0.68 * edge
    level = float(np.interp(place, wide, (ask + over) / 2))
    between = np.where(np.isfinite(over), over, 2 * top) - np.where(np.isfinite(ask), ask, 2 * top)
    if shown[-1] and ask[-1] > low and np.interp(place, wide, between) > 0:
        marks += _pointer((place, level), AT, (26, 34), "released", scale)
    names, lowest = limits.binding[:-1], -1.0
    for name in dict.fromkeys(names):
        mine = np.flatnonzero([name == one and low for one, low in zip(names, shown, strict=True)])
        if not name or not mine.size:
            continue
        at = min(float(np.sqrt(wide[mine[0]] * wide[mine[-1]])), 0.42 * edge)
        if at > lowest + 0.2 * edge or lowest < 0:
            marks += _pointer((at, float(np.interp(at, wide, over))), name, (26, 30), "outline", scale)
            lowest = at
    return marks


def _pointer(at: tuple[float, float], words: str, offset: tuple[float, float], role: str, scale: float) -> list[Mark]:
    """Return words with a thin arrow from them to a place of the chart."""
    place, (x, y) = (at[0] / scale, at[1] / scale), offset
    line = Line([place, place], "dimension", arrows="end", offset=[offset, (0, 0)])
    return [line, Text(place, words, role, "start", (x + 3, y - 1))]


def _point(width: float, thickness: float, top: float, right: float) -> list[Mark]:
    """Return the piece as a ring with a cross, and its name above with an arrow down to it."""
    turn = np.linspace(0, 2 * math.pi, 25)
    ring = 6 * np.column_stack([np.cos(turn), np.sin(turn)])
    here = (width, thickness)
    side = 1 if width < 0.7 * right else -1
    marks: list[Mark] = [
        Line([here] * 25, "sheet", offset=ring),
        Line([here, here], "sheet", offset=[(-11, 0), (11, 0)]),
        Line([here, here], "sheet", offset=[(0, -11), (0, 11)]),
        Text((width, top), "your piece", "sheet", "start" if side > 0 else "end", (side * 12, -18)),
    ]
    if thickness < 0.86 * top:
        marks.append(Line([(width, top), here], "dimension", offset=[(0, -4), (0, 14)], arrows="end"))
    return marks


def _reasons(found: Capacity, word: str) -> list[str]:
    """Return the check that decides and what could not be checked, as sentences."""
    check = found.binding
    if word == AT and not np.any(check.passed):  # only something unknown makes it ask
        return list(found.unchecked)
    first = "Nearest to its limit" if word == WITHIN else "Reason"
    return [f"{first}: {check.message.replace(': ', ', ', 1)}", *found.unchecked]


def _room(limits: ThicknessLimits, units: str) -> list[str]:
    """Return what this width allows, as sentences."""
    over, ask, under = (float(curve[-1]) for curve in (limits.thickest, limits.asking, limits.thinnest))
    if not under < over:
        return []
    said = []
    if math.isfinite(over):
        asked = f"ask from {format_length(ask, units)}, " if under < ask < over else ""
        said.append(f"At this width: {asked}beyond from {format_length(over, units)}.")
    if under > 0:
        said.append(f"Below {format_length(under, units)} it springs back too far for this radius.")
    return said
