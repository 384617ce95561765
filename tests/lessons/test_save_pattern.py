"""The buttons that save a pattern, without a browser: nothing before a press, and one sentence after it."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rollcalc.drawing.patterns.files import FORMATS, pattern_bytes
from rollcalc.layout import frustum_pattern
from rollcalc.lessons.engine.panel import RUN_NOTE
from rollcalc.lessons.engine.save_pattern import BROWSER, HERE, STILL_NOTE, WAITING, SavePattern
from rollcalc.stock import InputError

SKIRT = frustum_pattern(large_diameter=220, small_diameter=160, height=100)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of the notebook."""
    monkeypatch.chdir(tmp_path)
    for name in ("BINDER_SERVICE_HOST", "JUPYTERHUB_USER"):
        monkeypatch.delenv(name, raising=False)
    return tmp_path


def press(buttons: SavePattern, **asked: Any) -> tuple[dict[str, Any], list[bytes] | None]:
    """Press a button as the browser would, and return what comes back."""
    sent: list[Any] = []
    buttons.send = lambda content, buffers=None: sent.append((content, buffers))
    start = {"format": "svg", "name": "skirt", "place": HERE, "paper": "A4", "replace": False}
    buttons._handle_custom_msg({**start, **asked}, [])
    (answer,) = sent
    assert buttons.sentence == answer[0]["sentence"]
    assert answer[0]["sentence"].endswith(".")
    return answer


def test_nothing_is_written_before_a_button_is_pressed(folder: Path) -> None:
    buttons = SavePattern(SKIRT, "skirt")
    data, _ = buttons._repr_mimebundle_()
    assert (data["text/plain"], data["text/html"]) == (STILL_NOTE, f"<p>{STILL_NOTE}</p>")
    assert set(data) == {"application/vnd.jupyter.widget-view+json", "text/html", "text/plain"}
    assert RUN_NOTE not in data["text/html"]  # it is no panel
    assert buttons.sentence == WAITING
    assert os.listdir(folder) == []


@pytest.mark.parametrize("format", FORMATS)
def test_each_button_saves_its_own_kind_where_the_learner_says(format: str, folder: Path) -> None:
    (folder / "cut").mkdir()
    names = {"part": "lantern skirt", "thickness": 0.8, "material": "aluminium"}
    answer, content = press(SavePattern(SKIRT, **names), format=format, name="cut/skirt", paper="A3")
    assert content is None
    assert not answer["problem"]
    assert answer["sentence"].startswith(f"Saved as cut/skirt.{format}.")
    assert ("100 %" in answer["sentence"]) == (format == "pdf")
    assert (folder / "cut" / f"skirt.{format}").read_bytes() == pattern_bytes(SKIRT, format, "A3", **names)


@pytest.mark.parametrize("format", FORMATS)
def test_the_browser_gets_the_file_where_there_is_no_disk(format: str, folder: Path) -> None:
    answer, content = press(SavePattern(SKIRT), format=format, name="cut/skirt.pdf", place=BROWSER)
    assert content == [pattern_bytes(SKIRT, format)]
    assert answer["file"] == f"skirt.{format}"
    assert not answer["problem"]
    assert os.listdir(folder) == []


@pytest.mark.parametrize("name", ["BINDER_SERVICE_HOST", "JUPYTERHUB_USER"])
def test_downloads_come_first_on_a_computer_that_is_not_the_learner_s(name: str, monkeypatch) -> None:
    assert SavePattern(SKIRT).place == HERE
    monkeypatch.setenv(name, "somewhere")
    assert SavePattern(SKIRT).place == BROWSER


def test_downloads_come_first_in_the_browser_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rollcalc.lessons.engine.save_pattern.sys.platform", "emscripten")
    assert SavePattern(SKIRT).place == BROWSER


def test_an_old_file_is_replaced_only_when_ticked(folder: Path) -> None:
    (folder / "skirt.svg").write_text("mine")
    answer, _ = press(SavePattern(SKIRT))
    assert answer["problem"]
    assert answer["sentence"] == (
        "skirt.svg exists already: choose another name, or tick “Replace a file of that name”."
    )
    assert (folder / "skirt.svg").read_text() == "mine"
    answer, _ = press(SavePattern(SKIRT), replace=True)
    assert not answer["problem"]
    assert (folder / "skirt.svg").read_bytes() == pattern_bytes(SKIRT, "svg")


def test_a_function_is_asked_anew_at_each_press(folder: Path) -> None:
    sizes = iter([100, 100, 80])
    buttons = SavePattern(lambda: frustum_pattern(large_diameter=220, small_diameter=160, height=next(sizes)))
    press(buttons, name="one")
    press(buttons, name="two")
    first, second = ((folder / f"{name}.svg").read_text() for name in ("one", "two"))
    assert "100 high" in first
    assert "80 high" in second


@pytest.mark.parametrize(
    ("asked", "complaint"),
    [
        ({"name": " "}, "the file name is empty: type a name, such as lantern-roof."),
        ({"name": "cut/"}, "the file name is empty"),
        ({"name": None}, "the file name is empty"),
        ({"name": "none/skirt"}, "there is no folder none: make it first, or choose another."),
        ({"format": "png"}, "format is 'png', but must be one of pdf, svg, dxf: press a button."),
        ({"format": "pdf", "paper": "A9"}, "there is no paper 'A9'"),
    ],
)
def test_a_refusal_is_said_and_nothing_is_written(asked: dict[str, Any], complaint: str, folder: Path) -> None:
    answer, content = press(SavePattern(SKIRT), **asked)
    assert (answer["problem"], content) == (True, None)
    assert answer["sentence"].startswith(complaint)
    assert os.listdir(folder) == []


def test_a_mistake_in_a_lesson_is_said_too() -> None:
    presses = iter([SKIRT])
    buttons = SavePattern(lambda: {0: SKIRT}[0 if next(presses, None) else 1])
    answer, _ = press(buttons)
    assert answer == {"problem": True, "sentence": "Something went wrong: KeyError: 1."}


def test_what_makes_no_sense_is_refused_at_once() -> None:
    with pytest.raises(InputError, match="pattern is 5"):
        SavePattern(5)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="thickness is -1 mm"):
        SavePattern(SKIRT, thickness=-1)
    with pytest.raises(InputError, match="there is no paper"):
        SavePattern(SKIRT, paper="A9")


JUNK = st.none() | st.booleans() | st.integers() | st.text(max_size=6) | st.lists(st.integers(), max_size=2)


@settings(max_examples=60)
@given(message=JUNK | st.fixed_dictionaries({}, optional=dict.fromkeys(("format", "place", "replace", "paper"), JUNK)))
def test_whatever_the_browser_sends_there_is_a_sentence(message: Any) -> None:
    buttons, sent = SavePattern(SKIRT), []
    buttons.send = lambda content, buffers=None: sent.append(content)
    buttons._handle_custom_msg(message, [])
    assert [answer["problem"] for answer in sent] == [True]
    assert sent[0]["sentence"].endswith(".")
