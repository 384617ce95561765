"""Which way to bend for what you want: springback turned round, and both as radii."""

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked, first_where, plain
from rollcalc.stock.sections import Stock, checked_stock

from .first_yield import plastic_shape_factor
from .law import fibre_law
from .moment import checked_curvature, first_moments, released_curvature


def loaded_curvature(stock: Stock, material: Material, released_curvature: FloatLike) -> FloatLike:
    r"""Return the curvature to bend to, so that ``released_curvature`` stays.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    released_curvature : float or array, broadcastable with the stock's and material's numbers
        Wanted curvature after release, to mid-thickness; its sign is kept. [1/mm]

    Returns
    -------
    curvature : float or array, broadcast shape
        Curvature under load; zero where zero is wanted. [1/mm]

    Raises
    ------
    InputError
        If the curvature is not a finite number, or tighter than this stock can be bent.

    Notes
    -----
    The inverse of `released_curvature`, by Newton's method on the square root of κ_r, which is
    nearly straight on both sides of first yield. Validity: as `released_curvature`.
    Source: inverse of a derived relation; tests hold the round trip to 1e-10 and compare with scipy.

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("book", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> round(1 / loaded_curvature(FlatBar(thickness=120, width=50), steel, 1 / 225_000))
    33333
    """
    wanted = checked_curvature(stock, "released curvature", released_curvature)
    target = np.abs(wanted)
    loaded = np.where(target > 0, _loaded(stock, material, np.where(target > 0, target, 1.0)), 0.0)
    too_tight = loaded * stock.depth >= 2
    if np.any(too_tight):
        needed, depth = first_where(too_tight, loaded, stock.depth)
        raise InputError(f"loaded radius would be {1 / needed:.6g} mm, but must be above {depth / 2:.6g} mm, half the "
                         "depth: this metal springs back too far to keep so tight a radius, so ask for a larger one.")
    return plain(np.sign(wanted) * loaded)


def released_radius(stock: Stock, material: Material, loaded_radius: FloatLike) -> FloatLike:
    """Return the radius that stays when a piece bent to ``loaded_radius`` is let go.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_radius : float or array, broadcastable with the stock's and material's numbers
        Radius while the rolls hold it, to mid-thickness. [mm]

    Returns
    -------
    radius : float or array, broadcast shape
        Radius after release, to mid-thickness; infinite where it springs back flat. [mm]

    Notes
    -----
    `released_curvature` turned into radii. Validity: as there.
    Source: derived in rollcalc.lessons.lesson04.derivations.

    Examples
    --------
    >>> from rollcalc.stock.sections import Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> round(released_radius(Sheet(thickness=0.76, width=300), steel, 90), 1)
    158.3
    >>> released_radius(Sheet(thickness=0.76, width=300), steel, 400)
    inf
    """
    held = checked_radius(stock, "loaded radius", loaded_radius)
    stays = np.asarray(released_curvature(stock, material, 1 / held))
    with np.errstate(divide="ignore"):
        return plain(1 / stays)


def loaded_radius(stock: Stock, material: Material, released_radius: FloatLike) -> FloatLike:
    """Return the radius to bend to, so that ``released_radius`` stays.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    released_radius : float or array, broadcastable with the stock's and material's numbers
        Wanted radius after release, to mid-thickness. [mm]

    Returns
    -------
    radius : float or array, broadcast shape
        Radius under load, to mid-thickness. [mm]

    Raises
    ------
    InputError
        If the radius is not a finite number above half the depth, or tighter than this stock can be bent.

    Notes
    -----
    `loaded_curvature` turned into radii. Validity: as there.
    Source: inverse of a derived relation; tests hold the round trip to 1e-10.

    Examples
    --------
    >>> from rollcalc.stock.sections import Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> round(loaded_radius(Sheet(thickness=0.76, width=300), steel, 90), 1)
    62.6
    """
    wanted = checked_radius(stock, "released radius", released_radius)
    return plain(1 / np.asarray(loaded_curvature(stock, material, 1 / wanted)))


def checked_radius(stock: Stock, name: str, radius: FloatLike) -> FloatLike:
    """Return the radius as float or array, or raise the sentence that says why it is impossible."""
    checked_stock(stock)
    number = checked(name, radius, "mm", above=0,
                     advice="a flat piece has no radius, so ask for a curvature of 0 there")
    check_shapes(f"{name} and depth of the stock", number, stock.depth)
    too_tight = np.asarray(number) <= np.asarray(stock.depth) / 2
    if np.any(too_tight):
        wrong, depth = first_where(too_tight, number, stock.depth)
        raise InputError(f"{name} is {wrong:.6g} mm, but must be above {depth / 2:.6g} mm: measure to the middle of "
                         "the thickness, so add half of it to an inside radius.")
    return number


def _loaded(stock: Stock, material: Material, target: FloatLike) -> FloatLike:
    """Return the loaded curvature for released curvatures above zero, by Newton's method on √κ_r.

    √κ_r is nearly straight in κ on both sides of first yield. A step never goes more than half of
    the way down to first yield, where the slope is zero.
    """
    law = fibre_law(stock, material)
    first_yield = 2 * law.yield_strain / stock.depth
    share = target / first_yield
    loaded = first_yield * np.minimum(1 + np.sqrt(share), plastic_shape_factor(stock) + share)
    for _ in range(100):
        released, slope, _area = first_moments(stock, law, loaded)
        slope = np.where(slope > 0, slope, 1.0)  # zero only at first yield itself, where the step is zero too
        step = np.minimum(2 * (released - np.sqrt(released * target)) / slope, (loaded - first_yield) / 2)
        loaded = loaded - step
        if np.all(np.abs(step) <= 1e-12 * loaded):
            return plain(loaded)
    raise ArithmeticError("the loaded curvature did not converge")  # no input is known to reach this line
