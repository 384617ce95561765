"""Lesson 02, turn rolls into a circle."""

from ..engine.exercises import check as check
