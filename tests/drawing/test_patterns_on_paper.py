"""Printed patterns, measured on the page: the lines to check, a slant, a blank across four pages, and every join."""

from __future__ import annotations

import math
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from rollcalc.drawing.core.paper_sizes import PAPERS
from rollcalc.drawing.patterns.pdf import pattern_pages, pattern_pdf
from rollcalc.drawing.patterns.tiles import FOOT, LEAST, OVERLAP, tiling
from rollcalc.drawing.patterns.true_size import EDGE, PaperWords, TrueSizePage, pdf_bytes
from rollcalc.drawing.patterns.words import MARK_THIS_SIDE, NamedPattern, inside, named_pattern
from rollcalc.layout import FlatPattern, GroovedSeam, Label, cylinder_blank, frustum_pattern
from rollcalc.stock import Sheet
from tests.drawing.paper_raster import printed, px, runs

SKIRT = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
ROOF = frustum_pattern(large_diameter=220, small_diameter=60, height=80)
BODY = cylinder_blank(Sheet(thickness=0.76, width=240), inside_diameter=180, seam=GroovedSeam(6))


def square(width: float, height: float, title: str = "Square") -> FlatPattern:
    return FlatPattern(title, ([(0, 0), (width, 0), (width, height), (0, height), (0, 0)],))  # type: ignore[arg-type]


@pytest.mark.parametrize("paper", ["A4", (300, 200)])
def test_both_check_lines_are_true_on_every_page(paper, tmp_path: Path) -> None:
    pages = printed(pattern_pdf(named_pattern(SKIRT), paper), tmp_path)
    assert len(pages) > 1
    for ink in pages:
        for rise, length in ((9.2, 100.0), (9.2 + 5.6, 101.6)):
            row = ink[ink.shape[0] - px(EDGE + rise + 1.5)]  # only the ticks at the ends are this tall
            first, last = runs(row[: px(120)])
            assert last - first == pytest.approx(length, abs=0.2)


def test_the_slant_of_a_frustum_is_true(tmp_path: Path) -> None:
    (ink,) = printed(pattern_pdf(named_pattern(SKIRT), "A1"), tmp_path, dpi=200)
    piece = ink[: ink.shape[0] - px(EDGE + FOOT, 200)]
    sides = np.flatnonzero(piece.any(axis=0))
    column = piece[:, (sides[0] + sides[-1]) // 2 + px(1, 200)]  # beside the middle line
    edges = runs(column, 200)
    assert edges[-1] - edges[0] == pytest.approx(math.hypot(30, 100), abs=0.2)
    breadth = (sides[-1] - sides[0] + 1) * 25.4 / 200 - 0.35
    assert breadth == pytest.approx(SKIRT.flat_pattern().size[0], abs=0.2)


def test_a_blank_across_four_pages_is_true_when_they_are_joined(tmp_path: Path) -> None:
    pages = printed(pattern_pdf(named_pattern(BODY), "A4"), tmp_path)
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
                   for page in printed(pattern_pdf(named_pattern(SKIRT), "A4"), tmp_path)[:2])
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
    grid, pages = tiling(named.flat, size), printed(pattern_pdf(named, paper), tmp_path, dpi=150)
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
    assert len(pattern_pages(named_pattern(square(260, 150)))) == 1  # sideways
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
    for page in pattern_pages(named_pattern(SKIRT, part, 0.8, metal), paper)[:4]:
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


def box_of(words: PaperWords) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of words as the paper's font sets them. [mm]"""
    font = FontProperties(family="DejaVu Sans", weight="bold" if words.bold else "normal")
    extents = TextPath((0, 0), words.words, size=words.size, prop=font, usetex=False).get_extents()
    start = {"start": 0.0, "middle": -extents.x1 / 2, "end": -extents.x1}[words.anchor]
    corners = np.array([(start, extents.y0), (start + extents.x1, extents.y1)])
    turn = math.radians(words.angle)
    turned = corners @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]]) + words.at
    (left, bottom), (right, top) = turned.min(axis=0).tolist(), turned.max(axis=0).tolist()
    return left, bottom, right, top


def said(page: TrueSizePage) -> str:
    return "\n".join(words.words for words in page.words)


def test_every_page_says_what_it_is_how_to_print_it_and_where_it_belongs() -> None:
    pages = pattern_pages(named_pattern(SKIRT, "lantern skirt", 0.8, "aluminium 3003-H14"))
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
    pages, found = pattern_pages(named), 0
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
    (page,) = pattern_pages(named_pattern(flat))
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
