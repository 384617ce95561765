"""Bending and letting go: the moment that holds a curvature, and the curvature that stays.

Plane sections stay plane, so the strain at height y is y κ. Beyond the elastic core each fibre
has stretched for good by its plastic strain ε_p. Two sentences carry this module:

* what stays: the released curvature is the first moment of the plastic strain, κ_r = ∫ε_p y dA / I;
* what springs back: the moment bends an elastic bar by the rest, M = E I (κ − κ_r).
"""

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked, first_where, plain
from rollcalc.stock.sections import Stock, checked_stock, gauss_points

from .first_yield import bending_stiffness
from .law import SMOOTH_POINTS, FibreLaw, fibre_law

FEW_CASES = 64
"""Up to so many cases at a time all fibres are summed at once, which is faster there. [-]"""


def released_curvature(stock: Stock, material: Material, loaded_curvature: FloatLike) -> FloatLike:
    r"""Return the curvature that stays when a piece bent to ``loaded_curvature`` is let go.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_curvature : float or array, broadcastable with the stock's and material's numbers
        Curvature while the rolls hold it, to mid-thickness; its sign is kept. [1/mm]

    Returns
    -------
    curvature : float or array, broadcast shape
        Curvature after release; zero where nothing yielded. [1/mm]

    Notes
    -----
    .. math:: \kappa_r = \frac1I \int \varepsilon_p(y \kappa)\, y \, dA

    For a rectangle of perfectly plastic metal with u = κ/κ_y this is κ_y (u − 3/2 + 1/(2u²)).
    Validity: plane sections, elastic release, bent once in one direction; R/t above about 5.
    Source: derived in rollcalc.lessons.lesson04.derivations; Beer, Johnston, DeWolf, Examples 4.05 and 4.06
    check it (loaded radius 33.3 m, released 225 m).

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("book", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> round(1 / released_curvature(FlatBar(thickness=120, width=50), steel, 0.6 / 20_000))
    225000
    """
    curvature = checked_curvature(stock, "loaded curvature", loaded_curvature)
    return plain(np.sign(curvature) * first_moments(stock, fibre_law(stock, material), np.abs(curvature))[0])


def bending_moment(stock: Stock, material: Material, loaded_curvature: FloatLike) -> FloatLike:
    r"""Return the moment that holds a piece at ``loaded_curvature``.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_curvature : float or array, broadcastable with the stock's and material's numbers
        Curvature while the rolls hold it, to mid-thickness; its sign is kept. [1/mm]

    Returns
    -------
    moment : float or array, broadcast shape
        Bending moment over the whole width. [N mm]

    Notes
    -----
    .. math:: M = E' I (\kappa - \kappa_r)

    For a rectangle of perfectly plastic metal this is M_y (3/2 − 1/(2u²)). Validity: as `released_curvature`.
    Source: derived in rollcalc.lessons.lesson04.derivations; Hibbeler, Mechanics of Materials, Example 6.24
    checks the hardening line (772 kip in).

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("book", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> round(bending_moment(FlatBar(thickness=120, width=50), steel, 0.6 / 20_000) / 1e6, 2)
    36.8
    """
    released = released_curvature(stock, material, loaded_curvature)
    return plain(bending_stiffness(stock, material) * (np.asarray(loaded_curvature, float) - released))


def checked_curvature(stock: Stock, name: str, curvature: FloatLike) -> FloatLike:
    """Return the curvature as float or array, or raise the sentence that says why it is impossible."""
    checked_stock(stock)
    number = checked(name, curvature, "1/mm", advice="give 1/radius, or 0 for a flat piece")
    check_shapes(f"{name} and depth of the stock", number, stock.depth)
    too_tight = np.abs(number) >= 2 / np.asarray(stock.depth)
    if np.any(too_tight):
        wrong, depth = first_where(too_tight, number, stock.depth)
        raise InputError(f"{name} is {wrong:.6g} 1/mm, but must be between {-2 / depth:.6g} and {2 / depth:.6g} 1/mm "
                         f"for a piece {depth:.6g} mm deep: the radius cannot be less than half the depth, so ask for "
                         "a larger one.")
    return number


def first_moments(stock: Stock, law: FibreLaw, curvature: FloatLike) -> tuple[FloatLike, FloatLike, FloatLike]:
    """Return (released curvature, its slope dκ_r/dκ, its area ∫κ_r dκ) at a loaded curvature ≥ 0.

    Sums over the yielded fibres only, so every term is positive and nothing cancels, however little has yielded.
    """
    some_curvature = np.maximum(curvature, law.yield_strain / stock.depth)  # elastic, but not zero
    core = np.minimum(law.yield_strain / some_curvature, stock.depth / 2)
    released: FloatLike = 0.0
    slope: FloatLike = 0.0
    area: FloatLike = 0.0
    points = (law.is_straight and stock.exact_points) or SMOOTH_POINTS
    if points == SMOOTH_POINTS and np.size(core) <= FEW_CASES:
        sizes = max(map(np.ndim, (core, stock.second_moment, *vars(law).values())))
        places, weights = np.array(gauss_points(points)).T.reshape(2, points, *[1] * sizes)  # the first axis: fibres
        heights, fibres = stock.fibre_at(core, places, weights)
        strains, shares = heights * curvature, fibres / stock.second_moment
        return (plain(np.sum(law.plastic_strain(strains) * heights * shares, axis=0)),
                plain(np.sum(law.plastic_strain_slope(strains) * heights**2 * shares, axis=0)),
                plain(np.sum(law.plastic_strain_area(strains) * shares, axis=0)))
    for height, fibre in stock.outer_fibres(core, points):
        strain, share = height * curvature, fibre / stock.second_moment
        released = released + law.plastic_strain(strain) * height * share
        slope = slope + law.plastic_strain_slope(strain) * height**2 * share
        area = area + law.plastic_strain_area(strain) * share
    return released, slope, area
