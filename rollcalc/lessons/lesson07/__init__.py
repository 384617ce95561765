"""Lesson 07, cut the blank."""

from ..engine.exercises import check as check
