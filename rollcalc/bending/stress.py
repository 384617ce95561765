"""Stress through the thickness: while the rolls hold the piece, and what stays locked in afterwards."""

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, InputError, checked, first_where, plain
from rollcalc.stock.sections import Stock

from .law import fibre_law
from .moment import checked_curvature, released_curvature


def loaded_stress(stock: Stock, material: Material, loaded_curvature: FloatLike, height: FloatLike) -> FloatLike:
    r"""Return the stress along the piece at a height, while it is held at ``loaded_curvature``.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_curvature : float or array, broadcastable with height
        Curvature while the rolls hold it; positive stretches the side of positive height. [1/mm]
    height : float or array, broadcastable with loaded_curvature
        Distance from mid-thickness, positive towards the outside of the bend. [mm]

    Returns
    -------
    stress : float or array, broadcast shape
        Stress along the piece, positive in tension. [MPa]

    Notes
    -----
    .. math:: \sigma = E' (y \kappa - \varepsilon_p)

    Validity: as `released_curvature`.
    Source: definition of plastic strain; Beer, Johnston, DeWolf, Example 4.05 checks the core.

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("book", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> [round(loaded_stress(FlatBar(120, 50), steel, 0.6 / 20_000, y)) for y in (0, 20, 40, 60)]
    [0, 120, 240, 240]
    """
    return _stress(stock, material, loaded_curvature, height, released=False)


def residual_stress(stock: Stock, material: Material, loaded_curvature: FloatLike, height: FloatLike) -> FloatLike:
    r"""Return the stress that stays locked in at a height, after release from ``loaded_curvature``.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_curvature : float or array, broadcastable with height
        Curvature it was bent to. [1/mm]
    height : float or array, broadcastable with loaded_curvature
        Distance from mid-thickness, positive towards the outside of the bend. [mm]

    Returns
    -------
    stress : float or array, broadcast shape
        Residual stress along the piece, positive in tension; its force and moment are zero. [MPa]

    Notes
    -----
    .. math:: \sigma_{res} = E' (y \kappa_r - \varepsilon_p)

    the loaded stress less the elastic stress M y/I of springing back. Validity: nothing yields the
    other way during release.
    Source: Beer, Johnston, DeWolf, Example 4.06 checks it (−66.7 MPa at the surface, −35.5 MPa read
    at y = 40 mm on the other side).

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("book", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> [round(residual_stress(FlatBar(120, 50), steel, 0.6 / 20_000, y), 1) for y in (40, 60)]
    [35.6, -66.7]
    """
    return _stress(stock, material, loaded_curvature, height, released=True)


def _stress(stock: Stock, material: Material, loaded_curvature: FloatLike, height: FloatLike, *,
            released: bool) -> FloatLike:
    """Return E (y κ − ε_p), with the released curvature for κ where the piece has been let go."""
    loaded = checked_curvature(stock, "loaded curvature", loaded_curvature)
    place = checked("height", height, "mm", advice="measure from mid-thickness")
    halves = np.asarray(stock.depth) / 2
    outside = np.abs(place) > halves * (1 + 1e-12)
    if np.any(outside):
        wrong, half = first_where(outside, place, halves)
        raise InputError(f"height is {wrong:.6g} mm, but must be between {-half:.6g} and {half:.6g} mm: measure from "
                         "mid-thickness, and stay inside the piece.")
    law = fibre_law(stock, material)
    strain = np.asarray(place) * loaded
    plastic = np.sign(strain) * law.plastic_strain(np.abs(strain))
    curvature = released_curvature(stock, material, loaded) if released else loaded
    return plain(law.modulus * (place * np.asarray(curvature) - plastic))
