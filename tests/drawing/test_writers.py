"""The two writers: SVG text for the screen, matplotlib for paper, from one page."""

import io
import subprocess
import sys
from xml.etree import ElementTree

import numpy as np
import pytest

from rollcalc.drawing import Picture, html_figure, paper_figure, svg_text
from rollcalc.drawing.core.dimensions import dimension, leader
from rollcalc.drawing.core.marks import arc, centre_lines, circle, strip
from rollcalc.drawing.core.page import page
from rollcalc.drawing.core.picture import Axes, Line, Text

SVG = "{http://www.w3.org/2000/svg}"


def drawing() -> Picture:
    return Picture(
        "Three rolls and a sheet.",
        [
            *circle((0, 25), 25, "roll"),
            *centre_lines((0, 25), 25),
            *strip([(-80, -2), (0, -2), (60, 10)], 3),
            *arc((0, 90), 90, -1.5, -0.5, "released"),
            *dimension((-80, 0), (0, 0), "80 mm"),
            *leader((10, 48), "upper roll", (30, 20), "roll"),
        ],
        alt="Side view of the rolls",
    )


def graph() -> Picture:
    x = np.linspace(0, 6, 200)
    lines = [Line(np.column_stack([x, np.tanh(x)]), "loaded"), Line([(0, 0), (9, 9)], "released")]
    words = [Text((3, 0.5), "half", "loaded")]
    return Picture("It levels off.", [*lines, *words], Axes("x, mm", "y, N", (0, 6), (0, 1.2)), alt="Graph")


PICTURES = [drawing(), graph()]


@pytest.mark.parametrize("picture", PICTURES, ids=["drawing", "graph"])
def test_svg_is_well_formed_named_and_safe_to_repeat_in_a_page(picture: Picture) -> None:
    root = ElementTree.fromstring(svg_text(picture))
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    assert root.get("aria-label") == picture.alt
    assert root.get("viewBox") == "0 0 640 400"
    assert root.get("font-family") == "sans-serif"
    assert "max-width:100%" in (root.get("style") or "")
    assert "height:auto" in (root.get("style") or "")
    ground = root[0]
    assert (ground.tag, ground.get("fill"), ground.get("width")) == (f"{SVG}rect", "#fff", "640")
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags <= {"svg", "rect", "path", "g", "text"}  # no title, style, script, defs
    assert not [element for element in root.iter() if "id" in element.attrib or "class" in element.attrib]
    group = root.find(f"{SVG}g")
    assert group is not None
    assert (group.get("paint-order"), group.get("stroke")) == ("stroke", "#fff")
    assert [text.text for text in group] == [text.words for text in page(picture).words]


@pytest.mark.parametrize("picture", PICTURES, ids=["drawing", "graph"])
def test_svg_holds_every_stroke_in_its_look(picture: Picture) -> None:
    laid = page(picture)
    paths = list(ElementTree.fromstring(svg_text(picture)).iter(f"{SVG}path"))
    strokes = [*laid.behind, *laid.inside]
    assert len(paths) == len(strokes)
    for path, stroke in zip(paths, strokes, strict=True):
        data = path.get("d") or ""
        assert data.count("M") == len(stroke.runs)
        assert data.count("L") == sum(len(run) - 1 for run in stroke.runs)
        assert data.endswith("Z") == stroke.closed
        first = [float(number) for number in data[1:].split("L")[0].split()]
        assert first == pytest.approx(stroke.runs[0][0], abs=0.051)
        assert path.get("stroke") == (stroke.role.colour if stroke.role.width else None)
        assert (path.get("fill") == "none") == (not (stroke.closed and stroke.role.fill))


TURNED = Picture("Words that rise.", [Line([(0, 0), (100, 0)], "outline"), Text((50, 0), "rising", angle=30)], alt="A")


def test_svg_turns_words_anticlockwise_about_their_place() -> None:
    (word,) = ElementTree.fromstring(svg_text(TURNED)).iter(f"{SVG}text")
    x, y = word.get("x"), word.get("y")
    assert word.get("transform") == f"rotate(-30.0 {x} {y})"  # y is down, so this is anticlockwise
    assert "transform" not in svg_text(graph())


def test_paper_turns_words_anticlockwise_about_their_place() -> None:
    """Render words and look where their ink lies: to the right of their place and above it."""
    figure = paper_figure(TURNED)
    assert [text.get_rotation() for text in figure.axes[0].texts] == [30]
    figure.axes[0].patches[0].remove()
    buffer = io.BytesIO()
    figure.savefig(buffer, format="raw", dpi=96)
    rows, columns = np.nonzero(np.frombuffer(buffer.getvalue(), dtype=np.uint8).reshape(400, 640, 4)[:, :, 0] < 100)
    (x, y), = [text.at for text in page(TURNED).words]
    assert columns.min() > x - 8
    assert rows.max() < y + 6
    assert np.polyfit(columns, rows, 1)[0] == pytest.approx(-np.tan(np.radians(30)), abs=0.15)


def test_lines_are_cut_off_at_the_axes_and_words_are_not() -> None:
    root = ElementTree.fromstring(svg_text(graph()))
    inner = root.find(f"{SVG}svg")
    assert inner is not None
    left, top, right, bottom = page(graph()).window
    box = [float(inner.get(name) or "nan") for name in ("x", "y", "width", "height")]
    assert box == pytest.approx([left - 2, top - 2, right - left + 4, bottom - top + 4], abs=0.11)
    assert (inner.get("viewBox") or "").split() == [f"{number:.1f}" for number in box]
    assert not list(inner.iter(f"{SVG}text"))
    assert len(list(inner.iter(f"{SVG}path"))) == 2


def test_words_are_escaped_everywhere() -> None:
    nasty = '<b>R & D</b> "5 < 6" > 4\''
    picture = Picture(nasty, [Text((0, 0), nasty)], Axes(nasty, nasty), alt=nasty)
    root = ElementTree.fromstring(svg_text(picture))
    assert root.get("aria-label") == nasty
    assert [text.text for text in root.iter(f"{SVG}text")].count(nasty) == 3
    assert "<b>" not in html_figure(picture, nasty)
    figure = ElementTree.fromstring(html_figure(picture).replace('">', '"/>', 1).replace('"/><fig', '"/><fig'))
    assert figure.findtext("figcaption") == nasty


def test_the_same_picture_is_the_same_text_every_time() -> None:
    assert svg_text(drawing()) == svg_text(drawing())
    assert svg_text(graph()) == svg_text(graph())


def test_a_note_follows_the_sentence() -> None:
    assert html_figure(graph(), "Press play.").endswith("<figcaption>It levels off. Press play.</figcaption></figure>")


@pytest.mark.parametrize("picture", PICTURES, ids=["drawing", "graph"])
def test_paper_shows_the_same_strokes_and_words(picture: Picture) -> None:
    laid, figure = page(picture), paper_figure(picture)
    (sheet,) = figure.axes
    strokes = [*laid.behind, *laid.inside]
    assert len(sheet.patches) == len(strokes)
    for patch, stroke in zip(sheet.patches, strokes, strict=True):
        assert patch.get_path().vertices[0] == pytest.approx(stroke.runs[0][0])
        assert patch.get_linewidth() == pytest.approx(stroke.role.width * 0.75)
        assert patch.get_fill() or not stroke.closed
        assert (patch.get_facecolor()[3] > 0) == (stroke.closed and stroke.role.fill > 0)
    assert [(text.get_text(), text.get_position()) for text in sheet.texts] == [(t.words, t.at) for t in laid.words]
    assert figure.get_size_inches() == pytest.approx([640 / 96, 400 / 96])


def test_paper_ink_lies_where_the_screen_has_it() -> None:
    """Render a closed square with matplotlib and look at the pixels."""
    square = Line([(0, 0), (100, 0), (100, 100), (0, 100)], "outline", closed=True)
    figure = paper_figure(Picture("A square.", [square], alt="Square"))
    buffer = io.BytesIO()
    figure.savefig(buffer, format="raw", dpi=96)
    pixels = np.frombuffer(buffer.getvalue(), dtype=np.uint8).reshape(400, 640, 4)[:, :, 0]
    rows, columns = np.nonzero(pixels < 100)
    assert (columns.min(), columns.max()) == pytest.approx((160, 480), abs=2)
    assert (rows.min(), rows.max()) == pytest.approx((40, 360), abs=2)


def test_paper_cuts_lines_off_at_the_axes_too() -> None:
    figure, buffer = paper_figure(graph()), io.BytesIO()
    figure.savefig(buffer, format="raw", dpi=96)
    pixels = np.frombuffer(buffer.getvalue(), dtype=np.uint8).reshape(400, 640, 4).astype(int)
    rows, columns = np.nonzero((pixels[:, :, 0] > 150) & (pixels[:, :, 2] < 80))  # the orange of a released shape
    left, top, right, bottom = page(graph()).window
    assert rows.size > 100
    assert (rows.min() >= top - 3, rows.max() <= bottom + 3) == (True, True)
    assert (columns.min() >= left - 3, columns.max() <= right + 3) == (True, True)


def test_paper_saves_as_pdf() -> None:
    buffer = io.BytesIO()
    paper_figure(drawing()).savefig(buffer, format="pdf")
    assert buffer.getvalue().startswith(b"%PDF")


def test_drawing_for_the_screen_loads_no_matplotlib() -> None:
    code = (
        "import sys; from rollcalc.drawing import Picture, svg_text; from rollcalc.drawing.core.picture import Line; "
        "svg_text(Picture('A line.', [Line([(0, 0), (1, 1)], 'sheet')], alt='Line')); "
        "print([name for name in sys.modules if name.startswith('matplotlib')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
