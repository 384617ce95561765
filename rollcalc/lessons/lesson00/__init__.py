"""Lesson 00, start here."""

from ..engine.exercises import check as check
