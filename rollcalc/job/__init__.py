"""What you do: a plan for a piece on a machine, pass by pass."""

from .check_radius import CheckRadius
from .plan import plan_cone, plan_cylinder, plan_ring
from .planned import Plan, PlannedPass

__all__ = ["CheckRadius", "Plan", "PlannedPass", "plan_cone", "plan_cylinder", "plan_ring"]
