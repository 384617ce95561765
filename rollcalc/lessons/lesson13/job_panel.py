"""The job panel: a piece, a metal and sizes in; verdict, blank, passes, what the readings tell, and the card out."""

from __future__ import annotations

from html import escape
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from rollcalc.drawing.card.files import FORMATS, card_bytes, write_card
from rollcalc.drawing.core.paper_sizes import PAPERS
from rollcalc.job import Plan
from rollcalc.job.plans.words import turns_words
from rollcalc.rolling import Machine, load_machine, machine_source
from rollcalc.stock.quantities import InputError, shown
from rollcalc.stock.record import as_html

from ..engine import panel as engine_panel
from ..engine.panel import RUN_HINT
from ..engine.save_pattern import BROWSER, HERE, asked_file, is_hosted
from . import page
from .form import FORMS, START, in_other_units, plan_of, read_form
from .readings import LENGTHS, Learnt, Row, learnt

ENGINE = Path(engine_panel.__file__).parent
TYPES = {"pdf": "application/pdf", "html": "text/html"}
UNITS = ("mm", "inch")
WAITING = "The card is not written before you press a button."
FORM_NOTE = f"{RUN_HINT} the form. {WAITING}"
PRINT_NOTE = "Print it at 100 %, and measure a check line before you trust its arcs."


class JobPanel(anywidget.AnyWidget):
    """A form for a job, and everything that the plan and the readings say about it.

    The browser sends what stands in the fields and draws what comes back; every number is read and worked out here.
    What was typed stays as it was typed: Python changes a field only where mm and inch are exchanged, and fills in
    what a pass was dialled at where only its rise was typed.
    """

    _esm = Path(__file__).with_name("job_panel.js").read_text(encoding="utf-8")
    _css = "".join(file.read_text(encoding="utf-8") for file in (
        ENGINE / "panel.css", ENGINE / "save.css", Path(__file__).with_name("job_panel.css")))
    forms: Any = traitlets.Dict().tag(sync=True)
    start: Any = traitlets.Dict().tag(sync=True)
    formats: Any = traitlets.List(list(FORMATS)).tag(sync=True)
    papers: Any = traitlets.List(list(PAPERS)).tag(sync=True)
    places: Any = traitlets.List([HERE, BROWSER]).tag(sync=True)
    place: Any = traitlets.Unicode().tag(sync=True)
    piece: Any = traitlets.Unicode(next(iter(FORMS))).tag(sync=True)
    units: Any = traitlets.Unicode("mm").tag(sync=True)
    values: Any = traitlets.Dict().tag(sync=True)
    readings: Any = traitlets.Dict().tag(sync=True)
    page: Any = traitlets.Dict().tag(sync=True)
    said: Any = traitlets.Unicode(WAITING).tag(sync=True)
    asked: Any = traitlets.Int(0).tag(sync=True)
    answered: Any = traitlets.Int(0).tag(sync=True)

    def __init__(self) -> None:
        self.plan: Plan | None = None
        self._typed_as: dict[tuple[Any, ...], tuple[str, str]] = {}  # place, text and units shown -> as it was typed
        self._units_before, self._answering = "mm", False
        super().__init__(forms={piece: [_for_browser(field) for field in fields] for piece, fields in FORMS.items()},
                         start=START, values=START, readings={piece: [] for piece in FORMS},
                         place=BROWSER if is_hosted() else HERE)
        self._show()
        self._still = self.plan
        self.observe(self._answer, ["piece", "units", "values", "readings", "asked"])
        self.on_msg(self._pressed)

    def set(self, piece: str | None = None, units: str | None = None, readings: Any = None, **values: str) -> None:
        """Type into the fields of a piece by name; ``readings`` are rows with turns, rise and chord, as typed."""
        chosen = piece or self.piece
        with self.hold_trait_notifications():
            self.piece, self.units = chosen, units or self.units
            self.values = {**self.values, chosen: {**self.values.get(chosen, {}), **values}}
            if readings is not None:
                self.readings = {**self.readings, chosen: [dict(row) for row in readings]}
            self.asked += 1

    def _answer(self, _change: Any) -> None:
        """Work everything out again and tell the browser in one message."""
        if self._answering:
            return
        self._answering = True
        try:
            with self.hold_sync():
                self._show()
                self.answered = self.asked
        finally:
            self._answering = False

    def _show(self) -> None:
        """Put what was typed into what is shown; whatever goes wrong gets a sentence."""
        self.plan, found = None, _empty_page()
        try:
            if self.piece not in FORMS or self.units not in UNITS:
                raise InputError(f"the piece is {shown(self.piece)} and the units are {shown(self.units)}, but must be "
                                 "of those in the lists: choose again.")
            self._exchange_units()
            found["machine"] = machine_source()
            self._planned(load_machine(), found)
        except InputError as refused:
            found |= {"problem": str(refused), "sentence": str(refused)}
        except Exception as failure:  # shown to the learner, never an old plan under new numbers
            words = f"Something went wrong in the panel: {type(failure).__name__}: {failure}".rstrip(". ") + "."
            found = {**_empty_page(), "problem": words, "sentence": words}
        self.page = found

    def _planned(self, machine: Machine, found: dict[str, Any]) -> None:
        """Add plan and readings to what is shown."""
        given, found["faults"] = read_form(self.piece, self._fields(self.piece), self.units)
        if found["faults"]:
            raise InputError(next(iter(found["faults"].values())))
        plan = self.plan = plan_of(self.piece, given, machine)
        told = learnt(plan, self._rows(self.piece), self.units)
        self.readings = {**self.readings, self.piece: [vars(row) for row in told.rows]}
        found |= plan_page(plan, told, self.units)

    def _exchange_units(self) -> None:
        """Show what was typed in the other units, where they were changed; exchanged again, just as it was typed."""
        if self.units == self._units_before:
            return
        new = self._units_before = self.units
        self.values = {piece: {name: self._exchanged((piece, name), text, new)
                               for name, text in self._fields(piece).items()} for piece in FORMS}
        self.readings = {piece: [{name: self._exchanged((piece, number, name), text, new) if name in LENGTHS else text
                                  for name, text in vars(row).items()}
                                 for number, row in enumerate(self._rows(piece))] for piece in FORMS}

    def _fields(self, piece: str) -> dict[str, Any]:
        """Return what stands in the fields of a piece, nothing where the browser sent none."""
        sent = self.values.get(piece)
        return sent if isinstance(sent, dict) else {}

    def _rows(self, piece: str) -> list[Row]:
        """Return what stands in the fields of the passes of a piece."""
        sent = self.readings.get(piece)
        return [Row.sent(row) for row in sent] if isinstance(sent, list) else []

    def _exchanged(self, place: tuple[Any, ...], text: Any, new: str) -> Any:
        """Return a text in the new units: as it was typed in them, if it was, and else converted."""
        if not isinstance(text, str):
            return text
        converted, original = self._typed_as.get(place, ("", ""))
        if converted == text and converted:
            self._typed_as[place] = (original, text)
            return original
        other = in_other_units(text, new)
        self._typed_as[place] = (other, text)
        return other

    def _pressed(self, _widget: Any, asked: Any, _buffers: Any) -> None:
        """Write the card, or send it to the browser, and answer with one sentence."""
        content: bytes | None = None
        answer: dict[str, Any] = {"problem": False}
        try:
            format, file = asked_file(asked, FORMATS)
            if self.plan is None:
                raise InputError(f"There is no plan to write: {self.page.get('problem') or 'fill in the form'}")
            paper, units = asked.get("paper", "A4"), self.units
            if asked.get("place") == BROWSER:
                content = card_bytes(self.plan, format, paper, units)
                answer |= {"file": file.name, "type": TYPES[format]}
                answer["sentence"] = f"{file.name} goes to your browser's downloads. {PRINT_NOTE}"
            else:
                write_card(self.plan, file, paper, units, overwrite=asked.get("replace") is True)
                answer["sentence"] = f"Saved as {file.expanduser()}. {PRINT_NOTE}"
        except InputError as refused:
            said = str(refused).replace("allow overwrite=True", "tick “Replace a file of that name”")
            answer = {"problem": True, "sentence": said}
        except Exception as failure:  # shown to the learner, who sees no other output of a button
            said = f"Something went wrong: {type(failure).__name__}: {failure}".rstrip(".: ")
            answer = {"problem": True, "sentence": f"{said}."}
        self.said = answer["sentence"]
        self.send(answer, None if content is None else [content])

    def _repr_mimebundle_(self, **options: Any) -> tuple[dict[str, Any], dict[str, Any]]:
        """Return the live panel, and for where it cannot run the plan that it starts with."""
        data, metadata = super()._repr_mimebundle_(**options) or ({}, {})
        still = as_html(self._still.shown()) if self._still else f"<p>{escape(self.page['problem'])}</p>"
        words = repr(self._still) if self._still else self.page["problem"]
        return {**data, "text/html": f"{still}<p>{FORM_NOTE}</p>", "text/plain": words}, metadata


def plan_page(plan: Plan, told: Learnt, units: str) -> dict[str, Any]:
    """Return what the browser shows of a plan and of what the readings told."""
    count = len(plan.passes)
    dialled = [turns_words(one.turns_left) for one in plan.passes] if plan.cone is None else []
    said = "No turns are given." if not count else f"{count} passes: {', then '.join(dialled)} turns." if dialled else (
        f"{count} passes, each screw at its own turns: see the table.")
    return {
        "verdict": page.verdict_html(plan, units), "checks": page.checks_html(plan, units),
        "blank": page.blank_html(plan, units), "notes": page.notes_html(plan, units),
        "before": page.before_html(plan), "wrong": page.wrong_html(plan, units),
        "head": page.pass_head(plan) if count else [],
        "measure": page.measure_words(plan, units) if count else "", "rows": told.shown, "learns": told.learns,
        "chord": page.chord_words(plan, units).partition(" ")[0], "learnt": told.html, "svg": told.svg,
        "caption": told.caption, "reading_faults": told.faults, "sentence": told.sentence or said}


def _empty_page() -> dict[str, Any]:
    """Return what is shown where there is no plan."""
    return {"machine": "", "faults": {}, "problem": "", "sentence": "", "verdict": "", "checks": "", "blank": "",
            "notes": "", "before": "", "wrong": "", "head": [], "measure": "", "rows": [], "learns": False, "chord": "",
            "learnt": "", "svg": "", "caption": "", "reading_faults": {}}


def _for_browser(field: Any) -> dict[str, Any]:
    """Return what the browser needs to know about a field."""
    return {"name": field.name, "label": field.label, "options": list(field.options), "seams": list(field.seams)}
