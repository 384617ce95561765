"""Exercises: right answers, named slips, and a line for whatever else is passed."""

from __future__ import annotations

import math
import subprocess
import sys
import types
from decimal import Decimal
from fractions import Fraction
from time import perf_counter

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from rollcalc import lessons
from rollcalc.lessons.engine import exercises, problem
from rollcalc.lessons.engine.exercises import (
    Problem,
    Slip,
    answer_number,
    check,
    feedback,
    formatted_answer,
    problem_with_id,
)
from rollcalc.stock.quantities import InputError
from tests import answers

INSIDE = Slip(lambda inside, thickness: inside, "that is the inside radius: go half a thickness further out.")
DIAMETER = Slip(lambda inside, thickness: 2 * inside + thickness, "a radius is asked for, not a diameter.")
RING = Problem(
    id="99.1",
    text="A ring of {thickness} mm sheet has an inside radius of {inside} mm. Its radius to mid-thickness, to 0.2 mm?",
    inputs={"inside": 65.0, "thickness": 2.6},
    answer=lambda inside, thickness: inside + thickness / 2,
    unit="mm",
    tolerance=0.2,
    slips=(INSIDE, DIAMETER),
)
SHARE = Problem(
    "99.2", "What share is {a} of {b}, within 0.5 %?", {"a": 3, "b": 25}, lambda a, b: 100 * a / b, "%", 0.5
)
ANGLE = Problem("99.3", "A fifth of a turn, within 1 deg?", {}, lambda: 72.0, "deg", 1, digits=0)


def variant(**changes: object) -> Problem:
    """The ring with something changed."""
    fields = {name: getattr(RING, name) for name in RING.__dataclass_fields__}
    return Problem(**{**fields, **changes})  # type: ignore[arg-type]


@pytest.mark.parametrize("answer", [
    66.3, "66.3", "66.3 mm", "6.63 cm", "2.61 in", "2 39/64 in", 66.2, "66,4 mm",
    np.float64(66.3), np.float32(66.3), np.array(66.3), Fraction(663, 10), Decimal("66.3"),
])
def test_right_answers_are_right_in_any_dress(answer: object) -> None:
    line = feedback(RING, answer)
    assert line.correct is True
    assert repr(line) == line.message == "99.1: correct, 66.3 mm."


@pytest.mark.parametrize(("of", "answer"), [(SHARE, 12), (SHARE, "12 %"), (SHARE, "12%"), (ANGLE, "72 deg"),
                                            (ANGLE, f"{math.radians(72)} rad"), (ANGLE, 72)])
def test_other_units(of: Problem, answer: object) -> None:
    assert feedback(of, answer).correct is True


@pytest.mark.parametrize("answer", [..., None, "", "  ", "...", "…"])
def test_an_empty_place_is_not_a_wrong_answer(answer: object) -> None:
    assert feedback(RING, answer) == exercises.Feedback("99.1", None, "99.1: not answered yet.")


@pytest.mark.parametrize(("answer", "hint"), [
    (65, INSIDE.hint), ("65 mm", INSIDE.hint), (132.6, DIAMETER.hint), (133, DIAMETER.hint), ("5.22 in", DIAMETER.hint),
])
def test_a_known_slip_gets_its_own_hint(answer: object, hint: str) -> None:
    line = feedback(RING, answer)
    assert (line.correct, line.message) == (False, f"99.1: not yet: {hint}")


@pytest.mark.parametrize(("of", "answer", "words"), [
    (RING, 2.61, "25.4 times too small: inches"),
    (RING, 66.3 * 25.4, "25.4 times too large: inches"),
    (RING, 0.0663, "metres or millimetres"),
    (RING, 66300, "1000 times too large"),
    (RING, 33.15, "radius or diameter"),
    (RING, -66.3, "wrong sign"),
    (RING, 66.7, "very close"),
    (SHARE, 0.12, "a fraction or per cent"),
    (SHARE, 1200, "in per cent already"),
    (SHARE, 24, "factor of two"),
    (ANGLE, 1.257, "radians"),
    (RING, 80, "80.0 mm is too large"),
    (RING, 10, "10.0 mm is too small"),
])
def test_general_slips_are_named(of: Problem, answer: float, words: str) -> None:
    line = feedback(of, answer)
    assert line.correct is False
    assert words in line.message


def test_a_wrong_number_never_gives_the_answer_away() -> None:
    for answer in (1, 10, 50, 65, 80, 100, 132.6, 2.61, 1e6, 1e300, -5):
        assert "66" not in feedback(RING, answer).message.replace("66300", "")


@pytest.mark.parametrize(("answer", "words"), [
    (math.nan, "finite"), (math.inf, "finite"), (10**400, "finite"), (Decimal("nan"), "finite"),
    (True, "True or False"), (np.bool_(False), "True or False"), ("9" * 5000, "5000 characters"),
    ([66.3], "of type list"), (np.array([66.3, 1]), "of type ndarray"), (np.array("66"), "of type ndarray"),
    (66.3 + 0j, "of type complex"), (b"66.3", "of type bytes"), (check, "of type function"),
    ((66, 3), "a comma makes two numbers of one: write a point"), (iter(()), "of type tuple_iterator"),
    ("sixty", "99.1: "), ("1/0 mm", "99.1: "), ("66.3 bananas", "99.1: "), ("\ud800", "99.1: "), ("6\n6", "99.1: "),
])
def test_what_is_no_number_gets_one_line(answer: object, words: str) -> None:
    line = feedback(RING, answer)
    assert line.correct is None
    assert words in line.message
    assert line.message.encode() == line.message.encode("utf-8", "strict")
    assert "\n" not in line.message


class Evil:
    """Refuses everything."""

    def _refuse(self, *args: object) -> object:
        raise RuntimeError("no")

    __str__ = __repr__ = __eq__ = __float__ = __int__ = __index__ = __bool__ = __len__ = __array__ = _refuse  # type: ignore[assignment]
    __hash__ = __iter__ = __format__ = __neg__ = __abs__ = __getattr__ = _refuse  # type: ignore[assignment]

    @property
    def __class__(self) -> type:  # type: ignore[override]
        raise RuntimeError("no class either")


class EvilFloat(float):
    """A number that refuses to be one."""

    __float__ = __str__ = __repr__ = __eq__ = __abs__ = __sub__ = __rsub__ = Evil._refuse  # type: ignore[assignment]
    __hash__ = Evil._refuse  # type: ignore[assignment]


class EvilText(str):
    """Text that refuses to be read."""

    __str__ = __repr__ = __eq__ = strip = __len__ = __hash__ = Evil._refuse  # type: ignore[assignment]


class EvilType(type):
    """A type whose name is a trap."""

    @property
    def __name__(cls) -> str:  # type: ignore[override]
        raise RuntimeError("no name")

    __eq__ = Evil._refuse  # type: ignore[assignment]
    __hash__ = Evil._refuse  # type: ignore[assignment]


def test_nothing_that_is_passed_can_stop_a_lesson() -> None:
    nameless = EvilType("Nameless", (), {})()
    for answer in (
        Evil(),
        nameless,
        EvilText("x"),
        Evil,
        object(),
        lambda: 1,
        np.array([]),
        np.ma.masked,
        np.datetime64("NaT"),
    ):
        assert feedback(RING, answer).correct is None, type(answer)
    assert feedback(RING, EvilFloat(66.3)).correct is True
    assert feedback(RING, EvilText("66.3 mm")).correct is True
    for id in (Evil(), None, 4.1, b"04.1", ["04.1"], EvilText("99.9")):
        assert check(id, 1).correct is None  # type: ignore[arg-type]


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text() | st.binary() | st.complex_numbers()
    | st.decimals() | st.fractions() | st.dates(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner) | st.tuples(inner),
    max_leaves=5,
)


@given(ANYTHING, st.text())
@example("__import__('os').abort()", "__import__('os')")
@example("{0.__class__}", "04.1\n")
@example("%s%n", "٠٤.١")
def test_anything_gets_exactly_one_line(answer: object, id: str) -> None:
    for line in (feedback(RING, answer), check(id, answer)):
        assert repr(line) == line.message
        assert len(line.message.splitlines()) == 1
        assert len(line.message) < 300
        line.message.encode("utf-8")


@pytest.mark.parametrize("answer", ["5 times", "5 x", "5.0×", "5"])
def test_how_many_times_may_be_said_in_words(answer):
    assert feedback(problem_with_id("10.3"), answer).correct


@pytest.mark.parametrize(("answer", "unit"), [("five times", ""), ("5 5 times", ""), ("5 times", "mm"), ("times", "")])
def test_times_is_no_number_and_no_length(answer, unit):
    with pytest.raises(InputError):
        answer_number(answer, unit)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_right_means_within_the_tolerance(answer: float) -> None:
    assert feedback(RING, answer).correct is (abs(answer - RING.true_answer) <= 0.2)


def test_the_answer_is_shown_in_one_way() -> None:
    assert formatted_answer(RING) == "66.3 mm"
    assert formatted_answer(ANGLE) == "72 deg"
    assert formatted_answer(Problem("99.4", "Nothing, within 1?", {}, lambda: -0.001, "", 1, digits=0)) == "0"


def test_answers_are_computed_once() -> None:
    calls: list[str] = []

    def computed(name: str, number: float) -> float:
        calls.append(name)
        return number

    half = Slip(lambda: computed("half", 5.0), "the other half is missing.")
    made = Problem("99.5", "Ten, within 1?", {}, lambda: computed("true", 10.0), "", 1, (half,))
    assert calls == ["true", "half"]
    assert [feedback(made, number).correct for number in (10, 5, 3)] == [True, False, False]
    assert calls == ["true", "half"]
    assert check("06.1", 1).correct is False  # the problem is made
    start = perf_counter()
    check("06.1", 1)
    assert perf_counter() - start < 0.05


answer: object = ...
"""The place for the answer in a notebook, which `check` empties again."""


def test_an_answer_is_not_marked_twice() -> None:
    global answer
    answer = "89.9 mm"
    assert check("00.1", answer).correct is False
    assert answer is ..., "a cell that only says check(id, answer) next must find the place empty"
    assert check("00.1", answer).correct is None


def test_an_answer_that_was_not_checked_stays() -> None:
    global answer
    answer = own = "89.9 mm"
    check("00.1", 90.38)
    check("00.1")
    assert answer is own
    bare: dict[str, object] = {"check": check}
    exec('line = check("00.1", 90.38)', bare)
    assert bare["line"].correct is True  # type: ignore[attr-defined]
    assert "answer" not in bare


@pytest.mark.parametrize(("id", "shown"), [
    ("4\n.1", r"4\n.1"), ("\x1b[31m", r"\x1b[31m"), ("\u202e1.40", r"\u202e1.40"), ("\ud800", r"\ud800"),
    ("<b>", "<b>"), ("x" * 10_000, "x" * 80 + "…"), ("\0" * 79, r"\x00" * 20 + "…"),
])
def test_an_id_that_is_none_is_shown_on_one_short_line(id: str, shown: str) -> None:
    assert check(id, 1).message.removeprefix("There is no exercise ").split(": did you mean")[0].rstrip(".") == shown


def test_each_student_may_have_other_numbers() -> None:
    other = RING.with_inputs(inside=80)
    assert "80 mm" in other.question
    assert "65" not in other.question
    assert formatted_answer(other) == "81.3 mm"
    assert feedback(other, 66.3).correct is False
    assert RING.inputs["inside"] == 65.0
    with pytest.raises(InputError, match="no input 'outside': it has inside, thickness"):
        RING.with_inputs(outside=1)
    with pytest.raises(InputError, match="cannot be told from the right answer"):
        RING.with_inputs(thickness=0.3)


@pytest.mark.parametrize(("changes", "complaint"), [
    ({"id": "4.1"}, "two digits"),
    ({"tolerance": 0.0}, "must be above 0"),
    ({"tolerance": math.nan}, "must be above 0"),
    ({"tolerance": 0.3}, "does not print the tolerance, 0.3 mm"),
    ({"text": "A ring, to 10.2 mm?"}, "does not print the tolerance"),
    ({"text": "A ring of {gauge}, to 0.2 mm?"}, "input that is not there, 'gauge'"),
    ({"answer": lambda inside, thickness: math.inf}, "the answer is inf"),
    ({"digits": 0}, "too coarse"),
    ({"slips": (Slip(lambda inside, thickness: 66.4, "near"),)}, "'near' cannot be told from the right"),
    ({"slips": (Slip(lambda inside, thickness: math.nan, "none"),)}, "'none' cannot be told from the right"),
    ({"slips": (INSIDE, Slip(lambda inside, thickness: 65.01, "twin"))}, "cannot be told from another slip"),
])
def test_a_bad_problem_cannot_be_made(changes: dict[str, object], complaint: str) -> None:
    with pytest.raises(InputError) as refusal:
        variant(**changes)
    assert complaint in str(refusal.value)


@pytest.fixture
def lesson_99(monkeypatch: pytest.MonkeyPatch) -> None:
    """A lesson 99 with two problems."""
    module = types.ModuleType(f"{lessons.__name__}.lesson99.problems")
    module.PROBLEMS = (RING, SHARE)  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, module.__name__, module)
    monkeypatch.setattr(exercises, "_modules", lambda: iter(("lesson99",)))


@pytest.mark.usefixtures("lesson_99")
def test_check_finds_the_problem_by_its_id() -> None:
    assert check("99.1", "66.3 mm").correct is True
    assert check("99.2").message == "99.2: not answered yet."
    assert check("99.10", 1).message == "There is no exercise 99.10: did you mean 99.1 or 99.2?"
    assert check("991", 1).message == "There is no exercise 991: did you mean 99.1 or 99.2?"
    assert check("hello", 1).message == "There is no exercise hello."
    assert check("98.1", 1).correct is None


def test_the_lessons_on_file_have_problems_of_their_own_number() -> None:
    for name in exercises._modules():
        found = exercises.lesson_problems(name.removeprefix("lesson"))
        assert found, name
        ids = [one.id for one in found]
        assert len(set(ids)) == len(ids)
        assert all(problem.ID.fullmatch(id) and f"lesson{id[:2]}" == name for id in ids)


def test_answers_as_people_write_them_are_judged_as_they_must() -> None:
    wrong, slowest = answers.run(2000, seed=3)
    assert not wrong
    assert slowest < answers.LONGEST


def test_a_lesson_works_its_problems_through_before_the_first_answer() -> None:
    code = ("import sys; from importlib import import_module\n"
            "for number in sys.argv[1:]:\n"
            "    import_module(f'rollcalc.lessons.lesson{number}')\n"
            "    assert f'rollcalc.lessons.lesson{number}.problems' in sys.modules, number")
    numbers = sorted({one.id[:2] for one in answers.problems()})
    subprocess.run([sys.executable, "-c", code, *numbers], check=True)
