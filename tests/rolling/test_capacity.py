"""May the machine roll it: facts of the trade, properties, one sentence for everything."""

from __future__ import annotations

import math
import warnings
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rollcalc.rolling import (
    Check,
    bowed_radii,
    two_thirds_radius,
    two_thirds_travel,
    DEMO_MACHINE,
    Capacity,
    PyramidMachine,
    check_capacity,
    roll_stress,
    setting_for_radius,
    usable_travel,
)
from rollcalc.rolling.limits.check import LAST_WORD
from rollcalc.stock import MATERIALS, FlatBar, InputError, Material, RoundBar, Sheet, Stock
from rollcalc.stock.lookup import UnknownNameError

STEEL, BAR = MATERIALS["low-carbon steel, cold rolled"], MATERIALS["mild steel bar, hot rolled"]
STAINLESS = MATERIALS["stainless 304, annealed"]
WORDS = ("within the machine's rating", "close to the machine's rating", "beyond the machine's rating")
LOADS = ("bending moment", "bending-roll force", "roll bending", "roll stress", "crank force", "grip")
PERFECT = DEMO_MACHINE.with_perfect_nip()
RATED_091 = replace(DEMO_MACHINE, rated_thickness=0.91)
PYRAMID = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                         working_width=1500, rated_thickness=6, crank_radius=300, gear_ratio=12)


# Facts of the trade (common practice, no source) and worked numbers ---------------------------------------------------


def test_a_machine_rated_for_thin_sheet_accepts_a_thick_narrow_bar() -> None:
    """0.91 mm mild steel over 760 mm takes 3.2 × 25 mm flat bar (common practice, no source)."""
    for metal in ("mild steel bar, hot rolled", "low-carbon steel, cold rolled", None):
        found = check_capacity(replace(RATED_091, rated_material=metal), FlatBar(3.2, 25), BAR, 95)
        assert str(found.verdict).startswith("within the machine's rating")


def test_round_bar_above_the_largest_groove_is_refused_and_the_groove_that_fits_is_named() -> None:
    """Common practice, no source."""
    refused = check_capacity(DEMO_MACHINE, RoundBar(8.5), BAR, 60)
    assert str(refused.verdict).startswith("beyond the machine's rating")
    assert "none of the grooves for 5, 6, 8 mm fits" in refused["groove"].message
    assert "lay it in the groove for 6 mm" in check_capacity(DEMO_MACHINE, RoundBar(5.5), BAR, 60)["groove"].message
    assert check_capacity(DEMO_MACHINE, RoundBar(8), BAR, 60)["groove"].ratio == 1


@pytest.mark.parametrize(
    ("stock", "metal", "radius"),
    [(Sheet(thickness=0.76, width=240), STEEL, 90.38),
     (Sheet(thickness=0.8, width=100), MATERIALS["aluminium 3003-H14"], 80.4),
     (FlatBar(3, 25), BAR, 93.5), (RoundBar(6), BAR, 48), (Sheet(thickness=0.6, width=235), STAINLESS, 37.8)],
)
def test_the_parts_of_the_lantern_are_within(stock: Stock, metal: Material, radius: float) -> None:
    found = check_capacity(DEMO_MACHINE, stock, metal, radius)
    assert str(found.verdict).startswith("within the machine's rating")
    assert all(check.ratio < 1 for check in found.checks if check.counts)


def test_the_rated_sheet_over_the_full_width_is_at_the_plate() -> None:
    found = check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=760), STEEL, 90)
    assert found["bending moment"].ratio == pytest.approx(1, rel=1e-12)
    assert str(found.verdict).startswith("close to the machine's rating")
    assert "as hard as it may be" in found["bending moment"].message


def test_equal_moment_widths_and_gauges() -> None:
    """Width times thickness squared: 16 ga over the full width is 14 ga at 64.1 % and 18 ga at 156.5 % (checks, 8)."""
    machine = replace(DEMO_MACHINE, rated_thickness=1.519, working_width=400.0)
    ratios = [check_capacity(machine, Sheet(thickness=t, width=w), STEEL, 200)["bending moment"].ratio
              for t, w in ((1.519, 400), (1.897, 256.4), (1.214, 400))]
    assert ratios[0] == pytest.approx(1)
    assert ratios[1] == pytest.approx(1, abs=2e-3)
    assert 1 / ratios[2] == pytest.approx(1.565, abs=2e-3)


def test_a_strip_in_the_middle_strains_the_rolls_harder_than_at_their_end() -> None:
    middle, end = (check_capacity(DEMO_MACHINE, FlatBar(3, 25), BAR, 95, position=place) for place in (0, 350))
    assert middle["roll bending"].ratio > 2 * end["roll bending"].ratio
    assert middle["bending-roll force"].ratio == end["bending-roll force"].ratio


def test_every_named_check_is_there() -> None:
    names = [
        check.name for check in check_capacity(replace(DEMO_MACHINE, nip_opening=3), Sheet(thickness=0.76, width=240),
                                               STEEL, 90).checks
    ]
    assert names == ["bending moment", "width", "nip opening", "bending-roll force", "roll bending", "roll stress",
                     "front-roll bow", "crank force", "crank for a short time", "grip", "smallest ring",
                     "travel", "ring off", "roll bow",
                     "largest ring"]


@pytest.mark.parametrize(
    ("machine", "stock", "radius", "name"),
    [(DEMO_MACHINE, Sheet(thickness=0.76, width=900), 90, "width"),
     (replace(DEMO_MACHINE, nip_opening=2), FlatBar(3, 25), 95, "nip opening"),
     (DEMO_MACHINE, Sheet(thickness=0.76, width=100), 26, "smallest ring"),
     (replace(DEMO_MACHINE, max_travel=10), Sheet(thickness=0.76, width=100), 60, "travel"),
     (DEMO_MACHINE, Sheet(thickness=2, width=760), 90, "bending moment"),
     (DEMO_MACHINE, Sheet(thickness=0.3, width=100), 25.1, "ring off")],
)
def test_each_limit_can_refuse(machine: object, stock: Stock, radius: float, name: str) -> None:
    found = check_capacity(machine, stock, STEEL, radius)  # type: ignore[arg-type]
    assert found[name].ratio > 1
    assert "too much:" in found[name].message
    assert str(found.verdict).startswith("beyond the machine's rating")


def test_crank_and_grip_ask_and_do_not_refuse_since_more_passes_may_help() -> None:
    weak = replace(DEMO_MACHINE, crank_limit=20)
    found = check_capacity(weak, Sheet(thickness=0.76, width=240), STEEL, 90)
    assert found["crank force"].ratio > 1
    assert str(found.verdict).startswith("close to the machine's rating")
    slippery = check_capacity(replace(DEMO_MACHINE, grip_friction=0.005), Sheet(thickness=0.76, width=240), STEEL, 90)
    assert slippery["grip"].ratio > 1
    assert "pinch harder" in slippery["grip"].message


def test_a_ring_too_large_to_count_on_and_a_bowed_nip_only_inform() -> None:
    large = check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=240), STEEL, 5000)
    assert large["largest ring"].ratio > 1
    assert str(large.verdict).startswith("within the machine's rating")
    pressed = check_capacity(replace(DEMO_MACHINE, pinch_force=3000), Sheet(thickness=0.76, width=240), STEEL, 90)
    assert pressed["roll bow"].ratio > 1
    assert str(pressed.verdict).startswith("within the machine's rating")


@pytest.mark.parametrize("nip", [{}, {"nip_slack": 0.02}, {"pinch_force": 3000.0}])
@pytest.mark.parametrize(("width", "radius"), [(60, 90), (240, 90), (240, 150), (100, 45)])
def test_the_travel_of_a_real_nip_is_that_of_the_full_solution(
    nip: dict[str, float], width: float, radius: float
) -> None:
    machine, sheet = replace(PERFECT, **nip), Sheet(thickness=0.76, width=width)
    full = setting_for_radius(machine, sheet, STEEL, radius)
    found = check_capacity(machine, sheet, STEEL, radius)
    assert found.setting.travel == pytest.approx(full.travel, rel=1e-12)
    assert found["travel"].demand == found.setting.travel
    assert found["bending-roll force"].demand == pytest.approx(full.bending_roll_force, rel=1e-12)
    assert found["travel"].limit == usable_travel(machine, sheet)


# What is not known ---------------------------------------------------------------------------------------------------


def test_without_a_plate_the_verdict_is_to_ask() -> None:
    found = check_capacity(replace(DEMO_MACHINE, rated_thickness=None), Sheet(thickness=0.3, width=100), STEEL, 90)
    assert str(found.verdict).startswith("close to the machine's rating")
    assert any("rated_thickness" in said for said in found.unchecked)
    bare = replace(DEMO_MACHINE, crank_radius=None, groove_diameters=(), groove_depths=(), groove_positions=())
    found = check_capacity(bare, RoundBar(5), BAR, 60)
    assert len(found.unchecked) == 1
    assert str(found.verdict).startswith("beyond the machine's rating")
    assert "there is none" in found["groove"].message


def test_a_plate_with_an_unknown_metal_names_near_ones() -> None:
    with pytest.raises(UnknownNameError, match="there is no material 'mild'"):
        check_capacity(replace(DEMO_MACHINE, rated_material="mild"), Sheet(thickness=0.76, width=240), STEEL, 90)


def test_the_hardest_metal_of_a_name_makes_it_ask() -> None:
    firm = Material("firm", 205_000, 0.3, 250)
    loose = replace(firm, yield_range=(150, 400))
    width = 500
    assert str(check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=width), firm, 90).verdict).startswith("within")
    assert str(check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=width), loose,
                              90).verdict).startswith("close to the machine's rating")


# Words ---------------------------------------------------------------------------------------------------------------


def texts(found: Capacity) -> list[str]:
    """Return everything a capacity says."""
    return [
        *map(str, np.ravel(found.verdict)),
        *(check.message for check in found.checks),
        *found.unchecked,
        *found.cautions,
    ]


stocks = st.one_of(
    st.builds(Sheet, thickness=st.floats(0.3, 4), width=st.floats(10, 900)),
    st.builds(FlatBar, st.floats(1, 6), st.floats(5, 60)),
    st.builds(RoundBar, st.floats(1, 12)),
)
machines = st.sampled_from([
    DEMO_MACHINE, replace(PERFECT, nip_slack=0.02), replace(DEMO_MACHINE, pinch_force=2000), PYRAMID,
    replace(DEMO_MACHINE, crank_radius=None, rated_thickness=None, nip_opening=2),
])


@settings(max_examples=150)
@given(machines, stocks, st.sampled_from(list(MATERIALS.values())), st.floats(20, 2000))
def test_any_job_gets_a_verdict_in_three_words_and_sentences(
    machine: object, stock: Stock, metal: Material, radius: float
) -> None:
    found = check_capacity(machine, stock, metal, radius)  # type: ignore[arg-type]
    assert str(found.verdict).startswith(WORDS)
    assert str(found.verdict).endswith(LAST_WORD)
    for said in texts(found):
        assert "safe" not in said.lower()
        assert "nan" not in said
        assert "\n" not in said
    for check in found.checks:
        assert check.ratio >= 0
        assert check.message.startswith(check.name)
        assert check.message.endswith(".")
    assert str(found).splitlines()[0] == found.verdict


def test_a_check_that_is_not_there_is_told() -> None:
    with pytest.raises(InputError, match="there is no check 'noise'"):
        check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=240), STEEL, 90)["noise"]


@pytest.mark.parametrize("radius", [0, -5, np.nan, np.inf, "90", None, 0.3])
def test_a_bad_radius_gets_a_sentence(radius: object) -> None:
    with pytest.raises(InputError, match="released radius is"):
        check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=240), STEEL, radius)  # type: ignore[arg-type]


def test_no_machine_gets_a_sentence() -> None:
    with pytest.raises(InputError, match="the machine is"):
        check_capacity("ours", Sheet(thickness=0.76, width=240), STEEL, 90)  # type: ignore[arg-type]


# Properties ----------------------------------------------------------------------------------------------------------


@settings(max_examples=120)
@given(st.floats(0.3, 3), st.floats(10, 700), st.floats(60, 400), st.floats(45, 150), st.floats(1.01, 1.6),
       st.sampled_from(["thickness", "width", "yield"]))
def test_capacity_falls_with_thickness_width_and_yield(
    thickness: float, width: float, strength: float, radius: float, more: float, what: str
) -> None:
    one = check_capacity(DEMO_MACHINE, Sheet(thickness=thickness, width=width), Material("m", 205_000, 0.3, strength),
                         radius)
    sheet = Sheet(thickness=thickness * (more if what == "thickness" else 1),
                  width=min(width * (more if what == "width" else 1), 760))
    other = check_capacity(
        DEMO_MACHINE, sheet, Material("m", 205_000, 0.3, strength * (more if what == "yield" else 1)), radius
    )
    for name in LOADS if what != "width" else ("bending moment", "bending-roll force", "crank force", "grip"):
        reached = np.isfinite(other[name].demand)  # a force of 2.5 kN cannot hold every moment
        assert other[name].demand > one[name].demand if reached else np.isinf(other[name].ratio)


@settings(max_examples=60)
@given(st.floats(0.4, 2), st.floats(50, 700), st.floats(45, 200))
def test_the_bending_moment_is_exactly_w_t_squared_yield(thickness: float, width: float, radius: float) -> None:
    found = check_capacity(DEMO_MACHINE, Sheet(thickness=thickness, width=width), STEEL, radius)
    assert found["bending moment"].ratio == pytest.approx(thickness**2 * width / (0.76**2 * 760), rel=1e-12)


def test_many_pairs_at_once_are_the_single_ones() -> None:
    random = np.random.default_rng(5)
    thicknesses, widths, yields = (
        random.uniform(0.4, 3, 5000),
        random.uniform(20, 760, 5000),
        random.uniform(50, 350, 5000),
    )
    for machine in (DEMO_MACHINE, replace(DEMO_MACHINE, pinch_force=3000)):
        many = check_capacity(machine, Sheet(thickness=thicknesses, width=widths), Material("m", 205_000, 0.3, yields),
                              90)
        assert np.shape(many.verdict) == (5000,)
        for place in (0, 17, 4999):
            one = check_capacity(
                machine, Sheet(thickness=thicknesses[place], width=widths[place]),
                Material("m", 205_000, 0.3, yields[place]), 90
            )
            assert many.verdict[place] == one.verdict
            for check in one.checks:
                assert np.broadcast_to(many[check.name].ratio, 5000)[place] == pytest.approx(check.ratio, rel=1e-9)


def test_a_pyramid_machine_is_checked_too() -> None:
    found = check_capacity(PYRAMID, Sheet(thickness=5, width=1000), STEEL, 400)
    assert {"bending moment", "travel", "roll bow"} <= {check.name for check in found.checks}
    assert str(found.verdict).startswith(WORDS)


def test_the_check_that_decides_is_the_worst_or_else_the_nearest() -> None:
    body = check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=240), STEEL, 90)
    assert body.word == "within the machine's rating"
    assert body.binding.ratio == max(check.ratio for check in body.checks if check.counts)
    full = check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=760), STEEL, 90)
    assert (full.word, full.binding.name) == ("close to the machine's rating", "bending moment")
    thick = check_capacity(DEMO_MACHINE, FlatBar(3.6, 25), BAR, 95)
    assert (thick.word, thick.binding.name) == ("close to the machine's rating", "bending moment")
    many = check_capacity(DEMO_MACHINE, Sheet(thickness=np.array([0.76, 0.9]), width=760), STEEL, 90)
    assert list(many.word) == ["close to the machine's rating", "beyond the machine's rating"]


def test_a_radius_that_no_travel_reaches_is_refused_for_its_ring_and_without_an_endless_number() -> None:
    found = check_capacity(DEMO_MACHINE, Sheet(thickness=0.3, width=60), MATERIALS["aluminium 5052-H32"], 30.15)
    assert np.isinf(found["travel"].demand)
    assert found.binding.name == "smallest ring"
    assert "out of reach" in found["travel"].message
    assert "inf" not in found["travel"].message


def test_forces_of_a_curve_that_no_travel_holds_are_out_of_reach_and_not_made_up() -> None:
    """The search for the slopes ends anywhere there, and once gave 1e15 N."""
    wide = replace(PYRAMID, top_roll_diameter=154.5, bottom_roll_diameter=89.7, bottom_roll_spacing=315.5)
    tiny = replace(PYRAMID, top_roll_diameter=27.3, bottom_roll_diameter=29.9, bottom_roll_spacing=27.4, peak="beam")
    jobs = ((wide, Sheet(thickness=0.3, width=81), "copper, half hard", 1013),
            (tiny, Sheet(thickness=0.073, width=26.7), "aluminium 5052-H32", 66.9))
    for machine, sheet, metal, radius in jobs:
        found = check_capacity(machine, sheet, MATERIALS[metal], radius)
        assert found.word == "beyond the machine's rating"
        for name in ("bending-roll force", "roll stress", "crank force", "grip", "travel", "roll bow"):
            assert np.isinf(found[name].ratio)
            assert "out of reach" in found[name].message
        assert found.setting.bending_roll_force == 0


def test_travel_without_an_end_is_no_number_and_never_a_hidden_pass() -> None:
    """Rolls that never meet set no limit; a curve that no travel holds is refused there all the same."""
    apart = replace(DEMO_MACHINE, guide_distance=200, guide_angle_degrees=90)
    assert np.isinf(usable_travel(apart, Sheet(thickness=0.76, width=240)))
    large = check_capacity(apart, Sheet(thickness=0.76, width=240), STEEL, 400)["travel"]
    assert (large.ratio, large.exceeded) == (0, 0)
    assert large.message.endswith("and nothing here sets a limit.")
    small = check_capacity(apart, Sheet(thickness=0.76, width=240), STEEL, 60)["travel"]
    assert (small.ratio, small.exceeded) == (np.inf, 2)
    assert "out of reach" in small.message


def test_a_plate_whose_smallest_ring_the_rolls_cannot_hold_promises_the_tightest_they_can() -> None:
    wide = replace(PYRAMID, bottom_roll_spacing=900, rated_thickness=1.0)
    force = check_capacity(wide, Sheet(thickness=0.8, width=1000), STEEL, 4000)["bending-roll force"]
    assert 0 < float(np.max(force.limit)) < 1e6


@pytest.mark.parametrize("rated", [1e-6, 1e-3, 0.05])
def test_a_plate_that_names_a_foil_allows_next_to_nothing(rated):
    machine = replace(DEMO_MACHINE, rated_thickness=rated)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = check_capacity(machine, Sheet(thickness=0.76, width=240), STEEL, 90)
    assert found.word == "beyond the machine's rating"
    assert all(1 < found[name].ratio < 1e18 for name in ("bending moment", "bending-roll force", "roll bending"))


@pytest.mark.parametrize("position", [0.0, 150.0, -340.0])
def test_the_roll_that_works_hardest_is_judged_by_its_steel_and_compared_with_the_rated_sheet(position):
    """Under the pinch it is the upper front roll, which both others press on; beam theory for the numbers."""
    stock = FlatBar(3, 25)
    found = check_capacity(DEMO_MACHINE, stock, BAR, 93.5, position=position)
    stresses = {roll: roll_stress(DEMO_MACHINE, stock, force, position=position, roll=roll) for roll, force in (
        ("lower", 2500.0), ("upper", found.setting.inside_roll_force), ("bending", found.setting.bending_roll_force))
    }
    assert max(stresses, key=stresses.__getitem__) == "upper"
    assert found["roll stress"].demand == pytest.approx(stresses["upper"])
    assert found["roll bending"].demand == pytest.approx(stresses["upper"])
    assert "a comparison with the plate" in found["roll bending"].message
    assert "upper front roll" in found["roll stress"].message
    span, section = DEMO_MACHINE.bearing_span, math.pi * 50**3 / 32
    bending = found["bending-roll force"].limit  # the rated sheet covers the rolls
    lowest, most = ((2500 + part) * span / 8 * (2 - DEMO_MACHINE.working_width / span) / section
                    for part in (0, bending))
    assert lowest < found["roll bending"].limit < most


def test_pinching_harder_strains_and_bows_the_front_rolls():
    """A bar in the middle of 820 mm between bearings under 5 kN: 71 to 84 MPa and 0.9 mm."""
    found = check_capacity(replace(DEMO_MACHINE, pinch_force=5000), FlatBar(3, 25), BAR, 93.5)
    assert 80 < found["roll stress"].demand < 90
    assert 0.9 < found["front-roll bow"].demand < 1
    assert (found.word, found["front-roll bow"].exceeded,
            found["roll stress"].exceeded) == ("close to the machine's rating", 2, 0)
    assert check_capacity(replace(DEMO_MACHINE, pinch_force=8000), FlatBar(3, 25), BAR,
                          93.5).word == "beyond the machine's rating"
    stiff = check_capacity(replace(DEMO_MACHINE, roll_stress_limit=30), FlatBar(3, 25), BAR, 93.5)
    assert stiff.binding.name == "roll stress"


def test_a_bar_in_a_groove_strains_the_rolls_where_its_groove_is():
    found = check_capacity(DEMO_MACHINE, RoundBar(6), BAR, 48)
    there = found.setting.machine
    span, place, force = 820.0, 820 / 2 + 357.0, 2500.0
    by_hand = force * place * (span - place) / span / (math.pi * 44**3 / 32)  # a point load, the roll thinner by 6 mm
    assert there.lower_roll_diameter == 44
    assert found["roll stress"].demand == pytest.approx(by_hand, rel=0.01)
    assert found.setting.travel == setting_for_radius(DEMO_MACHINE, RoundBar(6), BAR, 48).travel


def test_a_perfect_nip_says_what_it_cannot_tell():
    found = check_capacity(PERFECT, Sheet(thickness=0.76, width=240), STEEL, 90)
    assert found.word == "close to the machine's rating"
    assert any("a perfect nip, a teaching ideal" in said for said in found.unchecked)
    assert all(np.isfinite(check.demand) for check in found.checks)


def test_how_wide_is_wide_is_a_caution_that_says_which_way():
    strip, wide = (check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=width), STEEL,
                                  90).cautions for width in (30, 240))
    assert any("narrow for a sheet" in said and "smaller" in said for said in strip)
    assert not any("for a sheet" in said for said in wide)
    band = check_capacity(DEMO_MACHINE, FlatBar(3, 25), BAR, 93.5).cautions
    assert any("wide for a flat bar" in said and "larger" in said for said in band)
    many = check_capacity(DEMO_MACHINE, Sheet(thickness=np.array([0.7, 0.8]), width=30), STEEL, 90)
    assert not any("for a sheet" in said for said in many.cautions)


def test_an_array_of_pinches_is_an_array_of_verdicts() -> None:
    machine = replace(DEMO_MACHINE, pinch_force=np.array([2500.0, 6000.0]))
    many = check_capacity(machine, Sheet(thickness=0.76, width=240), STEEL, 90)
    for place, force in enumerate((2500.0, 6000.0)):
        one = check_capacity(replace(DEMO_MACHINE, pinch_force=force), Sheet(thickness=0.76, width=240), STEEL, 90)
        assert many.verdict[place] == one.verdict
        assert np.asarray(many["roll stress"].ratio)[place] == pytest.approx(one["roll stress"].ratio)


def test_what_binds_is_judged_with_the_hardest_metal() -> None:
    """A check that only the hardest metal exceeds drives the verdict, by that metal's demand."""
    setting = check_capacity(DEMO_MACHINE, Sheet(thickness=0.76, width=240), STEEL, 90).setting
    checks = tuple(Check(name, demand, 1.0, "N", "a test", "none", hard)
                   for name, demand, hard in (("near", 0.99, 0.99), ("harder", 0.8, 1.2), ("hard", 0.98, 1.1)))
    assert Capacity("", checks, (), (), setting).binding.name == "harder"
    beyond = (*checks, Check("beyond", 1.05, 1.0, "N", "a test", "none", 1.06))
    assert Capacity("", beyond, (), (), setting).binding.name == "beyond"


@pytest.mark.parametrize("radius", [60.0, 150.0])
def test_a_bow_changes_the_radius_as_the_travel_it_takes_away(radius: float) -> None:
    """Beside the rule of two thirds, set back by the bow: two ways to the same small change."""
    sheet = Sheet(thickness=0.76, width=240)
    setting = setting_for_radius(PERFECT, sheet, STEEL, radius)
    bowed = bowed_radii(setting)
    lean = math.radians(PERFECT.guide_angle_degrees - 90)
    lost = bowed.bending_bow / math.cos(setting.contact_angle - lean)
    back = two_thirds_radius(PERFECT, sheet, STEEL, two_thirds_travel(PERFECT, sheet, STEEL, radius) - lost)
    assert bowed.middle_radius - radius == pytest.approx(back - radius, rel=0.1)
