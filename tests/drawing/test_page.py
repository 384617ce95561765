"""Where things land: true scale, page-sized parts that stay page-sized, round ticks, clean hatching."""

import math

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from rollcalc.drawing import ROLES, Picture
from rollcalc.drawing.core.dimensions import angle_dimension, arrow, dimension, leader, radius_dimension
from rollcalc.drawing.core.marks import centre_lines, circle, strip
from rollcalc.drawing.core.page import HALF_CAPITAL, Page, hatch_lines, page, ticks
from rollcalc.drawing.core.picture import Axes, Line, Mark, Text


def laid(*marks: Mark, frame: tuple[float, float, float, float] = (0, 0, 100, 100)) -> Page:
    return page(Picture("A drawing.", marks, alt="Drawing", frame=frame))


def size(points: np.ndarray) -> np.ndarray:
    return np.ptp(points, axis=0)


def test_ten_millimetres_are_as_long_across_as_up() -> None:
    across, up = Line([(20, 20), (30, 20)], "sheet"), Line([(20, 20), (20, 30)], "sheet")
    strokes = laid(across, up).inside
    assert size(strokes[0].runs[0])[0] == pytest.approx(32)  # 320 px of a 400 px page for 100 mm
    assert size(strokes[1].runs[0])[1] == pytest.approx(32)


def test_a_circle_stays_round_and_in_its_place() -> None:
    points = laid(*circle((50, 50), 50, "outline")).inside[0].runs[0]
    assert size(points) == pytest.approx([320, 320])
    assert points.mean(axis=0) == pytest.approx([320, 200])


def test_up_is_up() -> None:
    points = laid(Line([(0, 0), (0, 50)], "sheet")).inside[0].runs[0]
    assert points[1, 1] < points[0, 1]
    low, high = (
        page(Picture("Up.", [Line([(0, 0), (1, 1)], "sheet")], Axes("x", "y"), alt="Up")).inside[0].runs[0][:, 1]
    )
    assert high < low


@given(zoom=st.floats(0.01, 1000))
def test_page_sized_parts_do_not_grow_with_the_drawing(zoom: float) -> None:
    """Arrowheads, gaps and words of a dimension look the same whatever the scale."""
    small = laid(*dimension((0, 0), (60, 0), "60 mm", 30))
    large = laid(*dimension((0, 0), (60 * zoom, 0), "60 mm", 30), frame=(0, 0, 100 * zoom, 100 * zoom))
    for a, b in zip(small.inside, large.inside, strict=True):
        for run, other in zip(a.runs, b.runs, strict=True):
            assert run == pytest.approx(other, abs=1e-6)
    assert small.words[0].at == pytest.approx(large.words[0].at)


@pytest.mark.parametrize("turn", np.radians([0, 30, 90, 135, 180, 250, 300]))
@pytest.mark.parametrize("distance", [30, -30])
def test_words_stand_above_their_dimension_line_and_read_from_below_or_the_right(turn: float, distance: float) -> None:
    stop = (60 * math.cos(turn), 60 * math.sin(turn))
    drawn = laid(*dimension((0, 0), stop, "60 mm", distance), frame=(-100, -100, 100, 100))
    line = next(stroke.runs[0] for stroke in drawn.inside[2:] if not stroke.closed)
    (words,) = drawn.words
    assert -90 < words.angle <= 90.1
    up = np.array([-math.sin(math.radians(words.angle)), -math.cos(math.radians(words.angle))])  # y down
    assert (words.at - line.mean(axis=0)) @ up == pytest.approx(5, abs=1e-6)
    assert drawn.inside[0].runs[0][0] @ up != pytest.approx(line[0] @ up)


def test_a_dimension_spans_its_two_points_tip_to_tip() -> None:
    drawn = laid(*dimension((10, 10), (60, 10), "50 mm"))
    heads = next(stroke for stroke in drawn.inside if stroke.closed)
    tips = sorted(float(head[0][0]) for head in heads.runs)
    assert tips[1] - tips[0] == pytest.approx(50 * 3.2)
    assert all(head[0][1] == pytest.approx(heads.runs[0][0][1]) for head in heads.runs)


def test_arrows_outside_point_at_a_short_length() -> None:
    drawn = laid(*dimension((10, 10), (10.8, 10), "0.8 mm", outside=True))
    tips = sorted(float(stroke.runs[0][0][0]) for stroke in drawn.inside if stroke.closed)
    assert tips[1] - tips[0] == pytest.approx(0.8 * 3.2)
    assert drawn.words[0].at[0] > tips[1] + 20


def test_a_radius_ends_on_its_arc() -> None:
    for reach in (None, 60.0):
        drawn = laid(*radius_dimension((0, 0), 80, 0.7, "R 80 mm", reach=reach))
        tip = next(stroke for stroke in drawn.inside if stroke.closed).runs[0][0]
        origin = np.array([160.0, 360.0])
        assert np.hypot(*(tip - origin)) == pytest.approx(80 * 3.2)


def test_an_angle_has_two_arrowheads_on_its_rays() -> None:
    drawn = laid(*angle_dimension((0, 0), 50, 0, 1, "57°"))
    heads = next(stroke for stroke in drawn.inside if stroke.closed)
    angles = sorted(math.atan2(360 - head[0][1], head[0][0] - 160) for head in heads.runs)
    assert angles == pytest.approx([0, 1])


def test_a_leader_points_at_its_place_and_speaks_away_from_it() -> None:
    for offset, anchor in (((30, 20), "start"), ((-30, 20), "end")):
        drawn = laid(*leader((50, 50), "nip", offset))
        assert drawn.inside[1].runs[0][0] == pytest.approx([320, 200])
        assert drawn.words[0].anchor == anchor
        assert (drawn.words[0].at[0] - 320) * offset[0] > 0


def test_centre_lines_reach_beyond_the_circle_by_the_same_px() -> None:
    across, up = (stroke.runs[0] for stroke in laid(*centre_lines((50, 50), 25, 8)).inside)
    assert size(across)[0] == pytest.approx(50 * 3.2 + 16)
    assert size(up)[1] == pytest.approx(50 * 3.2 + 16)


def test_a_thick_line_stops_inside_its_arrowhead() -> None:
    line, head = laid(*arrow((0, 50), (100, 50), "released")).inside
    assert head.runs[0][0] == pytest.approx([480, 200])
    assert line.runs[0][-1][0] < 480 - 5


def test_a_bent_strip_has_its_thickness_everywhere() -> None:
    angle = np.linspace(0, math.pi / 2, 200)
    outline = strip(np.column_stack([90 * np.cos(angle), 90 * np.sin(angle)]), 8)[0].points
    radii = np.hypot(*outline.T)
    assert radii[:200] == pytest.approx(np.full(200, 86), abs=0.01)
    assert radii[200:] == pytest.approx(np.full(200, 94), abs=0.01)


def test_section_hatching_covers_the_metal_and_nothing_else() -> None:
    angle = np.linspace(0, math.pi, 200)
    drawn = laid(*strip(np.column_stack([80 * np.cos(angle), 80 * np.sin(angle)]), 20), frame=(-100, 0, 100, 100))
    hatching = drawn.inside[0]
    scale = min(560 / 200, 320 / 100)
    origin = np.array([320, 200 + 50 * scale])
    ends = np.concatenate(hatching.runs)
    radii = np.hypot(*(ends - origin).T) / scale
    assert len(hatching.runs) > 40
    on_rim = np.minimum(abs(radii - 70), abs(radii - 90)) < 0.3
    on_end = abs(ends[:, 1] - origin[1]) < 0.5
    assert (on_rim | on_end).all()
    middles = np.array([run.mean(axis=0) for run in hatching.runs])
    inside = np.hypot(*(middles - origin).T) / scale
    assert ((inside > 69.5) & (inside < 90.5)).all()
    steps = np.array([run[1] - run[0] for run in hatching.runs])
    steps = steps[np.hypot(*steps.T) > 1]
    assert abs(steps[:, 0] + steps[:, 1]).max() < 1e-6  # rises to the right by 45°, y down
    assert ROLES["section"].slope == 45


@example(corners=[(0.0, 0.0), (0.0, 17.0), (236.0, 5e-324)], slope=0.0)
@given(
    corners=st.lists(st.tuples(st.floats(0, 400), st.floats(0, 300)), min_size=3, max_size=12),
    slope=st.sampled_from([0.0, 45.0, 135.0]),
)
def test_hatching_adds_up_to_the_area(corners: list[tuple[float, float]], slope: float) -> None:
    """For a polygon sorted around its middle, line length times spacing is the area."""
    points = np.array(corners)
    around = points - points.mean(axis=0)
    points = points[np.argsort(np.arctan2(around[:, 1], around[:, 0]), kind="stable")]
    x, y = points.T
    area = 0.5 * abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))
    assume(area > 2000)
    segments = hatch_lines(points, 0.5, slope, (0, 0, 400, 300))
    length = float(np.hypot(*(segments[:, 1] - segments[:, 0]).T).sum())
    assert length * 0.5 == pytest.approx(area, rel=0.03)


def test_hatching_of_something_huge_stays_on_the_page() -> None:
    drawn = laid(*circle((50, -1e6), 1e6, "roll"))
    assert len(drawn.inside[0].runs) < 200


def test_hatching_of_nothing_is_nothing() -> None:
    assert laid(Line([(0, 0), (1, 0), (2, 0)], "hatch", closed=True)).inside[0].runs == ()


@given(low=st.floats(-1e6, 1e6), span=st.floats(1e-6, 1e7))
def test_ticks_are_round_even_within_and_as_written(low: float, span: float) -> None:
    high = low + span
    assume(high - low > 1e-9 * max(abs(low), abs(high)))
    values, decimals = ticks(low, high)
    assert 2 <= len(values) <= 7
    slack = 1e-6 * (high - low) + 10.0**-decimals * 1e-6
    assert values[0] >= low - slack
    assert values[-1] <= high + slack
    step = values[1] - values[0]
    assert np.diff(values) == pytest.approx(np.full(len(values) - 1, step), rel=1e-4)
    mantissa = step / 10 ** math.floor(math.log10(step * (1 + 1e-6)))
    assert min(abs(mantissa - n) for n in (1, 2, 5)) < 1e-3
    words = [f"{value:.{decimals}f}" for value in values]
    assert len(set(words)) == len(words)
    assert [float(word) for word in words] == values
    assert "-0" not in [word.rstrip("0").rstrip(".") for word in words if float(word) == 0]


def test_ticks_say_what_they_measure() -> None:
    picture = Picture("A line.", [Line([(-1, 0), (1, 0.04)], "loaded")], Axes("x, mm", "y, mm"), alt="Graph")
    words = [text.words for text in page(picture).words]
    assert words[:5] == ["−1.0", "−0.5", "0.0", "0.5", "1.0"]
    assert words[-2:] == ["x, mm", "y, mm"]


def test_given_ranges_are_kept_and_tick_labels_stand_at_their_values() -> None:
    axes = Axes("x", "y", x_range=(0, 7), y_range=(-1, 3))
    drawn = page(Picture("A line.", [Line([(0, 0), (7, 1)], "loaded")], axes, alt="Graph"))
    left, top, right, bottom = drawn.window
    at = {text.words: text.at for text in drawn.words if text.anchor == "middle"}
    up = {text.words: text.at for text in drawn.words if text.anchor == "end"}
    assert up["2"] == pytest.approx((left - 8, bottom - 3 / 4 * (bottom - top) + HALF_CAPITAL))
    assert at["2"][0] == pytest.approx(left + 2 / 7 * (right - left))
    assert drawn.inside[0].runs[0][0] == pytest.approx([left, bottom - (bottom - top) / 4])


@pytest.mark.parametrize("value", [0.0, 5.0, -3e-5, 1e9])
def test_a_level_line_still_gets_an_axis(value: float) -> None:
    drawn = page(Picture("Level.", [Line([(0, value), (1, value)], "loaded")], Axes("x", "y"), alt="Graph"))
    assert np.isfinite(drawn.inside[0].runs[0]).all()
    assert len(drawn.words) > 6


def test_a_single_place_still_makes_a_drawing() -> None:
    drawn = page(Picture("A word.", [Text((5, 5), "here")], alt="Word"))
    assert drawn.words[0].at == pytest.approx((320, 200))
