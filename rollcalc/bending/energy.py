"""Work of bending: what the crank pays for, and the energy that sets the bending roll's force."""

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.sections import Stock

from .first_yield import bending_stiffness
from .law import fibre_law
from .moment import checked_curvature, first_moments


def plastic_work(stock: Stock, material: Material, loaded_curvature: FloatLike) -> FloatLike:
    r"""Return the work per unit length that bending and release leave behind in the metal.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_curvature : float or array, broadcastable with the stock's and material's numbers
        Curvature it is bent to, either sign. [1/mm]

    Returns
    -------
    work : float or array, broadcast shape
        Work per millimetre of length over the whole width, N mm/mm. [N]

    Notes
    -----
    .. math:: W = \int_0^{\kappa} M\,d\kappa - \frac{M^2}{2 E' I}
              = E' I \left(\kappa \kappa_r - \tfrac12 \kappa_r^2 - \int_0^{\kappa} \kappa_r\,d\kappa\right)

    The second form follows from M = E′I(κ − κ_r). Validity: as `released_curvature`.
    Source: work–energy balance; compared with scipy quadrature in the tests.

    Examples
    --------
    >>> from rollcalc.stock.sections import Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> round(plastic_work(Sheet(thickness=0.76, width=300), steel, 1 / 60), 1)
    139.9
    """
    stiffness, loaded, released, area = _loading(stock, material, loaded_curvature)
    return plain(stiffness * (loaded * released - released**2 / 2 - area))


def complementary_energy(stock: Stock, material: Material, loaded_curvature: FloatLike) -> FloatLike:
    r"""Return the complementary energy of loading per unit length, ∫κ dM.

    .. math:: \int_0^{M} \kappa\,dM = \kappa M - \int_0^{\kappa} M\,d\kappa
              = E' I \left(\tfrac12 \kappa^2 - \kappa \kappa_r + \int_0^{\kappa} \kappa_r\,d\kappa\right)
    """
    stiffness, loaded, released, area = _loading(stock, material, loaded_curvature)
    return plain(stiffness * (loaded**2 / 2 - loaded * released + area))


def _loading(stock: Stock, material: Material, loaded_curvature: FloatLike) -> tuple[FloatLike, ...]:
    """Return E′I, |κ|, |κ_r| and ∫κ_r dκ; energies do not care about the sign."""
    loaded = np.abs(checked_curvature(stock, "loaded curvature", loaded_curvature))
    released, _slope, area = first_moments(stock, fibre_law(stock, material), loaded)
    return bending_stiffness(stock, material), loaded, released, area
