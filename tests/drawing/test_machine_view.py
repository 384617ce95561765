"""Side views of machines: to scale, every word with room at every travel, and sentences that say what is drawn."""

import math
import re

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.machine.circle_pictures import most_travel, rings_picture, triangle_picture, turns_picture
from rollcalc.drawing.machine.circle_view import circle_middle, circle_view
from rollcalc.drawing.machine.machine_view import roll_places, view_frame
from rollcalc.drawing.machine.machine_words import machine_picture
from tests.drawing.layout import clipped, overlaps

STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
BODY = rc.Sheet(thickness=0.76, width=240)
PYRAMID = rc.PyramidMachine(
    name="the big one", top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
    working_width=1500,
)
LEANING_AWAY = rc.PinchMachine(
    upper_roll_diameter=90, lower_roll_diameter=80, bending_roll_diameter=70, guide_distance=110,
    guide_angle_degrees=75, screw_pitch=4, working_width=1000, max_travel=70,
)
MACHINES = {
    "bench roll": (rc.DEMO_MACHINE, BODY), "pyramid": (PYRAMID, rc.Sheet(thickness=6, width=1000)),
    "leaning away": (LEANING_AWAY, rc.Sheet(thickness=1, width=500)),
}
machines = pytest.mark.parametrize(("machine", "stock"), MACHINES.values(), ids=MACHINES)


def closed(picture, role):
    """Return the closed outlines of a role."""
    return [mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == role and mark.closed]


def words(picture):
    """Return all words of a picture."""
    return [mark.words for mark in picture.marks if isinstance(mark, Text)]


@machines
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_every_word_has_room_at_every_travel(machine, stock, units):
    for travel in np.linspace(0, most_travel(machine, stock), 60):
        picture = circle_view(machine, stock, float(travel), units)
        assert overlaps(picture) == clipped(picture) == [], travel
        assert picture.frame == view_frame(machine)


@machines
def test_rolls_touch_the_sheet_and_not_each_other(machine, stock):
    for travel in np.linspace(0.02, 0.999, 7) * most_travel(machine, stock):
        radius, thickness = rc.circle_radius(machine, stock, float(travel)), stock.thickness
        centre = np.array([0.0, circle_middle(machine, float(travel), radius)])
        places = roll_places(machine, thickness, float(travel))
        drawn = closed(circle_view(machine, stock, float(travel)), "roll")
        for (name, at, diameter), outline in zip(places, drawn, strict=True):
            assert np.hypot(*(outline - at).T) == pytest.approx(diameter / 2)
            apart = math.dist(at, centre)
            inside = name in ("upper roll", "top roll")
            surface = apart + diameter / 2 if inside else apart - diameter / 2
            assert surface == pytest.approx(radius - thickness / 2 if inside else radius + thickness / 2)


@machines
def test_the_sheet_lies_on_the_circle_and_enters_without_a_kink(machine, stock):
    travel = 0.4 * most_travel(machine, stock)
    radius = rc.circle_radius(machine, stock, travel)
    straight, bent = (mark.points for mark in circle_view(machine, stock, travel).marks
                      if isinstance(mark, Line) and mark.role == "sheet")
    assert np.hypot(bent[:, 0], bent[:, 1] - circle_middle(machine, travel, radius)) == pytest.approx(radius)
    assert straight[1] == pytest.approx(bent[0])
    first, second = straight[1] - straight[0], bent[1] - bent[0]
    turn = math.atan2(first[0] * second[1] - first[1] * second[0], first @ second)
    assert turn == pytest.approx(math.dist(bent[0], bent[1]) / radius / 2, rel=1e-3)


@machines
def test_the_sentence_says_turns_travel_radius_and_machine(machine, stock):
    travel = 0.4 * most_travel(machine, stock)
    sentence = circle_view(machine, stock, travel).sentence
    assert sentence.startswith(f"{travel / machine.screw_pitch:.2f} turns of the screws on ")
    assert (machine.name or "the machine you measured") in sentence
    assert f"radius of {rc.circle_radius(machine, stock, travel):.1f} mm" in sentence
    assert "there is no circle yet" in circle_view(machine, stock, 0.0).sentence


@machines
def test_a_travel_where_rolls_meet_is_refused_with_the_sentence(machine, stock):
    with pytest.raises(rc.InputError, match=r"travel is [\d.e+]+ mm, but must be"):
        circle_view(machine, stock, 1.05 * float(rc.rolling.usable_travel(machine, stock)))


@machines
def test_most_travel_still_has_a_circle_and_a_little_more_has_none(machine, stock):
    most = most_travel(machine, stock)
    circle_view(machine, stock, most)
    with pytest.raises(rc.InputError):
        circle_view(machine, stock, most * 1.001)


@machines
def test_the_words_of_the_machine(machine, stock):
    picture = machine_picture(machine)
    assert overlaps(picture) == clipped(picture) == []
    pyramid = isinstance(machine, rc.PyramidMachine)
    named = ["top roll", "bottom roll"] if pyramid else ["upper roll", "lower roll", "bending roll", "nip"]
    assert {*named, "guide", "seen from the crank side"} <= set(words(picture))
    assert ("nip" in picture.sentence) != pyramid


@machines
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_graph_of_turns(machine, stock, units):
    tightest = rc.circle_radius(machine, stock, most_travel(machine, stock))
    for radius in np.geomspace(1.001, 15.9, 40) * tightest:
        picture = turns_picture(machine, stock, float(radius), units)
        assert overlaps(picture) == clipped(picture) == [], radius
    turns = rc.circle_travel(machine, stock, 3 * tightest) / machine.screw_pitch
    sentence = turns_picture(machine, stock, 3 * tightest).sentence
    assert f"takes {turns:.2f} turns" in sentence
    smaller = rc.circle_radius(machine, stock, (turns + 1) * machine.screw_pitch)
    assert float(re.search(r"One more turn takes ([\d.]+) mm off", sentence)[1]) == pytest.approx(
        3 * tightest - smaller, abs=0.06
    )
    assert "no room for one more" in turns_picture(machine, stock, 1.001 * tightest).sentence


def test_the_curve_passes_through_the_circle_that_was_looked_up():
    picture = turns_picture(rc.DEMO_MACHINE, BODY, 90.38)
    curve = next(mark.points for mark in picture.marks if isinstance(mark, Line) and mark.role == "loaded")
    turns = rc.circle_travel(rc.DEMO_MACHINE, BODY, 90.38) / 1.5
    assert np.interp(turns, *curve.T) == pytest.approx(90.38, rel=0.002)


def test_the_triangle_closes():
    picture = triangle_picture(rc.DEMO_MACHINE, BODY, 15)
    assert overlaps(picture) == clipped(picture) == []
    (corners,) = closed(picture, "released")
    centre, right, roll = corners
    assert (centre - right) @ (roll - right) == pytest.approx(0)
    assert math.dist(centre, roll) == pytest.approx(rc.circle_radius(rc.DEMO_MACHINE, BODY, 15) + 25.38)
    one, two, three = (float(number) for number in re.findall(r"([\d.]+)²", picture.sentence))
    assert math.hypot(one, two) == pytest.approx(three, abs=0.1)


@pytest.mark.parametrize("machine", [rc.DEMO_MACHINE, rc.DEMO_MACHINE.with_perfect_nip()], ids=["pressed", "perfect"])
@pytest.mark.parametrize("travel", [12.0, 15.0, 24.0, 28.0])
def test_the_rings_are_those_of_the_sentence(travel, machine):
    picture = rings_picture(machine, BODY, STEEL, travel)
    assert overlaps(picture) == clipped(picture) == []
    circle = rc.circle_radius(machine, BODY, travel)
    real = rc.radius_for_travel(machine, BODY, STEEL, travel)
    opened = rc.released_radius(BODY, STEEL, circle)
    for role, radius in (("centre", circle), ("released", real), ("hidden", opened)):
        (ring,) = closed(picture, role)
        assert np.ptp(ring[:, 0]) / 2 == pytest.approx(radius, rel=1e-3)
        assert f"{radius:.1f} mm" in picture.sentence
    assert f"{100 * (real / circle - 1):.0f} % larger than the one" in picture.sentence
    share = f"{100 * abs(real / opened - 1):.0f}"
    more = f"{share} % {'larger' if real > opened else 'smaller'} than" if share != "0" else "as large as"
    assert f"{more} the other" in picture.sentence
    assert machine.nip in picture.sentence


def test_rings_that_spring_back_flat_are_refused():
    with pytest.raises(rc.InputError, match="springs back flat"):
        rings_picture(rc.DEMO_MACHINE, BODY, STEEL, 2.0)
