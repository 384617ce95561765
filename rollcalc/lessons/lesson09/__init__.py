"""Lesson 09, roll a gentle cone."""

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
