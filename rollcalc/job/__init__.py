"""What you do: a plan for a piece on a machine, pass by pass, and what each pass tells."""

from .check_radius import CheckRadius
from .estimate import Estimate, estimate
from .next_pass import NextPass
from .plan import plan_cone, plan_cylinder, plan_ring
from .planned import Plan, PlannedPass

__all__ = ["CheckRadius", "Estimate", "NextPass", "Plan", "PlannedPass", "estimate", "plan_cone", "plan_cylinder",
           "plan_ring"]
