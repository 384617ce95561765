"""What a moment does: the curvature that it holds, and how much of the depth is still elastic."""

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked, first_where, plain
from rollcalc.stock.sections import Stock

from .first_yield import bending_stiffness
from .law import FibreLaw, fibre_law
from .moment import checked_curvature, first_moments


def curvature_under_moment(stock: Stock, material: Material, moment: FloatLike) -> FloatLike:
    r"""Return the curvature to which a moment bends a piece, while it acts.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    moment : float or array, broadcastable with the stock's and material's numbers
        Bending moment over the whole width; its sign is kept. [N mm]

    Returns
    -------
    curvature : float or array, broadcast shape
        Curvature under the moment, to mid-thickness. [1/mm]

    Raises
    ------
    InputError
        If the moment is not a finite number, or more than any bend of this piece holds: the full plastic moment
        where the metal does not harden.

    Notes
    -----
    The inverse of `bending_moment`, by Newton's method from the elastic curvature M/(E′I): the moment rises ever
    more slowly with curvature, so the steps climb to the root and never pass it. Near the full plastic moment of a
    metal that does not harden a little moment is a lot of curvature. Validity: as `released_curvature`.
    Source: inverse of a derived relation; Beer, Johnston, DeWolf, Example 4.05 checks it (36.8 kN m, 33.33 m).

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("book", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> round(1 / curvature_under_moment(FlatBar(thickness=120, width=50), steel, 36.8e6))
    33333
    """
    law = fibre_law(stock, material)
    wanted = checked("moment", moment, "N mm", advice="give the moment over the whole width")
    stiffness = bending_stiffness(stock, material)
    check_shapes("the moment and the numbers of stock and material", wanted, stiffness, law.yield_strain, stock.depth)
    tightest = 2 / np.asarray(stock.depth)
    most = stiffness * (tightest - first_moments(stock, law, tightest)[0])
    if np.any(too_much := np.abs(wanted) > most):
        wrong, limit = first_where(too_much, wanted, most)
        raise InputError(f"moment is {wrong:.6g} N mm, but must be between {-limit:.6g} and {limit:.6g} N mm: no bend "
                         "of this piece holds more, so ask for less.")
    return plain(np.sign(wanted) * _climb(stock, law, np.abs(wanted) / stiffness, tightest))


def elastic_core(stock: Stock, material: Material, loaded_curvature: FloatLike) -> FloatLike:
    r"""Return how deep the middle part is that has not yielded, both sides of mid-thickness together.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece, flat before it is bent, and its metal.
    loaded_curvature : float or array, broadcastable with the stock's and material's numbers
        Curvature while the rolls hold it, either sign. [1/mm]

    Returns
    -------
    core : float or array, broadcast shape
        Depth of the elastic core; all of the depth where nothing yielded. [mm]

    Notes
    -----
    .. math:: c = 2 \varepsilon_y / |\kappa| \le h

    Validity: as `released_curvature`.
    Source: plane sections; Beer, Johnston, DeWolf, Example 4.05 checks it (80.0 mm).

    Examples
    --------
    >>> from rollcalc.stock.sections import FlatBar
    >>> steel = Material("book", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=240)
    >>> bar = FlatBar(thickness=120, width=50)
    >>> round(elastic_core(bar, steel, curvature_under_moment(bar, steel, 36.8e6)), 1)
    80.0
    """
    law = fibre_law(stock, material)
    curvature = np.abs(checked_curvature(stock, "loaded curvature", loaded_curvature))
    first_yield = 2 * law.yield_strain / stock.depth
    return plain(2 * law.yield_strain / np.maximum(curvature, first_yield))


def _climb(stock: Stock, law: FibreLaw, elastic: FloatLike, tightest: FloatLike) -> FloatLike:
    """Return the curvature whose moment over stiffness is ``elastic``, which is less and less of the curvature.

    A place has arrived once a step no longer leads up; from then on rounding decides the sign of its steps.
    """
    shape = np.broadcast_shapes(np.shape(elastic), np.shape(tightest), np.shape(law.yield_strain))
    loaded = np.broadcast_to(elastic, shape).astype(np.float64)
    climbing = np.ones(shape, dtype=bool)
    for _ in range(200):
        step = _step(stock, law, elastic, loaded)
        climbing &= step > 1e-13 * loaded
        loaded = np.minimum(loaded + step, tightest)
        if not climbing.any():
            return np.minimum(loaded + _step(stock, law, elastic, loaded), tightest)
    raise ArithmeticError("the curvature under a moment did not converge")  # no input is known to reach this line


def _step(stock: Stock, law: FibreLaw, elastic: FloatLike, loaded: FloatLike) -> FloatLike:
    """Return Newton's next step in curvature."""
    released, slope, _area = first_moments(stock, law, loaded)
    return (elastic - loaded + released) / (1 - slope)
