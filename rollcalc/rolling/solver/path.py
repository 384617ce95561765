"""How moment and curvature grow together, from no moment at an outer roll to the most at the inside roll."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from rollcalc.bending.law import FibreLaw
from rollcalc.bending.moment import first_moments
from rollcalc.stock.quantities import FloatLike
from rollcalc.stock.sections import Stock


class Step(NamedTuple):
    """One point of a path.

    Parameters
    ----------
    moment : float or array, shape (...)
        Share of the moment at the inside roll, m. [-]
    change : float or array, shape (...)
        Change of that share along the piece, dm by d(share of the piece). [-]
    energy : float or array, shape (...)
        Share of the complementary energy, ρ. [-]
    curvature : float or array, shape (...)
        Curvature there. [1/mm]
    """

    moment: FloatLike
    change: FloatLike
    energy: FloatLike
    curvature: FloatLike


class LoadingPath(NamedTuple):
    """Moment over E I against curvature, from a piece's own curvature up to a loaded one.

    Parameters
    ----------
    turn : float or array, shape (...)
        Curvature where the elastic part ends. [1/mm]
    own : float or array, shape (...)
        Curvature without a moment. [1/mm]
    elastic : float or array, shape (...)
        Moment over E I where the elastic part ends. [1/mm]
    elastic_energy : float or array, shape (...)
        Complementary energy over E I of the elastic part. [1/mm²]
    skipped_energy : float or array, shape (...)
        Complementary energy over E I of the flat piece up to ``turn``. [1/mm²]
    moment : float or array, shape (...)
        Moment over E I at the end. [1/mm]
    energy : float or array, shape (...)
        Complementary energy over E I at the end. [1/mm²]
    """

    turn: FloatLike
    own: FloatLike
    elastic: FloatLike
    elastic_energy: FloatLike
    skipped_energy: FloatLike
    moment: FloatLike
    energy: FloatLike


def loading_path(stock: Stock, law: FibreLaw, loaded: FloatLike, before: FloatLike) -> LoadingPath:
    """Return how the moment grows while a piece is bent to ``loaded``. What was bent before loads elastically up to
    where it was let go, then as if it had never been let go.
    """
    turn = np.maximum(before, 2 * law.yield_strain / stock.depth)
    own, _, own_area = first_moments(stock, law, turn)
    elastic = np.minimum(turn, loaded) - own
    elastic_energy = own * elastic + elastic**2 / 2
    skipped = complement(turn, own, own_area)
    top = np.maximum(loaded, turn)
    released, _, area = first_moments(stock, law, top)
    moment = elastic + ((top - released) - (turn - own))
    energy = elastic_energy + (complement(top, released, area) - skipped)
    return LoadingPath(turn, own, elastic, elastic_energy, skipped, moment, energy)


def complement(curvature: FloatLike, released: FloatLike, area: FloatLike) -> FloatLike:
    """Return the complementary energy of loading over E I, from curvature, released curvature and its area."""
    return curvature**2 / 2 - curvature * released + area
