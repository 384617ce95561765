"""The lantern's four patterns come out of lessons 07 and 08: each is saved by the lesson's own buttons and measured."""

from __future__ import annotations

import contextlib
import io
import math
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import ezdxf
import nbformat
import numpy as np
import pytest

from rollcalc.drawing.patterns.files import FORMATS
from rollcalc.lessons.engine.save_pattern import HERE, SavePattern

FOLDER = Path(__file__).parents[2] / "notebooks"


def band(diameter: float, lean: float, width: float) -> float:
    """Return the area of a band of this width around the large end of a cone. [mm^2]"""
    radius, angle = diameter / 2 / math.sin(lean), 2 * math.pi * math.sin(lean)
    return angle / 2 * ((radius + width) ** 2 - radius**2)


def strip(width: float, length: float) -> float:
    """Return the area of a seam strip notched at 45 degrees at both ends. [mm^2]"""
    return width * (length - width)


SLANT = {"skirt": math.hypot(100, 30), "roof": math.hypot(80, 80)}
AREA = {
    "body": 240 * (math.pi * 180.76 + 3 * 6 + 2 * 0.76),
    "collar": 40 * (math.pi * 75.6 + 8),
    "skirt": math.pi * 190 * SLANT["skirt"] + 2 * strip(9 + 0.8, SLANT["skirt"]) + band(220, math.atan(0.3), 7.5),
    "roof": math.pi * 140 * SLANT["roof"] + strip(8, SLANT["roof"]),
}
"""Metal cut for each part, worked out from the sizes of the lantern. [mm^2]"""
SIZES = {"body": (587.4, 240), "collar": (245.5, 40)}
"""Length and height of the two cylinders' blanks. [mm]"""
WORDS = {
    "body": "lantern body · 0.76 mm · low-carbon steel, cold rolled",
    "collar": "lantern collar · 0.6 mm · stainless 304, annealed",
    "skirt": "lantern skirt · 0.8 mm · aluminium 3003-H14",
    "roof": "lantern roof · 0.76 mm · low-carbon steel, cold rolled",
}


@cache
def taken_home() -> dict[str, SavePattern]:
    """Return the boxes that the two lessons show, by the file name they start with."""
    shown: list[Any] = []
    for lesson in ("07_cut_the_blank", "08_lay_out_a_cone"):
        names: dict[str, Any] = {"display": shown.append}
        with contextlib.redirect_stdout(io.StringIO()):
            for cell in nbformat.read(FOLDER / f"{lesson}.ipynb", as_version=4).cells:
                if cell.cell_type == "code":
                    exec(cell.source, names)
    return {box.name: box for box in shown if isinstance(box, SavePattern)}


def saved(part: str, format: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Press one button of one box, and return the file that it wrote."""
    monkeypatch.chdir(folder)
    box, answers = taken_home()[f"lantern-{part}"], []
    monkeypatch.setattr(box, "send", lambda answer, buffers=None: answers.append(answer))
    asked = {"format": format, "name": box.name, "place": HERE, "paper": "A4", "replace": False}
    box._handle_custom_msg(asked, [])
    assert [answer["problem"] for answer in answers] == [False], answers
    return folder / f"lantern-{part}.{format}"


def test_there_is_a_box_for_each_part_and_no_other() -> None:
    assert set(taken_home()) == {f"lantern-{part}" for part in AREA}


@pytest.mark.parametrize("part", AREA)
def test_the_metal_cut_is_what_the_lantern_needs(part: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    document = ezdxf.readfile(saved(part, "dxf", tmp_path, monkeypatch))
    assert not document.audit().has_errors
    (cut,) = document.modelspace().query('LWPOLYLINE[layer=="CUT"]')
    x, y = np.array(cut.get_points("xy")).T
    area = abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
    assert area == pytest.approx(AREA[part], rel=3e-4)  # chords for arcs
    if part in SIZES:
        assert (np.ptp(x), np.ptp(y)) == pytest.approx(SIZES[part], abs=0.05)
    words = {text.dxf.text for text in document.modelspace().query("TEXT")}
    assert any(line.endswith(WORDS[part]) for line in words)


def test_folds_and_marks_are_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for part, (folds, marks) in {"body": (2, 1), "collar": (0, 2), "skirt": (3, 3), "roof": (0, 4)}.items():
        space = ezdxf.readfile(saved(part, "dxf", tmp_path, monkeypatch)).modelspace()
        assert len(space.query('LWPOLYLINE[layer=="FOLD"]')) == folds, part
        assert len(space.query('LWPOLYLINE[layer=="MARK"]')) == marks, part  # middle, lap's place, quarters


@pytest.mark.parametrize("part", AREA)
@pytest.mark.parametrize("format", sorted({*FORMATS} - {"dxf"}))
def test_the_other_two_files_are_written_too(part, format, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    content = saved(part, format, tmp_path, monkeypatch).read_bytes()
    if format == "pdf":
        assert content.startswith(b"%PDF")
    else:
        assert WORDS[part] in (ElementTree.fromstring(content)[0].text or "")
