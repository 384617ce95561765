"""Printed patterns, measured on the page: the lines to check, a slant, a blank across four pages, and every join."""

from __future__ import annotations

import itertools
import math
import shutil
import subprocess
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from rollcalc.drawing.core.paper_sizes import PAPERS
from rollcalc.drawing.patterns.pdf import pattern_pages, pattern_pdf, true_size_pages
from rollcalc.drawing.patterns.tiles import FOOT, LEAST, OVERLAP, tiling
from rollcalc.drawing.patterns.true_size import EDGE, PaperWords, TrueSizePage, pdf_bytes
from rollcalc.drawing.patterns.words import MARK_THIS_SIDE, NamedPattern, inside, named_pattern
from rollcalc.layout import (
    ButtSeam,
    FlatPattern,
    GroovedSeam,
    Label,
    LapSeam,
    cone_blank,
    cylinder_blank,
    frustum_pattern,
    oblique_frustum_pattern,
)
from rollcalc.stock import Sheet
from tests.drawing.paper_raster import printed, px, runs

SKIRT = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
ROOF = frustum_pattern(large_diameter=220, small_diameter=60, height=80)
BODY = cylinder_blank(Sheet(thickness=0.76, width=240), inside_diameter=180, seam=GroovedSeam(6))


COLLAR = cylinder_blank(Sheet(thickness=0.6, width=40), inside_diameter=75, seam=LapSeam(8))
BAND = cylinder_blank(Sheet(thickness=3, width=25), outside_diameter=190, trim=40)
RIVETED = cylinder_blank(Sheet(thickness=0.8, width=600), inside_diameter=20, seam=LapSeam(8, 2), trim=30)
SEAMED = cone_blank(SKIRT, 0.8, GroovedSeam(6), large_edge=7.5)


def square(width: float, height: float, title: str = "Square") -> FlatPattern:
    return FlatPattern(title, ([(0, 0), (width, 0), (width, height), (0, height), (0, 0)],))  # type: ignore[arg-type]


@pytest.mark.parametrize("paper", ["A4", (300, 200)])
def test_both_check_lines_are_true_on_every_page(paper, tmp_path: Path) -> None:
    pages = printed(pattern_pdf(named_pattern(SKIRT), paper), tmp_path)
    assert len(pages) > 2
    for ink in pages[1:]:
        for rise, length in ((9.2, 100.0), (9.2 + 5.6, 101.6)):
            row = ink[ink.shape[0] - px(EDGE + rise + 1.5)]  # only the ticks at the ends are this tall
            first, last = runs(row[: px(120)])
            assert last - first == pytest.approx(length, abs=0.2)


def test_the_slant_of_a_frustum_is_true(tmp_path: Path) -> None:
    _, ink = printed(pattern_pdf(named_pattern(SKIRT), "A1"), tmp_path, dpi=200)
    piece = ink[: ink.shape[0] - px(EDGE + FOOT, 200)]
    sides = np.flatnonzero(piece.any(axis=0))
    column = piece[:, (sides[0] + sides[-1]) // 2 + px(1, 200)]  # beside the middle line
    edges = runs(column, 200)
    assert edges[-1] - edges[0] == pytest.approx(math.hypot(30, 100), abs=0.2)
    breadth = (sides[-1] - sides[0] + 1) * 25.4 / 200 - 0.35
    assert breadth == pytest.approx(SKIRT.flat_pattern().size[0], abs=0.2)


def test_a_blank_across_four_pages_is_true_when_they_are_joined(tmp_path: Path) -> None:
    pages = printed(pattern_pdf(named_pattern(BODY), "A4", taped=True), tmp_path)[1:]
    assert len(pages) == 4
    total = 0.0
    for ink in pages:
        upright = ink[px(EDGE) : ink.shape[0] - px(EDGE + FOOT)].mean(axis=0) > 0.35
        lines = runs(upright)
        total += lines[-1] - lines[0]
    assert total == pytest.approx(BODY.length, abs=0.3)
    column = pages[1][: pages[1].shape[0] - px(EDGE + FOOT), px(60)]
    assert runs(column)[-1] - runs(column)[0] == pytest.approx(240, abs=0.2)


def test_lines_go_on_across_a_join_at_the_same_height(tmp_path: Path) -> None:
    left, right = (page[: page.shape[0] - px(EDGE + FOOT)]
                   for page in printed(pattern_pdf(named_pattern(SKIRT), "A4"), tmp_path)[1:3])
    joins = [np.flatnonzero(page.mean(axis=0) > 0.35) for page in (left, right)]
    there, here = joins[0][-1], joins[1][0]
    for beside in (-1.5, 1.5):
        heights = [runs(page[:, join + px(beside)]) for page, join in ((left, there), (right, here))]
        arcs = [[height for height in found if height > 60][:2] for found in heights]  # below the upper cross
        assert arcs[0] == pytest.approx(arcs[1], abs=0.1)


@pytest.mark.parametrize(("pattern", "paper"), [(SKIRT, (500, 150)), (ROOF, "A4"), (BODY, "Letter")])
def test_every_point_of_the_outline_is_printed_on_every_page_that_shows_its_place(pattern, paper, tmp_path) -> None:
    named = named_pattern(pattern)
    size = PAPERS[paper] if isinstance(paper, str) else paper
    grid, pages = tiling(named.flat, size), printed(pattern_pdf(named, paper, taped=True), tmp_path, dpi=150)[1:]
    points, seen = named.flat.cut[0], np.zeros(len(named.flat.cut[0]), dtype=int)
    assert len(pages) == len(grid.places)
    for place, ink in zip(grid.places, pages, strict=True):
        left, bottom, right, top = grid.window(*place)
        shown = ((points > (left, bottom)) & (points < (right, top))).all(axis=1)
        x, y = (points[shown] - (left, bottom) + (EDGE, EDGE + FOOT)).T
        rows, columns = ink.shape[0] - y / 25.4 * 150, x / 25.4 * 150
        near = [ink[int(row) - 1 : int(row) + 2, int(column) - 1 : int(column) + 2].any()
                for row, column in zip(rows, columns, strict=True)]
        assert all(near)
        seen += shown
    assert (seen >= 1).all()


@settings(max_examples=40)
@given(width=st.floats(5, 900), height=st.floats(5, 900), paper=st.sampled_from([*PAPERS.values(), LEAST]))
def test_pages_share_the_pattern_out_whole_and_overlap(width: float, height: float, paper) -> None:
    grid = tiling(square(width, height), paper)
    assert sorted(grid.paper) == sorted(paper)
    everywhere = np.random.default_rng(1).uniform((0, 0), (width, height), (200, 2))
    owners = np.zeros(len(everywhere), dtype=int)
    for row, column in grid.places:
        core, window = np.array(grid.core(row, column)), np.array(grid.window(row, column))
        owners += ((everywhere >= core[:2]) & (everywhere < core[2:])).all(axis=1)
        assert (core[:2] >= window[:2] - 1e-9).all()
        assert (core[2:] <= window[2:] + 1e-9).all()
        if grid.page(row, column + 1):
            neighbour = grid.window(row, column + 1)
            assert window[2] - neighbour[0] == pytest.approx(OVERLAP)
            assert grid.core(row, column + 1)[0] == pytest.approx(core[2])
        if grid.page(row + 1, column):
            assert grid.window(row + 1, column)[3] - window[1] == pytest.approx(OVERLAP)
    assert (owners == 1).all()


def test_fewer_pages_are_taken_and_empty_ones_left_out() -> None:
    assert len(true_size_pages(named_pattern(square(260, 150)), PAPERS["A4"])) == 1  # sideways
    roof = named_pattern(ROOF)
    frame = FlatPattern("Corner",
                        ([(0, 0), (600, 0), (600, 30), (30, 30), (30, 600), (0, 600), (0, 0)],
                         ))  # type: ignore[arg-type]
    grid = tiling(frame, (210, 297))
    assert len(grid.places) < grid.rows * grid.columns
    assert len(pattern_pages(roof, "A3")) < len(pattern_pages(roof, "A4"))


def test_the_drawn_side_is_not_mirrored(tmp_path: Path) -> None:
    step = FlatPattern("Step",
                       ([(0, 0), (100, 0), (100, 40), (60, 40), (60, 80), (0, 80), (0, 0)],))  # type: ignore[arg-type]
    (ink,) = printed(pattern_pdf(named_pattern(step)), tmp_path)
    piece = ink[: ink.shape[0] - px(EDGE + FOOT)]
    rows, columns = np.nonzero(piece)
    top, left, right = rows.min(), columns.min(), columns.max()
    assert piece[top : top + 4, left : left + px(59)].any(axis=0).all()
    assert not piece[top : top + px(35), right - px(35) : right + 1].any()


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", (210, 148), LEAST, (900, 400)])
@pytest.mark.parametrize("long", [False, True])
def test_no_words_leave_the_page_or_meet_other_words(paper, long: bool) -> None:
    part, metal = ("lantern skirt, the long name of a part " * 3, "steel " * 15) if long else ("", "")
    for page in pattern_pages(named_pattern(SEAMED, part, 0.8, metal), paper)[:5]:
        boxes = [box_of(words) for words in page.words if words.window is None]
        for left, bottom, right, top in boxes:
            assert left >= EDGE - 0.3
            assert bottom >= EDGE - 1
            assert right <= page.width - EDGE + 0.3
            assert top <= page.height - EDGE + 0.3
        for place, one in enumerate(boxes):
            for other in boxes[:place]:
                apart = one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]
                assert apart, [words.words for words in page.words]


def dense(points: np.ndarray) -> np.ndarray:
    """Return many points along a polyline."""
    return np.concatenate([np.linspace(*pair, 200) for pair in itertools.pairwise(points)])


def box_of(words: PaperWords) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of words as the paper's font sets them. [mm]"""
    font = FontProperties(family="DejaVu Sans", weight="bold" if words.bold else "normal")
    ink = TextPath((0, 0), words.words, size=words.size, prop=font, usetex=False).vertices  # quicker than its extents
    (_, low), (far, high) = ink.min(axis=0).tolist(), ink.max(axis=0).tolist()
    start = {"start": 0.0, "middle": -far / 2, "end": -far}[words.anchor]
    corners = np.array([(start, low), (start + far, high)])
    turn = math.radians(words.angle)
    turned = corners @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]]) + words.at
    (left, bottom), (right, top) = turned.min(axis=0).tolist(), turned.max(axis=0).tolist()
    return left, bottom, right, top


def said(page: TrueSizePage) -> str:
    return "\n".join(words.words for words in page.words)


@settings(max_examples=60)
@given(diameter=st.floats(12, 900), width=st.floats(10, 900), trim=st.sampled_from([0.0, 1.0, 25.0]),
       seam=st.sampled_from([ButtSeam(), ButtSeam(1.5), LapSeam(8), LapSeam(9, 2), GroovedSeam(3)]),
       paper=st.sampled_from([*PAPERS.values(), LEAST]))
def test_the_words_of_a_sketch_meet_no_line_and_no_other_words(diameter, width, trim, seam, paper) -> None:
    trim = trim if seam.can_be_trimmed else 0.0
    blank = cylinder_blank(Sheet(thickness=0.5, width=width), inside_diameter=diameter, seam=seam, trim=trim)
    (page,) = pattern_pages(named_pattern(blank), paper)
    boxes = np.array([box_of(words) for words in page.words])
    assert (boxes >= EDGE - 1).all()
    assert (boxes <= (page.width - EDGE + 0.3, page.height - EDGE + 0.3) * 2).all()
    for number, one in enumerate(boxes):
        meets = ((boxes[:, :2] < one[2:]) & (one[:2] < boxes[:, 2:])).all(axis=1)
        assert meets.sum() == 1, [page.words[at].words for at in (number, *np.flatnonzero(meets))]
    for stroke in page.strokes:
        points = dense(np.asarray(stroke.points))
        inside_box = ((points[:, None] > boxes[:, :2]) & (points[:, None] < boxes[:, 2:])).all(axis=-1).any(axis=0)
        assert not inside_box.any(), [page.words[at].words for at in np.flatnonzero(inside_box)]
    assert min(words.size for words in page.words) >= 1.7


@pytest.mark.parametrize("blank", [BODY, COLLAR, BAND, RIVETED], ids=["body", "collar", "band", "riveted"])
def test_a_rectangle_is_given_by_its_numbers_on_one_page(blank, tmp_path: Path) -> None:
    named = named_pattern(blank)
    (page,) = pattern_pages(named)
    text = said(page)
    for number in (blank.length, blank.width, math.hypot(blank.length, blank.width)):
        assert f"\n{number:.1f} mm\n" in text
        assert f"({number / 25.4:.{2 if number > 25.4 else 3}f} in)" in text
    places = [*(line[0, 0] for line in (*blank.folds(), *blank.marks())), blank.length / 2]
    beside = sorted(min(x, blank.length - x) for x in places)
    given_sizes = [size for size in named.flat.sizes if size.at]
    assert sorted(size.value for size in given_sizes) == pytest.approx(beside)
    for size in given_sizes:  # what is written at a line is that line's own distance from the nearer edge
        assert min(size.at[0], blank.length - size.at[0]) == pytest.approx(size.value)
        assert f"{size.words.split(',')[0]} {size.value:.{1 if size.value >= 10 else 2}f}" in text
    for words in ("cut", "fold", "mark", "becomes the inside", "along the rolls", "both diagonals", "not true size"):
        assert words in text
    assert "Print at 100 %" not in text
    assert "tape" not in text
    assert len(pattern_pages(named, taped=True)) == 1 + len(true_size_pages(named, PAPERS["A4"]))


def test_a_cone_s_first_page_gives_its_numbers_and_the_others_are_true_size(tmp_path: Path) -> None:
    first, *others = pattern_pages(named_pattern(SEAMED, "skirt"))
    slant = math.hypot(100, 30)
    outer, angle = slant * 220 / 60, math.pi * 60 / slant
    rows = {"outer radius": outer, "inner radius": outer - slant, "slant": slant, "arc, large end": math.pi * 220,
            "chord, large end": 2 * outer * math.sin(angle / 2),
            "chord, small end": 2 * (outer - slant) * math.sin(angle / 2),
            "radius of the cut, large end": outer + 7.5}
    words = [line.words for line in first.words]
    for name, value in rows.items():
        assert words[words.index(name) + 1] == f"{value:.1f} mm"
    for name, row in {"angle": f"{math.degrees(angle):.1f}°", "width of the seam": "6.00 mm",
                      "fold up, from the left edge": "6.00 mm", "fold down, from the right edge": "6.00 mm",
                      "seam adds, left edge": "9.80 mm", "fold, from the large end": "7.50 mm"}.items():
        assert words[words.index(name) + 1] == row
    assert len(others) == 4
    for page in others:
        assert {"cut", "fold", "mark"} <= {line.words for line in page.words}
        assert sum(line.pen in ("cut", "fold", "mark") and line.window is None for line in page.strokes) == 3
    labels = [line.words for page in others for line in page.words if line.window]
    assert "quarter, along the rolls" in labels
    assert all(-90 <= line.angle <= 90 for page in others for line in page.words)


def test_the_words_can_be_taken_out_of_the_file(tmp_path: Path) -> None:
    if not shutil.which("pdftotext"):
        pytest.skip("no pdftotext on this computer (apt-get install poppler-utils)")
    (tmp_path / "body.pdf").write_bytes(pattern_pdf(named_pattern(BODY)))
    text = subprocess.run(["pdftotext", "-layout", "body.pdf", "-"], cwd=tmp_path, check=True, capture_output=True)
    for words in ("587.4 mm", "240.0 mm", "634.5 mm", "fold up 6.00", MARK_THIS_SIDE, "becomes the inside"):
        assert words in text.stdout.decode()


def test_a_piece_that_is_no_upright_rectangle_is_not_reduced_to_numbers() -> None:
    turned, hole = square(80, 50).turned(0.3), FlatPattern("Hole", (*square(80, 50).cut, square(20, 20).cut[0] + 9))
    for flat in (turned, hole, oblique_frustum_pattern(120, 60, 90, 30)):
        assert "Print at 100 %" in said(pattern_pages(named_pattern(flat))[-1])


def test_every_page_says_what_it_is_how_to_print_it_and_where_it_belongs() -> None:
    pages = true_size_pages(named_pattern(SKIRT, "lantern skirt", 0.8, "aluminium 3003-H14"), PAPERS["A4"])
    for number, page in enumerate(pages, start=1):
        text = said(page)
        assert "Frustum 220 to 160, 100 high" in text
        assert "Part: lantern skirt · Thickness: 0.8 mm · Material: aluminium 3003-H14" in text
        for part in ("Print at 100 %", "before you cut", "lengths in mm", "The drawn side is the side to mark",
                     "100 mm", "4 in", f"page {number} of 4"):
            assert part in text
        neighbours = [n for n in (number - 1, number + 1) if 1 <= n <= 4]
        assert [f"join to page {n}" in text for n in range(1, 5)] == [n in neighbours for n in range(1, 5)]
    assert "Part: ____" in said(pattern_pages(named_pattern(SKIRT))[0])


def test_a_join_names_the_page_that_lies_beyond_it() -> None:
    """The words stand outside the join line, towards the page they name, and read from below or from the right."""
    named = named_pattern(square(350, 400))
    grid = tiling(named.flat, PAPERS["A4"])
    pages, found = true_size_pages(named, PAPERS["A4"]), 0
    assert (grid.rows, grid.columns) == (2, 2)
    for (row, column), page in zip(grid.places, pages, strict=True):
        shift = np.array([EDGE, EDGE + FOOT]) - grid.window(row, column)[:2]
        left, bottom, right, top = np.array(grid.core(row, column)) + np.tile(shift, 2)
        beyond = {grid.page(row, column + 1): (lambda at, right=right: at[0] > right, 90),
                  grid.page(row, column - 1): (lambda at, left=left: at[0] < left + 0.9, 90),
                  grid.page(row - 1, column): (lambda at, top=top: at[1] > top - 0.9, 0),
                  grid.page(row + 1, column): (lambda at, bottom=bottom: at[1] < bottom, 0)}
        for words in page.words:
            if words.words.startswith("join to page"):
                lies, angle = beyond[int(words.words.split()[-1])]
                assert lies(words.at)
                assert words.angle == angle
                found += 1
    assert found == 8


def test_words_of_the_pattern_are_turned_on_paper_as_in_the_pattern(tmp_path: Path) -> None:
    label = Label("up", (40.0, 30.0), 0.5)
    flat = FlatPattern("Square", square(80, 80).cut, labels=(label,))
    _, page = pattern_pages(named_pattern(flat), taped=True)
    (word,) = [words for words in page.words if words.words == "up"]
    assert word.angle == pytest.approx(math.degrees(0.5))
    (mark,) = [words for words in page.words if words.words == MARK_THIS_SIDE]
    assert mark.angle == 0
    written = TrueSizePage(100, 100, words=(PaperWords((20, 20), "rising words", 6.0, angle=30.0),))
    (ink,) = printed(pdf_bytes([written], "Rising"), tmp_path)
    rows, columns = np.nonzero(ink)
    assert np.polyfit(columns, rows, 1)[0] == pytest.approx(-math.tan(math.radians(30)), abs=0.1)


@pytest.mark.parametrize("pattern", [SKIRT, ROOF, BODY, square(30, 400)], ids=["skirt", "roof", "body", "strip"])
def test_the_side_to_mark_is_named_on_the_piece_and_not_in_a_join(pattern) -> None:
    named = named_pattern(pattern)
    grid = tiling(named.flat, PAPERS["A4"])
    (label,) = [label for label in named.labels(grid.joins()) if label.words == MARK_THIS_SIDE]
    assert inside(named.flat.cut, np.array([label.at]))[0]
    if pattern in (SKIRT, ROOF, BODY):
        words = PaperWords((label.at[0], label.at[1]), label.words, label.size, "middle", bold=True)
        left, _, right, _ = box_of(words)
        assert inside(named.flat.cut, np.array([(left, label.at[1]), (right, label.at[1])])).all()
        for join in grid.joins():
            assert not (left < join[0, 0] < right and join[0, 0] == join[1, 0])


def test_the_file_is_the_same_every_time_whatever_the_reader_s_settings() -> None:
    first = pattern_pdf(named_pattern(SKIRT))
    odd = {"path.simplify": True, "font.family": "serif", "axes.facecolor": "black", "pdf.fonttype": 3}
    with mpl.rc_context(odd):
        assert pattern_pdf(named_pattern(SKIRT)) == first
        assert mpl.rcParams["font.family"] == ["serif"]
    assert b"CreationDate" not in first


def test_words_that_look_like_mathematics_are_left_alone() -> None:
    assert pattern_pdf(NamedPattern(square(50, 50, "$5 & $6 _ {x}"), "a_b^$", None, r"\frac"))[:4] == b"%PDF"
