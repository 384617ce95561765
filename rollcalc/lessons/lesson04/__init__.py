"""Lesson 04, springback."""

from rollcalc.drawing.metal.bend_graphs import band_picture as band_picture, stress_picture as stress_picture

from ..engine.exercises import check as check
from ..engine.published import PUBLISHED as PUBLISHED
from . import problems as problems  # worked through on import, so that `check` answers at once
