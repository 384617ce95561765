"""Lesson 11, measure your machine."""

from rollcalc.drawing.machine.measure_view import measure_view as measure_view

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
from .measure import MeasureMachine as MeasureMachine
