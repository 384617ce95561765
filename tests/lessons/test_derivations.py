"""Derivations are worked out again line by line, and their last lines are what the library computes."""

import dataclasses
from pathlib import Path

import numpy as np
import pytest
import sympy as sp
from sympy.core.function import AppliedUndef

import rollcalc as rc
from rollcalc.lessons.engine.derivation import DerivationError, _words
from rollcalc.lessons.lesson01 import derivations as derivations_capacity
from rollcalc.lessons.lesson02 import derivations as derivations_rolls
from rollcalc.lessons.lesson03 import derivations as derivations_inside
from rollcalc.lessons.lesson04 import derivations
from rollcalc.lessons.lesson04.derivations import (
    edge,
    kappa,
    modulus,
    moment,
    ratio,
    second_moment,
    share,
    sigma,
    yield_moment,
)
from rollcalc.lessons.lesson05 import derivations as derivations_span
from rollcalc.lessons.lesson06 import derivations as derivations_passes
from rollcalc.lessons.lesson07 import derivations as derivations_blank
from rollcalc.lessons.lesson08 import derivations as derivations_layout
from rollcalc.lessons.lesson09 import derivations as derivations_cone
from rollcalc.lessons.lesson10 import derivations as derivations_bars
from rollcalc.lessons.lesson11 import derivations as derivations_readings
from rollcalc.lessons.lesson12 import derivations as derivations_rise

MODULES = (derivations, derivations_rolls, derivations_span, derivations_capacity, derivations_passes,
           derivations_blank, derivations_layout, derivations_cone, derivations_bars, derivations_inside,
           derivations_readings, derivations_rise)

STEEL = rc.Material("perfect", 200_000, 0.3, 240)
BAR = rc.FlatBar(thickness=3, width=25)
ROUND = rc.RoundBar(diameter=6)
PAST_YIELD = [1.0, 1.3, 2.0, 5.0, 40.0]


EVERY = [derive for module in MODULES for derive in module.ALL]


@pytest.mark.parametrize("derive", EVERY)
def test_every_line_follows(derive):
    derivation = derive()
    assert derivation.verify() >= len(derivation.steps) / 2


@pytest.mark.parametrize("derive", EVERY)
def test_a_wrong_line_is_caught(derive):
    derivation = derive()
    for number, step in enumerate(derivation.steps):
        if step.follows is None or step.equation.rhs == 0:
            continue  # a line that ends in nothing has its left side checked instead
        wrong = dataclasses.replace(step, equation=sp.Eq(step.equation.lhs, step.equation.rhs + sp.Rational(1, 1000)))
        steps = (*derivation.steps[:number], wrong, *derivation.steps[number + 1 :])
        with pytest.raises(DerivationError, match=f"step {number + 1}"):
            dataclasses.replace(derivation, steps=steps).verify()


@pytest.mark.parametrize("derive", EVERY)
def test_every_symbol_is_explained_and_none_besides(derive):
    derivation = derive()
    used = set().union(*(step.equation.atoms(sp.Symbol, AppliedUndef) for step in derivation.steps))
    free = set().union(*(step.equation.free_symbols for step in derivation.steps))
    words = " ".join(step.sentence for step in derivation.steps)
    assert free <= set(derivation.symbols)
    assert all(sp.pretty(symbol) in words for symbol in set(derivation.symbols) - used)
    assert all("[" in words for words in derivation.symbols.values())


@pytest.mark.parametrize("derive", EVERY)
def test_it_shows_as_folded_mathematics_and_as_plain_lines(derive):
    shown = derive()._repr_mimebundle_()
    assert shown["text/html"].startswith("<details><summary>Derivation: ")
    assert shown["text/html"].count("<li>") == len(derive().steps) == shown["text/plain"].count("\n")


def test_no_module_of_derivations_is_left_out():
    there = {path.stem for path in Path(derivations.__file__).parent.glob("derivations*.py")}
    assert there == {module.__name__.rpartition(".")[2] for module in MODULES}


@pytest.mark.parametrize("past_yield", PAST_YIELD)
def test_the_rectangle_is_the_one_the_library_bends(past_yield):
    line = derivations.rectangle_moment().result.rhs.subs(
        {yield_moment: rc.yield_moment(BAR, STEEL), ratio: past_yield}
    )
    assert rc.bending_moment(BAR, STEEL, past_yield * rc.bending.yield_curvature(BAR, STEEL)) == pytest.approx(
        float(line), rel=1e-12
    )


@pytest.mark.parametrize("past_yield", PAST_YIELD)
def test_the_round_bar_is_the_one_the_library_bends(past_yield):
    line = derivations.round_bar_moment().steps[4].equation.rhs
    value = line.subs({yield_moment: rc.yield_moment(ROUND, STEEL), edge: np.arcsin(1 / past_yield)})
    computed = rc.bending_moment(ROUND, STEEL, past_yield * rc.bending.yield_curvature(ROUND, STEEL))
    assert computed == pytest.approx(float(value), rel=1e-12)


def test_the_round_bar_ends_at_its_plastic_moment():
    line = derivations.round_bar_moment().result.rhs.subs(yield_moment, rc.yield_moment(ROUND, STEEL))
    assert rc.plastic_moment(ROUND, STEEL) == pytest.approx(float(line), rel=1e-12)


@pytest.mark.parametrize("radius", [20.0, 60.0, 200.0, 1200.0])
def test_the_cubic_is_the_library_s_release(radius):
    number = radius * STEEL.first_yield / (STEEL.elastic_modulus * BAR.thickness)
    line = derivations.springback_cubic().result.rhs.subs(share, number)
    assert radius / rc.released_radius(BAR, STEEL, radius) == pytest.approx(float(line), rel=1e-9)


@pytest.mark.parametrize("past_yield", PAST_YIELD)
def test_the_locked_in_stress_is_the_library_s(past_yield):
    curvature = past_yield * rc.bending.yield_curvature(BAR, STEEL)
    steps = derivations.residual_stress_in_a_rectangle().steps
    for step, height in ((steps[2], 1.5), (steps[3], 1.5 / past_yield)):
        line = float(step.equation.rhs.subs({sigma: 240, ratio: past_yield}))
        assert rc.residual_stress(BAR, STEEL, curvature, height) == pytest.approx(line, abs=1e-9)


def test_what_stays_is_the_moment_of_plastic_strain():
    # The result P/I is the library's own sum; here P is added up from the stress it gives, fibre by fibre.
    height, weight = np.polynomial.legendre.leggauss(2000)
    height, area = height * 1.5, weight * 1.5 * 25
    curvature = 1 / 60
    plastic = height * curvature - rc.loaded_stress(BAR, STEEL, curvature, height) / STEEL.elastic_modulus
    result = derivations.what_stays_is_plastic().result.rhs
    strain_moment = next(iter(result.free_symbols - {second_moment}))
    value = result.subs({strain_moment: plastic @ (height * area), second_moment: BAR.second_moment})
    assert rc.released_curvature(BAR, STEEL, curvature) == pytest.approx(float(value), rel=1e-6)


def test_release_takes_the_moment_away():
    step = derivations.springback_cubic().steps[0].equation.rhs
    values = {
        kappa: 1 / 60,
        moment: rc.bending_moment(BAR, STEEL, 1 / 60),
        modulus: 200_000,
        second_moment: BAR.second_moment,
    }
    assert rc.released_curvature(BAR, STEEL, 1 / 60) == pytest.approx(float(step.subs(values)), rel=1e-9)


def test_a_symbol_in_a_sentence_keeps_its_whole_name():
    shown = _words("U_in and M_0²/(2B), κ_r, R_u + R_l < 2")
    assert shown == ("U<sub>in</sub> and M<sub>0</sub>²/(2B), κ<sub>r</sub>, R<sub>u</sub> + R<sub>l</sub> &lt; 2")
