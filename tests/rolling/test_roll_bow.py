"""Bow and stress of a roll, against sympy's beam module, finite elements of our own, and textbook cases."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import sympy
from sympy.physics.continuum_mechanics.beam import Beam

from rollcalc.rolling import (
    DEMO_MACHINE,
    PyramidMachine,
    bowed_radii,
    radius_for_travel,
    roll_bow,
    roll_stress,
)
from rollcalc.rolling import setting_for_radius as setting
from rollcalc.stock import MATERIALS, InputError, RoundBar, Sheet

STEEL = MATERIALS["low-carbon steel, cold rolled"]
SPAN, DIAMETER, MODULUS = 820.0, 50.0, 205_000.0
CASES = [(760.0, 0.0), (300.0, 0.0), (300.0, 120.0), (25.0, 0.0), (25.0, -350.0), (0.5, 200.0)]


def sympy_bow(width: float, position: float, place: float, force: float) -> tuple[float, float]:
    """Return bow at a place and the largest moment, from sympy's beam."""
    x, rational = sympy.Symbol("x"), sympy.nsimplify
    start, end = rational(SPAN / 2 + position - width / 2), rational(SPAN / 2 + position + width / 2)
    beam = Beam(rational(SPAN), sympy.Integer(1), sympy.Integer(1), variable=x)
    left, right = sympy.symbols("left right")
    beam.apply_load(left, 0, -1)
    beam.apply_load(right, rational(SPAN), -1)
    beam.apply_load(-1 / rational(width), start, 0, end=end)
    beam.bc_deflection = [(0, 0), (rational(SPAN), 0)]
    beam.solve_for_reaction_loads(left, right)
    stiffness = MODULUS * np.pi * DIAMETER**4 / 64
    bow = -float(beam.deflection().rewrite(sympy.Piecewise).subs(x, rational(SPAN / 2 + place)).doit())
    moment = sympy.lambdify(x, beam.bending_moment().rewrite(sympy.Piecewise).doit())
    return bow * force / stiffness, max(abs(float(moment(at))) for at in np.linspace(0.01, SPAN - 0.01, 8001)) * force


@pytest.mark.parametrize(("width", "position"), CASES)
def test_bow_and_stress_are_those_of_sympys_beam(width: float, position: float) -> None:
    sheet = Sheet(thickness=0.76, width=width)
    for place in (position, 0.0, -333.0):
        bow, moment = sympy_bow(width, position, place, 500.0)
        assert roll_bow(DEMO_MACHINE, sheet, 500, position=position, place=place) == pytest.approx(bow, rel=1e-6)
    stress = roll_stress(DEMO_MACHINE, sheet, 500, position=position)
    assert stress == pytest.approx(moment * 32 / (np.pi * DIAMETER**3), rel=1e-4)  # sampled moments


def finite_element_bow(width: float, position: float, force: float, elements: int = 820) -> float:
    """Return the bow under the middle of the stock, from cubic beam elements with consistent loads."""
    size, stiffness = SPAN / elements, MODULUS * np.pi * DIAMETER**4 / 64
    one = stiffness / size**3 * np.array([
        [12, 6 * size, -12, 6 * size], [6 * size, 4 * size**2, -6 * size, 2 * size**2],
        [-12, -6 * size, 12, -6 * size], [6 * size, 2 * size**2, -6 * size, 4 * size**2]])
    whole, load = np.zeros((2 * elements + 2,) * 2), np.zeros(2 * elements + 2)
    begin, end = SPAN / 2 + position - width / 2, SPAN / 2 + position + width / 2
    for element in range(elements):
        place = slice(2 * element, 2 * element + 4)
        whole[place, place] += one
        if begin - 1e-9 <= element * size and (element + 1) * size <= end + 1e-9:
            load[place] += force / width * size * np.array([0.5, size / 12, 0.5, -size / 12])
    free = [index for index in range(2 * elements + 2) if index not in (0, 2 * elements)]
    bent = np.zeros(2 * elements + 2)
    bent[free] = np.linalg.solve(whole[np.ix_(free, free)], load[free])
    return float(bent[2 * round((SPAN / 2 + position) / size)])


@pytest.mark.parametrize(("width", "position"), [(760.0, 0.0), (300.0, 120.0), (26.0, -350.0)])
def test_bow_is_that_of_finite_elements(width: float, position: float) -> None:
    bow = roll_bow(DEMO_MACHINE, Sheet(thickness=0.76, width=width), 500, position=position)
    assert bow == pytest.approx(finite_element_bow(width, position, 500.0), rel=1e-6)


def test_textbook_limits() -> None:
    """Point load F L³/48 E I, even load over everything 5 F L³/384 E I."""
    stiffness = MODULUS * np.pi * DIAMETER**4 / 64
    wide = replace(DEMO_MACHINE, working_width=SPAN)
    assert roll_bow(wide, Sheet(thickness=1, width=1e-3), 100) == pytest.approx(100 * SPAN**3 / 48 / stiffness,
                                                                                rel=1e-9)
    assert roll_bow(wide, Sheet(thickness=1, width=SPAN), 100) == pytest.approx(5 * 100 * SPAN**3 / 384 / stiffness,
                                                                                rel=1e-12)
    narrow, whole = roll_stress(wide, Sheet(thickness=1, width=1e-3), 100), roll_stress(wide,
                                                                                        Sheet(thickness=1, width=SPAN),
                                                                                        100)
    assert narrow / whole == pytest.approx(2, rel=1e-5)


def test_a_machine_that_does_not_say_its_bearings_has_them_at_the_ends_of_the_rolls() -> None:
    sheet, silent = Sheet(thickness=0.76, width=300), replace(DEMO_MACHINE, bearing_span=None)
    assert roll_bow(silent, sheet, 500) == roll_bow(replace(DEMO_MACHINE, bearing_span=760), sheet, 500)


def test_bearings_stand_outside_the_rolls() -> None:
    with pytest.raises(InputError, match=r"bearing span is 700 mm, but must be at least 760 mm"):
        replace(DEMO_MACHINE, bearing_span=700)


def test_arrays_and_rolls_by_name() -> None:
    forces = np.array([0.0, 100.0, 200.0])
    bows = roll_bow(DEMO_MACHINE, Sheet(thickness=0.76, width=300), forces)
    assert isinstance(bows, np.ndarray)
    assert bows[0] == 0
    assert bows[2] == pytest.approx(2 * bows[1])
    thin = replace(DEMO_MACHINE, upper_roll_diameter=40)
    assert roll_bow(thin, Sheet(thickness=0.76, width=300), 100, roll="upper") == pytest.approx(
        1.25**4 * roll_bow(thin, Sheet(thickness=0.76, width=300), 100, roll="lower")
    )
    pyramid = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                             working_width=1500)
    assert roll_bow(pyramid, Sheet(thickness=6, width=900), 1e4, roll="top") < roll_bow(pyramid,
                                                                                        Sheet(thickness=6, width=900),
                                                                                        1e4, roll="bottom")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [({"force": -1}, "force is -1 N"), ({"force": np.nan}, "force is nan N"), ({"roll": "rear"}, "roll is 'rear'"),
     ({"position": 400}, "position is 400 mm"), ({"place": 500}, "place is 500 mm"), ({"roll": 3}, "roll is 3")],
)
def test_nonsense_gets_a_sentence(arguments: dict[str, object], words: str) -> None:
    with pytest.raises(InputError) as caught:
        roll_bow(DEMO_MACHINE, Sheet(thickness=0.76, width=300),
                 **{"force": 100, **arguments})  # type: ignore[arg-type]
    assert str(caught.value).startswith(words)
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize("width", [100.0, 200.0, 400.0])
def test_the_middle_comes_out_as_the_full_solution_has_it(width: float) -> None:
    """The first-order radius against a setting with the bow off its travel and the spread as slack."""
    machine = replace(DEMO_MACHINE.with_perfect_nip(), nip_slack=0.005)
    edge = setting(machine, Sheet(thickness=0.76, width=width), STEEL, 90)
    fixed = replace(edge, front_roll_force=1000.0)
    bowed = bowed_radii(fixed)
    parted = replace(machine, nip_slack=0.005 + bowed.nip_spread)
    middle = radius_for_travel(parted, edge.stock, STEEL, edge.travel - bowed.bending_bow)
    assert bowed.nip_spread > 0
    assert bowed.middle_radius - 90 == pytest.approx(middle - 90, rel=0.15)


def test_a_wider_sheet_bows_the_rolls_more_and_a_bar_does_not() -> None:
    pressed = replace(DEMO_MACHINE, pinch_force=3000)
    radii = [bowed_radii(setting(pressed, Sheet(thickness=0.76, width=width), STEEL,
                                 90)).middle_radius for width in (30, 100, 240)]
    assert 90 < radii[0] < radii[1] < radii[2]
    assert bowed_radii(setting(DEMO_MACHINE, RoundBar(5), STEEL, 90)).middle_radius == pytest.approx(90)
