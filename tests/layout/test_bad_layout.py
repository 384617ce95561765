"""Whatever is impossible gets one sentence: the quantity, what it is, what is allowed, what to do."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from rollcalc import layout
from rollcalc.layout import (
    ButtSeam,
    FlatPattern,
    GroovedSeam,
    LapSeam,
    arc_ordinates,
    baseline_layout,
    bend_length,
    cylinder_blank,
    frustum_pattern,
    mid_thickness_frustum,
    neutral_axis_factor,
    oblique_frustum_pattern,
    rolled_up,
    wired_edge_allowance,
)
from rollcalc.layout.bench import stepped_arc_error
from rollcalc.stock import FlatBar, InputError, Sheet
from tests.layout.shapes import ROOF, SKIRT

BODY = Sheet(thickness=0.76, width=240)
BAD: list[tuple[Callable[[], Any], str]] = [
    (lambda: cylinder_blank(BODY), "diameters given are none, but must be exactly one"),
    (lambda: cylinder_blank(BODY, inside_diameter=180, outside_diameter=181),
     "diameters given are inside diameter and outside diameter, but"),
    (lambda: cylinder_blank(BODY, outside_diameter=1), "outside diameter is 1 mm, but must be above 1.52 mm"),
    (lambda: cylinder_blank(BODY, mean_diameter=0.5), "mean diameter is 0.5 mm, but must be above 0.76 mm"),
    (lambda: cylinder_blank(BODY, inside_diameter=1), "inside radius is 0.5 mm, but must be at least 0.76 mm"),
    (lambda: cylinder_blank(BODY, inside_diameter=math.inf), "inside diameter is inf mm, but must be above 0 mm"),
    (lambda: cylinder_blank(BODY, inside_diameter=None, mean_diameter="wide"), "mean diameter is 'wide', but"),
    (lambda: cylinder_blank(FlatBar(3, 25), inside_diameter=180), "sheet is FlatBar, but must be a Sheet"),
    (lambda: cylinder_blank(Sheet(thickness=[0.7, 0.8], width=20), inside_diameter=180),
     "thickness is an array of shape (2,), but must be one number"),
    (lambda: cylinder_blank(BODY, inside_diameter=20, seam=GroovedSeam(40)),
     "seam takes 121.52 mm, but must take less than the 65.2"),
    (lambda: cylinder_blank(BODY, inside_diameter=20, seam=LapSeam(70)),
     "seam takes 70 mm, but must take less than the 65.2"),
    (lambda: cylinder_blank(BODY, inside_diameter=180, seam=None), "seam is NoneType, but must be a seam"),
    (lambda: cylinder_blank(BODY, inside_diameter=180, trim=-3), "trim is -3 mm, but must be at least 0 mm"),
    (lambda: cylinder_blank(BODY, inside_diameter=180, rule="guess"),
     "rule is 'guess', but must be one of middle, table, DIN 6935"),
    (lambda: ButtSeam(gap=-1), "gap is -1 mm, but must be at least 0 mm"),
    (lambda: LapSeam(width=0), "lap width is 0 mm, but must be above 0 mm"),
    (lambda: LapSeam(width=10, rivet_diameter=4), "lap width is 10 mm, but must be at least 16 mm"),
    (lambda: LapSeam(width=10, rivet_diameter=0), "rivet diameter is 0 mm, but must be above 0 mm"),
    (lambda: GroovedSeam(width=None), "seam width is None, but must be a number in mm"),
    (lambda: GroovedSeam(6, fold_allowance=-1), "fold allowance is -1 mm, but must be at least 0 mm"),
    (lambda: neutral_axis_factor(0.3, 1, rule="DIN 6935"), "inside radius is 0.3 mm, but must be at least 0.5 mm"),
    (lambda: bend_length(3, 1, 7, 0.4), "angle is 7 rad, but must be at least 0 rad and at most 6.28319 rad"),
    (lambda: frustum_pattern(160, 220, height=100), "small diameter is 220 mm, but must be at most the large diameter"),
    (lambda: frustum_pattern(220, 160), "height and slant given are none, but must be exactly one"),
    (lambda: frustum_pattern(220, 160, 100, 104), "height and slant given are both, but must be exactly one"),
    (lambda: frustum_pattern(220, 160, slant=30), "slant is 30 mm, but must be above 30 mm"),
    (lambda: frustum_pattern(220, 160, height=0), "height is 0 mm, but must be above 0 mm"),
    (lambda: frustum_pattern(220, -1, height=9), "small diameter is -1 mm, but must be at least 0 mm"),
    (lambda: frustum_pattern(220, 160, 100, pieces=0), "pieces is 0, but must be a whole number of at least 1"),
    (lambda: frustum_pattern(220, 160, 100, pieces=1.5), "pieces is 1.5, but must be a whole number of at least 1"),
    (lambda: SKIRT.chord("top"), "end is 'top', but must be 'large' or 'small': say which end"),
    (lambda: SKIRT.chord(parts=0), "parts is 0, but must be a whole number of at least 1"),
    (lambda: SKIRT.outline(0), "chord error is 0 mm, but must be above 0 mm"),
    (lambda: arc_ordinates(100, 201), "chord is 201 mm, but must be above 0 mm and at most 200 mm"),
    (lambda: arc_ordinates(100, 50, 1), "stations are 1, but must be at least 2"),
    (lambda: baseline_layout(SKIRT, 0), "parts is 0, but must be a whole number of at least 1"),
    (lambda: stepped_arc_error(SKIRT, 2), "steps are 2, but must be at least 3"),
    (lambda: stepped_arc_error(frustum_pattern(9, 0, 9), 12, "small"), "end is small, but must be large for a full"),
    (lambda: mid_thickness_frustum(1, 100, 220), "diameters given for the small end are none, but must be exactly one"),
    (lambda: mid_thickness_frustum(1, 100, 220, 222, 160), "diameters given for the large end are both inside and"),
    (lambda: mid_thickness_frustum(60, 10, 22, small_outside_diameter=16), "thickness is 60 mm, but must be below"),
    (lambda: wired_edge_allowance(0), "wire diameter is 0 mm, but must be above 0 mm"),
    (lambda: oblique_frustum_pattern(160, 220, 100, 40), "small diameter is 220 mm, but must be at most the large"),
    (lambda: oblique_frustum_pattern(220, 160, 100, -4), "offset is -4 mm, but must be at least 0 mm"),
    (lambda: oblique_frustum_pattern(220, 160, 100, 4, 10), "segments are 10, but must be a multiple of 4"),
    (lambda: oblique_frustum_pattern(220, 160, 100, 4, seam_side="left"),
     "seam side is 'left', but must be 'short' or 'long'"),
    (lambda: FlatPattern("empty", ()), "a pattern has no line to cut"),
    (lambda: FlatPattern("one point", ([(0, 0)],)), "a line to cut must be two or more points"),
    (lambda: FlatPattern("a", ([(0, 0), (1, 1)],), marks=([(0, math.nan), (1, 1)],)), "a line to mark must be two"),
    (lambda: rolled_up(SKIRT, [(0, 0, 0)]), "points must be two or more points"),
    (lambda: rolled_up("skirt", [(0, 0), (1, 1)]), "pattern is 'skirt', but must be a blank or pattern"),
    (lambda: ROOF.flat_pattern().turned("left"), "angle is 'left', but must be a number in rad"),
]


@pytest.mark.parametrize(("wrong", "sentence"), BAD, ids=[row[1][:40] for row in BAD])
def test_bad_input_gets_one_sentence(wrong: Callable[[], Any], sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        wrong()
    words = str(caught.value)
    assert words.startswith(sentence), words
    assert words.endswith(".")
    assert "\n" not in words
    assert ". " not in words


def test_every_public_name_is_there() -> None:
    assert all(hasattr(layout, name) for name in layout.__all__)


def test_patterns_turn_and_move_as_one() -> None:
    flat = ROOF.flat_pattern()
    turned = flat.turned(math.pi / 2).moved(5, -3)
    assert turned.cut[0] == pytest.approx(flat.cut[0][:, ::-1] * [-1, 1] + [5, -3], abs=1e-9)
    assert turned.labels[0].angle == pytest.approx(flat.labels[0].angle + math.pi / 2)
    assert turned.size == pytest.approx(flat.size[::-1])
    assert turned.at_origin().bounds[:2] == pytest.approx((0, 0), abs=1e-9)
