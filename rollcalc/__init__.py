"""Curving sheet and bar on a three-roll machine: how metal bends, springs back, and what to set.

Lengths are in mm, forces in N, stresses in MPa, angles in rad. Radii and curvatures are to
mid-thickness unless a name says otherwise. What most jobs need stands here; the rest is found in its
room, `rc.rolling.two_thirds_travel` say. Pictures and lessons are imported by name, from
`rollcalc.drawing` and `rollcalc.lessons`; this module gives the physics and loads only numpy.
"""

from . import bending, job, layout, rolling, stock
from .bending import (bending_moment, curvature_under_moment, elastic_core, loaded_curvature, loaded_radius,
                      loaded_stress, plastic_moment, released_curvature, released_radius, residual_stress,
                      springback_band, yield_moment)
from .job import estimate, plan_cone, plan_cylinder, plan_ring
from .layout import (ButtSeam, GroovedSeam, LapSeam, bend_length, blanks_on_sheet, cone_blank, cylinder_blank,
                     frustum_pattern, oblique_frustum_pattern)
from .rolling import (DEMO_MACHINE, Machine, PinchMachine, PyramidMachine, Setting, check_capacity, circle_radius,
                      circle_travel, cone_setting, cone_waist, crank_effort, flat_ends, groove_for, grooved_machine,
                      load_machine, pass_schedule, radius_for_travel, radius_from_chord, replanned, rise_of_chord,
                      roll_bow, setting_for_radius, setting_for_travel, span_shape, write_machine)
from .stock import (MATERIALS, FlatBar, InputError, Material, RoundBar, Sheet, Stock, Swift, format_length,
                    gauge_thickness, nearest_gauge, parse_length)

__all__ = ["DEMO_MACHINE", "MATERIALS", "ButtSeam", "FlatBar", "GroovedSeam", "InputError", "LapSeam", "Machine",
           "Material", "PinchMachine", "PyramidMachine", "RoundBar", "Setting", "Sheet", "Stock", "Swift",
           "bend_length", "bending", "bending_moment", "blanks_on_sheet", "check_capacity", "circle_radius",
           "circle_travel", "cone_blank", "cone_setting", "cone_waist", "crank_effort", "curvature_under_moment",
           "cylinder_blank", "elastic_core", "estimate", "flat_ends", "format_length", "frustum_pattern",
           "gauge_thickness", "groove_for", "grooved_machine", "job", "layout", "load_machine", "loaded_curvature",
           "loaded_radius", "loaded_stress", "nearest_gauge", "oblique_frustum_pattern", "parse_length",
           "pass_schedule", "plan_cone", "plan_cylinder", "plan_ring", "plastic_moment", "radius_for_travel",
           "radius_from_chord", "released_curvature", "released_radius", "replanned", "residual_stress",
           "rise_of_chord", "roll_bow", "rolling", "setting_for_radius", "setting_for_travel", "span_shape",
           "springback_band", "stock", "write_machine", "yield_moment"]
