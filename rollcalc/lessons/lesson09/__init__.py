"""Lesson 09, roll a gentle cone."""

from ..engine.exercises import check as check
