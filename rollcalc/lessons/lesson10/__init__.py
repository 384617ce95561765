"""Lesson 10, curve a bar."""

from rollcalc.drawing.metal.corner_view import corner_view as corner_view

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
