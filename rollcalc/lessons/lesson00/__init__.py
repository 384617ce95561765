"""Lesson 00, start here."""

from rollcalc.drawing.machine.machine_words import machine_picture as machine_picture

from ..engine.exercises import check as check
from ..engine.glossary import glossary_table as glossary_table
from ..lesson04 import panels as panels
from . import problems as problems  # worked through on import, so that `check` answers at once
