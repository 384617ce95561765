"""Lesson 04, springback."""

from ..engine.exercises import check as check
