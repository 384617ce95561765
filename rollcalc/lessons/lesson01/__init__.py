"""Lesson 01, may it roll."""

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
