"""Lesson 13, plan a job."""

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
