"""What the machine does: where the rolls stand, and the curve they give."""

from .alignment import Taper, seam_offset, taper, tolerable_skew_degrees, tolerable_turns
from .bowed_radii import BowedRadii, bowed_radii
from .cone import ConeSetting, cone_setting, cone_waist
from .deflection import roll_bow, roll_stress
from .effort import Effort, crank_effort, crank_force_limit
from .effort_slopes import EffortSlopes, effort_slopes
from .flat_ends import FlatEnds, Remedy, flat_ends
from .limits.capacity import Capacity, check_capacity
from .limits.check import Check
from .limits.reach import usable_travel
from .machine.file import load_machine, machine_source
from .machine.grooves import Groove, groove_for, grooved_machine, grooves
from .machine.kinds import DEMO_MACHINE, Machine, PinchMachine, PyramidMachine
from .machine.writer import write_machine
from .measuring import radius_error_from_chord, radius_from_chord, rise_of_chord
from .passes.plan import pass_schedule, replanned
from .passes.schedule import Pass, Schedule
from .radius import radius_for_travel, setting_for_radius, setting_for_travel
from .reading_errors import ReadingError, ReadingErrors, reading_errors
from .rules import circle_radius, circle_travel, two_arc_travel, two_thirds_radius, two_thirds_travel
from .setting import Setting
from .shape import SpanShape, span_shape
from .zeroing import ZeroingStep, zeroing_steps

__all__ = ["DEMO_MACHINE", "BowedRadii", "Capacity", "Check", "ConeSetting", "Effort", "EffortSlopes", "FlatEnds",
           "Groove", "Machine", "Pass", "PinchMachine", "PyramidMachine", "ReadingError", "ReadingErrors", "Remedy",
           "Schedule", "Setting", "SpanShape", "Taper", "ZeroingStep", "bowed_radii", "check_capacity", "circle_radius",
           "circle_travel", "cone_setting", "cone_waist", "crank_effort", "crank_force_limit", "effort_slopes",
           "flat_ends", "groove_for", "grooved_machine", "grooves", "load_machine", "machine_source", "pass_schedule",
           "radius_error_from_chord", "radius_for_travel", "radius_from_chord", "reading_errors", "replanned",
           "rise_of_chord", "roll_bow", "roll_stress", "seam_offset", "setting_for_radius", "setting_for_travel",
           "span_shape", "taper", "tolerable_skew_degrees", "tolerable_turns", "two_arc_travel", "two_thirds_radius",
           "two_thirds_travel", "usable_travel", "write_machine", "zeroing_steps"]
