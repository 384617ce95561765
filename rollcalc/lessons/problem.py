"""A problem: a question with one number as its answer, and the slips that are often made on the way."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from rollcalc.stock.quantities import InputError

ID = re.compile(r"([0-9]{2})\.[0-9]+")
"""Two digits of the lesson, a point, and a number."""


@dataclass(frozen=True)
class Slip:
    """A mistake that is often made, and what to say to whoever made it.

    Parameters
    ----------
    wrong : callable
        Takes the problem's inputs by name and returns the number the mistake leads to.
    hint : str
        One line that points at the mistake without giving the answer.
    """

    wrong: Callable[..., float]
    hint: str


@dataclass(frozen=True, eq=False)
class Problem:
    """A question with one number as its answer.

    Parameters
    ----------
    id : str
        Lesson and number, such as ``04.1``.
    text : str
        The question; ``{thickness}`` stands for the input of that name, ``{{`` for a brace.
    inputs : mapping of str to object
        The numbers and things the question gives.
    answer : callable
        Takes the inputs by name and returns the answer, computed by the library.
    unit : str
        Unit of the answer; empty for a plain number.
    tolerance : float
        How far from the true answer still counts as right; the question says so. [unit]
    slips : tuple of Slip
        The mistakes that are recognised.
    digits : int
        Decimals the answer is shown with. [-]

    Raises
    ------
    InputError
        If the problem cannot be told apart from its own slips, or its text does not fit its inputs.

    Notes
    -----
    Every problem is worked through once when it is made, so a bad one never reaches a lesson.

    Examples
    --------
    >>> double = Slip(lambda diameter: diameter * math.pi * 2, "the diameter already holds both radii.")
    >>> hoop = Problem(id="99.1", text="A hoop is {diameter} mm across. How long is it, to 1 mm?",
    ...     inputs={"diameter": 100}, answer=lambda diameter: diameter * math.pi, unit="mm", tolerance=1.0,
    ...     slips=(double,))
    >>> hoop.question
    'A hoop is 100 mm across. How long is it, to 1 mm?'
    >>> formatted_answer(hoop)
    '314.2 mm'
    >>> hoop.with_inputs(diameter=80).question
    'A hoop is 80 mm across. How long is it, to 1 mm?'
    """

    id: str
    text: str
    inputs: Mapping[str, object]
    answer: Callable[..., float]
    unit: str
    tolerance: float
    slips: tuple[Slip, ...] = ()
    digits: int = 1

    def __post_init__(self) -> None:
        object.__setattr__(self, "inputs", MappingProxyType(dict(self.inputs)))
        for fault in _faults(self):
            raise InputError(f"exercise {self.id}: {fault}.")

    @property
    def question(self) -> str:
        """The text with the inputs filled in."""
        return self.text.format(**self.inputs)

    @property
    def true_answer(self) -> float:
        """What the library computes from the inputs. [unit]"""
        return float(self.answer(**self.inputs))

    def wrong_answer(self, slip: Slip) -> float:
        """What the slip makes of the same inputs. [unit]"""
        return float(slip.wrong(**self.inputs))

    def with_inputs(self, **inputs: object) -> Problem:
        """Return the same problem with other numbers, one set for each student."""
        for name in inputs.keys() - self.inputs.keys():
            raise InputError(f"exercise {self.id} has no input {name!r}: it has {', '.join(self.inputs)}.")
        return replace(self, inputs={**self.inputs, **inputs})


def formatted_answer(problem: Problem) -> str:
    """Return the true answer as `check` shows it and as the folded solution must show it.

    Parameters
    ----------
    problem : Problem
        The problem.

    Returns
    -------
    words : str
        Number and unit, such as ``66.3 mm``.
    """
    return shown_number(problem, problem.true_answer)


def shown_number(problem: Problem, number: float) -> str:
    """Return a number the way this problem shows numbers.

    Parameters
    ----------
    problem : Problem
        Gives the unit and the decimals.
    number : float
        The number to show. [unit]

    Returns
    -------
    words : str
        Number and unit.
    """
    rounded = round(number, problem.digits) + 0.0
    return f"{rounded:.{problem.digits}f} {problem.unit}".strip()


def _half_digit(problem: Problem) -> float:
    """Return half of the last digit shown. [unit]"""
    return 0.5 * 10.0**-problem.digits


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
    if _half_digit(problem) > problem.tolerance:
        yield f"{problem.digits} decimals are too coarse for the tolerance"
    wrongs = [problem.wrong_answer(slip) for slip in problem.slips]
    for wrong, slip in zip(wrongs, problem.slips, strict=True):
        if not abs(wrong - true) > problem.tolerance:
            yield f"the slip {slip.hint!r} cannot be told from the right answer"
        if sum(abs(wrong - other) <= _half_digit(problem) for other in wrongs) > 1:
            yield f"the slip {slip.hint!r} cannot be told from another slip"
