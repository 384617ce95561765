"""Lesson 10, curve a bar."""

from ..engine.exercises import check as check
