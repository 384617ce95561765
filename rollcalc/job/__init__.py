"""What you do: a plan for a piece on a machine, what its passes teach, and what is kept of it."""

from .learning.estimate import Estimate, estimate
from .learning.next_pass import NextPass
from .plans.check_radius import CheckRadius
from .plans.plan import plan_cone, plan_cylinder, plan_ring
from .plans.planned import Plan, PlannedPass
from .records.class_table import ClassTable, JobGroup, class_table
from .records.record import Believed, JobRecord, PlannedTurns, Reading
from .records.record_file import load_records, save_record

__all__ = ["Believed", "CheckRadius", "ClassTable", "Estimate", "JobGroup", "JobRecord", "NextPass", "Plan",
           "PlannedPass", "PlannedTurns", "Reading", "class_table", "estimate", "load_records", "plan_cone",
           "plan_cylinder", "plan_ring", "save_record"]
