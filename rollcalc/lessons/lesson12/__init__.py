"""Lesson 12, the trial strip."""

from rollcalc.job.simulated import SimulatedSheet as SimulatedSheet

from ..engine.exercises import check as check
from .game import TrialGame as TrialGame
