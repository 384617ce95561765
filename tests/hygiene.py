"""The rules a committed lesson keeps, each as a function that yields what breaks it.

The numbers of a budget are aims of the house: short lessons get read. A lesson with another shape has
its own row in SECTIONS and BUDGETS, with the reason beside it.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

from nbformat import NotebookNode

from rollcalc.lessons.engine.exercises import Problem, feedback, formatted_answer
from rollcalc.lessons.engine.panel import RUN_HINT
from tests.normalise_notebooks import KERNELSPEC, LANGUAGE_INFO, WIDGET_VIEW, as_text, clean

LESSON_SECTIONS = ("In the workshop", "Guess first", "The idea", "By hand", "Explore", "Where it stops being true",
                   "Your turn", "What we learned")
YOUR_JOB = ("02", "05", "06", "07", "08", "09", "10")
"""Lessons that end with the learner's own piece on the learner's own machine."""
SECTIONS: dict[str, tuple[str, ...] | None] = {
    "00": None,  # The door: its sections are its own.
    **dict.fromkeys(YOUR_JOB, (*LESSON_SECTIONS[:-1], "Your job", LESSON_SECTIONS[-1])),
}
TAGS = {"hide-input", "raises-exception", "nbval-ignore-output"}
IGNORED_OUTPUTS: dict[tuple[str, str], str] = {}
"""(notebook, cell id) -> why its output cannot be compared. Aim: empty."""
NEVER_IMPORTED = {"os", "sys", "subprocess", "urllib", "requests", "pip", "piplite", "micropip", "socket"}
MIMES = {"text/plain", "text/html", "text/latex", "text/markdown"}
BYTES = 600 * 1024


@dataclass(frozen=True)
class Budget:
    """How long a lesson may be: from and to."""

    cells: tuple[int, int] = (20, 30)
    words: tuple[int, int] = (900, 1500)
    panels: tuple[int, int] = (1, 2)
    code_cells: int = 12
    code_lines: int = 60
    lines_in_a_cell: int = 10
    words_in_a_cell: int = 120


BUDGETS = {
    "00": Budget(cells=(5, 20), words=(250, 1000), panels=(0, 1), code_cells=6, code_lines=30),
    **dict.fromkeys(YOUR_JOB, Budget(cells=(20, 32), code_cells=13)),  # The section Your job; no more words.
}
YOUR_JOB_LINES = 6


@dataclass(frozen=True)
class Lesson:
    """A notebook as a rule sees it."""

    name: str
    book: NotebookNode
    text: str
    problems: Sequence[Problem] = ()
    cells: dict[str, list[NotebookNode]] = field(init=False)

    def __post_init__(self) -> None:
        kinds = {kind: [cell for cell in self.book.cells if cell.cell_type == kind] for kind in ("code", "markdown")}
        object.__setattr__(self, "cells", kinds)

    @property
    def number(self) -> str:
        """Two digits of a lesson; empty for any other notebook."""
        found = re.match(r"(\d\d)_", self.name)
        return found[1] if found else ""

    @property
    def budget(self) -> Budget:
        """How long it may be."""
        return BUDGETS.get(self.number, Budget())


def faults(lesson: Lesson) -> list[str]:
    """Return every rule the notebook breaks, with the place."""
    rules = EVERY_NOTEBOOK + (EVERY_LESSON if lesson.number else ())
    return [fault for rule in rules for fault in rule(lesson)]


def file_is_normalised(lesson: Lesson) -> Iterator[str]:
    """The file is as the normalising command writes it."""
    if lesson.book.metadata != {"kernelspec": KERNELSPEC, "language_info": LANGUAGE_INFO}:
        yield "metadata must be the kernelspec and language_info of the normalising command, and nothing else"
    if WIDGET_VIEW in lesson.text or '"widgets"' in lesson.text:
        yield "live widget state is stored"
    if lesson.text != as_text(clean(lesson.book)):
        yield "the file is not as tests/normalise_notebooks.py writes it"
    if len(lesson.text.encode()) > BYTES:
        yield f"the file is larger than {BYTES // 1024} KiB"


def cells_ran_once_in_order(lesson: Lesson) -> Iterator[str]:
    """Counts go from 1 to n."""
    counts = [cell.execution_count for cell in lesson.cells["code"]]
    if counts != list(range(1, len(counts) + 1)):
        yield f"counts are {counts}, not 1 to {len(counts)}: run it from top to bottom"


def cells_are_not_empty(lesson: Lesson) -> Iterator[str]:
    """No cell is empty, the last one least of all."""
    yield from (f"{cell.id} is empty" for cell in lesson.book.cells if not cell.source.strip())


def metadata_is_allowed(lesson: Lesson) -> Iterator[str]:
    """Cells carry tags and hidden sources, nothing else."""
    for cell in lesson.book.cells:
        tags, hidden = set(cell.metadata.get("tags", [])), cell.metadata.get("jupyter", {})
        if extra := cell.metadata.keys() - {"tags", "jupyter"}:
            yield f"{cell.id} has metadata {', '.join(sorted(extra))}"
        if tags - TAGS:
            yield f"{cell.id} has a tag that is not ours: {', '.join(sorted(tags - TAGS))}"
        if hidden not in ({}, {"source_hidden": True}) or ("hide-input" in tags) != bool(hidden):
            yield f"{cell.id}: hide-input and source_hidden go together"
        if "nbval-ignore-output" in tags and (lesson.name, cell.id) not in IGNORED_OUTPUTS:
            yield f"{cell.id} ignores its output without a reason in the table"


def errors_are_deliberate(lesson: Lesson) -> Iterator[str]:
    """An error is shown where it is tagged, and only in the section that is about it."""
    section = ""
    for cell in lesson.book.cells:
        section = ([section, *headings(cell.source, 2)] if cell.cell_type == "markdown" else [section])[-1]
        failed = any(output.output_type == "error" for output in cell.get("outputs", []))
        tagged = "raises-exception" in cell.metadata.get("tags", [])
        if failed != tagged:
            what = "shows an error without" if failed else "shows no error but has"
            yield f"{cell.id} {what} the tag raises-exception"
        if tagged and section != "Where it stops being true":
            yield f"{cell.id} shows an error outside the section that is about errors"


def code_is_plain(lesson: Lesson) -> Iterator[str]:
    """No magic, install, download, path trick or star import."""
    for cell in lesson.cells["code"]:
        try:
            tree = ast.parse(cell.source)
        except SyntaxError:
            yield f"{cell.id} has a magic, a shell command or broken code"
            continue
        imports = [node for node in ast.walk(tree) if isinstance(node, ast.Import | ast.ImportFrom)]
        if any(alias.name == "*" for node in imports for alias in node.names):
            yield f"{cell.id} has a star import"
        names = [node.module or "" for node in imports if isinstance(node, ast.ImportFrom)]
        names += [alias.name for node in imports if isinstance(node, ast.Import) for alias in node.names]
        if found := {name.partition(".")[0] for name in names} & NEVER_IMPORTED:
            yield f"{cell.id} imports {', '.join(sorted(found))}, which no lesson needs"
        if re.search(r"get_ipython|sys\.path|\bpip3? install\b|https?://", cell.source):
            yield f"{cell.id} installs, downloads or changes where Python looks"


def outputs_show_everywhere(lesson: Lesson) -> Iterator[str]:
    """Outputs show in a fresh clone, and every picture has a text alternative and a caption."""
    for cell in lesson.cells["code"]:
        for output in cell.outputs:
            data = output.get("data", {})
            if odd := data.keys() - MIMES:
                yield f"{cell.id} stores {', '.join(sorted(odd))}, which a fresh clone does not show"
            yield from (f"{cell.id}: {fault}" for fault in Figures(data.get("text/html", "")).faults())
            if output.get("name") == "stderr":
                yield f"{cell.id} prints a warning"


def images_are_local_and_described(lesson: Lesson) -> Iterator[str]:
    """An image in the text is a local file with a text alternative."""
    for cell in lesson.cells["markdown"]:
        found = re.findall(r"!\[([^\]]*)\]\(([^)\s]*)", cell.source)
        for tag in re.findall(r"<img\b[^>]*>", cell.source):
            attributes = dict(re.findall(r'(\w+)="([^"]*)"', tag))
            found.append((attributes.get("alt", ""), attributes.get("src", "")))
        for alt, source in found:
            if not alt.strip():
                yield f"{cell.id} has an image without a text alternative"
            if re.match(r"\w+:", source) and not source.startswith(("data:", "attachment:")):
                yield f"{cell.id} has an image from elsewhere"


def no_path_of_one_desk(lesson: Lesson) -> Iterator[str]:
    """Nothing names a folder of the machine that ran it."""
    folders = "|".join(("home", "Users", "root", "tmp", "usr", "opt", "var", "mnt"))
    text = re.sub(r"base64,[A-Za-z0-9+/=]+", "", lesson.text)
    for found in re.findall(rf"(?<![\w.])/(?:{folders})/\S*|\b[A-Z]:\\\\\S*|site-packages", text):
        yield f"names a path of one machine: {found}"


def sections_are_in_order(lesson: Lesson) -> Iterator[str]:
    """The title comes first, then the sections of the template."""
    first = lesson.book.cells[0]
    titles = [title for cell in lesson.cells["markdown"] for title in headings(cell.source, 1)]
    if first.cell_type != "markdown" or not first.source.startswith("# ") or len(titles) != 1:
        yield "the lesson must begin with its title, the only heading of the first level"
    if lesson.number != "00" and not re.search(r"\bminutes\b(.|\n)*\bable to\b", first.source):
        yield "the title cell must say how many minutes, and what you will be able to do"
    sections = [title for cell in lesson.cells["markdown"] for title in headings(cell.source, 2)]
    wanted = SECTIONS.get(lesson.number, LESSON_SECTIONS)
    if wanted is not None and sections != list(wanted):
        yield f"sections are {sections}, not {list(wanted)}"


def budget_is_kept(lesson: Lesson) -> Iterator[str]:
    """The lesson is short enough to be read, and long enough to teach."""
    code = {cell.id: sum(bool(line.strip()) for line in cell.source.splitlines()) for cell in lesson.cells["code"]}
    prose = {cell.id: words(cell.source) for cell in lesson.cells["markdown"]}
    panels = sum(RUN_HINT in output.get("data", {}).get("text/html", "") for cell in lesson.cells["code"]
                 for output in cell.outputs)
    budget = lesson.budget
    for what, number, (low, high) in (
        ("cells", len(lesson.book.cells), budget.cells),
        ("words", sum(prose.values()), budget.words),
        ("panels", panels, budget.panels),
        ("code cells", len(code), (0, budget.code_cells)),
        ("lines of code", sum(code.values()), (0, budget.code_lines)),
    ):
        if not low <= number <= high:
            yield f"{number} {what}, budget {low} to {high}"
    yield from (f"{id} has {n} lines of code, budget {budget.lines_in_a_cell}" for id, n in code.items()
                if n > budget.lines_in_a_cell)
    yield from (f"{id} has {n} words, budget {budget.words_in_a_cell}" for id, n in prose.items()
                if n > budget.words_in_a_cell)


def exercises_agree_with_the_library(lesson: Lesson) -> Iterator[str]:
    """Each problem is asked in its own words, left open, checked once, and solved below with its own answer."""
    places = {id: place for place, cell in enumerate(lesson.book.cells) for id in checked_ids(cell)}
    problems = {problem.id: problem for problem in lesson.problems}
    if list(places) != list(problems):
        yield f"exercises checked are {list(places)}, not {list(problems)}"
    for id in places.keys() & problems.keys():
        problem, before = problems[id], lesson.book.cells[: places[id]]
        if not any(problem.question in cell.source for cell in before if cell.cell_type == "markdown"):
            yield f"{id}: the question is not in the lesson word for word: {problem.question}"
        output = "".join(map(str, lesson.book.cells[places[id]].outputs))
        if f"{id}: not answered yet." not in output:
            yield f"{id}: the committed answer is not left open"
        after = lesson.book.cells[places[id] + 1 : places[id] + 2]
        folded = [part for cell in after if cell.cell_type == "markdown" for part in details(cell.source)]
        if not any(stands_in(formatted_answer(problem), part) for part in folded):
            yield f"{id}: the folded solution below does not say {formatted_answer(problem)}"
        if not feedback(problem, formatted_answer(problem)).correct:
            yield f"{id}: its own answer is not accepted"
        for slip, wrong in zip(problem.slips, problem.wrong_answers, strict=True):
            if slip.hint not in feedback(problem, wrong).message:
                yield f"{id}: a slip does not get its hint: {slip.hint}"


def your_job_is_on_the_learners_machine(lesson: Lesson) -> Iterator[str]:
    """The section Your job is one short cell that loads the learner's machine; nothing else in the lesson does."""
    if lesson.number not in YOUR_JOB:
        return
    loading = [cell for cell in lesson.cells["code"] if "load_machine" in cell.source]
    if loading != lesson.cells["code"][-1:]:
        yield "the last code cell, and no other, must load the learner's machine"
        return
    if len(loading[0].source.splitlines()) > YOUR_JOB_LINES:
        yield f"{loading[0].id} has more than {YOUR_JOB_LINES} lines for the learner to read"
    if "the bench roll (invented for these lessons)" not in str(loading[0].outputs):
        yield f"{loading[0].id} does not name the machine in its answer"


EVERY_NOTEBOOK: tuple[Callable[[Lesson], Iterator[str]], ...] = (
    file_is_normalised, cells_ran_once_in_order, cells_are_not_empty, metadata_is_allowed, errors_are_deliberate,
    code_is_plain, outputs_show_everywhere, images_are_local_and_described, no_path_of_one_desk,
)
EVERY_LESSON: tuple[Callable[[Lesson], Iterator[str]], ...] = (
    sections_are_in_order, budget_is_kept, exercises_agree_with_the_library, your_job_is_on_the_learners_machine,
)


def headings(markdown: str, level: int) -> list[str]:
    """Return the headings of a level, outside code."""
    return re.findall(rf"^#{{{level}}} +(.+?) *$", without_code(markdown), re.MULTILINE)


def details(markdown: str) -> list[str]:
    """Return the folded parts that have a summary to unfold them by."""
    return [part for part in re.findall(r"<details>(.*?)</details>", markdown, re.DOTALL) if "<summary>" in part]


def words(markdown: str) -> int:
    """Return the number of words to read, without folded parts, formulas, code and addresses."""
    text = re.sub(r"<details>.*?</details>", " ", without_code(markdown), flags=re.DOTALL)
    text = re.sub(r"\$\$.*?\$\$|\$[^$\n]+\$|<[^>]+>|\]\([^)]*\)|https?://\S+", " ", text, flags=re.DOTALL)
    return len(re.findall(r"[^\W\d_][\w'’-]*", text))


def without_code(markdown: str) -> str:
    """Return the text without fenced code."""
    return re.sub(r"^```.*?^```", "", markdown, flags=re.DOTALL | re.MULTILINE)


def checked_ids(cell: NotebookNode) -> list[str]:
    """Return the exercises that a cell checks."""
    try:
        tree = ast.parse(cell.source if cell.cell_type == "code" else "")
    except SyntaxError:
        return []
    return [str(ast.literal_eval(node.args[0])) for node in ast.walk(tree)
            if isinstance(node, ast.Call) and getattr(node.func, "id", getattr(node.func, "attr", "")) == "check"
            and node.args and isinstance(node.args[0], ast.Constant)]


def stands_in(answer: str, text: str) -> bool:
    """Return whether the answer is in the text as a whole number with its unit, not as the end of a longer one."""
    return re.search(rf"(?<![\d.,−-]){re.escape(answer)}(?!\.?\d)", text) is not None


class Figures(HTMLParser):
    """Reads the pictures in an output."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self.captions: list[str] = []
        self.images = self.inside = 0
        self.caption: str | None = None
        self.feed(html)

    def faults(self) -> list[str]:
        """Return what is wrong with the pictures."""
        if self.images != len(self.captions) or not all(caption.strip() for caption in self.captions):
            return [*self.found, "a picture has no caption"]
        return self.found

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note an image, or the start of a caption."""
        attributes = dict(attrs)
        if tag == "img":
            self.images += 1
            if not (attributes.get("alt") or "").strip():
                self.found.append("a picture has no text alternative")
            if not (attributes.get("src") or "").startswith("data:"):
                self.found.append("a picture is not stored in the notebook")
        elif tag in ("svg", "script", "iframe", "style", "link"):
            self.found.append(f"<{tag}> is dropped from a fresh clone")
        elif tag == "figcaption":
            self.caption = ""

    def handle_data(self, data: str) -> None:
        """Collect a caption."""
        if self.caption is not None:
            self.caption += data

    def handle_endtag(self, tag: str) -> None:
        """Keep a caption."""
        if tag == "figcaption" and self.caption is not None:
            self.captions.append(self.caption)
            self.caption = None


def read_lesson(path: Path, book: NotebookNode, problems: Sequence[Problem]) -> Lesson:
    """Return the notebook of a file as the rules see it."""
    return Lesson(path.name, book, path.read_text("utf-8"), problems)
