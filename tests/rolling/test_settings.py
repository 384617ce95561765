"""Settings: there and back, arrays and scalars alike, and what must hold in the limits."""

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
    radius_for_travel,
    setting_for_radius,
    setting_for_travel,
    usable_travel,
)
from rollcalc.rolling.limits.reach import clearance
from rollcalc.rolling.solver.batches import BLOCK
from rollcalc.rolling.solver.span import STEEPEST
from tests.rolling.cases import KINDS, PERFECT, PYRAMID, STEEL, SWIFT, THICK, THIN, is_perfect, line_materials, settings
from tests.strategies import materials

MANY = how(max_examples=30)


@MANY
@given(settings(materials=materials))
def test_a_radius_comes_back_from_its_travel(setting):
    found = radius_for_travel(setting.machine, setting.stock, setting.material, setting.travel,
                              entering_radius=setting.entering_radius, feed=setting.feed)
    assert found == pytest.approx(setting.released_radius, rel=1e-8)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("material", [STEEL, SWIFT], ids=["line", "power"])
def test_the_whole_usable_range_comes_back(kind, material):
    machine, stock = KINDS[kind]
    inside = machine.inside_roll_diameter / 2 + stock.depth / 2
    tightest = rc.released_radius(stock, material, inside * 1.001)
    radii = np.geomspace(tightest, 50 * tightest, 40)
    keeps = [radius for radius in radii if _can(machine, stock, material, radius)]
    assert len(keeps) >= 35
    there = setting_for_radius(machine, stock, material, np.array(keeps))
    assert np.all(np.diff(there.travel) < 0)
    back = setting_for_travel(machine, stock, material, there.travel)
    assert back.released_radius == pytest.approx(np.array(keeps), rel=1e-8)
    for name in ("loaded_radius", "contact_angle", "tilt", "bending_roll_force", "drive_force"):
        assert getattr(back, name) == pytest.approx(getattr(there, name), rel=1e-7, abs=1e-12)


def test_a_nip_that_tilts_too_far_is_refused():
    """Beyond the steepest slope of the model a travel no longer gives its radius back: the pinch is too weak."""
    rolls = {f"{name}_roll_diameter": 40 for name in ("upper", "lower", "bending")}
    bed = {"guide_distance": 70, "guide_angle_degrees": 120, "working_width": 1500, "bearing_span": 1600}
    machine = dataclasses.replace(PERFECT, pinch_force=17_800, **rolls, **bed)
    sheet = rc.Sheet(thickness=2.667, width=1246)
    metal = rc.Material("mine", elastic_modulus=85_200, poisson_ratio=0.3, yield_strength=666)
    flat = setting_for_radius(machine, sheet, metal, 473)
    assert 1.3 < flat.tilt < STEEPEST
    assert radius_for_travel(machine, sheet, metal, flat.travel) == pytest.approx(473, rel=1e-8)
    with pytest.raises(rc.InputError, match="pinch force is 17800 N, but must be larger"):
        setting_for_radius(machine, sheet, metal, 473, entering_radius=946, feed="return")


def _can(machine, stock, material, radius):
    """Return whether a radius can be set."""
    try:
        setting_for_radius(machine, stock, material, radius)
    except rc.InputError:
        return False
    return True


@pytest.mark.parametrize("stock", [rc.RoundBar(6), rc.FlatBar(3, 25)], ids=["round", "flat"])
@pytest.mark.parametrize("material", [STEEL, SWIFT], ids=["line", "power"])
def test_bars_come_back_too(stock, material):
    for machine in (DEMO_MACHINE, KINDS["slack"][0]):
        setting = setting_for_radius(machine, stock, material, 90)
        assert radius_for_travel(machine, stock, material, setting.travel) == pytest.approx(90, rel=1e-8)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("feed", ["forward", "return"])
def test_arrays_give_what_scalars_give(kind, feed):
    machine, stock = KINDS[kind]
    strengths, radii = np.array([150.0, 210.0, 280.0])[:, None], np.array([1.5, 3.0]) * machine.inside_roll_diameter
    entering = np.array([math.inf, 4.0 * machine.inside_roll_diameter])
    metals = STEEL.with_yield(strengths)
    together = setting_for_radius(machine, stock, metals, radii, entering_radius=entering, feed=feed)
    assert together.travel.shape == (3, 2)
    back = setting_for_travel(machine, stock, metals, together.travel, entering_radius=entering, feed=feed)
    for row, strength in enumerate(strengths[:, 0]):
        for column, radius in enumerate(radii):
            alone = setting_for_radius(machine, stock, STEEL.with_yield(strength), radius,
                                       entering_radius=float(entering[column]), feed=feed)
            assert isinstance(alone.travel, float)
            assert isinstance(alone.inside_roll_force, float)
            for name in ("travel", "turns", "contact_angle", "front_angle", "tilt", "bending_roll_force", "drive_force",
                         "front_roll_force", "inside_roll_force", "loaded_radius", "released_radius"):
                value = np.broadcast_to(getattr(together, name), (3, 2))[row, column]
                assert value == pytest.approx(getattr(alone, name), rel=1e-12, abs=1e-15)
            assert back.released_radius[row, column] == pytest.approx(radius, rel=1e-8)


def test_blocks_give_what_one_piece_gives():
    strengths = np.linspace(140, 280, 2 * BLOCK + 7)
    many = setting_for_radius(DEMO_MACHINE, THIN, STEEL.with_yield(strengths), 90)
    assert many.travel.shape == strengths.shape
    for place in (0, BLOCK - 1, BLOCK, len(strengths) - 1):
        alone = setting_for_radius(DEMO_MACHINE, THIN, STEEL.with_yield(strengths[place]), 90)
        assert many.travel[place] == pytest.approx(alone.travel, rel=1e-13)


def test_the_nip_slack_may_be_an_array():
    slacks = np.array([0.0, 0.01, 0.02, 0.05])
    loose = dataclasses.replace(PERFECT, nip_slack=slacks)
    radii = radius_for_travel(loose, THIN, STEEL, 12.0)
    for slack, radius in zip(slacks, radii, strict=True):
        assert radius == pytest.approx(
            radius_for_travel(dataclasses.replace(PERFECT, nip_slack=slack), THIN, STEEL, 12.0),
            rel=1e-9,
        )
    assert np.all(np.diff(radii) > 0)


@given(line_materials, st.floats(60, 400))
@MANY
def test_size_does_not_matter(material, radius):
    """Twice the machine and twice the sheet: twice the travel, and forces per width twice as large."""
    big = dataclasses.replace(PERFECT, upper_roll_diameter=100, lower_roll_diameter=100, bending_roll_diameter=100,
                              guide_distance=120)
    if not _can(PERFECT, THIN, material, radius):
        return
    small, large = (setting_for_radius(machine, stock, material, size * radius) for size, machine, stock in (
        (1, PERFECT, THIN), (2, big, rc.Sheet(thickness=2 * THIN.thickness, width=THIN.width))))
    assert large.travel == pytest.approx(2 * small.travel, rel=1e-10)
    assert large.bending_roll_force == pytest.approx(2 * small.bending_roll_force, rel=1e-10)


def test_a_slack_nip_tends_to_the_perfect_one_with_the_root_of_the_slack():
    perfect = setting_for_radius(PERFECT, THIN, STEEL, 120)
    errors, tilts = [], []
    slacks = [1e-2, 1e-3, 1e-4, 1e-5]
    for slack in slacks:
        loose = setting_for_radius(dataclasses.replace(PERFECT, nip_slack=slack), THIN, STEEL, 120)
        errors.append(loose.travel - perfect.travel)
        tilts.append(loose.tilt)
    assert np.array(errors[1:]) / errors[:-1] == pytest.approx(math.sqrt(0.1), rel=0.02)
    apart = 50 + THIN.thickness
    by_rule = np.sqrt(2 * np.array(slacks) / apart)
    assert tilts[-1] / by_rule[-1] == pytest.approx(1.09, abs=0.02)  # the simple rule is about 9 % low


def test_a_pressed_nip_tends_to_the_perfect_one_with_one_over_the_force():
    perfect = setting_for_radius(PERFECT, THIN, STEEL, 120)
    errors = []
    for force in (1e5, 1e6, 1e7):
        pressed = setting_for_radius(dataclasses.replace(PERFECT, pinch_force=force), THIN, STEEL, 120)
        errors.append(pressed.travel - perfect.travel)
        assert pressed.front_roll_force == pytest.approx(force, rel=1e-12)
        moment = rc.bending_moment(THIN, STEEL, 1 / pressed.loaded_radius)
        taken = rc.bending.energy.complementary_energy(THIN, STEEL, 1 / pressed.loaded_radius)
        roll, apart = 25 + THIN.thickness / 2, 50 + THIN.thickness
        assert pressed.tilt == pytest.approx((moment + roll * taken) / (force * apart), rel=20 * taken / force)
    assert np.array(errors[1:]) / errors[:-1] == pytest.approx(0.1, rel=0.02)


def test_a_slack_and_the_force_that_makes_it_are_the_same_nip():
    loose = setting_for_radius(KINDS["slack"][0], THIN, STEEL, 120)
    pressed = dataclasses.replace(PERFECT, pinch_force=loose.front_roll_force)
    same = setting_for_radius(pressed, THIN, STEEL, 120)
    assert (same.travel, same.tilt) == pytest.approx((loose.travel, loose.tilt), rel=1e-10)


def test_wide_sheet_comes_out_larger_under_the_same_pinch():
    pressed = dataclasses.replace(PERFECT, pinch_force=3000)
    travel = setting_for_radius(PERFECT, THIN, STEEL, 90).travel
    radii = [radius_for_travel(pressed, rc.Sheet(thickness=0.76, width=width), STEEL, travel) for width in (30, 60,
                                                                                                            240)]
    assert radii == pytest.approx([92, 94, 107], abs=1.5)


@pytest.mark.parametrize("kind", KINDS)
def test_earlier_passes_only_share_out_the_work(kind):
    machine, stock = KINDS[kind]
    radius = 1.6 * machine.inside_roll_diameter
    flat = setting_for_radius(machine, stock, STEEL, radius)
    curved = setting_for_radius(machine, stock, STEEL, radius, entering_radius=2 * radius)
    first = setting_for_radius(machine, stock, STEEL, 2 * radius)
    assert curved.drive_force + first.drive_force == pytest.approx(flat.drive_force, rel=1e-9)
    if kind == "pyramid":  # curved stock lies closer to the top roll on its way in, so the same curve needs more drop
        assert curved.travel > 1.1 * flat.travel
    else:
        assert curved.travel == pytest.approx(flat.travel, rel=0.01)
    again = setting_for_travel(machine, stock, STEEL, curved.travel, entering_radius=radius)
    assert again.released_radius == pytest.approx(radius, rel=0.01)
    assert again.drive_force == pytest.approx(0, abs=1e-2 * flat.drive_force)


def test_turning_the_screws_back_does_not_open_a_ring():
    setting = setting_for_radius(DEMO_MACHINE, THIN, STEEL, 90)
    for travel in (0.0, 3.0, 0.9 * setting.travel):
        back = setting_for_travel(DEMO_MACHINE, THIN, STEEL, travel, entering_radius=90)
        assert back.released_radius == pytest.approx(90, rel=1e-9)
        assert back.drive_force == pytest.approx(0, abs=1e-6)
    assert setting_for_travel(DEMO_MACHINE, THIN, STEEL, 3.0, entering_radius=90).bending_roll_force == 0


def test_cranking_back_with_the_roll_raised_is_another_thing():
    for material, upper in ((rc.Material("mild", 205_000, 0.3, 210), 100), (SWIFT, 160)):
        travel = setting_for_radius(PERFECT, rc.Sheet(thickness=0.91, width=240), material, 200).travel
        again = radius_for_travel(PERFECT, rc.Sheet(thickness=0.91, width=240), material, travel + 0.25,
                                  entering_radius=200)
        back = radius_for_travel(
            PERFECT, rc.Sheet(thickness=0.91, width=240), material, travel + 0.25, entering_radius=200, feed="return"
        )
        assert again == pytest.approx(192, abs=3)
        assert back < upper


def test_nothing_pressed_keeps_the_stock_flat():
    for machine, stock in KINDS.values():
        setting = setting_for_travel(machine, stock, STEEL, 0.0)
        assert setting.released_radius == math.inf
        assert (setting.bending_roll_force, setting.drive_force, setting.contact_angle) == (0, 0, 0)


@given(settings(materials=materials))
@MANY
def test_a_setting_leaves_room_between_the_rolls(setting):
    assert clearance(setting.machine, setting.stock, setting.travel) >= -1e-9
    assert setting.travel <= usable_travel(setting.machine, setting.stock) + 1e-9
    assert setting.loaded_radius < setting.released_radius
    assert setting.tilt == 0 or not is_perfect(setting.machine)
    assert setting.drive_force >= 0


def test_rolls_that_just_touch_are_accepted():
    machine = dataclasses.replace(DEMO_MACHINE, guide_distance=50)  # the bending roll touches the lower roll
    straight = dataclasses.replace(machine, guide_angle_degrees=90)
    setting = setting_for_radius(straight, THIN, STEEL, 150)
    assert clearance(straight, THIN, setting.travel) == pytest.approx(0, abs=1e-9)


def test_usable_travel_is_where_the_clearance_ends():
    for machine, stock in ((DEMO_MACHINE, THIN), (dataclasses.replace(DEMO_MACHINE, guide_angle_degrees=140), THIN)):
        most = usable_travel(machine, stock)
        assert clearance(machine, stock, most) == pytest.approx(0, abs=1e-9)
        assert clearance(machine, stock, most * 0.999) > 0
    assert usable_travel(dataclasses.replace(DEMO_MACHINE, max_travel=7), THIN) == 7
    assert usable_travel(dataclasses.replace(DEMO_MACHINE, guide_distance=300), THIN) > 100
    assert usable_travel(PYRAMID, THICK) == pytest.approx(191 - math.sqrt(185**2 - 120**2), abs=1e-9)
    assert isinstance(DEMO_MACHINE, PinchMachine)


def test_a_thin_plate_tends_to_the_beam_and_a_thick_one_comes_out_larger():
    """A plate is bent less than a beam below a top roll, and the thinner it is, the less it differs."""
    real = dataclasses.replace(PYRAMID, peak="plate")
    larger = []
    for thickness in (0.5, 2, 6, 12):
        plate = rc.Sheet(thickness=thickness, width=1000)
        radius = 500
        travel = setting_for_radius(PYRAMID, plate, STEEL, radius).travel
        larger.append(radius_for_travel(real, plate, STEEL, travel) / radius - 1)
    assert 0 < larger[0] < 0.01
    assert larger == sorted(larger)
    assert 0.02 < larger[3] < 0.1


def test_the_peak_is_a_word_of_two():
    with pytest.raises(rc.InputError, match="peak is 'sharp', but must be 'plate' or 'beam'"):
        dataclasses.replace(PYRAMID, peak="sharp")


@pytest.mark.parametrize("stock", [THIN, rc.FlatBar(3, 25), rc.RoundBar(6)])
def test_a_size_to_the_inside_face_is_the_same_setting(stock):
    middle = setting_for_radius(rc.DEMO_MACHINE, stock, STEEL, 90 + stock.depth / 2)
    assert setting_for_radius(rc.DEMO_MACHINE, stock, STEEL, inside_radius=90) == middle
    assert setting_for_radius(rc.DEMO_MACHINE, stock, STEEL, inside_diameter=180) == middle
    for wrong in ({"released_radius": 90, "inside_radius": 90}, {"inside_radius": 90, "inside_diameter": 180}):
        with pytest.raises(rc.InputError, match=r"sizes given are .* and .*, but must be exactly one"):
            setting_for_radius(rc.DEMO_MACHINE, stock, STEEL, **wrong)
    with pytest.raises(rc.InputError, match="inside diameter is -1 mm"):
        setting_for_radius(rc.DEMO_MACHINE, stock, STEEL, inside_diameter=-1)
