"""What the metal does: moment and curvature, release, stress, energy, scatter."""

from .energy import complementary_energy, plastic_work
from .first_yield import bending_stiffness, plastic_moment, yield_curvature, yield_moment
from .moment import bending_moment, released_curvature
from .release import loaded_curvature, loaded_radius, released_radius
from .scatter import Band, springback_band
from .stress import loaded_stress, residual_stress

__all__ = [
    "Band",
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
