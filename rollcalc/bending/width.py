"""How wide is wide: whether a piece can narrow where it stretches, and what that does to its radius."""

import math

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, check_shapes, checked_single, plain
from rollcalc.stock.sections import FlatBar, RoundBar, Sheet, Stock

from .release import checked_radius, released_radius
from .scatter import Band

FREE_BELOW, HELD_ABOVE = 1.0, 100.0
"""Of w²/(R t): below the first a piece narrows freely, above the second it cannot; in between it does in part. [-]"""


def width_parameter(stock: Stock, loaded_radius: FloatLike) -> FloatLike:
    """Return w²/(R t), which tells a wide piece from a narrow one.

    A bent piece wants to curl across its width; the stretch that this costs holds a wide one flat. Elastic plate
    theory with ν = 0.3 puts the moment 3 % of the way from free narrowing (E) to plane strain (E/(1 − ν²)) at 1, half
    way near 7, and 88 % of the way at 100, where only two strips along the edges still curl.
    """
    radius = checked_radius(stock, "loaded radius", loaded_radius)
    width = stock.depth if isinstance(stock, RoundBar) else stock.width
    check_shapes("loaded radius and width of the stock", radius, width)
    return plain(np.asarray(width) ** 2 / (np.asarray(radius) * stock.depth))


def width_band(stock: Stock, material: Material, loaded_radius: FloatLike) -> Band:
    """Return the released radii between free narrowing and plane strain, for one loaded radius.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_radius : float or array, broadcastable with the stock's and material's numbers
        Radius while the rolls hold it, to mid-thickness. [mm]

    Returns
    -------
    band : Band
        Smaller released radius, that of the stock as it is called, larger one. [mm]

    Notes
    -----
    One end is the piece counted as a `FlatBar`, the other as a `Sheet`; `width_parameter` says to which end a real
    piece lies nearer. A round bar has no band. Validity: as `released_radius`.
    Source: the two limits of the theory.

    Examples
    --------
    >>> steel = Material("mine", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=275)
    >>> band = width_band(FlatBar(thickness=3, width=25), steel, loaded_radius=85)
    >>> [round(radius, 1) for radius in (band.low, band.nominal, band.high)]
    [96.2, 96.2, 96.9]
    """
    own = released_radius(stock, material, loaded_radius)
    if isinstance(stock, RoundBar):
        return Band(low=own, nominal=own, high=own)
    free = released_radius(FlatBar(stock.thickness, stock.width), material, loaded_radius)
    held = released_radius(Sheet(thickness=stock.thickness, width=stock.width), material, loaded_radius)
    return Band(low=plain(np.minimum(free, held)), nominal=own, high=plain(np.maximum(free, held)))


def width_caution(stock: Stock, material: Material, loaded_radius: float) -> str:
    """Return the sentence that says which way a narrow sheet or a wide flat bar will be off; empty where none is due.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_radius : float
        Radius while the rolls hold it, to mid-thickness. [mm]

    Returns
    -------
    caution : str
        One sentence, or nothing.

    Notes
    -----
    A sheet gets it when w²/(R t) is below 100, a flat bar when it is above 1; neither where both ends of
    `width_band` are the same within 0.1 %. Validity: one piece at a time, as `width_parameter`.
    Source: `width_parameter`.

    Examples
    --------
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> print(width_caution(Sheet(thickness=0.76, width=25), steel, loaded_radius=62))
    25 mm is narrow for a sheet at this radius (w²/(R t) is 13, and only above 100 is a sheet wide): it narrows \
in part where it stretches, springs back less than computed, and the ring comes out up to 2.0 % smaller.
    >>> width_caution(Sheet(thickness=0.76, width=300), steel, loaded_radius=62)
    ''
    """
    radius = checked_single("loaded radius", loaded_radius, "mm", above=0, advice="give one radius to mid-thickness")
    parameter = checked_single("w²/(R t)", width_parameter(stock, radius), "", above=0, advice="ask piece by piece")
    if isinstance(stock, RoundBar):
        return ""
    size = f"{stock.width:.4g} mm is"
    if stock.plane_strain and parameter < HELD_ABOVE:
        start = (f"{size} narrow for a sheet at this radius (w²/(R t) is {parameter:.2g}, and only above "
                 f"{HELD_ABOVE:g} is a sheet wide): it narrows in part where it stretches")
    elif not stock.plane_strain and parameter > FREE_BELOW:
        start = (f"{size} wide for a flat bar at this radius (w²/(R t) is {parameter:.2g}, and only below "
                 f"{FREE_BELOW:g} does a bar narrow freely): it is held in part where it stretches")
    else:
        return ""
    end = _which_way(width_band(stock, material, radius))
    return f"{start}, {end}." if end else ""


def _which_way(band: Band) -> str:
    """Return the end of the caution: what springs back, and how far the radius may lie from the computed one."""
    low, computed, high = float(band.low), float(band.nominal), float(band.high)
    if low == high or high / low < 1.001:
        return ""
    if math.isinf(high):
        return ("springs back less than computed, and may keep a curve where none is computed" if computed == high
                else "springs back more than computed, and may come out flat")
    if computed == high:
        return f"springs back less than computed, and the ring comes out up to {100 * (1 - low / high):.1f} % smaller"
    return f"springs back more than computed, and the ring comes out up to {100 * (high / low - 1):.1f} % larger"
