"""The cut through the nip is to scale: rolls, grooves, and the bar as it lies; so is the flat bar on edge."""

from dataclasses import replace

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.machine.groove_view import groove_line, groove_places, groove_view, seat
from rollcalc.drawing.metal.corner_view import corner_view
from rollcalc.drawing.metal.edge_view import edge_view
from tests.drawing.layout import clipped, overlaps

MACHINE, STEEL = rc.DEMO_MACHINE, rc.MATERIALS["mild steel bar, hot rolled"]
FIVE, SIX, EIGHT = rc.rolling.grooves(MACHINE)


def lines(picture, role):
    """Return the points of all lines in a role."""
    return [mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == role]


def words(picture):
    """Return all words of a picture."""
    return [mark.words for mark in picture.marks if isinstance(mark, Text)]


@pytest.mark.parametrize(("diameter", "groove"), [(6, SIX), (5.5, SIX), (6, EIGHT), (6, FIVE), (8, FIVE), (3, EIGHT)])
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_bar_touches_what_holds_it_and_cuts_into_nothing(diameter, groove, units):
    picture = groove_view(MACHINE, rc.RoundBar(diameter), groove, units)
    lower, upper = lines(picture, "roll")
    (bar,) = lines(picture, "section")
    middle = (bar.max(axis=0) + bar.min(axis=0)) / 2
    assert middle[0] == pytest.approx(groove.position)
    assert np.ptp(bar[:, 0]) == pytest.approx(diameter)
    near = lower[np.abs(lower[:, 0] - groove.position) < 12]
    reach = np.hypot(*(near - middle).T)
    assert reach.min() == pytest.approx(diameter / 2, rel=2e-3)
    face = upper[:, 1].min()
    assert face >= -1e-12
    if groove.front_depth <= diameter:
        assert bar[:, 1].max() == pytest.approx(face, rel=1e-3)
    else:
        assert face == 0 > bar[:, 1].max()
        assert "the rolls meet" in words(picture)
    assert overlaps(picture) == clipped(picture) == []


def test_grooves_lie_where_the_machine_has_them_and_the_roll_ends_where_it_ends():
    lower, upper = lines(groove_view(MACHINE, rc.RoundBar(6), SIX), "roll")
    for groove in (FIVE, SIX, EIGHT):
        deepest = lower[np.abs(lower[:, 0] - groove.position) < 0.01]
        assert deepest[:, 1].min() == pytest.approx(-groove.depth)
    assert lower[:, 0].max() == upper[:, 0].max() == MACHINE.working_width / 2
    assert set(np.round(upper[:, 1], 9)) == {3.0, 63.0}


def test_the_window_stands_still_while_the_groove_changes():
    frames = {groove_view(MACHINE, rc.RoundBar(4), groove).frame for groove in (FIVE, SIX, EIGHT)}
    assert len(frames) == 1
    spread = replace(MACHINE, groove_positions=(100, 230, 360))
    for groove in rc.rolling.grooves(spread):
        left, _, right, _ = groove_view(spread, rc.RoundBar(5), groove).frame
        assert (left + right) / 2 == pytest.approx(groove.position)


@pytest.mark.parametrize(("which", "low", "gap"), [("lower, bending", -3, 3), ("upper", 0, 3), ("upper, lower", -3, 0)])
def test_whichever_rolls_are_grooved(which, low, gap):
    machine = replace(MACHINE, grooved_rolls=which)
    groove = rc.rolling.grooves(machine)[1]
    assert seat(groove, 6) == (low, gap)
    picture = groove_view(machine, rc.RoundBar(6), groove)
    there = rc.grooved_machine(machine, rc.RoundBar(6))
    for roll in ("upper", "lower"):
        cut = roll in which
        name = f"{roll} roll, 50.0 mm" + ("; 44.0 mm in the groove" if cut else "")
        assert name in words(picture)
        assert getattr(there, f"{roll}_roll_diameter") == (44 if cut else 50)
    assert overlaps(picture) == clipped(picture) == []


def test_a_shallow_and_a_deep_groove_have_their_depth():
    for depth in (1.0, 3.0, 4.5):
        groove = replace(SIX, depth=depth)
        line = groove_line(groove)
        assert line[:, 1].min() == pytest.approx(-depth, abs=2e-3)
        assert line[0, 1] == line[-1, 1] == 0
        assert np.ptp(line[:, 0]) == pytest.approx(6 if depth >= 3 else 2 * np.sqrt(9 - 4), rel=1e-9)


def test_grooves_without_a_place_stand_side_by_side():
    machine = replace(MACHINE, groove_positions=())
    places = [place for _, place in groove_places(machine)]
    assert np.all(np.diff(places) > 8)
    picture = groove_view(machine, rc.RoundBar(6), rc.rolling.grooves(machine)[1])
    assert overlaps(picture) == clipped(picture) == []


def test_the_bar_that_climbs_is_drawn_against_both_walls():
    ghosts = lines(groove_view(MACHINE, rc.RoundBar(6), EIGHT), "hidden")
    assert sorted((one[:, 0].min() + one[:, 0].max()) / 2 - 370 for one in ghosts) == pytest.approx([-1, 1])
    assert lines(groove_view(MACHINE, rc.RoundBar(8), EIGHT), "hidden") == []
    above = replace(MACHINE, grooved_rolls="upper")
    for one in lines(groove_view(above, rc.RoundBar(6), rc.rolling.grooves(above)[2]), "hidden"):
        assert (one[:, 1].min() + one[:, 1].max()) / 2 == pytest.approx(6 - 4)  # level with the upper roll's face


@pytest.mark.parametrize(("thickness", "width"), [(3, 25), (6, 6), (1.5, 40), (6, 40)])
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_sections_and_moments_are_to_scale(thickness, width, units):
    bar, edge = rc.FlatBar(thickness, width), rc.FlatBar(width, thickness)
    picture = edge_view(bar, STEEL, MACHINE, units)
    flat, upright = lines(picture, "section")
    assert np.ptp(flat, axis=0) == pytest.approx([width, thickness])
    assert np.ptp(upright, axis=0) == pytest.approx([thickness, width])
    rows = [*lines(picture, "released piece"), lines(picture, "roll")[-1]]
    moments = [rc.plastic_moment(bar, STEEL), rc.plastic_moment(edge, STEEL),
               1000 * rc.check_capacity(MACHINE, bar, STEEL, 93.5)["bending moment"].limit]
    lengths = [np.ptp(row[:, 0]) for row in rows]
    assert np.array(lengths) / max(lengths) == pytest.approx(np.array(moments) / max(moments))
    for moment in moments:
        assert f"{moment / 1000:.3g} N m" in words(picture)
        assert f"{moment / 1000:.3g} N m" in picture.sentence
    assert f"{moments[1] / moments[0]:.3g} times as much" in picture.sentence
    stiffer = rc.bending.bending_stiffness(edge, STEEL) / rc.bending.bending_stiffness(bar, STEEL)
    assert f"{stiffer:.3g} times as stiff" in picture.sentence
    assert overlaps(picture) == clipped(picture) == []


@pytest.mark.parametrize("depth", [3, 6, 40])
def test_what_the_corners_hold_is_the_library_s(depth):
    picture = corner_view(depth)
    around, square = rc.RoundBar(depth), rc.FlatBar(depth, depth)
    moment, stiffness = (of(around, STEEL) / of(square, STEEL)
                         for of in (rc.plastic_moment, rc.bending.bending_stiffness))
    shares = [np.pi / 4, moment, stiffness]
    whole = [np.ptp(box[:, 0]) for box in lines(picture, "hidden")[1:]]
    left = [np.ptp(box[:, 0]) for box in lines(picture, "released piece")]
    assert np.array(left) / whole == pytest.approx(shares)
    assert [f"{100 * share:.0f} %" for share in shares] == [word for word in words(picture) if word.endswith("%")]
    assert picture.sentence.endswith(f"what springs back: {100 * (moment / stiffness - 1):.0f} % more.")
    (bar,), box = lines(picture, "section"), lines(picture, "hidden")[0]
    assert np.ptp(bar, axis=0) == pytest.approx(np.ptp(box, axis=0), rel=1e-3)
    assert overlaps(picture) == clipped(picture) == []
