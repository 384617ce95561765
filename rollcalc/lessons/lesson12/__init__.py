"""Lesson 12, the trial strip."""

from rollcalc.job.learning.simulated import SimulatedSheet as SimulatedSheet

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
from .game import TrialGame as TrialGame
