"""What you do: a job and what is kept of it."""

from .class_table import ClassTable, JobGroup, class_table
from .record import Believed, JobRecord, PlannedTurns, Reading
from .record_file import load_records, save_record

__all__ = ["Believed", "ClassTable", "JobGroup", "JobRecord", "PlannedTurns", "Reading", "class_table", "load_records",
           "save_record"]
