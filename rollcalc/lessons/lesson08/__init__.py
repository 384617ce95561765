"""Lesson 08, lay out a cone."""

from ..engine.exercises import check as check
