"""Every number that lesson 03 says in words is worked out again here."""

from pathlib import Path

import nbformat
import numpy as np
import pytest

import rollcalc as rc
from rollcalc.bending import yield_curvature
from rollcalc.drawing.metal.hinge_graph import hinge_picture
from rollcalc.drawing.metal.section_view import section_view
from rollcalc.lessons.engine.published import PUBLISHED
from rollcalc.lessons.lesson03 import derivations, panels

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "03_bend_a_sheet.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "".join(output.get("text", "") or output.data.get("text/plain", "")
                  for cell in BOOK.cells for output in cell.get("outputs", []))
STEEL, BAR_STEEL = (rc.MATERIALS[name] for name in ("low-carbon steel, cold rolled", "mild steel bar, hot rolled"))
SOFT, HARD = rc.MATERIALS["aluminium 1100-O"], rc.MATERIALS["aluminium 6061-T6"]
BODY, STRIP = rc.Sheet(thickness=0.76, width=240), rc.FlatBar(0.76, 240)
BAND, RING = rc.FlatBar(thickness=3, width=25), rc.RoundBar(6)


def first(stock: rc.Stock, metal: rc.Material = STEEL) -> float:
    """Return the radius at which a piece begins to stay bent. [mm]"""
    return 1 / float(yield_curvature(stock, metal))


def begin(stock: rc.Stock, metal: rc.Material = STEEL) -> float:
    """Return the push that begins to bend it for good, 100 mm above a vice. [N]"""
    return float(rc.yield_moment(stock, metal)) / 100


def core(radius: float) -> float:
    """Return the share of the body's thickness that is still elastic. [-]"""
    return float(rc.elastic_core(BODY, STEEL, 1 / radius)) / 0.76


THICK = rc.Sheet(thickness=1.52, width=240)
WEAK, STRONG = (first(BODY, STEEL.with_yield(strength)) for strength in STEEL.yield_range)
AT_FIRST = (1 - 0.3 + 0.3**2) ** -0.5  # von Mises with the elastic stress across, ν σ
TIMES = float(rc.bending_moment(BODY, SOFT, 1 / 30)) / 100 / begin(BODY, SOFT)

SAID = [
    (f"From {first(BODY):.1f} mm on the hatching comes in", "first yield"),
    ({3: "At 120 mm a third is left"}[round(1 / core(120))], "core at 120 mm"),
    (f"at 20 mm only {100 * core(20):.0f} %", "core at 20 mm"),
    (f"or {100 * (1 / (1 - STEEL.poisson_ratio**2) - 1):.0f} %, and stronger", "stiffer"),
    (f"or {100 * (2 / 3**0.5 - 1):.0f} %. (", "stronger"),
    (f"16/(3π), or {16 / 3 / np.pi:.2f} times", "round bar"),
    (f"So {begin(BODY):.0f} N, the weight", "push to begin"),
    (f"{1.5 * begin(BODY):.0f} N, and it folds", "push right through"),
    (f"The radius doubles, to {first(THICK):.1f} mm", "twice the thickness"),
    (f"from {begin(BODY):.1f} N to {begin(THICK):.1f} N, four times", "twice the thickness, push"),
    (f"1100-O has, from {first(BODY, SOFT):.1f} mm on", "1100-O"),
    (f"6061-T6 begins only at {first(BODY, HARD):.1f} mm", "6061-T6"),
    (f"takes {float(rc.bending_moment(BODY, HARD, 1 / 120)) / 100:.1f} N", "6061-T6, push"),
    (f"takes {TIMES:.2f} times its first push", "hardening"),
    (f"From {begin(RING, BAR_STEEL):.1f} N to {16 / 3 / np.pi * begin(RING, BAR_STEEL):.1f} N: 1.70 times", "ring"),
    (f"1.70 times the {begin(RING, BAR_STEEL):.1f} N", "solution 03.2"),
    (f"is {rc.plastic_moment(RING, BAR_STEEL):.0f} N mm", "solution 03.2, moment"),
    (f"at any radius from {STRONG:.0f} to {WEAK:.0f} mm", "yield range"),
    (f"begins to yield at {AT_FIRST:.2f} times", "strictly"),
    (f"its {first(BODY):.1f} mm should be {first(BODY) * 2 / 3**0.5 / AT_FIRST:.0f} mm", "strictly, radius"),
    (f"the truth lies between {first(BODY):.0f} and {first(STRIP):.0f} mm", "middling width"),
    (f"200 000 × 3 / (2 × 275) = **{200_000 * 3 / 550:.0f} mm**", "solution 03.1"),
    (f"90/361.6 = {100 * core(90):.1f} % of the thickness", "solution 03.3, core"),
    (f"1.5 − {core(90):.3f}²/2 = {1.5 - core(90)**2 / 2:.3f} times", "solution 03.3, moment"),
    (f"Only {core(90)**2 / 2:.3f} are left", "solution 03.3, left"),
    (f"begins to stay bent at {first(BODY):.0f} mm. How near", "back to the guess"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_the_barrel_leaves_it_flat_and_the_pipe_does_not():
    assert "a rain barrel, 800 mm across" in PROSE
    assert "a stove pipe, 120 mm across" in PROSE
    radii = rc.released_radius(BODY, STEEL.with_yield([[140], [210]]), np.array([400.38, 60.38]))
    assert np.isinf(radii[1, 0])
    assert np.isfinite(radii[:, 1]).all()


def test_the_wire_stays_a_spring_as_published():
    book = PUBLISHED["E1"]
    assert "steel wire, 4 mm thick, on a drum of 0.5 m radius. This steel is a spring up to 1200 MPa" in PROSE
    assert {name: given.value for name, given in book.inputs.items()} == {
        "diameter": 4, "drum_radius": 0.5, "elastic_modulus": 200, "proportional_limit": 1200}
    assert f"strain {2 / 502:.2%}" in PRINTED
    for name, computed in (("stress", 2 / 502 * 200_000), ("moment", 2 / 502 * 200_000 * np.pi * 4**3 / 32)):
        assert book.answers[name].accepts(computed)
        assert book.answers[name].beside(computed) in PRINTED


def test_the_bar_that_hardens_is_as_published():
    answer = PUBLISHED["H1"].answers["moment"]
    a, u = (190 - 150) / (0.05 - 0.01) / (150 / 0.01), 5
    times = (1 - a) * (1.5 - 0.5 / u**2) + a * u
    computed = times * PUBLISHED["H1"].given("yield_strength") * 2 * 3**2 / 6 * 25.4**3
    assert "a bar of 2 by 3 inches" in PROSE
    assert answer.accepts(computed)
    assert repr((round(times, 3), round(times, 3), answer.beside(computed))) in PRINTED


def test_by_hand_is_the_library():
    assert f"narrow {first(STRIP):.0f} mm, wide {first(BODY):.1f} mm, library {first(BODY):.1f} mm" in PRINTED
    assert f"push {begin(BODY):.0f} N to begin, {rc.plastic_moment(BODY, STEEL) / 100:.0f} N right through" in PRINTED
    assert f"between -{rc.plastic_moment(BODY, STEEL):.2f} and {rc.plastic_moment(BODY, STEEL):.2f} N mm" in PRINTED


def test_the_last_lines_are_what_the_library_computes():
    values = {derivations.modulus: 200_000, derivations.thickness: 3, derivations.sigma: 275}
    radius = derivations.first_yield().result.rhs.subs(values)
    assert float(radius) == pytest.approx(first(BAND, BAR_STEEL), rel=1e-12)
    full = derivations.half_as_much_again().result.rhs.subs(derivations.yield_moment, rc.yield_moment(BAND, BAR_STEEL))
    assert float(full) == pytest.approx(rc.plastic_moment(BAND, BAR_STEEL), rel=1e-12)
    steps = derivations.wide_sheet().steps
    stiffness = steps[3].equation.rhs.subs({derivations.modulus: 210_000, derivations.poisson: 0.3})
    assert float(stiffness) * BODY.second_moment == pytest.approx(rc.bending.bending_stiffness(BODY, STEEL), rel=1e-12)
    strength = float(steps[-1].equation.rhs.subs(derivations.sigma, 210))
    assert strength == pytest.approx(rc.plastic_moment(BODY, STEEL) / (240 * 0.76**2 / 4), rel=1e-12)


@pytest.mark.parametrize("past_yield", [1.0, 1.5, 4.0, 20.0])
def test_hardening_is_the_library_s(past_yield):
    tangent = BAR_STEEL.hardening_modulus / (BAR_STEEL.elastic_modulus + BAR_STEEL.hardening_modulus)
    line = derivations.hardening().result.rhs.subs({
        derivations.yield_moment: rc.yield_moment(BAND, BAR_STEEL), derivations.tangent: tangent,
        derivations.ratio: past_yield})
    computed = rc.bending_moment(BAND, BAR_STEEL, past_yield * yield_curvature(BAND, BAR_STEEL))
    assert computed == pytest.approx(float(line), rel=1e-12)


def test_the_cut_shows_the_core_and_the_graphs_at_its_heights():
    lines = section_view(BODY, STEEL, 120).marks
    layers = [line.points[:, 1] for line in lines if getattr(line, "role", "") == "section"]
    stress = next(line.points for line in lines if getattr(line, "role", "") == "sheet")
    assert [(layer.min(), layer.max()) for layer in layers] == [
        pytest.approx((100 * core(120), 100)), pytest.approx((-100, -100 * core(120)))]
    assert stress[:, 1] == pytest.approx([-100, -100 * core(120), 100 * core(120), 100])
    held = rc.loaded_stress(BODY, STEEL, 1 / 120, np.array([-0.38, 0.38 * core(120), 0.38]))
    assert (stress[[0, 2, 3], 0] - 470) / (stress[3, 0] - 470) == pytest.approx(held / held[-1])
    gentle = section_view(BODY, STEEL, 500)
    assert not [line for line in gentle.marks if getattr(line, "role", "") == "section"]
    assert f"begins to stay bent at a radius of {first(BODY):.1f} mm" in gentle.sentence


def test_the_caption_says_strain_and_core():
    said = section_view(BODY, STEEL, 60).sentence
    assert f"squeezed by {100 * 0.38 / 60:.2f} %, {first(BODY) / 60:.1f} times the strain" in said
    assert f"the middle {0.76 * core(60):.2f} mm, {100 * core(60):.0f} % of the thickness" in said


@pytest.mark.parametrize(("shape", "factor"), [("wide sheet", 1.5), ("flat bar", 1.5), ("round bar", 16 / 3 / np.pi)])
def test_the_graph_stands_between_the_two_moments(shape, factor):
    stock = panels.piece(shape, 3.0)
    picture = hinge_picture(stock, BAR_STEEL, 90)
    levels = [line.points[0, 1] for line in picture.marks[:2]]
    assert levels == pytest.approx([begin(stock, BAR_STEEL) / 10, factor * begin(stock, BAR_STEEL) / 10])
    now = rc.bending_moment(stock, BAR_STEEL, 1 / 90) / 100
    assert f"{factor:.2f} times the first push" in picture.sentence
    assert f"takes {now:.1f} N, {now / begin(stock, BAR_STEEL):.2f} times the first." in picture.sentence
