"""The game of lesson 12: roll a sheet whose yield, pinch and touch are hidden, and know when to stop."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget
import traitlets

from rollcalc.drawing import Picture, html_figure, svg_text
from rollcalc.drawing.passes.trial_view import trial_view
from rollcalc.stock.quantities import InputError
from rollcalc.stock.record import as_html

from ..engine import panel as engine_panel
from ..engine.panel import typed_number
from .played import CHORD, WANTED, Played

STILL_NOTE = "Run ▸ Run All Cells brings the game."
ENGINE = Path(engine_panel.__file__).parent
MOST_SHEETS = 9999


class TrialGame(anywidget.AnyWidget):
    """A form with a number of a sheet, turns and three buttons; the same number is the same sheet for everybody.

    ``roll(turns)``, ``take_off()`` and ``take(number)`` are what the buttons do.
    """

    _esm = Path(__file__).with_name("game.js").read_text(encoding="utf-8")
    _css = "".join(file.read_text(encoding="utf-8") for file in (
        ENGINE / "panel.css", ENGINE / "save.css", Path(__file__).with_name("game.css")))
    order: Any = traitlets.Dict().tag(sync=True)
    number: Any = traitlets.Unicode("1").tag(sync=True)
    units: Any = traitlets.Unicode("mm").tag(sync=True)
    svg: Any = traitlets.Unicode().tag(sync=True)
    sentence: Any = traitlets.Unicode().tag(sync=True)
    problem: Any = traitlets.Bool(False).tag(sync=True)
    tables: Any = traitlets.Unicode().tag(sync=True)
    over: Any = traitlets.Bool(False).tag(sync=True)
    rolled: Any = traitlets.Bool(False).tag(sync=True)
    asked: Any = traitlets.Int(0).tag(sync=True)
    answered: Any = traitlets.Int(0).tag(sync=True)

    def __init__(self, number: int = 1) -> None:
        super().__init__()
        self._played = Played(number)
        self._show()
        self._still = self._picture()
        self.observe(self._answer, ["asked"])

    def roll(self, turns: float | str) -> None:
        """Roll a pass with both screws at some turns from touch."""
        self._do("roll", turns)

    def take_off(self) -> None:
        """Take the sheet off as it is."""
        self._do("take off")

    def take(self, number: int | str) -> None:
        """Take the sheet of a number, flat."""
        self._do("take", number)

    def _answer(self, _change: Any) -> None:
        """Do what the browser asks for, and tell it in one message."""
        order = self.order
        with self.hold_sync():
            self._do(order.get("do"), order.get("with"))
            self.answered = self.asked

    def _do(self, what: Any, given: Any = None) -> None:
        """Do one thing; whatever goes wrong gets a sentence, and the sheet stays as it is."""
        try:
            if what == "roll":
                self._played.roll(_number(given, "Turns", "turns", "12 3/8"))
            elif what == "take off":
                if not self._played.outcome:
                    self._played.take_off()
            elif what == "take":
                self._played = Played(_sheet_number(given))
            elif what == "units":
                self.units = "inch" if given == "inch" else "mm"
            else:
                raise InputError("The game can roll, take off, or take another sheet, and this is none of them: press "
                                 "a button.")
            self._show()
        except InputError as refused:
            self.sentence, self.problem = str(refused), True
        except Exception as failure:  # shown to the learner, who sees no other output of a form
            self.sentence = f"Something went wrong in the game: {type(failure).__name__}: {failure}".rstrip(".") + "."
            self.problem = True

    def _show(self) -> None:
        """Put how the sheet stands into what is shown."""
        played, picture = self._played, self._picture()
        tables = [played.passes_shown(self.units)] if played.readings else []
        if played.outcome:
            tables.append(played.hidden_shown(self.units))
        self.svg, self.sentence, self.problem = svg_text(picture), picture.sentence, False
        self.tables = "".join(map(as_html, tables))
        self.number, self.over, self.rolled = str(played.number), bool(played.outcome), bool(played.readings)

    def _picture(self) -> Picture:
        """Return the sheet as the rule says it is, and in truth once it is over."""
        played = self._played
        last = played.readings[-1] if played.readings else None
        truth = played.true_radius if played.outcome else None
        if last is None or last.rise is None:
            return trial_view(played.sentence(self.units), WANTED, None, truth, units=self.units)
        return trial_view(played.sentence(self.units), WANTED, last.radius, truth, CHORD, last.rise, self.units)

    def _repr_mimebundle_(self, **options: Any) -> tuple[dict[str, Any], dict[str, Any]]:
        """Return the live game, and for where it cannot run its first sheet."""
        data, metadata = super()._repr_mimebundle_(**options) or ({}, {})
        return {**data, "text/html": html_figure(self._still, STILL_NOTE), "text/plain": self._still.sentence}, metadata


def _number(given: Any, what: str, unit: str, example: str) -> float:
    """Return a number that was typed."""
    advice = f'type a number such as "{example}"'
    if isinstance(given, str):
        try:
            return typed_number(given, unit)
        except InputError:
            given = None
    if isinstance(given, bool) or not isinstance(given, int | float) or not abs(given) < 1e300:
        raise InputError(f"{what} must be a number: {advice}.")
    return float(given)


def _sheet_number(given: Any) -> int:
    """Return the number of a sheet."""
    number = _number(given, "The sheet's number", "", "7")
    if number != round(number) or not 1 <= number <= MOST_SHEETS:
        raise InputError(f"The sheet's number is {number:g}, but must be a whole number from 1 to {MOST_SHEETS}: type "
                         "another.")
    return int(number)
