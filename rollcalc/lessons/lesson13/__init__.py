"""Lesson 13, plan a job."""

from rollcalc.drawing.passes.belief_view import belief_view as belief_view

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
