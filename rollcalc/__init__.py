"""Curving sheet and bar on a three-roll machine: how metal bends, springs back, and what to set.

Lengths are in mm, forces in N, stresses in MPa, angles in rad. Radii and curvatures are to
mid-thickness unless a name says otherwise. Pictures and lessons are imported by name, from
`rollcalc.drawing` and `rollcalc.lessons`; this module gives the physics and loads only numpy.
"""

from .bending import (
    Band,
    bending_moment,
    bending_stiffness,
    complementary_energy,
    loaded_curvature,
    loaded_radius,
    loaded_stress,
    plastic_moment,
    plastic_work,
    released_curvature,
    released_radius,
    residual_stress,
    springback_band,
    yield_curvature,
    yield_moment,
)
from .stock.materials import Material, Swift
from .stock.quantities import FloatLike, InputError
from .stock.sections import FlatBar, RoundBar, Sheet, Stock

__all__ = [
    "Band",
    "FlatBar",
    "FloatLike",
    "InputError",
    "Material",
    "RoundBar",
    "Sheet",
    "Stock",
    "Swift",
    "bending_moment",
    "bending_stiffness",
    "complementary_energy",
    "loaded_curvature",
    "loaded_radius",
    "loaded_stress",
    "plastic_moment",
    "plastic_work",
    "released_curvature",
    "released_radius",
    "residual_stress",
    "springback_band",
    "yield_curvature",
    "yield_moment",
]
