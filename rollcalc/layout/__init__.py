"""What you cut: blanks of cylinders, patterns of cones, and how they lie on the sheet."""

from .bench import BaselineLayout, arc_ordinates, baseline_layout
from .cone import FrustumPattern, frustum_pattern
from .cone_blank import ConeBlank, cone_blank, wired_edge_allowance
from .cylinder import CylinderBlank, cylinder_blank
from .faces import mid_thickness_frustum
from .fitting import BlanksOnSheet, SmallestRectangle, blanks_on_sheet, smallest_rectangle
from .mitre import MitredCylinderPattern, mitred_cylinder_pattern
from .neutral import bend_length, neutral_axis_factor
from .oblique import ObliqueFrustumPattern, oblique_frustum_pattern
from .pattern import FlatPattern, Label, Layout, Polyline, Size, rolled_up
from .seams import ButtSeam, GroovedSeam, LapSeam, Seam

__all__ = ["BaselineLayout", "BlanksOnSheet", "ButtSeam", "ConeBlank", "CylinderBlank", "FlatPattern", "FrustumPattern",
           "GroovedSeam", "Label", "LapSeam", "Layout", "MitredCylinderPattern", "ObliqueFrustumPattern", "Polyline",
           "Seam", "Size", "SmallestRectangle", "arc_ordinates", "baseline_layout", "bend_length", "blanks_on_sheet",
           "cone_blank", "cylinder_blank", "frustum_pattern", "mid_thickness_frustum", "mitred_cylinder_pattern",
           "neutral_axis_factor", "oblique_frustum_pattern", "rolled_up", "smallest_rectangle", "wired_edge_allowance"]
