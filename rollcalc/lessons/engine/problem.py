"""A problem: a question with one number as its answer, and the slips that are often made on the way."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

from rollcalc.stock.quantities import InputError

ID = re.compile(r"([0-9]{2})\.[0-9]+")
"""Two digits of the lesson, a point, and a number."""


@dataclass(frozen=True)
class Slip:
    """A mistake that is often made, and what to say to whoever made it."""

    wrong: Callable[..., float]  # takes the problem's inputs by name and returns what the mistake leads to
    hint: str  # one line that points at the mistake without giving the answer


@dataclass(frozen=True, eq=False)
class Problem:
    """A question with one number as its answer; it is worked through when made, so a bad one never reaches a lesson."""

    id: str  # lesson and number, such as 04.1
    text: str  # the question; {thickness} stands for the input of that name, {{ for a brace
    inputs: Mapping[str, object]
    answer: Callable[..., float]  # takes the inputs by name and returns the answer, computed by the library
    unit: str  # of the answer; empty for a plain number
    tolerance: float  # how far from the true answer still counts as right; the question says so
    slips: tuple[Slip, ...] = ()  # the mistakes that are recognised
    digits: int = 1  # decimals the answer is shown with

    def __post_init__(self) -> None:
        object.__setattr__(self, "inputs", MappingProxyType(dict(self.inputs)))
        for fault in _faults(self):
            raise InputError(f"exercise {self.id}: {fault}.")

    @property
    def question(self) -> str:
        """The text with the inputs filled in."""
        return self.text.format(**self.inputs)

    @cached_property
    def true_answer(self) -> float:
        """What the library computes from the inputs, once. [unit]"""
        return float(self.answer(**self.inputs))

    @cached_property
    def wrong_answers(self) -> tuple[float, ...]:
        """What the slips make of the same inputs, once each and in their order. [unit]"""
        return tuple(float(slip.wrong(**self.inputs)) for slip in self.slips)

    def with_inputs(self, **inputs: object) -> Problem:
        """Return the same problem with other numbers, one set for each student."""
        for name in inputs.keys() - self.inputs.keys():
            raise InputError(f"exercise {self.id} has no input {name!r}: it has {', '.join(self.inputs)}.")
        return replace(self, inputs={**self.inputs, **inputs})


def formatted_answer(problem: Problem) -> str:
    """Return the true answer as `check` shows it and as the folded solution must show it."""
    return shown_number(problem, problem.true_answer)


def shown_number(problem: Problem, number: float) -> str:
    """Return a number the way this problem shows numbers."""
    rounded = round(number, problem.digits) + 0.0
    return f"{rounded:.{problem.digits}f} {problem.unit}".strip()


def _faults(problem: Problem) -> Iterator[str]:
    """Yield what is wrong with a problem as it was written."""
    if not ID.fullmatch(problem.id):
        yield "the id must be two digits, a point and a number"
    if not (math.isfinite(problem.tolerance) and problem.tolerance > 0):
        yield f"the tolerance is {problem.tolerance}, but must be above 0"
    try:
        question, true = problem.question, problem.true_answer
    except (KeyError, IndexError, AttributeError) as gap:
        yield f"the text asks for an input that is not there, {gap}"
        return
    tolerance = f"{problem.tolerance:g} {problem.unit}".strip()
    if not re.search(rf"(?<![0-9.]){re.escape(tolerance)}(?![0-9])", question):
        yield f"the text does not print the tolerance, {tolerance}"
    if not math.isfinite(true):
        yield f"the answer is {true}"
    half_digit = 0.5 * 10.0**-problem.digits  # of the last one shown
    if half_digit > problem.tolerance:
        yield f"{problem.digits} decimals are too coarse for the tolerance"
    wrongs = problem.wrong_answers
    for wrong, slip in zip(wrongs, problem.slips, strict=True):
        if not abs(wrong - true) > problem.tolerance:
            yield f"the slip {slip.hint!r} cannot be told from the right answer"
        if sum(abs(wrong - other) <= half_digit for other in wrongs) > 1:
            yield f"the slip {slip.hint!r} cannot be told from another slip"
