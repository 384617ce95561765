"""What the metal does: moment and curvature, release, stress, energy, scatter."""

from .energy import plastic_work
from .first_yield import bending_stiffness, plastic_moment, yield_curvature, yield_moment
from .held import curvature_under_moment, elastic_core
from .moment import bending_moment, released_curvature
from .release import loaded_curvature, loaded_radius, released_radius
from .scatter import Band, springback_band
from .stress import loaded_stress, residual_stress
from .width import width_band, width_caution

__all__ = ["Band", "bending_moment", "bending_stiffness", "curvature_under_moment", "elastic_core", "loaded_curvature",
           "loaded_radius", "loaded_stress", "plastic_moment", "plastic_work", "released_curvature", "released_radius",
           "residual_stress", "springback_band", "width_band", "width_caution", "yield_curvature", "yield_moment"]
