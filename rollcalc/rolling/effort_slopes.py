"""How fast the work at the crank grows with each thing that makes it grow."""

from dataclasses import dataclass, replace

import numpy as np

from rollcalc.bending.energy import plastic_work
from rollcalc.bending.release import checked_radius, loaded_curvature
from rollcalc.stock.materials import Material, checked_material
from rollcalc.stock.quantities import checked_single
from rollcalc.stock.record import Record
from rollcalc.stock.sections import RoundBar, Stock

from .solver.batches import checked_single_case


@dataclass(frozen=True, eq=False, repr=False)
class EffortSlopes(Record):
    """How the work at the crank grows: percent more for one percent more of each.

    Parameters
    ----------
    by_thickness, by_width, by_yield, by_curvature : float
        For thickness or bar diameter; for width, 0 for a round bar; for yield strength; for the curvature asked for,
        one over the radius. [-]
    """

    by_thickness: float
    by_width: float
    by_yield: float
    by_curvature: float

    SHOWS = "by_thickness [-], by_width [-], by_yield [-], by_curvature [-]"
    caption = "How the effort grows: its power of each quantity"


def effort_slopes(stock: Stock, material: Material, released_radius: float) -> EffortSlopes:
    """Return how the work of bending grows with thickness, width, yield and tightness: slopes in a log–log picture.

    Parameters
    ----------
    stock, material : Stock and Material
        The piece and its metal.
    released_radius : float
        Wanted radius after release, to mid-thickness. [mm]

    Returns
    -------
    slopes : EffortSlopes
        The slopes.

    Notes
    -----
    Central differences over one percent either way. A thin sheet on a tight radius comes near 2, 1, 1 and 1, because
    its moment is w t² σ_y/4 at any curvature. Validity: as `plastic_work`; friction in the bearings is left out.
    Source: derivative of `plastic_work`.

    Examples
    --------
    >>> from rollcalc import FlatBar
    >>> steel = Material("mine", elastic_modulus=200_000, poisson_ratio=0.3, yield_strength=250)
    >>> slopes = effort_slopes(FlatBar(thickness=3, width=25), steel, 95)
    >>> tuple(round(slope, 2) for slope in vars(slopes).values())
    (2.02, 1.0, 0.98, 1.02)
    """
    checked_radius(stock, "released radius", checked_single(
        "released radius", released_radius, "mm", above=0, at_most=1e9, advice="give the wanted radius"))
    checked_material(material)
    checked_single_case(stock, material)

    def work(deep: float, wide: float, strong: float, tight: float) -> float:
        piece = stock.with_depth(stock.depth * deep)
        piece = piece if isinstance(piece, RoundBar) else replace(piece, width=piece.width * wide)
        metal = material.with_yield(material.first_yield * strong)
        return float(plastic_work(piece, metal, loaded_curvature(piece, metal, tight / released_radius)))

    steps = [[1.0 + 0.01 * (row == column) for column in range(4)] for row in range(4)]
    growth = [np.log(work(*up) / work(*(2 - step for step in up))) / np.log(1.01 / 0.99) for up in steps]
    return EffortSlopes(*map(float, growth))
