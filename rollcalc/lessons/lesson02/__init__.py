"""Lesson 02, turn rolls into a circle."""

from rollcalc.drawing.machine.circle_pictures import rings_picture as rings_picture
from rollcalc.drawing.machine.circle_pictures import triangle_picture as triangle_picture

from ..engine.exercises import check as check
from . import problems as problems  # worked through on import, so that `check` answers at once
