"""The hidden sheet is hidden and the same for everybody; the game is won and lost; the lesson's numbers are right."""

import math
import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import nbformat
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.drawing.passes.chord_view import chord_view
from rollcalc.drawing.passes.trial_view import trial_view
from rollcalc.job.learning.simulated import SimulatedSheet
from rollcalc.lessons.lesson12 import TrialGame, derivations, problems
from rollcalc.lessons.lesson12.played import BODY, CHORD, MACHINE, MOST_TURNS, STEEL, WANTED, Played, by_estimate
from tests.drawing.layout import clipped, overlaps

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "12_try_a_strip.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "".join(output.get("text", "") or output.get("data", {}).get("text/plain", "")
                  for cell in BOOK.cells for output in cell.get("outputs", []))
STRIP = rc.Sheet(thickness=0.76, width=30)
NOMINAL = math.floor(rc.setting_for_radius(MACHINE, BODY, STEEL, WANTED).turns * 8) / 8
EVENINGS = range(1, 21)


def rolled(seed: int, *turns: float, stock: rc.Sheet = BODY) -> SimulatedSheet:
    """Return a sheet of an evening after some passes."""
    sheet = SimulatedSheet(MACHINE, stock, STEEL, seed)
    for one in turns:
        sheet.roll(one)
    return sheet


# The sheet ------------------------------------------------------------------------------------------------------------


def test_the_same_seed_is_the_same_evening_for_every_width_and_another_is_not() -> None:
    truths = [rolled(seed, 12.0, stock=stock).reveal() for seed in (3, 3, 4) for stock in (BODY, STRIP)]
    assert truths[0] == truths[2] != truths[4]
    hidden = [(truth.yield_strength, truth.pinch_force, truth.touch_turns) for truth in truths]
    assert hidden[0] == hidden[1] != hidden[4]
    assert truths[0].released_radius != truths[1].released_radius
    assert rolled(3, 12.0).rise(100) == rolled(3, 12.0).rise(100)


def test_what_is_hidden_fills_its_ranges_evenly() -> None:
    truths = [SimulatedSheet(MACHINE, BODY, STEEL, seed).reveal() for seed in range(400)]
    for values, (low, high) in (([one.yield_strength for one in truths], STEEL.yield_range),
                                ([math.log(one.pinch_force) for one in truths], (math.log(1000), math.log(6000))),
                                ([one.touch_turns * 1.5 for one in truths], (-0.4, 0.4))):
        assert low <= min(values) < low + 0.03 * (high - low)
        assert high >= max(values) > high - 0.03 * (high - low)
        assert sum(values) / 400 == pytest.approx((low + high) / 2, abs=0.05 * (high - low))


def test_nothing_of_it_shows_before_it_is_revealed() -> None:
    sheet = rolled(7, 12.0, 12.5)
    assert [name for name in vars(sheet) if not name.startswith("_")] == ["stock"]
    assert sheet.roll(12.75) is None
    assert len(sheet.reveal().released_radii) == 3


@settings(max_examples=25)
@given(st.integers(0, 500), st.lists(st.floats(8, 15), min_size=1, max_size=3))
def test_a_pass_is_the_solver_s_entering_as_it_was_and_the_rule_is_no_further_off_than_it_says(
        seed: int, turns: list[float]) -> None:
    sheet, entering = SimulatedSheet(MACHINE, BODY, STEEL, seed), math.inf
    truth = sheet.reveal()
    metal, machine = STEEL.with_yield(truth.yield_strength), replace(MACHINE, pinch_force=truth.pinch_force)
    for one in turns:
        sheet.roll(one)
        ends = [rc.setting_for_travel(machine, BODY, metal, (one + off - truth.touch_turns) * 1.5,
                                      entering_radius=entering).released_radius for off in (1 / 16, -1 / 16)]
        radius = sheet.reveal().released_radius
        assert ends[0] * (1 - 1e-9) <= radius <= ends[1] * (1 + 1e-9)
        assert abs(sheet.rise(60) - rc.rise_of_chord(min(radius, 1e5) - 0.38, 60)) <= 0.2 + 1e-9
        assert round(10 * sheet.rise(60), 6) == round(10 * sheet.rise(60))
        entering = radius


@pytest.mark.parametrize(("change", "words"), [
    ({"machine": rc.PyramidMachine(top_roll_diameter=80, bottom_roll_diameter=70, bottom_roll_spacing=110,
                                   screw_pitch=2, working_width=600)}, "only these rolls pinch"),
    ({"stock": rc.RoundBar(6)}, "give a sheet or a strip"),
    ({"material": replace(STEEL, yield_range=None)}, "yield_range of low-carbon steel, cold rolled is not given"),
    ({"seed": 1.5}, "seed is 1.5, but must be a whole number"),
    ({"seed": -1}, "seed is -1"),
])
def test_what_cannot_be_simulated_gets_a_sentence(change: dict[str, Any], words: str) -> None:
    with pytest.raises(rc.InputError, match=re.escape(words)):
        SimulatedSheet(**{"machine": MACHINE, "stock": BODY, "material": STEEL, "seed": 1, **change})


def test_a_pass_that_cannot_be_leaves_the_sheet_as_it_is() -> None:
    sheet = rolled(1, 12.0)
    before = sheet.reveal()
    for turns in (0.0, -1.0, 40.0):
        with pytest.raises(rc.InputError):
            sheet.roll(turns)
    assert sheet.reveal() == before
    with pytest.raises(rc.InputError, match="take a shorter one"):
        sheet.rise(500)


# The game -------------------------------------------------------------------------------------------------------------


@cache
def estimate_s(number: int) -> Played:
    """Return a sheet as the estimate plays it."""
    return by_estimate(number)


@pytest.mark.parametrize("number", EVENINGS[:12])
def test_a_sheet_is_won_by_the_estimate_s_turns_and_lost_by_going_too_far(number: int) -> None:
    game = TrialGame(number)
    for one in estimate_s(number).readings:
        game.roll(one.turns)
    game.take_off()
    assert game.sentence.startswith(f"Won in {len(estimate_s(number).readings)} passes: in truth it is R ")
    assert abs(estimate_s(number).true_radius / WANTED - 1) <= 0.02
    game.take(number)
    game.roll(max(one.turns for one in estimate_s(number).readings) + 1)
    assert game.over
    assert game.sentence.startswith("Lost in 1 pass: ")
    assert game.sentence.endswith("too tight, and you cannot unroll it.")


def test_too_large_is_lost_when_taken_off_and_when_the_passes_are_used_up() -> None:
    game = TrialGame(4)
    game.roll("11 3/8")
    assert not game.over
    assert "in truth" not in game.sentence + game.tables + game.svg
    game.take_off()
    assert game.sentence.endswith("still too large; it was taken off too soon.")
    game.take(4)
    for turns in (10, 10.5, 11, 11.25):
        game.roll(turns)
    assert game.sentence.startswith("Lost after 4 passes")
    assert game.sentence.endswith("the passes are used up.")
    assert "is off the rolls" in _after(game, "roll", 12)


def test_the_end_shows_the_truth_beside_what_is_believed_and_would_have_been_dialled() -> None:
    game = TrialGame(9)
    game.roll(11.375)
    assert "estimate" not in game.tables
    game.roll(14.5)
    game.take_off()
    truth, found = rolled(9).reveal(), rc.estimate(MACHINE, STEEL)
    words = re.sub(r"<[^>]+>", "|", game.tables)
    for one in game._played.readings:
        assert f"|{'11 3/8' if one.turns < 12 else '14 1/2'}|" in words
        assert found.next_pass(BODY, WANTED).turns == one.turns
        found = found.updated(BODY, turns=one.turns, chord=CHORD, rise=one.rise)
    for number in (truth.yield_strength, truth.pinch_force, found.yield_strength.mean, found.pinch_force.mean):
        assert f"|{number:.0f}|" in words
    assert "The estimate by itself, on the same sheet: 11 3/8, 14 1/2 turns. Won in 2 passes" in words


def test_turning_back_changes_nothing_and_is_still_the_same_piece() -> None:
    game = TrialGame(3)
    for turns in (5, 13, 12.5, 12):
        game.roll(turns)
    assert game._played.sheet.reveal().released_radii[1:] == pytest.approx([game._played.true_radius] * 3)
    assert "nothing: take it off" in game.tables


def _after(game: TrialGame, what: Any, given: Any) -> str:
    """Return the sentence after an order of the browser."""
    game.set_state({"order": {"do": what, "with": given}, "asked": game.asked + 1})
    assert game.answered == game.asked
    return str(game.sentence)


def test_the_browser_s_orders_are_done_once_and_units_follow() -> None:
    game = TrialGame()
    assert "rise 13.1 mm over 100.0 mm" in _after(game, "roll", "11 3/8")
    assert "rise 0.516 in over 3.94 in" in _after(game, "units", "inch")
    assert len(game._played.readings) == 1
    assert _after(game, "take", "2").startswith("Sheet 2: ")
    assert not game.rolled


JUNK = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=6) | st.lists(st.integers())


@settings(max_examples=40)
@given(st.sampled_from(["roll", "take off", "take", "units", "dance"]) | JUNK,
       JUNK | st.sampled_from(["12,5", "0", "-3", "1e99", "nan", "99", "½", "7", str(MOST_TURNS)]))
def test_whatever_the_browser_sends_there_is_a_sentence(what: Any, given_value: Any) -> None:
    game = TrialGame()
    said = _after(game, what, given_value)
    assert said.endswith((".", "?"))
    assert len(said) <= 300
    assert "went wrong" not in said
    assert "nan" not in game.tables


def test_the_still_is_the_first_sheet() -> None:
    game = TrialGame()
    start = game.sentence
    game.roll(12)
    data, _ = game._repr_mimebundle_()
    assert data["text/plain"] == start
    assert "brings the game" in data["text/html"]


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_every_picture_can_be_read(units: str) -> None:
    for read, truth, rise in ((None, None, 0.0), (math.inf, None, 0.0), (2500.0, math.inf, 0.5), (91.0, 90.0, 15.1),
                              (80.9, 80.6, 17.4), (None, 46.9, 0.0), (53.0, 52.0, 36.0)):
        picture = trial_view("Said.", WANTED, read, truth, CHORD if read else None, rise, units)
        assert overlaps(picture) == clipped(picture) == [], (read, truth)


# The lesson -----------------------------------------------------------------------------------------------------------


def off(chord: float) -> str:
    """Return how far 0.2 mm of rise makes R 90. [%]"""
    error = rc.rolling.radius_error_from_chord(chord, rc.rise_of_chord(90, chord), 0.2)
    return f"{100 * error / 90:.1f} %"


def one_pass(number: int) -> Played:
    """Return a sheet with the nominal turns, in one pass."""
    played = Played(number)
    played.roll(NOMINAL)
    if not played.outcome:
        played.take_off()
    return played


def at(turns: float, stock: rc.Sheet, pinch: float = 2500, strength: float = 210) -> float:
    """Return the radius that comes out. [mm]"""
    machine = replace(MACHINE, pinch_force=pinch)
    return rc.radius_for_travel(machine, stock, STEEL.with_yield(strength), turns * 1.5)


ENDS = [one_pass(number).outcome for number in EVENINGS]
ENOUGH, TOO_MUCH = at(NOMINAL, BODY, 6000, 140), at(NOMINAL, BODY, 1000, 280)
READ = rolled(9, 11.375).rise(100)
LEARNED = rc.estimate(MACHINE, STEEL).updated(STRIP, turns=11, chord=100, rise=rolled(9, 11, stock=STRIP).rise(100))
PINCH = rc.estimate(MACHINE, STEEL).updated(BODY, turns=11.375, chord=100, rise=READ).pinch_force
SOLVED = {one.id: one.answer(**one.inputs) for one in problems.PROBLEMS}

SAID = [
    (f"comes out at R {one_pass(1).true_radius:.1f}, overlapping", "first group"),
    (f"The second gapes at R {one_pass(9).true_radius:.1f}", "second group"),
    (f"From {ENOUGH:.0f} to {TOO_MUCH:.0f} mm", "two worst pairs"),
    (f"turns gave {ENOUGH:.0f} to {TOO_MUCH:.0f} mm", "two worst pairs, learned"),
    (f"are right in {ENDS.count('won')}, too tight in {ENDS.count('tight')} and too large in {ENDS.count('large')}",
     "twenty evenings"),
    (f"were right in {ENDS.count('won')} evenings of twenty", "guess"),
    (f"on R 90 that is {off(100)} of the radius. Over 60 mm it is {off(60)}, and over 30 mm {off(30)}", "short chords"),
    (f"anywhere from {STEEL.yield_range[0]:.0f} to {STEEL.yield_range[1]:.0f} MPa", "yield range"),
    (f"R {rc.radius_from_chord(100, READ) + 0.38:.1f}, where the table's values promise R {at(11.375, BODY):.1f}",
     "first reading"),
    (f"{PINCH.low:.0f} to {PINCH.high:.0f} N are left", "pinch after a pass"),
    (f"In truth the ring is at R {rolled(9, 11.375, 14.5).reveal().released_radius:.1f}", "second pass"),
    (f"{LEARNED.yield_strength.low:.0f} to {LEARNED.yield_strength.high:.0f} MPa, and the truth is "
     f"{rolled(9).reveal().yield_strength:.0f}", "strip's metal"),
    (f"R {at(11, STRIP, 1000):.1f} with 1000 N and {at(11, STRIP, 6000):.1f} with 6000 N; the body comes out at "
     f"{at(11, BODY, 1000):.1f} and {at(11, BODY, 6000):.1f}", "strip's pinch"),
    (f"Lost in one pass, R {one_pass(1).true_radius:.1f}. It touched early, and the pinch was firm, "
     f"{rolled(1).reveal().pinch_force:.0f} N", "game, 1"),
    (f"100²/(8 × 12.2) + 12.2/2 = {100**2 / 8 / 12.2:.2f} + 6.1 = {SOLVED['12.1'] - 0.38:.2f} mm", "solution 12.1"),
    (f"arcsin(50/90) = {SOLVED['12.2'] - 108:.1f} mm", "solution 12.2"),
    (f"Nominal values would say {rc.setting_for_radius(MACHINE, BODY, STEEL, WANTED).turns:.2f}", "solution 12.3"),
    (f"Each of the three makes {rc.setting_for_radius(MACHINE, BODY, STEEL, WANTED).turns:.2f} too tight", "12.3, why"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words: str, where: str) -> None:
    assert words in PROSE, where


def test_the_turns_it_names_are_the_nominal_ones_rounded_to_the_flat_side() -> None:
    assert NOMINAL == 12.875
    assert PROSE.count("12 7/8") == 6
    assert f"yield 140 MPa, pinch 6000 N: R {ENOUGH:.1f} mm" in PRINTED


def test_the_panel_s_answers() -> None:
    for radius, chord in ((90.4, 100), (90.4, 50), (240, 100)):
        said = chord_view(radius, chord, 0.2).sentence
        assert said.rpartition(": ")[2].replace("-", "−")[:-1] in PROSE
    assert chord_view(240, 30, 0.5).sentence.endswith("to flat: this chord tells nothing.")


def test_the_estimate_s_own_game_is_as_told() -> None:
    assert "The estimate dials 11 3/8, then 12 1/4, and wins in two passes." in PROSE
    assert [one.turns for one in estimate_s(1).readings] == [11.375, 12.25]
    assert "It wins all five, in 2 to 4 passes" in PROSE
    assert all(estimate_s(number).outcome == "won" for number in range(2, 7))
    assert {len(estimate_s(number).readings) for number in range(2, 7)} <= {2, 3, 4}
    assert rolled(1).reveal().touch_turns < -0.15


def test_a_strip_tells_of_the_metal_and_hardly_of_the_pinch() -> None:
    start, body = rc.estimate(MACHINE, STEEL), rc.estimate(MACHINE, STEEL).updated(
        BODY, turns=11.375, chord=100, rise=READ)
    before, by_strip, by_body = ([one.high - one.low for one in (found.yield_strength, found.pinch_force)]
                                 for found in (start, LEARNED, body))
    assert by_strip[0] < 0.4 * before[0] < by_body[0]
    assert by_strip[1] > 0.75 * before[1]
    assert by_body[1] < 0.2 * before[1]


def test_the_derived_share_is_the_library_s() -> None:
    share = derivations.misread_rise().result.rhs.subs({
        derivations.radius: 2000.0, derivations.chord: 100.0, derivations.error: 1e-3})
    error = rc.rolling.radius_error_from_chord(100, rc.rise_of_chord(2000, 100), 1e-3)
    assert -float(share) == pytest.approx(error / 2000, rel=2e-3)
