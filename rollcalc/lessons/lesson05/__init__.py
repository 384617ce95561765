"""Lesson 05, the real curve."""

from rollcalc.drawing.machine.span_graphs import along_picture as along_picture, rules_picture as rules_picture

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
