"""Lesson 08, lay out a cone."""

from rollcalc.drawing.patterns.flat_view import flat_view as flat_view

from ..engine.exercises import check as check
from ..engine.save_pattern import SavePattern as SavePattern
from . import problems as problems  # worked through on import, so that `check` answers at once
