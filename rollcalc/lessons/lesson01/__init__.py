"""Lesson 01, may it roll."""

from ..engine.exercises import check as check
