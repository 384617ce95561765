"""Patterns as files: what DXF and SVG hold when others read them, and that a refusal leaves nothing behind."""

from __future__ import annotations

import datetime
import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from numpy.typing import NDArray

from rollcalc.drawing import write_pattern
from rollcalc.drawing.patterns.files import FORMATS, pattern_bytes
from rollcalc.drawing.patterns.words import MARK_THIS_SIDE, size_row
from rollcalc.layout import (
    FlatPattern,
    GroovedSeam,
    Label,
    cone_blank,
    cylinder_blank,
    frustum_pattern,
    mitred_cylinder_pattern,
    oblique_frustum_pattern,
)
from rollcalc.stock import MATERIALS, InputError, Sheet

SVG = "{http://www.w3.org/2000/svg}"
SKIRT = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
SEAMED = cone_blank(SKIRT, 0.8, GroovedSeam(6))
BODY = cylinder_blank(Sheet(thickness=0.76, width=240), inside_diameter=180, seam=GroovedSeam(6))
OTHERS = (oblique_frustum_pattern(200, 100, 120, 40), mitred_cylinder_pattern(100, 150, 45))
STEP = FlatPattern("Step & <co>", ([(0, 0), (100, 0), (100, 40), (60, 40), (60, 80), (0, 80), (0, 0)],),
                   # type: ignore[arg-type]
                   folds=([(0, 20), (100, 20)],), marks=([(30, 0), (30, 80)],),
                   labels=(Label("up", (10, 50), 0.5),))  # type: ignore[arg-type]
EVERY = {"skirt": SKIRT, "seamed": SEAMED, "body": BODY, "oblique": OTHERS[0], "mitred": OTHERS[1], "step": STEP}


def enclosed_area(points: NDArray[np.float64]) -> float:
    """Return the area within a closed line, positive where it runs anticlockwise. [mm^2]"""
    x, y = points.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def read_dxf(content: bytes, folder: Path) -> ezdxf.document.Drawing:  # type: ignore[name-defined]
    (folder / "read.dxf").write_bytes(content)
    return ezdxf.readfile(folder / "read.dxf")


def flat(pattern) -> FlatPattern:
    found = pattern if isinstance(pattern, FlatPattern) else pattern.flat_pattern()
    return found.at_origin()


@pytest.mark.parametrize("name", EVERY)
def test_dxf_holds_every_line_on_its_layer_in_mm(name: str, tmp_path: Path) -> None:
    document, drawn = read_dxf(pattern_bytes(EVERY[name], "dxf"), tmp_path), flat(EVERY[name])
    assert not document.audit().has_errors
    assert document.units == ezdxf.units.MM
    assert document.header["$MEASUREMENT"] == 1
    for layer, lines in (("CUT", drawn.cut), ("FOLD", drawn.folds), ("MARK", drawn.marks)):
        found = list(document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]'))
        assert len(found) == len(lines)
        for entity, line in zip(found, lines, strict=True):
            closed = bool((line[0] == line[-1]).all())
            assert entity.closed == closed
            assert np.array(entity.get_points("xy")) == pytest.approx(line[:-1] if closed else line, abs=1e-9)
    layers = {entity.dxf.layer for entity in document.modelspace()}
    assert layers <= {"CUT", "FOLD", "MARK", "TEXT"}
    assert {document.layers.get(layer).dxf.linetype for layer in ("CUT", "FOLD", "MARK")} == {
        "CONTINUOUS", "DASHED", "DASHDOT"}


def test_dxf_area_is_the_pattern_s_within_the_chord_error(tmp_path: Path) -> None:
    document = read_dxf(pattern_bytes(SKIRT, "dxf"), tmp_path)
    (cut,) = document.modelspace().query('LWPOLYLINE[layer=="CUT"]')
    area, around = abs(enclosed_area(np.array(cut.get_points("xy")))), np.pi * (220 + 160)
    assert area == pytest.approx(SKIRT.area, abs=0.01 * around)
    assert area != SKIRT.area


def test_dxf_carries_its_words_and_a_line_to_measure(tmp_path: Path) -> None:
    metal = next(iter(MATERIALS.values()))
    content = pattern_bytes(STEP, "dxf", part="foot", thickness=0.8, material=metal)
    space = read_dxf(content, tmp_path).modelspace()
    texts = {text.dxf.text: text for text in space.query('TEXT[layer=="TEXT"]')}
    assert f"Step & <co> · foot · 0.8 mm · {metal.name}" in texts
    assert any("lengths in mm" in words for words in texts)
    assert MARK_THIS_SIDE in texts
    assert texts["up"].dxf.rotation == pytest.approx(np.degrees(0.5))
    assert tuple(texts["up"].dxf.align_point)[:2] == pytest.approx((10, 50))
    (line,) = space.query('LWPOLYLINE[layer=="TEXT"]')
    (x0, y0), (x1, y1) = line.get_points("xy")
    assert (x1 - x0, y1 - y0) == pytest.approx((100, 0))
    assert y0 < 0


@pytest.mark.parametrize("name", EVERY)
def test_svg_is_in_mm_and_holds_every_line_in_its_group(name: str) -> None:
    root, drawn = ElementTree.fromstring(pattern_bytes(EVERY[name], "svg")), flat(EVERY[name])
    left, top, width, height = map(float, (root.get("viewBox") or "").split())
    assert (left, top) == (0, 0)
    assert (root.get("width"), root.get("height")) == (f"{width:.10g}mm", f"{height:.10g}mm")
    breadth, rise = drawn.size
    for group, lines in (("cut", drawn.cut), ("fold", drawn.folds), ("mark", drawn.marks)):
        (found,) = [element for element in root if element.get("id") == group]
        assert found.get("fill") == "none"
        assert len(found) == len(lines)
        for path, line in zip(found, lines, strict=True):
            data = path.get("d") or ""
            points = np.array(re.findall(r"-?[\d.]+", data), dtype=float).reshape(-1, 2)
            closed = bool((line[0] == line[-1]).all())
            assert data.endswith("Z") == closed
            back = (points - (10, 10 + rise)) * (1, -1)
            assert back == pytest.approx(line[:-1] if closed else line, abs=0.00051)
            assert (points >= 0).all()
            assert (points <= (width, height)).all()
    assert width >= breadth + 20
    assert height > rise + 20


def test_svg_says_what_it_is() -> None:
    root = ElementTree.fromstring(pattern_bytes(STEP, "svg", part="foot", thickness=0.8, material="copper"))
    assert root.findtext(f"{SVG}title") == "Step & <co> · foot · 0.8 mm · copper"
    words = [text.text or "" for text in root.iter(f"{SVG}text")]
    assert {"up", MARK_THIS_SIDE, "Step & <co> · foot · 0.8 mm · copper"} <= set(words)
    assert any("lengths in mm" in line for line in words)
    (group,) = [element for element in root if element.get("id") == "text"]
    data = group.findall(f"{SVG}path")[0].get("d") or ""
    (x0, y0), (x1, y1) = np.array(re.findall(r"[\d.]+", data), dtype=float).reshape(-1, 2)
    assert (x1 - x0, y1 - y0) == pytest.approx((100, 0))


@pytest.mark.parametrize("format", FORMATS)
def test_the_same_pattern_is_the_same_file(format: str) -> None:
    first = pattern_bytes(SEAMED, format, part="skirt")
    assert pattern_bytes(SEAMED, format, part="skirt") == first
    assert datetime.date.today().isoformat().encode() not in first
    assert pattern_bytes(BODY, format, part="skirt") != first


def test_dxf_carries_no_date_and_no_number_drawn_by_lot(monkeypatch: pytest.MonkeyPatch) -> None:
    class Later(datetime.datetime):
        @classmethod
        def now(cls, tz: datetime.tzinfo | None = None) -> datetime.datetime:
            return cls(2031, 2, 3, 4, 5, 6, tzinfo=tz)

    first = pattern_bytes(SKIRT, "dxf")
    monkeypatch.setattr(ezdxf.document, "datetime", Later)
    assert pattern_bytes(SKIRT, "dxf") == first
    dates = re.findall(r"\$TDU?(?:CREATE|UPDATE)\s+40\s+(\S+)", first.decode())
    assert dates == ["2451545.0"] * 4
    assert set(re.findall(r"GUID\s+2\s+\{(\S+)\}", first.decode())) == {"00000000-0000-0000-0000-000000000000"}


@pytest.mark.parametrize("seed", ["0", "4"])
def test_dxf_does_not_hang_on_the_order_of_a_set(seed: str) -> None:
    made = ("import sys; from rollcalc.layout import frustum_pattern; from rollcalc.drawing.patterns import files; "
            "sys.stdout.buffer.write(files.pattern_bytes(frustum_pattern(220, 160, 100), 'dxf', part='skirt'))")
    run = subprocess.run([sys.executable, "-c", made], env={**os.environ, "PYTHONHASHSEED": seed}, check=True,
                         capture_output=True)
    assert run.stdout == pattern_bytes(SKIRT, "dxf", part="skirt")


@pytest.mark.parametrize("name", ["seamed", "body", "oblique", "mitred"])
@pytest.mark.parametrize("format", ["svg", "dxf"])
def test_files_without_pages_say_the_sizes_and_the_side_too(name: str, format: str, tmp_path: Path) -> None:
    content = pattern_bytes(EVERY[name], format)
    if format == "svg":
        root = ElementTree.fromstring(content)
        width, height = map(float, (root.get("viewBox") or "").split()[2:])
        texts = list(root.iter(f"{SVG}text"))
        words = {text.text for text in texts}
        assert all(float(text.get("y") or "nan") <= height for text in texts)
        assert all(float(text.get("x") or "nan") + 0.5 * 3 * len(text.text or "") < width for text in texts
                   if text.get("text-anchor") == "start")
    else:
        words = {text.dxf.text for text in read_dxf(content, tmp_path).modelspace().query("TEXT")}
    sizes = flat(EVERY[name]).sizes
    assert sizes
    assert {" ".join(filter(None, size_row(size))) for size in sizes} <= words
    for said in ("becomes the inside", "Solid lines are cut, dashed lines folded", "along the rolls"):
        assert any(said in line for line in words)


def test_svg_turns_the_words_of_the_pattern_as_the_pattern_does() -> None:
    root = ElementTree.fromstring(pattern_bytes(STEP, "svg"))
    turns = {text.text: text.get("transform") for text in root.iter(f"{SVG}text")}
    (word,) = [text for text in root.iter(f"{SVG}text") if text.text == "up"]
    angle, x, y = map(float, re.findall(r"-?[\d.]+", turns["up"] or ""))
    assert angle == pytest.approx(-np.degrees(0.5), abs=0.001)  # y is down, so this is anticlockwise
    assert (x, y) == (float(word.get("x") or "nan"), float(word.get("y") or "nan")) == (20, 10 + 80 - 50)
    assert turns[MARK_THIS_SIDE] is None


@pytest.mark.parametrize("name", ["a.pdf", "a.svg", "a.dxf", "A.PDF", "a b.Svg"])
def test_the_end_of_the_name_decides(name: str, tmp_path: Path) -> None:
    write_pattern(SKIRT, tmp_path / name)
    start = (tmp_path / name).read_bytes()[:5]
    assert start == {"pdf": b"%PDF-", "svg": b"<?xml", "dxf": b"  0\nS"}[name[-3:].lower()]
    assert os.listdir(tmp_path) == [name]


HUGE = FlatPattern("Huge", tuple(line * 200 for line in STEP.cut))
BAD = {
    "suffix": ({"path": "roof.png"}, "path is .* but must end with .pdf, .svg or .dxf"),
    "no suffix": ({"path": "roof"}, "must end with .pdf, .svg or .dxf"),
    "no path": ({"path": None}, "path is None, but must be the path of a file"),
    "no folder": ({"path": "none/roof.svg"}, "there is no folder .*none: make it first"),
    "file for folder": ({"path": "old.svg/roof.svg"}, "there is no folder .*old.svg: make it first"),
    "folder for file": ({"path": "folder.svg"}, "is a folder, but a file is needed"),
    "exists": ({"path": "old.svg"}, "exists already: choose another name, or allow overwrite=True"),
    "too long": ({"path": "r" * 300 + ".svg"}, "cannot be written"),
    "small paper": ({"paper": (100, 150)}, "paper is 100 × 150 mm, but margins, foot and pattern need at least"),
    "unknown paper": ({"paper": "A9"}, "there is no paper 'A9'"),
    "odd paper": ({"paper": 210}, "paper is 210, but must be a name such as"),
    "negative paper": ({"paper": (210, -297)}, "paper height is -297 mm, but must be above 0 mm"),
    "endless paper": ({"paper": (1e9, 297)}, r"paper width is 1e\+09 mm, but must be above 0 mm and at most 5000 mm"),
    "no pattern": ({"pattern": "roof"}, "pattern is 'roof', but must be a flat pattern"),
    "huge": ({"pattern": HUGE}, "pattern needs .* pages .* at most 200"),
    "thickness": ({"thickness": 0}, "thickness is 0 mm, but must be above 0 mm"),
    "part": ({"part": "two\nlines"}, "part is .* but must be a text of one line"),
    "material": ({"material": 7}, "material is 7, but must be a text of one line"),
}


@pytest.mark.parametrize("case", BAD)
def test_a_refusal_is_one_sentence_and_leaves_no_file(case: str, tmp_path: Path) -> None:
    (tmp_path / "old.svg").write_text("mine")
    (tmp_path / "folder.svg").mkdir()
    given, complaint = BAD[case]
    asked = {"pattern": SKIRT, "path": "roof.pdf", **given}
    if asked["path"] is not None:
        asked["path"] = tmp_path / asked["path"]
    with pytest.raises(InputError, match=complaint) as refused:
        write_pattern(**asked)
    assert "\n" not in str(refused.value)
    assert str(refused.value).endswith(".")
    assert sorted(os.listdir(tmp_path)) == ["folder.svg", "old.svg"]
    assert (tmp_path / "old.svg").read_text() == "mine"
    assert os.listdir(tmp_path / "folder.svg") == []


def test_an_old_file_is_replaced_only_when_allowed(tmp_path: Path) -> None:
    file = tmp_path / "roof.svg"
    file.write_text("mine")
    file.chmod(0o640)
    write_pattern(SKIRT, file, overwrite=True)
    assert file.read_bytes() == pattern_bytes(SKIRT, "svg")
    assert file.stat().st_mode & 0o777 == 0o640
    assert os.listdir(tmp_path) == ["roof.svg"]


@pytest.mark.parametrize("old", [None, "mine"])
@pytest.mark.parametrize("step", ["replace", "chmod"])
def test_a_full_disk_leaves_all_as_it_was(old: str | None, step: str, tmp_path: Path, monkeypatch) -> None:
    file = tmp_path / "roof.svg"
    if old:
        file.write_text(old)

    def full(*_: object) -> None:
        raise (OSError if step == "replace" else KeyboardInterrupt)(28, "No space left on device")

    monkeypatch.setattr(os, step, full)
    with pytest.raises(InputError if step == "replace" else KeyboardInterrupt, match="No space left"):
        write_pattern(SKIRT, file, overwrite=True)
    assert (file.read_text() if file.exists() else None) == old
    assert os.listdir(tmp_path) == (["roof.svg"] if old else [])


@pytest.mark.parametrize(("package", "format"), [("ezdxf", "dxf"), ("matplotlib", "pdf")])
def test_a_missing_package_is_named(package: str, format: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, package, None)
    sentence = f"{format.upper()} is written by {package}, which is not installed here: save SVG instead"
    with pytest.raises(InputError, match=sentence):
        write_pattern(SKIRT, tmp_path / f"roof.{format}")
    assert os.listdir(tmp_path) == []
    write_pattern(SKIRT, tmp_path / "roof.svg")
