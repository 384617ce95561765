"""The problems of lesson 13, plan a job."""

from ..engine.problem import Problem

PROBLEMS: tuple[Problem, ...] = ()
