"""The marks on the scale: stiffness, the curvature and moment of first yield, the full plastic moment."""

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.sections import RoundBar, Stock

from .law import fibre_law


def bending_stiffness(stock: Stock, material: Material) -> FloatLike:
    r"""Return E I, the moment per unit of elastic curvature.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece and its metal.

    Returns
    -------
    stiffness : float or array, broadcast shape
        Bending stiffness over the whole width. [N mm²]

    Notes
    -----
    .. math:: E'I, \quad E' = E/(1-\nu^2) \text{ for a sheet, } E \text{ for a bar}

    Validity: elastic bending.
    Source: beam and plate theory, any strength text (from memory).

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("mine", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> bending_stiffness(FlatBar(thickness=3, width=25), steel)
    11250000.0
    """
    return plain(fibre_law(stock, material).modulus * stock.second_moment)


def yield_curvature(stock: Stock, material: Material) -> FloatLike:
    r"""Return the curvature at which the outermost fibre first yields.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece and its metal.

    Returns
    -------
    curvature : float or array, broadcast shape
        Largest curvature that springs back completely. [1/mm]

    Notes
    -----
    .. math:: \kappa_y = 2 \sigma' / (E' h)

    with h the depth of the section. Validity: no residual stress left from earlier work.
    Source: beam theory; checked against Gere, Example 5.2 (the wire that springs back fully).

    Examples
    --------
    >>> from rollcalc.stock.sections import Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> round(1 / yield_curvature(Sheet(thickness=0.76, width=300), steel))
    304
    """
    return plain(2 * fibre_law(stock, material).yield_strain / stock.depth)


def yield_moment(stock: Stock, material: Material) -> FloatLike:
    r"""Return the moment at which the outermost fibre first yields.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece and its metal.

    Returns
    -------
    moment : float or array, broadcast shape
        Moment over the whole width. [N mm]

    Notes
    -----
    .. math:: M_y = E' I \kappa_y

    Validity: as `yield_curvature`.
    Source: Beer, Johnston, DeWolf, Mechanics of Materials, Example 4.05 checks it (28.8 kN m).

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("book", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> round(yield_moment(FlatBar(thickness=120, width=50), steel) / 1e6, 3)
    28.8
    """
    return plain(bending_stiffness(stock, material) * yield_curvature(stock, material))


def plastic_moment(stock: Stock, material: Material) -> FloatLike:
    r"""Return the moment at which a metal that does not harden has yielded right through.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece and its metal, of which only the first yield counts here.

    Returns
    -------
    moment : float or array, broadcast shape
        Full plastic moment over the whole width. [N mm]

    Notes
    -----
    3/2 of the yield moment for a rectangle, 16/(3π) for a round bar. Validity: no hardening.
    Source: exact integration of a constant stress over the section.

    Examples
    --------
    >>> from rollcalc.stock.sections import Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> round(plastic_moment(Sheet(thickness=0.76, width=300), steel))
    12505
    """
    return plain(plastic_shape_factor(stock) * yield_moment(stock, material))


def plastic_shape_factor(stock: Stock) -> float:
    """Return full plastic moment over yield moment of the section."""
    return 16 / (3 * np.pi) if isinstance(stock, RoundBar) else 1.5
