"""Nonsense and impossible machines get one clear sentence: never a NaN, never another exception."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import settings as how
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.rolling import (
    DEMO_MACHINE,
    PinchMachine,
    PyramidMachine,
    circle_radius,
    circle_travel,
    radius_for_travel,
    setting_for_radius,
    setting_for_travel,
    span_shape,
    two_arc_travel,
    two_thirds_radius,
    two_thirds_travel,
    usable_travel,
)
from rollcalc.rolling.limits.reach import clearance
from tests.rolling.cases import PYRAMID, STEEL, THICK, THIN
from tests.strategies import materials, not_finite, not_numbers, not_positive, stocks

WILD = how(max_examples=60)
lengths = st.floats(1e-3, 1e5)
wild_pinch = st.builds(
    lambda upper, lower, bending, distance, angle, slack, force: PinchMachine(
        upper_roll_diameter=upper, lower_roll_diameter=lower, bending_roll_diameter=bending, guide_distance=distance,
        guide_angle_degrees=angle, screw_pitch=1, working_width=1e4, nip_slack=0.0 if force else slack,
        pinch_force=force,
    ),
    lengths, lengths, lengths, lengths, st.floats(1, 179), st.one_of(st.just(0.0), st.floats(0, 100)),
    st.one_of(st.none(), st.floats(1e-3, 1e9)),
)
wild_pyramid = st.builds(
    lambda top, bottom, spacing: PyramidMachine(
        top_roll_diameter=top, bottom_roll_diameter=bottom, bottom_roll_spacing=spacing, screw_pitch=1,
        working_width=1e4,
    ),
    lengths, lengths, lengths,
)


def numbers_of(setting):
    """Return every number of a setting."""
    return [getattr(setting, field.name) for field in dataclasses.fields(setting)
            if isinstance(getattr(setting, field.name), float)]


@pytest.mark.parametrize("machines", [wild_pinch, wild_pyramid], ids=["pinch", "pyramid"])
def test_any_machine_gives_numbers_or_the_sentence(machines):
    @WILD
    @given(machines, stocks, materials, st.floats(1e-2, 1e6), st.one_of(st.just(math.inf), st.floats(1e-2, 1e7)),
           st.sampled_from(["forward", "return"]))
    def holds(machine, stock, material, number, entering, feed):
        for function in (setting_for_radius, setting_for_travel):
            try:
                setting = function(machine, stock, material, number, entering_radius=entering, feed=feed)
            except rc.InputError as error:
                assert str(error).endswith(".")
                continue
            assert not any(map(math.isnan, numbers_of(setting)))
            assert setting.travel >= 0
            assert setting.released_radius > 0
            if setting.bending_roll_force > 0:
                shape = span_shape(setting)
                assert all(np.all(np.isfinite(line)) for line in vars(shape).values())
        for function in (circle_radius, circle_travel, clearance, lambda *given: usable_travel(*given[:2])):
            try:
                assert not math.isnan(function(machine, stock, number))
            except rc.InputError as error:
                assert str(error).endswith(".")
        rules = (two_thirds_travel, two_thirds_radius) if isinstance(machine, PinchMachine) else (two_arc_travel,)
        for rule in rules:
            try:
                assert rule(machine, stock, material, number) >= 0
            except rc.InputError as error:
                assert str(error).endswith(".")

    holds()


@pytest.mark.parametrize("function", [setting_for_travel, radius_for_travel])
@given(st.one_of(not_numbers, not_finite, st.floats(max_value=-1e-9, allow_nan=False)))
def test_a_travel_must_be_a_number_from_zero(function, travel):
    with pytest.raises(rc.InputError, match=r"^travel.* but must be .*: count it from touch\.$"):
        function(DEMO_MACHINE, THIN, STEEL, travel)


@given(st.one_of(not_numbers, not_finite, not_positive, st.floats(1e-9, 0.38)))
def test_a_wanted_radius_must_be_a_number_above_half_the_depth(radius):
    with pytest.raises(rc.InputError, match=r"^released radius.* but must be "):
        setting_for_radius(DEMO_MACHINE, THIN, STEEL, radius)


@given(st.one_of(not_numbers, st.just(math.nan), st.just(-math.inf), not_positive))
def test_an_entering_radius_must_be_a_radius(radius):
    with pytest.raises(rc.InputError, match=r"^entering radius"):
        setting_for_radius(DEMO_MACHINE, THIN, STEEL, 90, entering_radius=radius)


@pytest.mark.parametrize(
    ("do", "sentence"),
    [
        (lambda: setting_for_radius("roll", THIN, STEEL, 90), "^the machine is 'roll', but must be"),
        (lambda: setting_for_radius(DEMO_MACHINE, rc.Sheet(thickness=0.76, width=800), STEEL, 90),
         "800 mm wide, but must be at most 760 mm"),
        (lambda: setting_for_radius(dataclasses.replace(DEMO_MACHINE, nip_opening=2), rc.FlatBar(3, 25), STEEL, 90),
         "3 mm thick, but must be at most 2 mm"),
        (lambda: setting_for_radius(PYRAMID, rc.Sheet(thickness=0.75 * PYRAMID.bottom_roll_spacing,
                                                            width=200), STEEL, 5000),
         "for bottom rolls so near each other"),
        (lambda: setting_for_radius(DEMO_MACHINE, THIN, STEEL, 26), "inside roll allows none below 25.38 mm"),
        (lambda: setting_for_radius(dataclasses.replace(DEMO_MACHINE, max_travel=10), THIN, STEEL, 90),
         "at most 10 mm, where the screws stop"),
        (lambda: setting_for_travel(DEMO_MACHINE, THIN, STEEL, 37.5), "where two rolls would touch: set less"),
        (lambda: setting_for_travel(DEMO_MACHINE, THIN, STEEL, 36.5), "lies against the inside roll"),
        (lambda: setting_for_radius(dataclasses.replace(DEMO_MACHINE, guide_distance=40), THIN, STEEL, 90),
         "overlap before anything moves"),
        (lambda: setting_for_radius(DEMO_MACHINE, THIN, STEEL, 90, entering_radius=80), "never opens a curve"),
        (lambda: setting_for_radius(DEMO_MACHINE, THIN, STEEL, 90, feed="sideways"), "'forward' or 'return'"),
        (lambda: setting_for_radius(dataclasses.replace(DEMO_MACHINE, pinch_force=20), THIN, STEEL, 90),
         "^pinch force is 20 N, but must be larger"),
        (lambda: setting_for_radius(dataclasses.replace(DEMO_MACHINE, pinch_force=3000),
                                    rc.Sheet(thickness=3, width=500), STEEL, 90),
         "^pinch force is 3000 N, but must be larger"),  # tilted so far that it would miss the bending roll
        (lambda: setting_for_radius(dataclasses.replace(DEMO_MACHINE, guide_distance=200, guide_angle_degrees=90), THIN,
                                    STEEL, 60), "stand too far apart"),
        (lambda: setting_for_radius(DEMO_MACHINE, rc.Sheet(thickness=np.array([0.7, 0.8]), width=9), STEEL,
                                    np.ones(3) * 90),
         "must fit together"),
        (lambda: span_shape(setting_for_travel(DEMO_MACHINE, THIN, STEEL, 0)), "no span to draw"),
        (lambda: span_shape(setting_for_radius(DEMO_MACHINE, THIN, STEEL, 90), 2.5), "points is 2.5, but must"),
        (lambda: two_thirds_travel(PYRAMID, THICK, STEEL, 400), "must be a PinchMachine for the two-thirds rule"),
        (lambda: two_arc_travel(DEMO_MACHINE, THIN, STEEL, 400), "must be a PyramidMachine for the two-arc rule"),
        (lambda: dataclasses.replace(DEMO_MACHINE, pinch_force=100, nip_slack=0.1), "at most one"),
    ],
)
def test_what_a_machine_cannot_do_is_said_in_one_sentence(do, sentence):
    with pytest.raises(rc.InputError, match=sentence) as caught:
        do()
    assert str(caught.value).endswith(".")
    assert str(caught.value).count(". ") == 0
