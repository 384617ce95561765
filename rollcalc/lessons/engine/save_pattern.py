"""Buttons that save a pattern as PDF, SVG or DXF: into a file, or through the browser where there is no disk."""

import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from rollcalc.drawing.core.paper_sizes import PAPERS, paper_size
from rollcalc.drawing.patterns.files import FORMATS, pattern_bytes, write_pattern
from rollcalc.drawing.patterns.words import named_pattern
from rollcalc.layout import FlatPattern, Layout
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError, shown

HERE, BROWSER = "this notebook's folder", "the browser's downloads"
TYPES = {"pdf": "application/pdf", "svg": "image/svg+xml", "dxf": "image/vnd.dxf"}
WAITING = "Nothing is saved before you press a button."
STILL_NOTE = f"Run this cell to get the buttons that save the pattern. {WAITING}"
CHECK_NOTE = "Print it at 100 %, and read its first page before you cut."

Source = FlatPattern | Layout | Callable[[], FlatPattern | Layout]


class SavePattern(anywidget.AnyWidget):
    """A file name, a choice of place and paper, and a button each for PDF, SVG and DXF.

    A pattern may be a function, which is asked anew at each press, so that it can follow a panel. Nothing is written
    until a button is pressed; where the computer that calculates is not the learner's own, downloads come first.
    """

    _esm = Path(__file__).with_name("save.js").read_text(encoding="utf-8")
    _css = "".join(Path(__file__).with_name(file).read_text(encoding="utf-8") for file in ("panel.css", "save.css"))
    formats: Any = traitlets.List(list(FORMATS)).tag(sync=True)
    papers: Any = traitlets.List(list(PAPERS)).tag(sync=True)
    places: Any = traitlets.List([HERE, BROWSER]).tag(sync=True)
    name: Any = traitlets.Unicode().tag(sync=True)
    paper: Any = traitlets.Unicode().tag(sync=True)
    place: Any = traitlets.Unicode().tag(sync=True)
    sentence: Any = traitlets.Unicode(WAITING).tag(sync=True)

    def __init__(self, pattern: Source, name: str = "pattern", *, part: str = "", thickness: float | None = None,
                 material: str | Material = "", paper: str = "A4") -> None:
        self._pattern = pattern
        self._names: dict[str, Any] = {"part": part, "thickness": thickness, "material": material}
        named_pattern(self._now(), **self._names)
        paper_size(paper)
        super().__init__(name=name, paper=paper, place=BROWSER if is_hosted() else HERE)
        self.on_msg(self._pressed)

    def _now(self) -> FlatPattern | Layout:
        """Return the pattern as it is now."""
        if isinstance(self._pattern, FlatPattern) or not callable(self._pattern):
            return self._pattern
        return self._pattern()

    def _pressed(self, _widget: Any, asked: Any, _buffers: Any) -> None:
        """Save what the browser asks for, and answer with one sentence, or with the file itself."""
        content: bytes | None = None
        answer: dict[str, Any] = {"problem": False}
        try:
            format, file = asked_file(asked, FORMATS)
            if asked.get("place") == BROWSER:
                content = pattern_bytes(self._now(), format, asked.get("paper", "A4"), **self._names)
                answer |= {"file": file.name, "type": TYPES[format]}
                answer["sentence"] = f"{file.name} goes to your browser's downloads."
            else:
                write_pattern(self._now(), file, asked.get("paper", "A4"), overwrite=asked.get("replace") is True,
                              **self._names)
                answer["sentence"] = f"Saved as {file.expanduser()}."
            answer["sentence"] += f" {CHECK_NOTE}" if format == "pdf" else ""
        except InputError as refused:
            said = str(refused).replace("allow overwrite=True", "tick “Replace a file of that name”")
            answer = {"problem": True, "sentence": said}
        except Exception as failure:  # shown to the learner, who sees no other output of a button
            said = f"Something went wrong: {type(failure).__name__}: {failure}".rstrip(".: ")
            answer = {"problem": True, "sentence": f"{said}."}
        self.sentence = answer["sentence"]
        self.send(answer, None if content is None else [content])

    def _repr_mimebundle_(self, **options: Any) -> tuple[dict[str, Any], dict[str, Any]]:
        """Return the live buttons, and for where they cannot run the sentence that says so."""
        data, metadata = super()._repr_mimebundle_(**options) or ({}, {})
        return {**data, "text/html": f"<p>{STILL_NOTE}</p>", "text/plain": STILL_NOTE}, metadata


def asked_file(asked: Any, formats: Sequence[str]) -> tuple[str, Path]:
    """Return format and file that the browser asks for, or raise the sentence that says what is wrong."""
    format, name = (asked.get("format"), asked.get("name")) if isinstance(asked, dict) else (None, None)
    if format not in formats:
        raise InputError(f"format is {shown(format)}, but must be one of {', '.join(formats)}: press a button.")
    if not isinstance(name, str) or not name.strip() or name.strip().endswith(("/", "\\")):
        raise InputError("the file name is empty: type a name, such as lantern-roof.")
    file = Path(name.strip())
    file = file.with_suffix("") if file.suffix[1:].lower() in formats else file
    return str(format), file.with_name(f"{file.name}.{format}")


def is_hosted() -> bool:
    """Return whether the computer that calculates is not the learner's own, or is the browser itself."""
    return sys.platform == "emscripten" or not {"BINDER_SERVICE_HOST", "JUPYTERHUB_USER"}.isdisjoint(os.environ)
