"""Every number that lesson 02 says in words is worked out again here, and its formulas are the library's."""

import math
import re
from pathlib import Path

import nbformat
import numpy as np
import pytest
import sympy as sp

import rollcalc as rc
from rollcalc.lessons.lesson02 import derivations as derivations_rolls
from rollcalc.lessons.lesson02 import panels as panels_rolls
from rollcalc.lessons.lesson02.derivations import ALL, circle, distance, guide_angle, roll, spacing, travel

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "02_turn_rolls_into_a_circle.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "".join(output.get("text", "") or output.data.get("text/plain", "")
                  for cell in BOOK.cells for output in cell.get("outputs", []))
BENCH, BODY, STEEL = rc.DEMO_MACHINE, rc.Sheet(thickness=0.76, width=240), rc.MATERIALS["low-carbon steel, cold rolled"]
PYRAMID = rc.PyramidMachine(
    top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6, working_width=1500
)
PLATE = rc.Sheet(thickness=6, width=1000)
PITCH = BENCH.screw_pitch
IDEAL = BENCH.with_perfect_nip()


def circle_at(turns: float) -> float:
    """Return the circle after turns of the screws. [mm]"""
    return rc.circle_radius(BENCH, BODY, turns * PITCH)


def turns_for(radius: float, stock: rc.Sheet = BODY) -> float:
    """Return the turns for a circle. [turns]"""
    return rc.circle_travel(BENCH, stock, radius) / PITCH


def bend_of_turn(number: int) -> float:
    """Return how much curvature the circle gains in one turn. [1/mm]"""
    return 1 / circle_at(number) - (1 / circle_at(number - 1) if number > 1 else 0)


def off(radius: float, turns: float) -> float:
    """Return how much some more turns take off a circle. [mm]"""
    return radius - circle_at(turns_for(radius) + turns)


def comes_out(turns: float) -> float:
    """Return the radius of the sheet. [mm]"""
    return rc.radius_for_travel(IDEAL, BODY, STEEL, turns * PITCH)


def promised_too_much(radius: float) -> int:
    """Return by how much the sprung-back circle is larger than the radius that comes out. [%]"""
    held = rc.circle_radius(BENCH, BODY, rc.setting_for_radius(IDEAL, BODY, STEEL, radius).travel)
    return round(100 * (rc.released_radius(BODY, STEEL, held) / radius - 1))


TWELVE = BENCH.bending_roll_centre(0.76, 18)
TEN = BENCH.bending_roll_centre(0.76, 15)


def sprung(radius: float, machine: rc.PinchMachine) -> float:
    """Return the radius that comes out with the screws set by the sprung-back circle. [mm]"""
    return rc.radius_for_travel(
        machine, BODY, STEEL, rc.circle_travel(BENCH, BODY, rc.loaded_radius(BODY, STEEL, radius))
    )


SAID = [
    (f"{(180 + 0.76) / 2:.1f} mm radius to the middle", "radius of the body"),
    (f"three rolls of {BENCH.upper_roll_diameter:g} mm", "machine"),
    (f"screws that lift the bending roll by {PITCH} mm a turn", "pitch"),
    (f"{circle_at(2):.1f}, {circle_at(4):.1f}, {circle_at(8):.1f} and {circle_at(16):.1f} mm", "doubling"),
    (f"bends the sheet by {bend_of_turn(1):.4f} 1/mm, the tenth by {bend_of_turn(10):.4f} 1/mm", "curvature a turn"),
    (f"the twentieth by {bend_of_turn(20):.4f} 1/mm", "curvature of the twentieth turn"),
    (f"leans back by {BENCH.guide_angle_degrees - 90:g}°", "guide"),
    (rf"$15\cos 20° = {15 * math.cos(math.radians(20)):.2f}$ mm", "rise"),
    (rf"$15\sin 20° = {15 * math.sin(math.radians(20)):.2f}$ mm", "nearer"),
    (f"started {BENCH.guide_distance:g} mm behind the nip and $c = {25 + 0.38:.2f}$ mm below", "at touch"),
    (f"$x = {TEN[0]:.2f}$ mm and $y = {TEN[1]:.2f}$ mm", "ten turns"),
    ({5: "nine and five sixths"}[round(6 * (turns_for(90.38) - 9))], "instructor's answer"),
    (f"At 390 mm one more turn takes {off(390, 1):.1f} mm off", "gentle"),
    (f"at 40 mm it takes only {off(40, 1):.1f} mm", "tight"),
    (f"above the {25 + 0.38:.1f} mm of the upper roll's own circle", "upper roll"),
    (f"at {rc.rolling.usable_travel(BENCH, BODY) / PITCH:.1f} turns", "rolls meet"),
    (f"A quarter turn is about {off(90, 0.25):.0f} mm of radius at 90 mm", "quarter turn, tight"),
    (f"and about {off(390, 0.25):.0f} mm at 390 mm", "quarter turn, gentle"),
    (f"In a perfect nip the sprung-back circle promises {promised_too_much(45)} % too much where 45 mm come out, and "
     f"{promised_too_much(400)} % where 400 mm do", "promise"),
    (f"has risen by {18 * math.cos(math.radians(20)):.2f} mm and moved {18 * math.sin(math.radians(20)):.2f}", "02.1"),
    (f"$x = {TWELVE[0]:.2f}$ mm and $y = {TWELVE[1]:.2f}$ mm", "02.1, place"),
    (f"radius=37.8)` is {rc.circle_travel(BENCH, rc.Sheet(thickness=0.6, width=100), 37.8):.2f} mm", "02.2"),
    (f"the circle has {circle_at(6):.1f} mm, and in a perfect nip the sheet comes out at {comes_out(6):.1f}", "02.3"),
    (f"{comes_out(6):.1f}/{circle_at(6):.1f} = {comes_out(6) / circle_at(6):.3f}", "02.3, ratio"),
    (f"sprung back to {rc.released_radius(BODY, STEEL, circle_at(6)):.1f} mm", "02.3, sprung back"),
    (f"The circle of 90.4 mm takes {turns_for(90.38):.2f} turns.", "back to the guess"),
    (f"under the bench roll's 2500 N, ten turns leave {rc.radius_for_travel(BENCH, BODY, STEEL, 15):.1f} mm, "
     f"larger even than the sprung-back circle's {rc.released_radius(BODY, STEEL, circle_at(10)):.1f} mm", "the pinch"),
    (f"They leave {comes_out(turns_for(90.38)):.0f} mm in a perfect nip, and "
     f"{rc.radius_for_travel(BENCH, BODY, STEEL, turns_for(90.38) * PITCH):.0f} mm under", "what comes out"),
    (f"too far the other way in a perfect nip, {sprung(90.38, IDEAL):.0f} mm; under 2500 N it leaves "
     f"{sprung(90.38, BENCH):.0f} mm, still too large", "last bullet"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, words


def test_the_sprung_back_circle_is_too_tight_in_a_perfect_nip_and_too_large_under_the_pinch():
    assert BENCH.pinch_force == 2500
    wanted = [60, 90.38, 150, 300]
    ideal, pressed = (np.array([sprung(radius, machine) for radius in wanted]) for machine in (IDEAL, BENCH))
    assert np.all((ideal < wanted) & (wanted < pressed))
    assert f"'circle, springback added': {ideal.round()!r}" in PRINTED
    assert f"'the same, under 2500 N': {pressed.round()!r}" in PRINTED
    bare = np.array([comes_out(turns_for(radius)) for radius in wanted])
    assert f"'circle': {bare.round()!r}" in PRINTED


def test_the_circle_by_hand_is_the_library_s():
    assert f"({circle_at(10):.1f}, {circle_at(10):.1f}, {turns_for(90.38):.2f})" in PRINTED


@pytest.mark.parametrize("turns", [1, 2, 4, 8, 11])
def test_twice_the_turns_give_a_little_less_than_half_the_radius(turns):
    assert 0.3 < circle_at(2 * turns) / circle_at(turns) < 0.5


def test_each_turn_bends_more_than_the_one_before_almost_to_the_end():
    bends = [bend_of_turn(number) for number in range(1, 22)]
    assert bends == sorted(bends)


def test_between_the_rolls_the_sheet_springs_back_before_it_reaches_the_bending_roll():
    shape = rc.span_shape(rc.setting_for_travel(IDEAL, BODY, STEEL, 15))
    ends = sorted((float(shape.curvature.min()), float(shape.curvature.max())))
    assert ends[0] == pytest.approx(1 / comes_out(10), rel=1e-6)
    assert ends[0] < 1 / circle_at(10) < ends[1]


def test_the_lesson_s_formulas_are_the_derived_ones():
    assert r"R = \frac{x^2 + y^2 - c^2}{2\,(y + c)}" in PROSE
    x, y = derivations_rolls.along, derivations_rolls.up
    assert sp.simplify(ALL[0]().steps[2].equation.rhs - (x**2 + y**2 - roll**2) / (2 * (y + roll))) == 0
    assert r"T = b - \sqrt{b^2 - g^2}" in PROSE
    assert r"$b = (R + c)\sin\alpha - g\cos\alpha$" in PROSE
    b = (circle + roll) * sp.sin(guide_angle) - distance * sp.cos(guide_angle)
    assert sp.simplify(ALL[1]().steps[1].equation.rhs - b) == 0


@pytest.mark.parametrize("moved", [0.3, 5.0, 15.0, 30.0])
def test_the_derived_circle_is_the_library_s(moved):
    given = {roll: 25.38, distance: 60, guide_angle: math.radians(110)}
    radius = float(ALL[0]().steps[5].equation.rhs.subs({**given, travel: moved}))
    assert rc.circle_radius(BENCH, BODY, moved) == pytest.approx(radius, rel=1e-12)
    middle = ALL[1]().steps[1].equation
    back = ALL[1]().result.rhs.subs(middle.lhs, middle.rhs).subs({**given, circle: radius})
    assert float(back) == pytest.approx(moved, rel=1e-9)
    assert rc.circle_travel(BENCH, BODY, radius) == pytest.approx(moved, rel=1e-9)


@pytest.mark.parametrize("moved", [0.3, 5.0, 20.0, 40.0])
def test_the_derived_pyramid_circle_is_the_library_s(moved):
    given = {roll: 88, spacing: 240}
    radius = float(ALL[2]().steps[1].equation.rhs.subs({**given, travel: moved}))
    assert rc.circle_radius(PYRAMID, PLATE, moved) == pytest.approx(radius, rel=1e-12)
    assert float(ALL[2]().result.rhs.subs({**given, circle: radius})) == pytest.approx(moved, rel=1e-9)


def test_the_panels_say_what_the_library_computes_and_on_which_machine():
    panel = panels_rolls.circle_through_rolls()
    panel.set(turns=6)
    assert f"radius of {circle_at(6):.1f} mm" in panel.sentence
    assert BENCH.name in panel.sentence
    panel.set(units="inch")
    assert f"radius of {circle_at(6) / 25.4:.2f} in" in panel.sentence
    panel = panels_rolls.turns_for_circle()
    panel.set(radius=100)
    assert f"takes {turns_for(100):.2f} turns" in panel.sentence
    assert f"takes {off(100, 1):.1f} mm off" in panel.sentence
    assert BENCH.name in panel.sentence


def test_the_panels_end_where_the_lesson_says():
    assert panels_rolls.turns_for_circle()._controls[0].low == 26
    last = panels_rolls.circle_through_rolls()._controls[0].high
    assert circle_at(last) > 25.38
    with pytest.raises(rc.InputError):
        circle_at(last + 0.25)


def test_the_panels_follow_a_machine_of_one_s_own(tmp_path, monkeypatch):
    (tmp_path / "machine.toml").write_text(
        'kind = "pyramid"\nunits = "mm"\nname = "the big one"\ntop_roll_diameter = 200\nbottom_roll_diameter = 170\n'
        "bottom_roll_spacing = 240\nscrew_pitch = 6\nworking_width = 1500\n",
        "utf-8",
    )
    monkeypatch.delenv("ROLLCALC_MACHINE")
    monkeypatch.chdir(tmp_path)
    for make in panels_rolls.ALL:
        assert "the big one" in make().sentence
    assert re.search(r"\d\.\d\d turns", panels_rolls.circle_through_rolls().sentence)
