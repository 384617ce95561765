"""The start and the end of a ring: what the march leaves, how it closes in, and remedies with their numbers."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from rollcalc.rolling import (
    DEMO_MACHINE,
    FlatEnds,
    Machine,
    PyramidMachine,
    flat_ends,
    pass_schedule,
    setting_for_radius,
)
from rollcalc.rolling.flat_ends import read_ends, rolled
from rollcalc.rolling.march.march import MOST_ASKED, March
from rollcalc.rolling.march.sheet_line import NoEquilibriumError
from rollcalc.rolling.march.strip import Strip
from rollcalc.rolling.passes.plan import pass_settings
from rollcalc.stock import MATERIALS, FlatBar, InputError, RoundBar, Sheet
from tests.rolling.ring_start_table import starts

STEEL = MATERIALS["low-carbon steel, cold rolled"]
BODY = Sheet(thickness=0.76, width=240)
PERFECT = DEMO_MACHINE.with_perfect_nip()
PYRAMID = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                         working_width=1500)


@cache
def ends_of(machine: Machine) -> FlatEnds:
    """Return the ends of the lantern's body, rolled in one pass."""
    return flat_ends(machine, BODY, STEEL, 90.4)


@pytest.mark.parametrize("machine", [PERFECT, DEMO_MACHINE], ids=["perfect", "2500 N"])
def test_a_flat_start_then_a_kink_a_dip_a_hump_and_the_curve(machine: Machine) -> None:
    ends = ends_of(machine)
    share = ends.curvature * ends.steady_radius
    assert np.all(share[ends.distance < 20] < 0.01)
    assert 23 < ends.leading < 28
    assert 31 < ends.kink_position < 35
    assert ends.kink_ratio == pytest.approx(3.1, abs=0.1)
    dip = share[(ends.distance > 40) & (ends.distance < 60)].min()
    hump = share[(ends.distance > 60) & (ends.distance < 80)].max()
    assert 0.5 < dip < 0.7 < 1.1 < hump < 1.3
    assert np.all(np.abs(share[(ends.distance > 80) & (ends.distance < 150)] - 1) < 0.08)
    assert np.all(np.abs(share[(ends.distance > ends.trim) & (ends.distance < 140)] - 1) <= 0.02)
    assert ends.steady_radius == pytest.approx(90.4, rel=3e-3)
    assert not ends.laid


def test_the_kink_is_what_the_inside_roll_allows() -> None:
    """Where the sheet lies on the upper roll, it is bent to that roll's radius and springs back from there."""
    from rollcalc import released_radius

    ends = ends_of(PERFECT)
    assert 1 / ends.curvature.max() == pytest.approx(float(released_radius(BODY, STEEL, 25.38)), rel=2e-3)


def test_the_other_end_is_the_nip_s() -> None:
    """The couple's arm is M₀/N, and the last stretch of that length escapes; a perfect nip leaves none."""
    assert ends_of(PERFECT).trailing == 0
    lengths = [flat_ends(replace(DEMO_MACHINE, pinch_force=force), BODY, STEEL, 90.4).trailing
               for force in (1500, 2500, 5000)]
    assert lengths[0] > lengths[1] > lengths[2] > 0.5
    setting = setting_for_radius(DEMO_MACHINE, BODY, STEEL, 90.4)
    arm = float(setting.bending_roll_force) * 40 / 2500  # about 40 mm behind the inside roll
    assert lengths[1] == pytest.approx(arm, rel=0.35)


def test_the_numbers_close_in_with_the_cell() -> None:
    for (_, coarse, rough), (_, fine, exact) in zip(starts(20), starts(40), strict=True):
        assert coarse == pytest.approx(2 * fine)
        assert rough.leading == pytest.approx(exact.leading, abs=0.3)
        assert rough.kink_position == pytest.approx(exact.kink_position, abs=1.5)
        assert rough.kink_ratio == pytest.approx(exact.kink_ratio, rel=0.02)
        assert rough.steady_radius == pytest.approx(exact.steady_radius, rel=2e-3)


def test_the_first_of_three_passes_kinks_half_as_much() -> None:
    radii = np.asarray(pass_settings(PERFECT, BODY, STEEL, 90.4, 3).released_radius)
    first = flat_ends(PERFECT, BODY, STEEL, float(radii[0]))
    assert first.curvature.max() / ends_of(PERFECT).curvature.max() == pytest.approx(0.5, abs=0.1)


@pytest.mark.parametrize("radius", [70, 90.4, 150])
def test_a_schedule_keeps_its_promise_within_a_per_cent(radius: float) -> None:
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, radius)
    ends = flat_ends(DEMO_MACHINE, BODY, STEEL, radius, schedule=plan)
    assert ends.steady_radius == pytest.approx(plan.passes[-1].released_radius, rel=0.005)
    turns = [float(setting.turns) for setting in ends.settings]
    assert turns == pytest.approx([step.turns_left for step in plan.passes], abs=1e-6)


def test_remedies_are_marched_and_each_helps_where_it_says() -> None:
    ends = ends_of(DEMO_MACHINE)
    trim, turn, former, passes, turned = ends.remedies
    assert trim.extra_length == pytest.approx(ends.trim + ends.trailing_trim)
    assert "not for folded ones" in trim.words
    assert turn.leading == pytest.approx(turn.trailing, abs=0.5)
    assert turn.leading < 0.2 * ends.leading
    assert turn.kink_ratio == pytest.approx(ends.kink_ratio, rel=0.01)
    assert former.leading == former.trailing == 0
    assert former.kink_ratio < 1.05
    assert passes.leading == pytest.approx(ends.leading, abs=1.5)
    assert turned.kink_ratio < passes.kink_ratio < ends.kink_ratio
    assert turned.leading < 0.2 * ends.leading


def test_a_former_that_bends_the_whole_ring_leaves_nothing_to_kink() -> None:
    settings = (setting_for_radius(PERFECT, BODY, STEEL, 90.4),)
    strip, laid = rolled(settings, former=True)
    bend = read_ends(strip, laid, settings, 0.02)
    assert bend.trim == 0
    assert bend.kink_ratio == pytest.approx(1, abs=5e-3)


def test_a_tip_that_cannot_ride_up_is_laid_over_the_roll() -> None:
    tight = flat_ends(DEMO_MACHINE, RoundBar(6), STEEL, 48)
    assert tight.laid
    assert tight.steady_radius == pytest.approx(48, rel=3e-3)
    plates = flat_ends(PYRAMID, Sheet(thickness=6, width=1000), STEEL, 300)
    assert plates.laid
    assert plates.leading > 60 < plates.trailing
    assert plates.steady_radius == pytest.approx(300, rel=0.01)


def test_a_curve_that_never_settles_has_no_trim() -> None:
    """A stiff bar bent almost to the roll swings on; before, the end of the march was called its trim."""
    with pytest.raises(InputError, match=r"tolerance is 0.02, but must be at least 0.1\d? for this ring"):
        flat_ends(DEMO_MACHINE, RoundBar(5), MATERIALS["mild steel bar, hot rolled"], 37.5)
    coarse = flat_ends(DEMO_MACHINE, RoundBar(5), MATERIALS["mild steel bar, hot rolled"], 37.5, tolerance=0.12)
    assert coarse.kink_position < coarse.trim < 120


@pytest.mark.parametrize("machine", [PERFECT, DEMO_MACHINE, replace(PERFECT, nip_slack=0.02), PYRAMID])
@pytest.mark.parametrize("stock", [Sheet(thickness=1.2, width=400), FlatBar(3, 20), RoundBar(5), RoundBar(20)])
@pytest.mark.parametrize("radius", [33.0, 200.0])
def test_lengths_or_one_sentence(machine: Machine, stock: Sheet, radius: float) -> None:
    try:
        ends = flat_ends(machine, stock, STEEL, radius)
    except InputError as error:
        assert str(error).endswith(".")
    else:
        numbers = (ends.leading, ends.trailing, ends.kink_position, ends.kink_ratio, ends.trim, ends.trailing_trim)
        assert all(math.isfinite(number) and number >= 0 for number in numbers)
        assert ends.steady_radius == pytest.approx(radius, rel=0.02)


@pytest.mark.parametrize(
    ("words", "more"),
    [("tolerance", {"tolerance": 1e-3}), ("schedule", {"schedule": "three"}), ("one", {"released_radius": np.ones(3)})],
)
def test_bad_input_is_one_sentence(words: str, more: dict[str, object]) -> None:
    numbers = {"released_radius": 90.4} | more
    with pytest.raises(InputError, match=words):
        flat_ends(DEMO_MACHINE, BODY, STEEL, **numbers)  # type: ignore[arg-type]
    plan = pass_schedule(DEMO_MACHINE, BODY, STEEL, 100)
    with pytest.raises(InputError, match="the schedule is for a radius of 100 mm"):
        flat_ends(DEMO_MACHINE, BODY, STEEL, 90.4, schedule=plan)


def test_a_march_that_gets_lost_is_ended() -> None:
    """Sheet of 1.74 mm, 548 mm wide, stands at 49 degrees in the nip; without an end the search takes minutes."""
    setting = setting_for_radius(DEMO_MACHINE, BODY, STEEL, 90)
    march = March(setting, Strip(BODY, STEEL, 4.0, 200.0))
    march.asked = MOST_ASKED * march.strip.last - 3
    with pytest.raises(NoEquilibriumError):
        march.feed(1)
