"""Every committed lesson keeps the rules of tests/hygiene.py, and the rules notice when one is broken."""

from __future__ import annotations

import copy
from collections.abc import Callable
from pathlib import Path

import nbformat
import pytest
from nbformat import NotebookNode
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from rollcalc.lessons.engine.exercises import Problem, Slip, lesson_problems
from rollcalc.lessons.engine.panel import RUN_NOTE
from tests import hygiene
from tests.hygiene import LESSON_SECTIONS, Lesson, faults
from tests.normalise_notebooks import as_text, clean, lessons


@pytest.mark.parametrize("path", lessons(), ids=lambda path: path.name)
def test_lesson(path: Path) -> None:
    book = nbformat.read(path, as_version=4)
    lesson = hygiene.read_lesson(path, book, lesson_problems(path.name[:2]))
    assert faults(lesson) == []


def test_the_lessons_of_the_course_are_there() -> None:
    assert {"00", "02", "04"} <= {path.name[:2] for path in lessons()}


def test_every_problem_belongs_to_a_lesson() -> None:
    numbers = {path.name[:2] for path in lessons()}
    assert [
        number for number in (f"{n:02}" for n in range(100)) if lesson_problems(number) and number not in numbers
    ] == []


PROBLEM = Problem(
    id="98.1",
    text="A hoop is {diameter} mm across. How long is the strip, within 1 mm?",
    inputs={"diameter": 100},
    answer=lambda diameter: 3.14159265 * diameter,
    unit="mm",
    tolerance=1.0,
    slips=(Slip(lambda diameter: 6.2831853 * diameter, "the diameter already holds both radii."),),
)
FIGURE = '<figure><img alt="A hoop" src="data:image/svg+xml;base64,PHN2Zy8+"><figcaption>{}</figcaption></figure>'


def toy() -> NotebookNode:
    """Return a lesson 98 that keeps every rule."""
    prose = "Metal springs back a little when the rolls let it go. " * 8
    cells = [new_markdown_cell("# The hoop opens up\n\nTake 20 minutes. You will be able to\n- see why")]
    for title in LESSON_SECTIONS:
        cells.append(new_markdown_cell(f"## {title}\n\n{prose}"))
        if title == "Explore":
            panel = new_output(
                "execute_result", {"text/html": FIGURE.format(f"R 66.3 mm. {RUN_NOTE}"), "text/plain": "R"}
            )
            cells.append(new_code_cell("panel", outputs=[panel]))
        if title == "Where it stops being true":
            error = new_output("error", ename="InputError", evalue="no", traceback=["InputError: no"])
            cells.append(new_code_cell("rc.Sheet(thickness=0, width=1)", outputs=[error],
                                       metadata={"tags": ["raises-exception"]}))
        if title == "Your turn":
            line = new_output("execute_result", {"text/plain": "98.1: not answered yet."})
            cells.append(new_markdown_cell("A hoop is 100 mm across. How long is the strip, within 1 mm?"))
            cells.append(new_code_cell('answer = ...\ncheck("98.1", answer)', outputs=[line]))
            cells.append(new_markdown_cell("<details><summary>Solution</summary>\n\nπ × 100 mm = 314.2 mm.</details>"))
        else:
            cells.append(new_markdown_cell(prose))
    for count, cell in enumerate([cell for cell in cells if cell.cell_type == "code"], start=1):
        cell.execution_count = count
        for output in cell.outputs:
            if output.output_type == "execute_result":
                output.execution_count = count
    return clean(new_notebook(cells=cells))


def seen(book: NotebookNode, problems: tuple[Problem, ...] = (PROBLEM,)) -> list[str]:
    """Return the faults of a lesson 98."""
    return faults(Lesson("98_roll_hoop.ipynb", book, as_text(book), problems))


def code(book: NotebookNode, place: int = 0) -> NotebookNode:
    """Return a code cell: 0 the panel, 1 the deliberate error, 2 the exercise."""
    return [cell for cell in book.cells if cell.cell_type == "code"][place]


def edit(place: int, old: str, new: str) -> Callable[[NotebookNode], None]:
    """Return a change to the text of one cell."""

    def change(book: NotebookNode) -> None:
        assert old in book.cells[place].source
        book.cells[place].source = book.cells[place].source.replace(old, new)

    return change


def swap_output(place: int, mime: str, content: str) -> Callable[[NotebookNode], None]:
    """Return a change to the output of one code cell."""
    return lambda book: code(book, place).outputs[0].data.update({mime: content})


def source(text: str, place: int = 0) -> Callable[[NotebookNode], None]:
    """Return a change to the source of one code cell."""
    return lambda book: code(book, place).update(source=text)


def place_of(text: str) -> int:
    """Return where a text stands in the toy."""
    return next(place for place, cell in enumerate(toy().cells) if text in cell.source)


STILL = FIGURE.format(f"R 66.3 mm. {RUN_NOTE}")
MUTATIONS: dict[str, Callable[[NotebookNode], None]] = {
    # complaint -> what is done to a good lesson
    "counts are [1, 7, 3]": lambda book: code(book, 1).update(execution_count=7),
    "counts are [1, None, 3]": lambda book: code(book, 1).update(execution_count=None),
    "kernelspec": lambda book: book.metadata.kernelspec.update(display_name="Mine"),
    "language_info": lambda book: book.metadata.update(language_info={"name": "python", "version": "3.11"}),
    "live widget state": lambda book: book.metadata.update(widgets={}),
    "not as tests/normalise": lambda book: book.cells[3].update(id="abcd"),
    "larger than 600 KiB": swap_output(0, "text/plain", "x" * 700_000),
    "is empty": lambda book: book.cells[-1].update(source="  "),
    "has metadata collapsed": lambda book: code(book).metadata.update(collapsed=True),
    "a tag that is not ours: later": lambda book: code(book).metadata.update(tags=["later"]),
    "hide-input and source_hidden": lambda book: code(book).metadata.update(tags=["hide-input"]),
    "without a reason": lambda book: code(book).metadata.update(tags=["nbval-ignore-output"]),
    "shows an error without": lambda book: code(book, 1).metadata.pop("tags"),
    "shows no error but has": lambda book: code(book, 1).update(outputs=[]),
    "outside the section": edit(place_of("## Where"), "## Where it stops being true", "### Elsewhere"),
    "has a magic": source("%matplotlib inline"),
    "shell command": source("!pip install x"),
    "star import": source("from rollcalc import *"),
    "imports subprocess": source("import subprocess"),
    "imports urllib": source("from urllib.request import urlopen"),
    "installs, downloads": source("get('https://example.org/sheet.csv')"),
    "stores image/svg+xml": swap_output(0, "image/svg+xml", "<svg/>"),
    "stores image/png": swap_output(0, "image/png", "AAAA"),
    "<svg> is dropped": swap_output(0, "text/html", STILL + "<svg></svg>"),
    "no text alternative": swap_output(0, "text/html", STILL.replace("A hoop", " ")),
    "no caption": swap_output(0, "text/html", STILL + '<img alt="A" src="data:image/svg+xml;base64,AAAA">'),
    "picture has no caption": swap_output(0, "text/html", STILL + FIGURE.format(" ")),
    "not stored in the notebook": swap_output(0, "text/html", STILL.replace("data:image/svg+xml", "https://a.org/")),
    "prints a warning": lambda book: code(book).outputs.append(new_output("stream", name="stderr", text="old\n")),
    "image without a text": edit(2, "Metal", "![](roll.png) Metal"),
    "image without": edit(2, "Metal", '<img src="roll.png"> Metal'),
    "image from elsewhere": edit(2, "Metal", "![A roll](https://a.org/roll.png) Metal"),
    "path of one machine": edit(2, "Metal", "/".join(("", "home", "me", "file")) + " Metal"),
    "begin with its title": edit(0, "# The", "The"),
    "only heading": edit(2, "Metal", "# Metal"),
    "how many minutes": edit(0, "minutes", "seconds"),
    "sections are": edit(place_of("## By hand"), "## By hand", "## By machine"),
    "sections are ['In the workshop', 'In the workshop'": edit(2, "Metal", "## In the workshop\n\nMetal"),
    "18 cells, budget": lambda book: [book.cells.pop() for _ in range(3)],
    "words, budget 900 to 1500": lambda book: [
        c.update(source=c.source.replace("springs back a little when", "")) for c in book.cells
    ],
    "cell-02 has 128 words, budget 120": edit(2, "little ", "little more or a little less "),
    "0 panels": swap_output(0, "text/html", FIGURE.format("R 66.3 mm")),
    "3 panels": lambda book: code(book).outputs.extend([copy.deepcopy(code(book).outputs[0]) for _ in range(2)]),
    "14 code cells": lambda book: book.cells.extend(new_code_cell("1") for _ in range(11)),
    "has 11 lines of code": source("\n".join("1" * 11)),
    "66 lines of code": lambda book: [source("1\n" * n, p)(book) for p, n in enumerate((40, 24, 2))],
    # type: ignore[list-item]
    "exercises checked are []": source("answer = ...", 2),
    "exercises checked are ['98.2']": source('check("98.2")', 2),
    "not in the lesson word for word": edit(place_of("A hoop is"), "100 mm", "90 mm"),
    "not left open": swap_output(2, "text/plain", "98.1: correct, 314.2 mm."),
    "does not say 314.2 mm": edit(place_of("<details>"), "= 314.2", "= 1314.2"),
    "folded solution below": edit(place_of("<details>"), "<summary>Solution</summary>", "Solution"),
}


def test_a_good_lesson_has_no_fault() -> None:
    assert seen(toy()) == []


@pytest.mark.parametrize(("complaint", "change"), MUTATIONS.items(), ids=MUTATIONS)
def test_the_rules_notice(complaint: str, change: Callable[[NotebookNode], None]) -> None:
    book = toy()
    change(book)
    assert any(complaint in fault for fault in seen(book)), seen(book)


def test_the_rules_notice_a_problem_that_is_not_asked() -> None:
    other = PROBLEM.with_inputs(diameter=200)
    assert any("word for word" in fault for fault in seen(toy(), (other,)))
    assert any("does not say 628.3 mm" in fault for fault in seen(toy(), (other,)))


@pytest.mark.parametrize(("complaint", "change"), {
    "no other": lambda cell: cell.update(source=cell.source.replace("rc.load_machine()", "rc.DEMO_MACHINE")),
    "more than 6 lines": lambda cell: cell.update(source=cell.source + "\n1" * 6),
    "does not name the machine": lambda cell: cell.update(outputs=[]),
    "not ['In the workshop'": lambda cell: cell.update(cell_type="markdown", source="## Mine"),
}.items())
def test_the_rules_notice_a_job_that_is_not_the_learners(complaint, change):
    path = next(path for path in lessons() if path.name.startswith(hygiene.YOUR_JOB[0]))
    book = nbformat.read(path, as_version=4)
    change([cell for cell in book.cells if cell.cell_type == "code"][-1])
    found = faults(hygiene.read_lesson(path, book, lesson_problems(path.name[:2])))
    assert any(complaint in fault for fault in found), found


def test_a_notebook_that_is_no_lesson_has_no_budget() -> None:
    book = clean(new_notebook(cells=[new_markdown_cell("# Notes for the instructor")]))
    assert faults(Lesson("springback_notes.ipynb", book, as_text(book))) == []


def test_folded_parts_formulas_and_code_are_not_counted_as_words() -> None:
    text = "One *two* three.\n\n$$a b c$$ and $x$ <b>four</b> [five](http://six.org)\n<details>seven</details>\n```\neight\n```"
    assert hygiene.words(text) == 6
