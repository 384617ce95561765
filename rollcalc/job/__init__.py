"""What you do: a plan for a piece on a machine, what its passes teach, and what is kept of it."""

from .check_radius import CheckRadius
from .class_table import ClassTable, JobGroup, class_table
from .estimate import Estimate, estimate
from .next_pass import NextPass
from .plan import plan_cone, plan_cylinder, plan_ring
from .planned import Plan, PlannedPass
from .record import Believed, JobRecord, PlannedTurns, Reading
from .record_file import load_records, save_record

__all__ = ["Believed", "CheckRadius", "ClassTable", "Estimate", "JobGroup", "JobRecord", "NextPass", "Plan",
           "PlannedPass", "PlannedTurns", "Reading", "class_table", "estimate", "load_records", "plan_cone",
           "plan_cylinder", "plan_ring", "save_record"]
