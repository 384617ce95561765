"""The graph of a bend from spring to hinge: its moment, and the two moments it is measured by."""

import numpy as np

from rollcalc.bending import bending_moment, plastic_moment, yield_curvature, yield_moment
from rollcalc.stock import Material, Stock, format_length

from ..core.picture import Axes, Line, Mark, Picture, Text
from .bend_view import piece_words

LEVER = 100.0  # from the jaws of a vice to the hand that pushes the piece over [mm]


def hinge_picture(stock: Stock, material: Material, loaded_radius: float, units: str = "mm") -> Picture:
    """Return the moment of a bend that gets tighter, between the first yield and the full plastic moment."""
    held, first = 1000 / loaded_radius, 1000 * float(yield_curvature(stock, material))  # curvatures in 1/m
    at_yield, at_most = (float(moment(stock, material)) / 1000 for moment in (yield_moment, plastic_moment))  # N m
    end = 1.15 * max(held, 5 * first)
    curvature = np.unique([*np.linspace(0, end, 120), first])
    moment = np.asarray(bending_moment(stock, material, curvature / 1000)) / 1000
    now = float(np.interp(held, curvature, moment))
    top = 1.25 * max(at_most, moment[-1])
    side, offset = ("end", (-4, 8)) if held > first else ("start", (10, -5))  # clear of the curve
    room = 5 if moment[-1] > 1.5 * at_most else -18
    marks: list[Mark] = [
        *(Line([(0, level), (end, level)], "hidden") for level in (at_yield, at_most)),
        Line([(held, 0), (held, now)], "hidden"),
        Line([(0, 0), (2 * first, 2 * at_yield)], "guide"),
        Line(np.column_stack([curvature, moment]), "loaded"),
        Text((end, at_yield), f"first yield: {at_yield:.3g} N m", "outline", "end", (-6, -18)),
        Text((end, at_most), f"right through: {at_most:.3g} N m", "outline", "end", (-6, room)),
        Text((held, now), "held", "loaded", side, offset)]
    return Picture(
        _sentence(stock, material, loaded_radius, units, now), marks,
        Axes("curvature, 1/m", "bending moment, N m", (0, end), (0, top)), size=(640, 380),
        alt="Graph of bending moment against curvature, with first yield and full plastic moment")


def _sentence(stock: Stock, material: Material, radius: float, units: str, now: float) -> str:
    """Return the two moments as pushes of a hand, and what the bend asks for now. [now in N m]"""
    at_yield, at_most = (float(moment(stock, material)) for moment in (yield_moment, plastic_moment))
    return (f"{piece_words(stock, material, units, width_too=True)}: it begins to stay bent at a radius of "
            f"{format_length(1 / float(yield_curvature(stock, material)), units)}, under a push of "
            f"{at_yield / LEVER:.1f} N, {format_length(LEVER, units)} above a vice. Bent right through, without "
            f"hardening, it would take {at_most / LEVER:.1f} N, {at_most / at_yield:.2f} times the first push. Held at "
            f"{format_length(radius, units)} it takes {1000 * now / LEVER:.1f} N, {1000 * now / at_yield:.2f} times "
            "the first.")
