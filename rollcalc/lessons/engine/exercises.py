"""Exercises: a problem, the library's own answer to it, and a check that answers in one line."""

import math
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction
from importlib import import_module
from pkgutil import iter_modules
from types import EllipsisType

import numpy as np

from rollcalc import lessons
from rollcalc.stock.quantities import InputError
from rollcalc.stock.units import parse_quantity

from .problem import ID, Problem, Slip, formatted_answer, shown_number

__all__ = ["Feedback", "Problem", "Slip", "answer_number", "check", "feedback", "formatted_answer",
           "lesson_problems", "problem_with_id"]

TIMES = re.compile(r"\s*(times|x|×)$", re.IGNORECASE)
LONGEST_ANSWER = 80
"""Characters of text that may still be one number and its unit."""

GENERAL_SLIPS: tuple[tuple[float, tuple[str, ...], str], ...] = (
    (1 / 25.4, ("mm",), "is 25.4 times too small: inches or millimetres?"),
    (25.4, ("mm",), "is 25.4 times too large: inches or millimetres?"),
    (25.4, ("1/mm",), "is 25.4 times too large: per inch or per millimetre?"),
    (1 / 1000, ("mm",), "is 1000 times too small: metres or millimetres?"),
    (1 / 1000, ("MPa",), "is 1000 times too small: GPa or MPa?"),
    (1000, ("MPa",), "is 1000 times too large: kPa or MPa?"),
    (1 / 1000, (), "is 1000 times too small: look at the units."),
    (1000, (), "is 1000 times too large: look at the units."),
    (1 / 100, ("%",), "is 100 times too small: a fraction or per cent?"),
    (100, ("%",), "is 100 times too large: was it in per cent already?"),
    (math.radians(1), ("deg",), "looks like radians: degrees are asked for."),
    (math.degrees(1), ("rad",), "looks like degrees: radians are asked for."),
    (1 / 2, ("mm",), "is half of what it should be: radius or diameter?"),
    (2, ("mm",), "is twice what it should be: diameter or radius?"),
    (1 / 2, (), "is half of what it should be: a factor of two has slipped in."),
    (2, (), "is twice what it should be: a factor of two has slipped in."),
    (-1, (), "has the wrong sign: which way round did you subtract?"),
)
"""Factor, the units it is looked for with (none: all of them), and what to say."""


@dataclass(frozen=True, repr=False)
class Feedback:
    """The answer to an answer; it shows as its one line."""

    id: str  # the exercise
    correct: bool | None  # None where there was nothing to judge
    message: str

    def __repr__(self) -> str:
        return self.message


def check(id: str, answer: object = ...) -> Feedback:
    """Return one line on an answer: right, a hint, or not answered yet.

    Whatever is passed gets a line, so that Run All always reaches the end. Text is read, never evaluated. The caller's
    variable ``answer`` is empty again afterwards: a cell that forgets to set it must not have the last one marked.
    """
    caller = sys._getframe(1).f_globals
    if answer is not ... and caller.get("answer", ...) is answer:
        caller["answer"] = ...
    if not issubclass(type(id), str):
        return Feedback("?", None, 'The exercise comes first, in quotes: check("04.1", answer).')
    name = str.__str__(id)
    problem = problem_with_id(name)
    return _unknown(name) if problem is None else feedback(problem, answer)


def feedback(problem: Problem, answer: object) -> Feedback:
    """Return one line on an answer to this problem."""
    try:
        if _unanswered(answer):
            return Feedback(problem.id, None, f"{problem.id}: not answered yet.")
        number = answer_number(answer, problem.unit)
    except InputError as sentence:
        return Feedback(problem.id, None, _one_line(f"{problem.id}: {sentence}"))
    except Exception:  # Whatever an odd object does when asked for its number, the lesson goes on.
        return Feedback(problem.id, None, f"{problem.id}: that cannot be read as a number.")
    if abs(number - problem.true_answer) <= problem.tolerance:
        return Feedback(problem.id, True, f"{problem.id}: correct, {formatted_answer(problem)}.")
    return Feedback(problem.id, False, f"{problem.id}: not yet: {_hint(problem, number)}")


def answer_number(answer: object, unit: str) -> float:
    """Return an answer as a number in the unit asked for."""
    kind = type(answer)
    if issubclass(kind, str):
        text = str.strip(answer)  # type: ignore[arg-type]
        if len(text) > LONGEST_ANSWER:
            raise InputError(f"that is {len(text)} characters of text: give one number, with its unit.")
        if not unit:  # "how many times" is answered with "5 times"
            text = TIMES.sub("", text)
        return _finite(parse_quantity(text, unit))
    if issubclass(kind, bool | np.bool_):
        raise InputError("True or False is not a number: give the number itself.")
    for number in (float, int):
        if issubclass(kind, number):
            return _finite(number.__pos__(answer))  # type: ignore[arg-type]
    if kind is np.ndarray or issubclass(kind, np.number):
        array = np.asarray(answer)
        if array.ndim == 0 and array.dtype.kind in "iuf":
            return _finite(array.item())
    if kind is Fraction or kind is Decimal:
        return _finite(answer)
    if kind is tuple:
        raise InputError("a comma makes two numbers of one: write a point, such as 90.4.")
    raise InputError(f"one number is asked for, and this is of type {kind.__name__[:40]}.")


def problem_with_id(id: str) -> Problem | None:
    """Return the problem of that id, or None where there is no such problem."""
    match = ID.fullmatch(id)
    lesson = lesson_problems(match[1]) if match else ()
    return next((problem for problem in lesson if problem.id == id), None)


def lesson_problems(lesson: str) -> tuple[Problem, ...]:
    """Return the problems of a lesson, none where it has none."""
    if f"lesson{lesson}" not in _modules():
        return ()
    found: tuple[Problem, ...] = import_module(f"{lessons.__name__}.lesson{lesson}.problems").PROBLEMS
    return found


def _modules() -> Iterator[str]:
    """Yield the names of the lessons that hold problems."""
    return (module.name for module in iter_modules(lessons.__path__) if module.name.startswith("lesson"))


def _unknown(id: str) -> Feedback:
    """Return the line for an id that no exercise has, with ids that look like it."""
    numbers = [name.removeprefix("lesson") for name in _modules()]
    ids = [problem.id for number in numbers for problem in lesson_problems(number)]
    near = get_close_matches(id[:LONGEST_ANSWER], ids, n=3, cutoff=0.5)
    seen = repr(id[:LONGEST_ANSWER + 1])[1:-1]  # on one line, and what cannot be seen as its code
    shown = seen if len(seen) <= LONGEST_ANSWER else f"{seen[:LONGEST_ANSWER]}…"
    question = f": did you mean {' or '.join(near)}?" if near else "."
    return Feedback(shown, None, f"There is no exercise {shown}{question}")


def _unanswered(answer: object) -> bool:
    """Return whether the place for the answer is still empty."""
    if issubclass(type(answer), str):
        return str.strip(answer) in ("", "...", "…")  # type: ignore[arg-type]
    return issubclass(type(answer), EllipsisType | type(None))


def _finite(number: object) -> float:
    """Return the number as a float, or the sentence where it is none a workshop knows."""
    try:
        value = float(number)  # type: ignore[arg-type]
    except OverflowError:
        value = math.inf
    if not math.isfinite(value):
        raise InputError(f"the answer is {value:g}, but must be a finite number: look for a division by zero.")
    return value


def _hint(problem: Problem, number: float) -> str:
    """Return what to say about a wrong number, most telling first."""
    true = problem.true_answer
    wrongs = [(abs(number - wrong), slip.hint) for slip, wrong in zip(problem.slips, problem.wrong_answers, strict=True)
              if abs(number - wrong) <= _reach(problem, wrong)]
    if wrongs:
        return min(wrongs)[1]
    for factor, units, words in GENERAL_SLIPS:
        fits = true and (not units or problem.unit in units)
        if fits and abs(number - factor * true) <= _reach(problem, factor * true):
            return f"your number {words}"
    if abs(number - true) <= 4 * problem.tolerance:
        return "very close; keep more digits until the last step."
    shown = shown_number(problem, number) if abs(number) < 1e9 else "that"
    side = "large" if number > true else "small"
    return f"{shown} is too {side}. Compare your steps with the example worked by hand."


def _reach(problem: Problem, wrong: float) -> float:
    """Return how near a number must be to a wrong one to pass for it: at most half way to the right one."""
    true = problem.true_answer
    share = min(max(problem.tolerance / abs(true), 0.005), 0.02) if true else 0.005
    return min(max(abs(wrong) * share, problem.tolerance / 100), abs(wrong - true) / 2)


def _one_line(message: str) -> str:
    """Return the message on one line that every screen can show."""
    return " ".join(message.encode("utf-8", "backslashreplace").decode().split())
