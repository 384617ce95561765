"""Lesson 04, springback."""

from ..engine.exercises import check

__all__ = ["check"]
