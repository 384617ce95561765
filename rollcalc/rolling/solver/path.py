"""How moment and curvature grow together, from no moment at an outer roll to the most at the inside roll."""

from typing import NamedTuple

import numpy as np

from rollcalc.bending.law import FibreLaw
from rollcalc.bending.moment import first_moments
from rollcalc.stock.quantities import FloatLike
from rollcalc.stock.sections import Stock


class Step(NamedTuple):
    """One point of a path."""

    moment: FloatLike  # share of the moment at the inside roll, m [-]
    change: FloatLike  # change of that share along the piece, dm by d(share of the piece) [-]
    energy: FloatLike  # share of the complementary energy, ρ [-]
    curvature: FloatLike  # curvature there [1/mm]


class LoadingPath(NamedTuple):
    """Moment over E I against curvature, from a piece's entering curvature up to a loaded one."""

    turn: FloatLike  # curvature where the elastic part ends [1/mm]
    entering: FloatLike  # curvature without a moment [1/mm]
    elastic: FloatLike  # moment over E I where the elastic part ends [1/mm]
    elastic_energy: FloatLike  # complementary energy over E I of the elastic part [1/mm²]
    skipped_energy: FloatLike  # complementary energy over E I of the flat piece up to ``turn`` [1/mm²]
    moment: FloatLike  # moment over E I at the end [1/mm]
    energy: FloatLike  # complementary energy over E I at the end [1/mm²]


def loading_path(stock: Stock, law: FibreLaw, loaded: FloatLike, previous: FloatLike) -> LoadingPath:
    """Return how the moment grows while a piece is bent to ``loaded``. What was bent before loads elastically up to
    where it was let go, then as if it had never been let go.
    """
    turn = np.maximum(previous, 2 * law.yield_strain / stock.depth)
    entering, _, entering_area = first_moments(stock, law, turn)
    elastic, top = np.minimum(turn, loaded) - entering, np.maximum(loaded, turn)
    elastic_energy, skipped = entering * elastic + elastic**2 / 2, complement(turn, entering, entering_area)
    released, _, area = first_moments(stock, law, top)
    moment = elastic + ((top - released) - (turn - entering))
    energy = elastic_energy + (complement(top, released, area) - skipped)
    return LoadingPath(turn, entering, elastic, elastic_energy, skipped, moment, energy)


def complement(curvature: FloatLike, released: FloatLike, area: FloatLike) -> FloatLike:
    """Return the complementary energy of loading over E I, from curvature, released curvature and its area."""
    return curvature**2 / 2 - curvature * released + area
