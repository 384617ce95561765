"""The form that turns readings into a machine file: it draws what to measure, and writes when its button is pressed."""

from __future__ import annotations

import itertools
import os
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from rollcalc.drawing import Picture, html_figure, svg_text
from rollcalc.drawing.machine.measure_view import measure_view
from rollcalc.rolling import DEMO_MACHINE, Machine, PinchMachine, load_machine
from rollcalc.rolling.machine.file import FILE_NAME, VARIABLE
from rollcalc.rolling.machine.writer import machine_text, write_machine
from rollcalc.stock.files import FileError, named, put_bytes, put_text
from rollcalc.stock.quantities import InputError
from rollcalc.stock.record import as_html

from ..engine import panel as engine_panel
from .fields import AROUND, BY_NAME, FIELDS
from .typed import Typed, errors_of, label_words, start_values, typed_machine

WAITING = f"Nothing is written before you press the button. A {FILE_NAME} that is there is kept under another name."
STILL_NOTE = "Run ▸ Run All Cells brings the form. Nothing is written before you press its button."
ENGINE = Path(engine_panel.__file__).parent


class MeasureMachine(anywidget.AnyWidget):
    """A form for the readings of a machine, with a drawing of the one in hand and a button that writes the file.

    It starts with the learner's own machine where a file describes one, and empty where that is the demo machine.
    A field that is left empty takes what is usual, and the file says that it was not measured.
    """

    _esm = Path(__file__).with_name("measure.js").read_text(encoding="utf-8")
    _css = "".join(file.read_text(encoding="utf-8") for file in (
        ENGINE / "panel.css", ENGINE / "save.css", Path(__file__).with_name("measure.css")))
    fields: Any = traitlets.List().tag(sync=True)
    file_name: Any = traitlets.Unicode(FILE_NAME).tag(sync=True)
    values: Any = traitlets.Dict().tag(sync=True)
    units: Any = traitlets.Unicode("mm").tag(sync=True)
    focus: Any = traitlets.Unicode().tag(sync=True)
    notes: Any = traitlets.Dict().tag(sync=True)
    problems: Any = traitlets.Dict().tag(sync=True)
    svg: Any = traitlets.Unicode().tag(sync=True)
    sentence: Any = traitlets.Unicode().tag(sync=True)
    problem: Any = traitlets.Bool(False).tag(sync=True)
    errors: Any = traitlets.Unicode().tag(sync=True)
    said: Any = traitlets.Unicode(WAITING).tag(sync=True)
    asked: Any = traitlets.Int(0).tag(sync=True)
    answered: Any = traitlets.Int(0).tag(sync=True)

    def __init__(self) -> None:
        self._own, unreadable = _own_machine()
        super().__init__(fields=[{**vars(field), "kind": field.kind} for field in FIELDS],
                         values=start_values(self._own))
        self._show()
        self._still = self._drawn(self._typed)
        if unreadable:
            self.said = f"{unreadable} The form starts empty. {WAITING}"
        self.observe(self._answer, ["values", "units", "focus", "asked"])
        self.on_msg(self._pressed)

    def set(self, **values: str) -> None:
        """Type into fields by name; ``units`` and ``focus`` are set in the same way."""
        with self.hold_trait_notifications():
            self.units, self.focus = values.pop("units", self.units), values.pop("focus", self.focus)
            self.values = {**self.values, **values}

    @property
    def machine(self) -> Machine | None:
        """The machine as it is typed, None where something cannot be."""
        return self._typed.machine

    def _answer(self, _change: Any) -> None:
        """Work everything out again and tell the browser in one message."""
        with self.hold_sync():
            self._show()
            self.answered = self.asked

    def _show(self) -> None:
        """Put what was typed into what is shown; whatever goes wrong gets a sentence."""
        now = (self.values, self.units)
        try:
            if getattr(self, "_read", None) != now:
                self._typed: Typed = typed_machine(self.values, self._checked_units(), self._own)
                self._read, self.errors = now, _errors_html(self._typed.machine, self.units)
            self.notes, self.problems = self._typed.notes, self._typed.problems
            self.sentence, self.problem = self._typed.sentence, self._typed.machine is None
            self.svg = svg_text(self._drawn(self._typed))
        except Exception as failure:  # shown to the learner, who sees no other output of a form
            words = str(failure) if isinstance(failure, InputError) else (
                f"Something went wrong in the form: {type(failure).__name__}: {failure}".rstrip(".") + ".")
            self._typed = Typed(None, DEMO_MACHINE, {}, {}, words)
            self._read = now
            self.notes, self.problems, self.errors, self.svg = {}, {}, "", ""
            self.sentence, self.problem = words, True

    def _checked_units(self) -> str:
        """Return the units that bare numbers are in."""
        if self.units not in ("mm", "inch"):
            raise InputError(f"Lengths are in {self.units!r}, but must be in mm or inch: choose again.")
        return str(self.units)

    def _drawn(self, typed: Typed) -> Picture:
        """Return the drawing of the field in hand."""
        field, reading, words = BY_NAME.get(self.focus), "", ""
        if field and field.is_asked("pinch" if isinstance(typed.drawn, PinchMachine) else "pyramid", self.values):
            text = str(self.values.get(field.name) or "").strip()
            reading, words = field.name, label_words(field, typed.drawn, text, self.units)
        return measure_view(typed.drawn, reading, words, around=self.values.get("rolls_by") == AROUND,
                            sentence=typed.sentence)

    def _pressed(self, _widget: Any, asked: Any, _buffers: Any) -> None:
        """Write the file, or send it to the browser, and answer with one sentence."""
        content, answer = None, {"problem": True, "sentence": ""}
        try:
            if self.machine is None:
                raise InputError(f"Nothing is written. {self.sentence}")
            if isinstance(asked, dict) and asked.get("place") == "browser":
                content, answer["file"] = machine_text(self.machine).encode(), FILE_NAME
                answer["sentence"] = f"{FILE_NAME} goes to your browser's downloads: put it beside your lessons."
            else:
                answer["sentence"] = written(self.machine, Path(os.getcwd()) / FILE_NAME)
            answer["problem"] = False
        except InputError as refused:
            answer["sentence"] = str(refused)
        except Exception as failure:  # shown to the learner, as above
            answer["sentence"] = f"Something went wrong: {type(failure).__name__}: {failure}".rstrip(".") + "."
        self.said = answer["sentence"]
        self.send(answer, None if content is None else [content])

    def _repr_mimebundle_(self, **options: Any) -> tuple[dict[str, Any], dict[str, Any]]:
        """Return the live form, and for where it cannot run its drawing and its sentence at the start."""
        data, metadata = super()._repr_mimebundle_(**options) or ({}, {})
        return {**data, "text/html": html_figure(self._still, STILL_NOTE), "text/plain": self._still.sentence}, metadata


def written(machine: Machine, file: Path) -> str:
    """Write a machine's file, keep one that is there under another name, and return what was done.

    The old file is copied first and then replaced in one step: whenever the computer stops, both are whole.
    """
    text, kept = machine_text(machine), ""
    if not os.path.lexists(file):
        write_machine(machine, file)
    else:
        try:
            old = file.read_bytes()
        except OSError as problem:
            raise FileError(f"{named(file)} is there and cannot be read ({problem.strerror}), so nothing is written: "
                            "move it away first.") from None
        if old == text.encode():
            return f"{named(file)} says all this already."
        kept = _kept(file, old)
        put_text(file, text, overwrite=True)
    said = f"Written: {named(file)}." + (f" The file that was there is kept as {kept}." if kept else "")
    named_file = os.environ.get(VARIABLE)
    return said + (f" Panels do not read it yet, as {VARIABLE} is {named(named_file)}." if named_file else
                   " Run a lesson's panels again, and they use this machine.")


def _kept(file: Path, content: bytes) -> str:
    """Copy a file under a name that nothing has, and return the name."""
    for number in itertools.count(1):
        kept = file.with_name(f"{file.stem} (before {number}){file.suffix}")
        if not os.path.lexists(kept):
            put_bytes(kept, content)
            return kept.name
    raise AssertionError


def _own_machine() -> tuple[Machine | None, str]:
    """Return the machine of the learner's file, None where it is the demo machine, and why a file cannot be read."""
    try:
        machine = load_machine()
    except InputError as problem:
        return None, str(problem)
    return (None if machine == DEMO_MACHINE else machine), ""


def _errors_html(machine: Machine | None, units: str) -> str:
    """Return the table of what an error of each reading does, or the sentence that says why there is none."""
    if machine is None:
        return ""
    try:
        return as_html(errors_of(machine).shown(units))
    except InputError as problem:
        from html import escape

        return f"<p>What an error of a reading does cannot be worked out here: {escape(str(problem))}</p>"
