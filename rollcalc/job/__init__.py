"""What you do: a plan for a piece on a machine, pass by pass, and what is kept of it."""

from .check_radius import CheckRadius
from .class_table import ClassTable, JobGroup, class_table
from .plan import plan_cone, plan_cylinder, plan_ring
from .planned import Plan, PlannedPass
from .record import Believed, JobRecord, PlannedTurns, Reading
from .record_file import load_records, save_record

__all__ = ["Believed", "CheckRadius", "ClassTable", "JobGroup", "JobRecord", "Plan", "PlannedPass", "PlannedTurns",
           "Reading", "class_table", "load_records", "plan_cone", "plan_cylinder", "plan_ring", "save_record"]
