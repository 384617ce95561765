"""How far the radius may stray, because nobody knows the yield and no sheet is quite its gauge."""

from dataclasses import dataclass

import numpy as np

from rollcalc.stock.materials import Material, checked_material
from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked
from rollcalc.stock.record import Record
from rollcalc.stock.sections import Stock, checked_stock

from .release import released_radius


@dataclass(frozen=True, eq=False, repr=False)
class Band(Record):
    """The lowest, nominal and highest value of one result.

    It says how far inputs within their ranges move the result, not how good the model is.

    Parameters
    ----------
    low, nominal, high : float or array, shape (...)
        The three values; the highest may be infinite. [mm]
    """

    low: FloatLike
    nominal: FloatLike
    high: FloatLike

    SHOWS = "low [mm], nominal [mm], high [mm]"
    caption = "Band over the range of yield strength"


def springback_band(stock: Stock, material: Material, loaded_radius: FloatLike,
                    thickness_tolerance: FloatLike = 0.0) -> Band:
    """Return the band of released radii for one loaded radius.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal, with its yield range.
    loaded_radius : float or array, broadcastable with the stock's numbers
        Radius while the rolls hold it, to mid-thickness. [mm]
    thickness_tolerance : float or array, broadcastable with the stock's numbers
        Plus-or-minus on the thickness or bar diameter; 0 where it was measured. [mm]

    Returns
    -------
    band : Band
        Lowest, nominal and highest released radius. [mm]

    Raises
    ------
    InputError
        If the material has no yield range, the radius is impossible, or the tolerance negative or as large as the
        thickness.

    Notes
    -----
    Weak thick metal springs back least, strong thin metal most, and the radius moves one way with each, so the two
    corners hold the band. Validity: as `released_radius`; extremes of both ranges at once are rarer than either alone.
    Source: corners of a monotone function; `rollcalc.stock.thickness_tolerance` gives EN 10131.

    Examples
    --------
    >>> from rollcalc.stock.sections import Sheet
    >>> steel = Material("mine", 210_000, 0.3, yield_strength=210, yield_range=(140, 280))
    >>> band = springback_band(Sheet(thickness=0.76, width=300), steel, loaded_radius=60)
    >>> [round(radius, 1) for radius in (band.low, band.nominal, band.high)]
    [71.9, 79.6, 89.1]
    """
    checked_stock(stock)
    checked_material(material)
    if material.yield_range is None:
        raise InputError(f"yield range of {material.name} is not given, but a band needs its lowest and highest yield "
                         "strength [MPa]: give the material a yield_range.")
    tolerance = checked("thickness tolerance", thickness_tolerance, "mm", at_least=0, advice="give the plus-or-minus")
    check_shapes("thickness tolerance and stock", tolerance, stock.depth)
    if np.any(np.asarray(tolerance) >= stock.depth):
        raise InputError(f"thickness tolerance is {np.max(tolerance):.6g} mm, but must be below the thickness of "
                         f"{np.min(stock.depth):.6g} mm: give the plus-or-minus, not the thickness.")
    low, high = material.yield_range
    return Band(released_radius(stock.with_depth(stock.depth + tolerance), material.with_yield(low), loaded_radius),
                released_radius(stock, material, loaded_radius),
                released_radius(stock.with_depth(stock.depth - tolerance), material.with_yield(high), loaded_radius))
