"""Lesson 05, the real curve."""

from ..engine.exercises import check as check
