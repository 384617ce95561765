"""Every number that lesson 10 says in words is worked out again here, and its derivations are the library's."""

import math
from dataclasses import replace
from pathlib import Path

import nbformat
import pytest
import sympy as sp

import rollcalc as rc
from rollcalc.lessons.lesson10 import derivations as told
from rollcalc.lessons.lesson10 import panels as panels_bars

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "10_curve_a_bar.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "\n".join(output.get("text") or output["data"]["text/plain"]
                    for cell in BOOK.cells for output in cell.get("outputs", []))
STEEL, MACHINE = rc.MATERIALS["mild steel bar, hot rolled"], rc.DEMO_MACHINE
PERFECT = rc.Material("perfect", 200_000, 0.3, 275)
RING, SQUARE, BAND = rc.RoundBar(6), rc.FlatBar(6, 6), rc.FlatBar(thickness=3, width=25)
EDGE = rc.FlatBar(thickness=25, width=3)
THERE, GROOVE = rc.grooved_machine(MACHINE, RING), rc.groove_for(MACHINE, RING)


def turns(inside: float, diameter: float = 6) -> float:
    """Return the turns for a ring of round bar, in its groove."""
    return rc.setting_for_radius(MACHINE, rc.RoundBar(diameter), STEEL, (inside + diameter) / 2).turns


def lost(bar: rc.RoundBar | rc.FlatBar, radius: float, metal: rc.Material = STEEL) -> float:
    """Return the curvature that a bar loses on its way to a radius. [1/mm]"""
    return 1 / rc.loaded_radius(bar, metal, radius) - 1 / radius


def on_edge(width: float) -> float:
    """Return what a bar 3 mm thick asks on edge, in parts of what the plate allows."""
    return rc.check_capacity(MACHINE, rc.FlatBar(width, 3), STEEL, 95)["bending moment"].ratio


def pressed(bar: rc.RoundBar | rc.FlatBar, radius: float, force: float) -> float:
    """Return the radius that comes out under another pinch, at the turns for 2500 N. [mm]"""
    travel = rc.setting_for_radius(MACHINE, bar, STEEL, radius).travel
    return rc.radius_for_travel(replace(MACHINE, pinch_force=force), bar, STEEL, travel)


LAST = rc.pass_schedule(MACHINE, RING, STEEL, 48).passes[-1]
BRIM, FLAT = on_edge(25), rc.check_capacity(MACHINE, BAND, STEEL, 93.5)["bending moment"].ratio
NEAR = (GROOVE.position + MACHINE.bearing_span / 2) / MACHINE.bearing_span
SHAPES = [rc.plastic_moment(bar, STEEL) / rc.yield_moment(bar, STEEL) for bar in (RING, SQUARE)]
AT_300 = rc.released_radius(RING, STEEL, 300) - rc.released_radius(SQUARE, STEEL, 300)
WIDTH = rc.bending.width_band(BAND, STEEL, rc.setting_for_radius(MACHINE, BAND, STEEL, 93.5).loaded_radius)
START = rc.flat_ends(MACHINE, BAND, STEEL, 93.5)
SCHEDULE = rc.pass_schedule(MACHINE, BAND, STEEL, 93.5)
IN_PASSES = rc.flat_ends(MACHINE, BAND, STEEL, 93.5, schedule=SCHEDULE)
TIGHT = rc.flat_ends(MACHINE, rc.RoundBar(5), STEEL, 37.5, tolerance=0.12)
SLOPED = rc.check_capacity(MACHINE, BAND, STEEL, 93.5, position=340)

SAID = [
    (f"stiffness counts it twice, and falls by {100 * (1 - RING.second_moment / SQUARE.second_moment):.0f} %", "idea"),
    (f"springs back {100 * (32 / (9 * math.pi) - 1):.0f} % more than a square one", "idea, key sentence"),
    (f"On a gentle bend it is {AT_300:.0f} mm", "table"),
    (f"the hanging ring loses {100 * (lost(RING, 48) / lost(SQUARE, 48) - 1):.0f} % more", "with hardening"),
    (f"a round bar grows by {100 * (SHAPES[0] - 1):.0f} %, that of a square by {100 * (SHAPES[1] - 1):.0f} %", "shape"),
    (f"π × 96 = {math.pi * 96:.1f} mm", "by hand, ring"),
    (f"It lies {GROOVE.depth:.0f} mm deep in the lower and the bending roll, and these work like rolls of 50 − 2 × 3 = "
     f"{THERE.lower_roll_diameter:.0f} mm", "by hand, rolls"),
    (f"2 × {LAST.released_radius:.1f} − 6 = {2 * LAST.released_radius - 6:.1f} mm", "by hand, hole"),
    (f"A person keeps up {rc.rolling.crank_force_limit(MACHINE):.0f} N: lesson 01", "crank"),
    (f"π × 187 = {math.pi * 187:.1f} mm", "by hand, band"),
    (f"ends at R {WIDTH.low:.1f} as a bar and at R {WIDTH.high:.1f} as a sheet", "how wide is wide"),
    (f"{turns(90):.2f} turns, {turns(60):.2f}, {turns(200):.2f}. The rolls are thinner", "panel 1, turns"),
    (f"{rc.plastic_moment(EDGE, STEEL) / 1000:.0f} N m, where the plate allows 26.6: {100 * BRIM:.0f} %. Lying flat it "
     f"is {100 * FLAT:.0f} %", "panel 2, start"),
    (f"11 mm, by moment alone: {100 * on_edge(11):.0f} %. At 11.5 mm it is {100 * on_edge(11.5):.0f} %", "panel 2, 6"),
    (f"Here 25/3: {25 / 3:.1f} times the moment, {(25 / 3) ** 2:.0f} times the stiffness", "panel 2, ratios"),
    (f"the ring at R {pressed(RING, 48, 5000):.1f} instead of 48, and the band at R {pressed(BAND, 93.5, 5000):.1f} "
     f"instead of 93.5; with 1000 N, at R {pressed(RING, 48, 1000):.1f} and R {pressed(BAND, 93.5, 1000):.1f}",
     "pinch"),
    (f"a machine whose plate says {0.76 * math.sqrt(BRIM):.2f} mm", "what on edge needs"),
    (f"the outer face stretches by {100 * 1.5 / 93.5:.1f} %. On edge it is {100 * 12.5 / 82.5:.0f} %", "stretch"),
    (f"takes {100 * NEAR:.0f} % of the push", "bearing"),
    (f"half a degree sets the band's ends {rc.rolling.seam_offset(93.5, 0.5):.1f} mm apart", "askew"),
    (f"gives **{turns(90, diameter=5):.2f} turns**. The thinner bar springs back more", "solution 10.1"),
    (f"π × 75 = {math.pi * 75:.1f} mm a turn. Times 2½ that is **{2.5 * math.pi * 75:.0f} mm**. The half turn, "
     f"{math.pi * 75 / 2:.0f} mm", "solution 10.2"),
    (f"In the three passes below, {IN_PASSES.trim:.0f} mm come off its start and {IN_PASSES.trailing_trim:.0f} mm its "
     f"end: cut {math.pi * 187 + IN_PASSES.trim + IN_PASSES.trailing_trim:.0f} mm. In one pass it would be "
     f"{START.trim:.0f} and {START.trailing_trim:.0f} mm", "band's ends"),
    (f"the ring takes {turns(90):.2f} turns, the band {rc.setting_for_radius(MACHINE, BAND, STEEL, 93.5).turns:.2f}",
     "pinch, turns"),
    (f"at 340 mm, up to {SLOPED['roll bow'].demand:.1f} % across the band", "slope of the rolls"),
    (f"clears the flat front end, {TIGHT.leading:.0f} mm, and the kink at {TIGHT.kink_position:.0f} mm", "10.2, ends"),
    (f"would ask {100 * BRIM:.0f} % of what the plate allows", "last section"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_the_moment_falls_by_a_third_and_width_does_not_count():
    assert rc.plastic_moment(RING, STEEL) == pytest.approx(2 / 3 * rc.plastic_moment(SQUARE, STEEL), rel=1e-12)
    for held in (46.07, 150, 300):
        wide = rc.released_radius(rc.FlatBar(6, 25), STEEL, held)
        assert wide == pytest.approx(rc.released_radius(SQUARE, STEEL, held), rel=1e-12)
    round_left, square_left = (rc.released_radius(bar, STEEL, 46.07) for bar in (RING, SQUARE))
    assert round_left - square_left == pytest.approx(0.2, abs=0.05)
    for bar in (RING, SQUARE, rc.FlatBar(thickness=6, width=25)):
        assert f"{bar} {rc.released_radius(bar, STEEL, [46.07, 150, 300]).round(1)}" in PRINTED
    assert "Held at R 46.1, 150 and 300, the bars spring back to these radii" in PROSE


def test_the_thinner_bar_of_the_first_exercise_springs_back_more():
    assert lost(rc.RoundBar(5), 47.5) > lost(RING, 48)


def test_rings_and_bands_are_planned_as_printed():
    for bar, radius in ((RING, 48), (BAND, 93.5)):
        plan = rc.pass_schedule(MACHINE, bar, STEEL, radius)
        assert repr(plan) in PRINTED
        assert max(one.crank_force for one in plan.passes) < rc.rolling.crank_force_limit(MACHINE)
    for shown in (GROOVE, rc.setting_for_radius(MACHINE, RING, STEEL, 48), rc.check_capacity(MACHINE, RING, STEEL, 48)):
        assert repr(shown) in PRINTED
    for place in (0, 340):
        stress = rc.check_capacity(MACHINE, BAND, STEEL, 93.5, position=place)["roll stress"]
        assert "upper front roll" in stress.message
        assert repr(stress) in PRINTED
    assert "Compare mid-roll with 340 mm from it" in PROSE


def test_the_spiral_clears_itself_and_flat_end_and_kink_lie_in_what_is_sawn_off():
    lead = rc.rolling.tolerable_skew_degrees(48, 6)
    assert rc.rolling.seam_offset(48, lead) == pytest.approx(6, rel=1e-12)
    assert f"6 mm aside in one turn: {lead:.2f} degrees" in PRINTED
    ends, half = rc.flat_ends(MACHINE, RING, STEEL, 48), math.pi * 96 / 2
    assert ends.leading < ends.kink_position < ends.trim < half
    assert repr(ends) in PRINTED
    assert (f"half a turn more, {half:.0f} mm, clears that, even in one full pass. So cut {3 * half:.0f} mm"
            in PROSE)
    assert "120 to 145 mm behind the tip" in PROSE
    assert ends.trim < 120
    assert 145 + math.pi * 96 < 3 * half - ends.trailing_trim
    assert len(SCHEDULE.passes) == 3
    assert TIGHT.leading < TIGHT.kink_position < 0.6 * math.pi * 75 / 2


def test_next_to_its_bearing_the_roll_hardly_bows():
    force = rc.setting_for_radius(MACHINE, RING, STEEL, 48).inside_roll_force
    middle, end = (rc.roll_bow(MACHINE, RING, force, position=place, roll="upper") for place in (0, GROOVE.position))
    assert end < middle / 10
    assert f"0 mm from mid-roll the upper roll bows {middle:.2f} mm under {force:.0f} N" in PRINTED
    assert f"{GROOVE.position:.0f} mm from mid-roll the upper roll bows {end:.2f} mm under {force:.0f} N" in PRINTED


def test_a_thinner_bar_tilts_less_in_the_nip():
    tilts = [rc.setting_for_radius(MACHINE, rc.RoundBar(size), STEEL, (90 + size) / 2).tilt for size in (5, 6)]
    assert tilts[0] < tilts[1]


def test_what_is_refused_is_printed():
    for_five, _, for_eight = rc.rolling.grooves(MACHINE)
    for diameter, chosen in ((6, for_five), (3, for_eight), (8.5, None), (2, None)):
        with pytest.raises(rc.InputError) as refused:
            rc.grooved_machine(MACHINE, rc.RoundBar(diameter), chosen)
        assert str(refused.value) in PRINTED


def test_round_against_square_is_the_library_s():
    given = {told.depth: 6, told.sigma: 275, told.modulus: 200_000, told.round_second: RING.second_moment}
    values = [float(step.equation.rhs.doit().subs(given)) for step in told.round_against_square().steps]
    assert values[0] == pytest.approx(rc.plastic_moment(SQUARE, PERFECT), rel=1e-12)
    assert values[2] == pytest.approx(rc.plastic_moment(RING, PERFECT), rel=1e-12)
    assert values[3:6] == pytest.approx([SQUARE.second_moment, RING.second_moment, rc.yield_moment(RING, PERFECT)])
    assert values[6] == pytest.approx(rc.plastic_moment(RING, PERFECT) / rc.yield_moment(RING, PERFECT), rel=1e-12)
    # Held tight, a bar that does not harden loses what the lines say; the elastic core is then a few parts in 10 000.
    for value, bar in ((values[7], SQUARE), (values[8], RING)):
        assert lost(bar, 48, PERFECT) == pytest.approx(value, rel=1e-3)
    assert values[9] == pytest.approx(lost(RING, 48, PERFECT) / lost(SQUARE, 48, PERFECT), rel=1e-3)


def test_edge_against_flat_is_the_library_s():
    given = {told.width: 25, told.thickness: 3, told.sigma: 275}
    values = [float(step.equation.rhs.doit().subs(given)) for step in told.edge_against_flat().steps]
    flat, edge = rc.plastic_moment(BAND, PERFECT), rc.plastic_moment(EDGE, PERFECT)
    stiff = rc.bending.bending_stiffness(EDGE, PERFECT) / rc.bending.bending_stiffness(BAND, PERFECT)
    assert values == pytest.approx([flat, flat, edge, edge / flat, BAND.second_moment, stiff], rel=1e-12)


def test_the_formula_in_words_is_the_derived_one():
    assert r"3\,\frac{\sigma_y}{E\,d}\ \text{ square, flat}" in PROSE
    assert r"\frac{32}{3\pi}\,\frac{\sigma_y}{E\,d}\ \text{ round}" in PROSE
    back = told.sigma / (told.modulus * told.depth)
    square, around = (told.round_against_square().steps[place].equation.rhs for place in (7, 8))
    assert sp.simplify(square - 3 * back) == sp.simplify(around - 32 / (3 * sp.pi) * back) == 0


def test_the_first_panel_says_what_the_library_computes():
    panel = panels_bars.groove()
    for inside in (60, 90, 200):
        panel.set(inside_diameter=inside)
        assert f"takes {turns(inside):.2f} turns." in panel.sentence
    panel.set(groove="for 8 mm bar")
    assert "has 2.00 mm of play" in panel.sentence
    large = rc.grooved_machine(MACHINE, RING, rc.rolling.grooves(MACHINE)[2])
    assert f"takes {rc.setting_for_radius(large, RING, STEEL, 103).turns:.2f} turns" in panel.sentence
    panel.set(groove="for 5 mm bar")
    assert "does not go into the groove for 5.00 mm: it rides on two edges" in panel.sentence
    assert "Refused: bar diameter is 6 mm" in panel.sentence
    assert not panel.problem
    panel.set(bar_diameter=3, groove="for 8 mm bar")
    assert "the front rolls meet, and nothing grips it. Refused: bar diameter is 3 mm" in panel.sentence


def test_the_second_panel_compares_with_the_plate():
    panel = panels_bars.edge()
    for width in (11, 11.5, 25):
        panel.set(width=width)
        assert f"{100 * on_edge(width):.0f} % of it on edge" in panel.sentence
    panel.set(thickness=6, width=6)
    words = panel.sentence
    assert "1 times as much; on edge it is 1 times as stiff" in words


def test_panels_name_the_machine_and_do_without_a_plate_or_grooves(own_machine):
    mine = replace(MACHINE, name="my rolls", rated_thickness=None, rated_material=None, grooved_rolls="upper",
                   groove_positions=())
    own_machine(mine)
    groove, edge = panels_bars.groove(), panels_bars.edge()
    assert groove.sentence.endswith("Machine: my rolls, a pinch of 2500 N.")
    assert "3.00 mm deep in upper roll" in groove.sentence
    assert "plate" not in edge.sentence
    own_machine(replace(mine, groove_diameters=(8,), groove_depths=()))
    assert panels_bars.groove().sentence.endswith("as yours has no grooves to choose from.")


def test_where_the_picture_says_that_the_rolls_meet_the_caption_says_so_too():
    picture = panels_bars.groove_picture(3, "for 6 mm bar", STEEL.name, 90, "mm")
    assert "the rolls meet" in {getattr(mark, "words", "") for mark in picture.marks}
    assert "the front rolls meet, and hardly grip it" in picture.sentence
