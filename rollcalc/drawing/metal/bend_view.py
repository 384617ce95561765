"""The side view of a bent piece: as the rolls hold it, as it opens when let go, and how sure that is."""

import math

import numpy as np

from rollcalc.bending import springback_band
from rollcalc.stock import FlatBar, Material, RoundBar, Sheet, Stock, format_length

from ..core.marks import bent_line, strip
from ..core.picture import Line, Mark, Pair, Picture, Points, Text, pair

PIECE = 80.0  # length of the piece in the side view [mm]


def side_view(stock: Stock, material: Material, loaded_radius: float, units: str = "mm") -> Picture:
    """Return a piece seen from its edge: as the rolls hold it, as it opens, and how sure that is."""
    band = springback_band(stock, material, loaded_radius)
    low, middle, high = float(band.low), float(band.nominal), float(band.high)
    held, inner, opened, outer = map(piece_line, (loaded_radius, low, middle, high))
    left = f"R {_opened_words(middle, units)}" if middle < 1e5 else "flat"
    marks: list[Mark] = [
        Line(np.concatenate([inner, outer[::-1]]), "band", closed=True),
        *strip(opened, float(stock.depth), "released piece"), *strip(held, float(stock.depth), "held piece"),
        *_pointer((-42, 38), "held", f"R {format_length(loaded_radius, units)}", held[0], "loaded"),
        *_pointer((42, 38), "let go", left, opened[-1], "released")]
    return Picture(
        _release_sentence(stock, material, loaded_radius, middle, units) + _band_sentence(material, low, high, units),
        marks, size=(640, 340), alt="Side view of the bent sheet, held and let go", frame=(-42, -2, 42, 40))


def piece_line(radius: float) -> Points:
    """Return the middle line of the piece at a radius, tangent to the x axis at its middle."""
    return bent_line(np.linspace(-PIECE / 2, PIECE / 2, 97), radius)


def piece_words(stock: Stock, material: Material, units: str, *, yield_too: bool = True,
                width_too: bool = False) -> str:
    """Return the piece in words, for the sentence of a picture; a round bar has no width."""
    noun = "" if " bar" in material.name else "bar of "
    kind = {Sheet: "", FlatBar: f"flat {noun}", RoundBar: f"round {noun}"}[type(stock)]
    strength = f" (yield {float(material.first_yield):.0f} MPa)" if yield_too else ""
    wide = "" if isinstance(stock, RoundBar) or not width_too else f", {format_length(float(stock.width), units)} wide"
    return f"{format_length(float(stock.depth), units)} {kind}{material.name}{strength}{wide}"


def _pointer(at: Pair, what: str, value: str, end: Points, role: str) -> list[Mark]:
    """Return two lines of words in an upper corner, with a thin arrow to the end of the piece."""
    side = "start" if at[0] < 0 else "end"
    return [Text(at, what, role, side, (0, 12)), Text(at, value, role, side, (0, -6)),
            Line([at, pair(end)], "dimension", arrows="end", offset=[(40 if at[0] < 0 else -40, -12), (0, 0)])]


def _opened_words(radius: float, units: str) -> str:
    """Return the radius that stays; tenths of a millimetre mean nothing beyond a metre."""
    return format_length(radius, units, 0 if radius >= 1000 else None)


def _release_sentence(stock: Stock, material: Material, loaded_radius: float, radius: float, units: str) -> str:
    """Return what happens on release, with its numbers."""
    start = f"{piece_words(stock, material, units)}, held at a radius of {format_length(loaded_radius, units)}, "
    if math.isinf(radius):
        return f"{start}has not yielded: let go, it springs back flat."
    percent = 100 * (1 - loaded_radius / radius)
    return f"{start}opens to {_opened_words(radius, units)} when let go: {percent:.0f} % of the curve springs back."


def _band_sentence(material: Material, low: float, high: float, units: str) -> str:
    """Return how far the yield range could move the result."""
    if material.yield_range is None or math.isinf(low):
        return ""
    weakest, strongest = material.yield_range
    most = _opened_words(high, units) if math.isfinite(high) else "flat"
    return (f" Sold under this name, its yield may be {weakest:.0f} to {strongest:.0f} MPa: it would open to anything "
            f"from {_opened_words(low, units)} to {most}.")
