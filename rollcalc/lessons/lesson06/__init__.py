"""Lesson 06, share the work."""

from rollcalc.drawing.passes.askew_view import askew_view as askew_view
from rollcalc.drawing.passes.ends_view import ends_view as ends_view
from rollcalc.drawing.passes.zeroing_view import zeroing_view as zeroing_view

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
