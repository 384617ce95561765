"""A panel: labelled controls, the picture they move, and the sentence that says what it shows."""

from __future__ import annotations

import inspect
import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from html import escape
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from rollcalc.drawing import Picture, html_figure, svg_text
from rollcalc.stock.gauges import MM_PER_INCH
from rollcalc.stock.quantities import InputError, allowed_range
from rollcalc.stock.units import parse_quantity

MOST_CONTROLS = 4
RUN_HINT = "Run ▸ Run All Cells brings"
RUN_NOTE = f"{RUN_HINT} the sliders."


@dataclass(frozen=True)
class Control:
    """A number the learner may change: a slider and a number field."""

    name: str  # the picture function's parameter
    label: str  # the quantity in words, starting with a capital letter
    unit: str  # "mm" marks a length, which follows the mm/inch switch; empty for a plain number
    low: float  # ends of the slider, both allowed
    high: float
    step: float  # between the slider's places
    start: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.low) and math.isfinite(self.high) and self.low < self.high and self.step > 0):
            raise ValueError(f"Control {self.name!r} needs low < high and a step above 0.")
        for word, value in (("start", self.start), ("high", self.high)):
            steps = (value - self.low) / self.step
            if not self.low <= value <= self.high or abs(steps - round(steps)) > 1e-6:
                raise ValueError(f"Control {self.name!r}: {word} {value:g} is not on the steps from {self.low:g}"
                                 f" to {self.high:g} by {self.step:g}.")

    def scale(self, units: str) -> _Scale:
        """Return how the control looks while lengths are shown in ``units``."""
        if self.unit == "mm" and units == "inch":
            decimals = max(2, math.ceil(-math.log10(0.6 * self.step / MM_PER_INCH)))
            grain = 10**decimals / MM_PER_INCH
            low, high = math.ceil(self.low * grain - 1e-9), math.floor(self.high * grain + 1e-9)
            return _Scale("in", MM_PER_INCH, decimals, low / 10**decimals, high / 10**decimals, 10.0**-decimals)
        decimals = max(len(f"{number:.9f}".rstrip("0").split(".")[1]) for number in (self.low, self.step))
        return _Scale(self.unit, 1.0, decimals, self.low, self.high, self.step)

    def read(self, value: Any, units: str) -> float:
        """Return the value as a number within the range [unit], or raise the sentence for the learner."""
        scale = self.scale(units)
        allowed = allowed_range(scale.unit, at_least=scale.low, at_most=scale.high)
        advice = "move the slider or type another number"
        if isinstance(value, str):
            value = _typed(value, scale.unit)
        if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e300:  # nor NaN
            raise InputError(f"{self.label} is not a number, but must be {allowed}: {advice}.")
        if not self.low - 1e-9 * abs(self.low) <= value <= self.high + 1e-9 * abs(self.high):
            shown = f"{value / scale.factor:.6g} {scale.unit}".strip()
            raise InputError(f"{self.label} is {shown}, but must be {allowed}: {advice}.")
        return float(value)

    def ends(self) -> tuple[Any, ...]:
        """Return the two ends of the range. [unit]"""
        return (self.low, self.high)


def typed_number(text: str, unit: str) -> float:
    """Return the number that was typed, as an exercise takes it ("65,3", "2 1/2", "3/16 in"); lengths in mm."""
    words = text.strip()
    plain_number = words[-1:].isnumeric() and not any(letter.isalpha() for letter in words)
    return parse_quantity(f"{words} {unit}".strip() if plain_number and unit in ("mm", "in") else words,
                          "mm" if unit == "in" else unit)


def _typed(text: str, unit: str) -> float | None:
    """Return the number that was typed; None where it is none."""
    try:
        return typed_number(text, unit)
    except InputError:
        return None


@dataclass(frozen=True)
class _Scale:
    """How a control shows its number: unit, how many mm make one, decimals, and what may be typed."""

    unit: str
    factor: float
    decimals: int
    low: float
    high: float
    step: float


@dataclass(frozen=True)
class Choice:
    """A choice between a few words, such as the names of metals."""

    name: str  # the picture function's parameter
    label: str  # the quantity in words, starting with a capital letter
    options: tuple[str, ...]
    start: str = ""  # the first option if left out

    def __post_init__(self) -> None:
        object.__setattr__(self, "options", tuple(self.options))
        object.__setattr__(self, "start", self.start or next(iter(self.options), ""))
        if len(set(self.options)) != len(self.options) or len(self.options) < 2 or self.start not in self.options:
            raise ValueError(f"Choice {self.name!r} needs two or more different options, and start among them.")

    def read(self, value: Any, units: str) -> str:
        """Return the value if it is one of the options, or raise the sentence for the learner."""
        if not isinstance(value, str) or value not in self.options:
            raise InputError(f"{self.label} is {value!r}, but must be one of {', '.join(self.options)}: choose again.")
        return value

    def ends(self) -> tuple[Any, ...]:
        """Return every option."""
        return self.options


class Panel(anywidget.AnyWidget):
    """Controls, the picture they move, and its sentence, as one Jupyter widget.

    The picture function takes the controls' values by name, lengths in mm; a parameter ``units`` receives ``"mm"`` or
    ``"inch"`` and brings the switch for it. The controls, at most four, stand in the order machine, stock, wanted
    shape, view. The browser sends what the learner set, numbered by ``asked``, and takes the picture for
    old until ``answered`` says the same number; everything is checked again here. A setting that cannot be
    shows the sentence that says why, and no picture. Where no program can run, the picture at the start is shown.
    """

    _esm = Path(__file__).with_name("panel.js").read_text(encoding="utf-8")
    _css = Path(__file__).with_name("panel.css").read_text(encoding="utf-8")
    controls: Any = traitlets.List().tag(sync=True)
    start: Any = traitlets.Dict().tag(sync=True)
    has_units: Any = traitlets.Bool().tag(sync=True)
    values: Any = traitlets.Dict().tag(sync=True)
    units: Any = traitlets.Unicode("mm").tag(sync=True)
    svg: Any = traitlets.Unicode().tag(sync=True)
    sentence: Any = traitlets.Unicode().tag(sync=True)
    problem: Any = traitlets.Bool(False).tag(sync=True)
    asked: Any = traitlets.Int(0).tag(sync=True)
    answered: Any = traitlets.Int(0).tag(sync=True)

    def __init__(self, picture_function: Callable[..., Picture], *controls: Control | Choice) -> None:
        self._picture_function = picture_function
        self._controls = controls
        has_units = _checked_parameters(picture_function, controls)
        start = {control.name: control.start for control in controls}
        self._failure: Exception | None = None
        self._still: Picture | None = None
        try:
            self._still = self._drawn(start, "mm", has_units)
            svg, sentence = svg_text(self._still), self._still.sentence
        except InputError as refused:  # a machine of one's own may not do what a panel starts with
            svg, sentence = "", str(refused)
        super().__init__(controls=[_for_browser(control) for control in controls], start=start, values=start,
                         has_units=has_units, svg=svg, sentence=sentence, problem=not svg)
        self._shown = (self.values, self.units)
        self.observe(self._redraw, ["values", "units", "asked"])

    def set(self, **values: Any) -> None:
        """Set controls by name, lengths in mm; ``units="inch"`` turns the switch. Errors in the code are raised."""
        units = values.pop("units", self.units)
        unknown = set(values) - set(self.start)
        if unknown:
            raise ValueError(f"The panel has no control {', '.join(sorted(unknown))}; it has {', '.join(self.start)}.")
        with self.hold_trait_notifications():
            self.units, self.values = units, {**self.values, **values}
        if self._failure is not None:
            raise self._failure

    def _redraw(self, _change: Any) -> None:
        """Draw the picture again; tell the browser picture, sentence and kind of sentence in one message."""
        if self._shown == (self.values, self.units):
            self.answered = self.asked
            return
        self._shown = (self.values, self.units)
        self._failure, svg = None, ""
        try:
            picture = self._drawn(self.values, self.units, self.has_units)
            svg, sentence = svg_text(picture), picture.sentence
            self._shown = ({control.name: control.read(self.values[control.name], self.units)
                            for control in self._controls}, self.units)
        except InputError as refused:
            sentence = str(refused)
        except Exception as failure:  # shown to the learner, never an old picture under new numbers
            sentence = f"Something went wrong in the picture: {type(failure).__name__}: {failure}"
            self._failure = failure
        with self.hold_sync():
            self.values = self._shown[0]  # the number for what was typed: the slider follows
            self.svg, self.sentence, self.problem, self.answered = svg, sentence, not svg, self.asked

    def _drawn(self, values: dict[str, Any], units: str, has_units: bool) -> Picture:
        """Return the picture for values that came from outside."""
        if units not in ("mm", "inch"):
            raise InputError(f"Lengths are shown in {units!r}, but must be in mm or inch: choose again.")
        read = {control.name: control.read(values.get(control.name), units) for control in self._controls}
        return self._picture_function(**read, **({"units": units} if has_units else {}))

    def _repr_mimebundle_(self, **options: Any) -> tuple[dict[str, Any], dict[str, Any]]:
        """Return the live panel, and for where it cannot run its picture and sentence at the start values."""
        data, metadata = super()._repr_mimebundle_(**options) or ({}, {})
        if self._still is None:
            still, words = f"<p>{escape(self.sentence)} {RUN_NOTE}</p>", self.sentence
        else:
            still, words = html_figure(self._still, RUN_NOTE), self._still.sentence
        return {**data, "text/html": still, "text/plain": words}, metadata


def with_sentence(picture: Picture, *more: str) -> Picture:
    """Return the picture with more sentences after its own."""
    return replace(picture, sentence=" ".join((picture.sentence, *more)))


def corners(panel: Panel) -> Iterator[dict[str, Any]]:
    """Yield every combination of the ends of the controls, every option of a choice among them."""
    ends = {control.name: control.ends() for control in panel._controls}
    if panel.has_units:
        ends["units"] = ("mm", "inch")
    for corner in itertools.product(*ends.values()):
        yield dict(zip(ends, corner, strict=True))


def _checked_parameters(picture_function: Callable[..., Picture], controls: tuple[Control | Choice, ...]) -> bool:
    """Return whether the function takes units; raise where controls and parameters do not match."""
    names, parameters = [control.name for control in controls], inspect.signature(picture_function).parameters
    title = getattr(picture_function, "__name__", "the picture function")
    if not 1 <= len(controls) <= MOST_CONTROLS or len(set(names)) != len(names):
        raise ValueError(f"A panel has 1 to {MOST_CONTROLS} controls with different names, not {names}.")
    missing = [p.name for p in parameters.values() if p.default is p.empty and p.name not in (*names, "units")]
    extra = [name for name in names if name not in parameters or name == "units"]
    if missing or extra:
        faults = (("no control for", missing), ("no parameter", extra))
        words = " and ".join(f"{fault} {', '.join(found)}" for fault, found in faults if found)
        raise ValueError(f"Controls must be the parameters of {title}: there is {words}.")
    return "units" in parameters


def _for_browser(control: Control | Choice) -> dict[str, Any]:
    """Return what the browser needs to know about a control."""
    if isinstance(control, Choice):
        return {"name": control.name, "label": control.label, "options": list(control.options)}
    scales = {units: vars(control.scale(units)) for units in ("mm", "inch")}
    return {**vars(control), "scales": scales}
