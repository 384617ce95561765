"""Graphs of bending: moment against curvature, stress through the thickness, and the band of doubt."""

import numpy as np

from rollcalc.bending import (bending_moment, loaded_stress, released_curvature, residual_stress, springback_band,
                              yield_curvature)
from rollcalc.stock import Material, Sheet, Stock, format_length

from ..core.picture import Axes, Line, Mark, Picture, Points, Text, pair
from .bend_view import piece_words

ROOM = 0.16  # share of an axis that the longest label along it needs [-]


def moment_picture(stock: Stock, material: Material, loaded_radius: float, units: str = "mm") -> Picture:
    """Return the moment–curvature curve with the way up, the way down, what springs back and what stays."""
    held = 1000 / loaded_radius  # curvatures in 1/m from here on
    stays = float(released_curvature(stock, material, held / 1000)) * 1000
    first = float(yield_curvature(stock, material)) * 1000
    end = 1.15 * max(held, 1.2 * first)
    up = _curve(stock, material, np.unique([*np.linspace(0, held, 60), min(first, held)]))
    beyond = _curve(stock, material, np.linspace(held, end, 30))
    top, level = float(up[-1, 1]), 1.14 * float(beyond[-1, 1])
    side, offset = ("end", (-12, 0)) if held - stays < ROOM * end else ("start", (10, -16))  # left of a steep line
    marks: list[Mark] = [
        Line(beyond, "guide"), Line(up, "loaded", arrows="end"),
        Line([(held, top), (stays, 0)], "released", arrows="end"),
        *(Line([(x, 0), (x, level)], "hidden") for x in (held, stays)),
        Text((held, top), "held", "loaded", "start", (8, -18)),
        Text(((held + stays) / 2, top / 2), "let go", "released", side, offset),
        *_share_of_curvature(stays, held, end, level)]
    percent, sheet = 100 * (held - stays) / held, isinstance(stock, Sheet)  # whose moment grows with its width
    return Picture(
        f"{piece_words(stock, material, units, width_too=sheet)}{',' if sheet else ''} takes {top:.3g} N m to hold at "
        f"a radius of {format_length(loaded_radius, units)}. Let go, it follows the straight line down: "
        f"{percent:.0f} % of its curvature springs back and {100 - percent:.0f} % stays.",
        marks, Axes("curvature, 1/m", "bending moment, N m", (0, end), (0, 1.14 * level)), size=(640, 380),
        alt="Graph of bending moment against curvature")


def stress_picture(stock: Stock, material: Material, loaded_radius: float) -> Picture:
    """Return the stress through the thickness, while held and after letting go."""
    half, held = float(stock.depth) / 2, 1 / loaded_radius
    core = min(half, half * float(yield_curvature(stock, material)) / held)
    height = np.array([-half, -core, 0, core, half])
    loaded = np.asarray(loaded_stress(stock, material, held, height))
    left = np.asarray(residual_stress(stock, material, held, height))
    limit = 1.35 * float(loaded.max())
    marks: list[Mark] = [
        Line([(0, -half), (0, half)], "guide"), Line(np.column_stack([loaded, height]), "loaded"),
        Line(np.column_stack([left, height]), "released"),
        *(Line([(-limit, y), (limit, y)], "outline") for y in (half, -half)),
        Text((float(loaded[-1]), half), "held", "loaded", "middle", (0, 8)),
        Text((float(left[-1]), half), "let go", "released", "middle", (0, 8)),
        Text((-limit, half), "outside of the bend", "outline", "start", (6, 8)),
        Text((-limit, -half), "inside of the bend", "outline", "start", (6, -18))]
    return Picture(
        f"While held, the metal carries up to {loaded.max():.0f} MPa, and all of it yields but the middle "
        f"{2 * core:.2f} mm. Let go, {abs(left[-1]):.0f} MPa stays locked in at the surface, pushing the other way.",
        marks,
        Axes("stress along the sheet, MPa (pull to the right, push to the left)", "height in the sheet, mm",
             (-limit, limit), (-1.35 * half, 1.35 * half)),
        size=(640, 380), alt="Graph of stress through the thickness")


def band_picture(stock: Stock, material: Material, tolerance: float = 0.0, longest: float = 150.0) -> Picture:
    """Return released against loaded radius, with the band that yield range and thickness allow."""
    radii = np.linspace(20, longest, 80)
    band = springback_band(stock, material, radii, tolerance)
    low, nominal, high = (np.column_stack([radii, np.minimum(side, 1e4)])
                          for side in (band.low, band.nominal, band.high))
    top, place = 3 * longest, 50
    marks: list[Mark] = [
        Line(np.concatenate([low, high[::-1]]), "band", closed=True), Line([(20, 20), (longest, longest)], "guide"),
        Line(nominal, "released"), Text((longest, longest), "no springback", "guide", "start", (8, -5)),
        Text(pair(low[-1]), "weak, thick", "released", "start", (8, -5)),
        Text(pair(nominal[-1]), "middle of the range", "released", "start", (8, -5)),
        Text(pair(high[place]), "strong, thin", "released", "end", (-8, 6))]
    at = springback_band(stock, material, 90.0, tolerance)
    return Picture(
        f"Hold {piece_words(stock, material, 'mm', yield_too=False)} at a radius of 90 mm and it opens to anything "
        f"from {at.low:.0f} to {at.high:.0f} mm. The larger the radius, the wider the doubt.",
        marks, Axes("radius while held, mm", "radius after letting go, mm", (20, 1.4 * longest), (0, top)),
        alt="Graph of released radius against loaded radius")


def _share_of_curvature(stays: float, held: float, end: float, level: float) -> list[Mark]:
    """Return two measured stretches along the top of the graph: what stays, what springs back."""
    marks: list[Mark] = []
    for left, right, words in ((0.0, stays, "stays"), (stays, held, "springs back")):
        if right <= left:
            continue
        wide, at_start = right - left > ROOM * end, left < ROOM * end
        at, side = ((left + right) / 2, "middle") if wide else (left, "start") if at_start else (right, "end")
        arrows = "both" if right - left > 0.06 * end else ""
        shift = {"middle": 0.0, "start": 4.0, "end": -4.0}[side]
        marks += [Line([(left, level), (right, level)], "dimension", arrows=arrows),
                  Text((at, level), words, "dimension", side, (shift, 5))]
    return marks


def _curve(stock: Stock, material: Material, curvature: Points) -> Points:
    """Return points of the moment curve in 1/m and N m."""
    return np.column_stack([curvature, np.asarray(bending_moment(stock, material, curvature / 1000)) / 1000])
