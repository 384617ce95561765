"""The estimate: what a reading teaches, what it cannot teach, and when to stop."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import rollcalc as rc
from rollcalc.job import Estimate, NextPass
from rollcalc.job.learning.reading import Band
from tests.outside import jobs

STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]
BODY, STRIP, RING = rc.Sheet(thickness=0.76, width=240), rc.Sheet(thickness=0.76, width=30), rc.RoundBar(6)
BENCH = rc.DEMO_MACHINE
PLATE = rc.PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                          working_width=1500)
START = rc.estimate(BENCH, STEEL)


def rise_after(stock: rc.Stock, turns: float, metal: float = 250.0, pinch: float = 1500.0, touch: float = 0.2,
               entering: float = math.inf) -> tuple[float, float]:
    """Return the rise over 100 mm inside, and the radius, that a known truth gives without any error."""
    setting = rc.setting_for_travel(replace(BENCH, pinch_force=pinch), stock, STEEL.with_yield(metal),
                                    turns * BENCH.screw_pitch - touch, entering_radius=entering)
    radius = float(setting.released_radius)
    return float(rc.rise_of_chord(radius - float(stock.depth) / 2, 100)), radius


def learned(stock: rc.Stock, *turns: float, before: Estimate = START, **truth: float) -> Estimate:
    """Return the estimate after passes of a known truth."""
    radius = math.inf
    for turn in turns:
        rise, radius = rise_after(stock, turn, entering=radius, **truth)
        before = before.updated(stock, turns=turn, chord=100, rise=rise)
    return before


def width(band: Band) -> float:
    """Return how wide a band is for its mean."""
    return (band.high - band.low) / band.mean


def test_it_starts_with_the_whole_range() -> None:
    metal, pinch, touch = START.yield_strength, START.pinch_force, START.touch_turns
    assert pinch is not None
    assert (metal.low, metal.mean, metal.high) == pytest.approx((154, 210, 266), rel=1e-3)
    assert (pinch.low, pinch.high) == pytest.approx((1000 * 6**0.1, 1000 * 6**0.9), rel=0.02)
    assert (touch.low, touch.mean, touch.high) == pytest.approx((-0.32 / 1.5, 0, 0.32 / 1.5), abs=1e-3)


def test_passes_move_belief_to_the_truth() -> None:
    found = learned(BODY, 11.0, 13.5, 14.5, metal=250, pinch=1500)
    assert found.notes == ()
    pinch = found.pinch_force
    assert pinch is not None
    assert pinch.low < 1500 < pinch.high
    assert found.yield_strength.low < 250 < found.yield_strength.high
    assert width(pinch) < 0.6 * width(START.pinch_force)  # type: ignore[arg-type]
    assert learned(BODY, 11.0, 13.5, pinch=4500).pinch_force.mean > 1.5 * pinch.mean  # type: ignore[union-attr]
    soft, hard = (learned(BODY, 11.0, 12.5, metal=metal, pinch=2500).yield_strength.mean for metal in (160, 260))
    assert soft < 200 < hard


def test_a_narrow_strip_tells_of_the_metal_and_not_of_the_pinch() -> None:
    strip, body = (learned(stock, 10.5, 12.0, pinch=3500) for stock in (STRIP, BODY))
    assert width(strip.yield_strength) < 0.9 * width(START.yield_strength)
    assert width(strip.pinch_force) > 0.9 * width(START.pinch_force)  # type: ignore[arg-type]
    assert width(body.pinch_force) < 0.8 * width(START.pinch_force)  # type: ignore[arg-type]


def test_readings_are_only_as_good_as_they_are() -> None:
    rise, radius = rise_after(BODY, 12.0)
    same = [START.updated(BODY, turns=12.0, chord=100, rise=rise),
            START.updated(BODY, turns=12.0, chord=100, face="middle", rise=float(rc.rise_of_chord(radius, 100))),
            START.updated(BODY, turns=12.0, chord=100, face="outside", rise=float(rc.rise_of_chord(radius + .38, 100)))]
    assert [one.readings[0].released_radius for one in same] == pytest.approx([radius] * 3)
    short = float(rc.rise_of_chord(radius - 0.38, 50))
    poor = START.updated(BODY, turns=12.0, chord=50, rise=short)
    good = START.updated(BODY, turns=12.0, diameter=2 * radius - 0.76)
    assert poor.readings[0].released_radius == pytest.approx(good.readings[0].released_radius)
    wide = [one.next_pass(BODY, 60).released_radius for one in (poor, good)]
    assert wide[0].high - wide[0].low > wide[1].high - wide[1].low
    assert same[0] == START.updated(BODY, turns=12.0, chord=100, rise=rise)
    assert START.readings == ()


def test_pieces_enter_as_they_left() -> None:
    first = learned(BODY, 11.0)
    radius = first.readings[0].released_radius
    second = first.updated(BODY, turns=12.5, chord=100, rise=13)
    assert (second.readings[1].entering_radius, second.readings[1].pass_number) == (radius, 2)
    for other in (first.updated(STRIP, turns=12.5, chord=100, rise=14),
                  first.updated(BODY, turns=10.5, chord=100, rise=9),
                  first.updated(BODY, turns=12.5, chord=100, rise=13, entering_radius=math.inf)):
        assert (other.readings[1].entering_radius, other.readings[1].pass_number) == (math.inf, 1)
    assert first.updated(STRIP, turns=12, chord=100, rise=13, entering_radius=150).readings[1].entering_radius == 150
    back = first.updated(STRIP, turns=12.0, chord=100, rise=14).updated(BODY, turns=12.5, chord=100, rise=13)
    assert back.readings[2].entering_radius == radius


def test_a_reading_that_does_not_agree_is_named() -> None:
    found = learned(BODY, 11.0, 13.5)
    odd = found.updated(BODY, turns=14.0, chord=100, rise=20)
    assert odd.left_out == (2,)
    assert "Reading 3 (14 turns" in odd.notes[0]
    assert odd.yield_strength == found.yield_strength
    assert odd.next_pass(BODY, 90.4).turns is None
    assert "measure again" in odd.next_pass(BODY, 90.4).notes[0]
    alone = START.updated(BODY, turns=6.0, chord=100, rise=20)
    assert "no yield of this metal" in alone.notes[0]
    assert alone.pinch_force == START.pinch_force
    opened = found.updated(BODY, turns=14.0, chord=100, rise=8)
    assert opened.left_out == (2,)


def test_an_early_slip_is_found_by_the_later_readings() -> None:
    rise, _ = rise_after(BODY, 11.0)
    slip = START.updated(BODY, turns=11.0, chord=100, rise=rise + 2, entering_radius=math.inf)
    for turns in (12.0, 12.5, 13.0):
        slip = slip.updated(BODY, turns=turns, chord=100, rise=rise_after(BODY, turns)[0], entering_radius=math.inf)
    assert slip.left_out == (0,)
    assert slip.next_pass(BODY, 90.4).turns is not None


def test_it_comes_from_the_flat_side_and_stops() -> None:
    found, radius, passes = START, math.inf, 0
    while (step := found.next_pass(BODY, 90.4)).turns is not None:
        assert step.turns * 16 == round(step.turns * 16)
        assert step.turns > (found.readings[-1].turns if found.readings else 0)
        assert step.released_radius.low <= step.released_radius.mean <= step.released_radius.high
        rise, radius = rise_after(BODY, step.turns, entering=radius)
        found, passes = found.updated(BODY, turns=step.turns, chord=100, rise=rise), passes + 1
    assert step.finished
    assert step.reachable
    assert 2 <= passes <= 4
    assert radius == pytest.approx(90.4, rel=0.02)
    assert step.released_radius.low < radius < step.released_radius.high
    assert step.chance > 0.9


def test_too_tight_gets_its_remedy_and_never_fewer_turns() -> None:
    step = learned(BODY, 11.0, 15.0).next_pass(BODY, 120.0)
    assert (step.turns, step.finished) == (None, True)
    assert "over a round former" in step.notes[0]
    assert "nobody can say" in step.notes[1]
    assert START.next_pass(BODY, 120.0, entering_radius=80.0).turns is None


def test_what_no_travel_gives_is_said() -> None:
    heavy = rc.estimate(BENCH, rc.MATERIALS["mild steel bar, hot rolled"])
    step = heavy.next_pass(rc.FlatBar(thickness=6, width=60), 60.0)
    assert (step.turns, step.reachable, step.finished) == (None, False, False)
    assert step.notes[0].startswith("No travel gives 60 mm")
    assert START.next_pass(BODY, 20.0).reachable is False


def test_without_a_pinch_there_are_two_unknowns() -> None:
    plate = rc.Sheet(thickness=6, width=900)
    for machine, stock, turns in ((PLATE, plate, 3.0), (replace(BENCH, pinch_force=None, nip_slack=0.05), BODY, 12.0)):
        found = rc.estimate(machine, STEEL)
        assert found.pinch_force is None
        metal = STEEL.with_yield(250)
        radius = rc.radius_for_travel(machine, stock, metal, turns * machine.screw_pitch)
        chord = min(100.0, float(radius)) if machine is BENCH else float(radius)
        rise = rc.rise_of_chord(float(radius) - float(stock.depth) / 2, chord)
        after = found.updated(stock, turns=turns, chord=chord, rise=float(rise))
        assert after.notes == ()
        assert after.yield_strength.mean > found.yield_strength.mean
        assert isinstance(after.next_pass(stock, 0.8 * float(radius)), NextPass)
    assert rc.estimate(BENCH.with_perfect_nip(), STEEL).pinch_force is not None
    assert rc.estimate(replace(BENCH, pinch_force=9000), STEEL).pinch_force.high > 9000  # type: ignore[union-attr]


def test_a_piece_that_came_out_flat_is_a_reading_too() -> None:
    found = START.updated(BODY, turns=3.0, chord=100, rise=0)
    assert found.notes == ()
    assert found.readings[0].released_radius == math.inf
    assert found.next_pass(BODY, 90.4).turns > 8  # type: ignore[operator]


def test_a_bar_lies_in_its_groove() -> None:
    mild = rc.MATERIALS["mild steel bar, hot rolled"]
    plain, grooved = (rc.estimate(machine, mild).next_pass(RING, 48.0) for machine in
                      (BENCH, rc.grooved_machine(BENCH, RING)))
    assert plain == grooved
    assert plain.turns is not None
    assert plain.released_radius.mean > 48


@pytest.mark.parametrize(("wrong", "words"), [
    ({"turns": -1, "chord": 100, "rise": 12}, "turns is -1"),
    ({"turns": 12, "chord": 100, "rise": 60}, "rise is 60 mm"),
    ({"turns": 12, "chord": 100}, "chord [mm] and rise [mm], or diameter"),
    ({"turns": 12, "chord": 100, "rise": 12, "diameter": 180}, "give the one or the other"),
    ({"turns": 12, "diameter": 0.5}, "measured radius is"),
    ({"turns": 12, "chord": 100, "rise": 12, "face": "top"}, "face is 'top'"),
    ({"turns": 12, "chord": 100, "rise": 12, "entering_radius": 0.1}, "entering radius is 0.1 mm"),
    ({"turns": [12, 13], "chord": 100, "rise": 12}, "turns is an array"),
])
def test_bad_readings_get_a_sentence(wrong: dict, words: str) -> None:
    with pytest.raises(rc.InputError) as caught:
        START.updated(BODY, **wrong)
    assert words in str(caught.value)
    assert len(str(caught.value)) <= 300


def test_other_wrong_things_get_a_sentence() -> None:
    for call in (lambda: rc.estimate("mine", STEEL), lambda: rc.estimate(BENCH, "steel"),
                 lambda: rc.estimate(replace(BENCH, pinch_force=[1000, 2000]), STEEL),
                 lambda: START.next_pass(BODY, -5), lambda: START.next_pass(rc.Sheet(thickness=0.76, width=900), 90),
                 lambda: START.next_pass(rc.Sheet(thickness=[0.7, 0.8], width=240), 90),
                 lambda: START.next_pass(rc.RoundBar(12), 90)):
        with pytest.raises(rc.InputError):
            call()


@pytest.mark.parametrize("name", ["body", "collar"])
def test_simulated_jobs_end_near(name: str) -> None:
    found = jobs.summary(name, jobs.outcomes(name, 12, seed=7))
    assert found.near >= 0.9
    assert found.tight <= 0.1
    assert found.passes <= 4
    nominal = jobs.summary(name, jobs.outcomes(name, 12, "one pass, nominal", seed=7))
    assert nominal.near <= 0.5
