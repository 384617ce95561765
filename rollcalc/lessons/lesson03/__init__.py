"""Lesson 03, bend a sheet."""

from ..engine.exercises import check as check
from ..engine.published import PUBLISHED as PUBLISHED
from . import problems as problems  # worked through on import, so that `check` answers at once
