"""The formulas of bending and release, derived step by step.

SymPy works out again every line that can be, and tests hold the last lines against the numbers of `rollcalc.bending`.
"""

import sympy as sp

from ..engine.derivation import Derivation, Derivations, Equations, Step, picked

# Greek names are the symbols of design and lessons; all quantities here are positive.
kappa, kappa_y, kappa_r = sp.symbols("kappa kappa_y kappa_r", positive=True)
modulus, sigma, height, depth, width, core, radius = sp.symbols("E sigma_y y h w c r", positive=True)
angle, edge = sp.symbols("phi alpha", positive=True)
moment, yield_moment, second_moment, ratio = sp.symbols("M M_y I u", positive=True)
loaded_radius, released_radius, share = sp.symbols("R R_r x", positive=True)
residual, stress, plastic_strain = sp.symbols("sigma_res sigma epsilon_p", real=True)

NAMES = {
    kappa: "loaded curvature [1/mm]", kappa_y: "curvature at first yield [1/mm]",
    kappa_r: "released curvature [1/mm]", modulus: "elastic modulus, E/(1 − ν²) for a sheet [MPa]",
    sigma: "yield stress, 2/√3 times the yield strength for a sheet [MPa]", height: "distance from mid-thickness [mm]",
    depth: "thickness [mm]", width: "width [mm]",
    core: "half the depth of the elastic core [mm]", radius: "radius of the bar's section [mm]",
    moment: "bending moment [N mm]", yield_moment: "moment at first yield [N mm]",
    second_moment: "second moment of area [mm⁴]", angle: "angle of a fibre, y = r sin φ [rad]",
    edge: "angle of the core's edge [rad]", ratio: "how far past yield, κ/κ_y [-]",
    loaded_radius: "loaded radius [mm]", released_radius: "released radius [mm]",
    share: "springback number R σ_y/(E h) [-]", residual: "residual stress [MPa]",
    stress: "stress while loaded [MPa]", plastic_strain: "plastic strain [-]",
}


def rectangle_moment() -> Derivation:
    """Return the derivation of the moment of a rectangle past first yield, perfectly plastic metal."""
    elastic_core = sp.Eq(core, sigma / (modulus * kappa))
    integral = (2 * sp.Integral(sigma * height / core * width * height, (height, 0, core))
                + 2 * sp.Integral(sigma * width * height, (height, core, depth / 2)))
    first_yield = sp.Eq(kappa_y, 2 * sigma / (modulus * depth))
    at_yield = sp.Eq(yield_moment, sigma * width * depth**2 / 6)

    def in_numbers(earlier: Equations) -> sp.Expr:
        by_ratio = earlier[2].rhs.subs(core, elastic_core.rhs).subs(kappa, ratio * first_yield.rhs)
        return sp.simplify(by_ratio / at_yield.rhs) * yield_moment

    return Derivation("moment and curvature of a rectangle",
        picked(NAMES, moment, kappa, modulus, sigma, height, width, depth, core, kappa_y, yield_moment, ratio), (
        Step("Plane sections stay plane, so the strain is y κ; the core is elastic up to where it reaches yield.",
             elastic_core, lambda earlier: sp.solve(sp.Eq(modulus * height * kappa, sigma), height)[0]),
        Step("Add up stress × breadth × lever arm: the core, where stress climbs to σ_y, then the yielded outside.",
             sp.Eq(moment, integral)),
        Step("Do the two integrals.", sp.Eq(moment, sigma * width * (depth**2 / 4 - core**2 / 3)),
             lambda earlier: earlier[1].rhs.doit()),
        Step("First yield is when the core reaches the surface, c = h/2.",
             first_yield, lambda earlier: sp.solve(sp.Eq(earlier[0].rhs, depth / 2), kappa)[0]),
        Step("The moment there is the yield moment.", at_yield, lambda earlier: earlier[2].rhs.subs(core, depth / 2)),
        Step("Put the core in, and count curvature in first yields, κ = u κ_y.",
             sp.Eq(moment, yield_moment * (sp.Rational(3, 2) - 1 / (2 * ratio**2))), in_numbers)))


def round_bar_moment() -> Derivation:
    """Return the derivation of the moment of a round bar past first yield, perfectly plastic metal."""
    sine, cosine = sp.sin(angle), sp.cos(angle)
    fibre = 4 * sigma * radius**3 * cosine**2 * sine  # stress σ_y × lever r sin φ × area 2 (r cos φ)² dφ, both sides
    integral = sp.Integral(fibre * sine / sp.sin(edge), (angle, 0, edge)) + sp.Integral(fibre, (angle, edge, sp.pi / 2))
    added = 4 * sigma * radius**3 * ((edge / 8 - sp.sin(4 * edge) / 32) / sp.sin(edge) + sp.cos(edge) ** 3 / 3)
    at_yield = sp.Eq(yield_moment, sp.pi * sigma * radius**3 / 4)
    return Derivation("moment and curvature of a round bar",
                      picked(NAMES, moment, sigma, radius, angle, edge, yield_moment, ratio), (
        Step("Put y = r sin φ. The bar is 2 r cos φ broad there. Call φ at the core's edge α: sin α = 1/u.",
             sp.Eq(sp.sin(edge), 1 / ratio)),
        Step("Add up stress × breadth × lever arm: the core, where stress climbs to σ_y, then the yielded outside.",
             sp.Eq(moment, integral)),
        Step("Do the two integrals.", sp.Eq(moment, added), lambda earlier: earlier[1].rhs.doit()),
        Step("At first yield the core reaches the surface, α = π/2.",
             at_yield, lambda earlier: earlier[2].rhs.subs(edge, sp.pi / 2)),
        Step("Measure the moment in yield moments.",
             sp.Eq(moment, yield_moment * 16 / sp.pi * (added / (4 * sigma * radius**3))),
             lambda earlier: earlier[2].rhs / at_yield.rhs * yield_moment),
        Step("Bent without end, α goes to zero and the bar yields right through.",
             sp.Eq(moment, 16 / (3 * sp.pi) * yield_moment), lambda earlier: sp.limit(earlier[4].rhs, edge, 0))))


def springback_cubic() -> Derivation:
    """Return the derivation of release, and of the cubic that ties loaded to released radius."""
    return Derivation("release, and the springback cubic",
                      picked(NAMES, kappa, kappa_r, kappa_y, moment, yield_moment, modulus, second_moment, sigma, depth,
                             loaded_radius, released_radius, share), (
        Step("Letting go takes the moment away. The metal answers elastically: it unbends by M/(E I).",
             sp.Eq(kappa_r, kappa - moment / (modulus * second_moment))),
        Step("The moment of a rectangle past first yield (the derivation before this one).",
             sp.Eq(moment, yield_moment * (sp.Rational(3, 2) - kappa_y**2 / (2 * kappa**2))),
             lambda earlier: rectangle_moment().result.rhs.subs(ratio, kappa / kappa_y)),
        Step("First yield is still elastic.", sp.Eq(yield_moment, modulus * second_moment * kappa_y)),
        Step("Put both in: the stiffness drops out.",
             sp.Eq(kappa_r, kappa - kappa_y * (sp.Rational(3, 2) - kappa_y**2 / (2 * kappa**2))),
             lambda earlier: earlier[0].rhs.subs(moment, earlier[1].rhs).subs(yield_moment, earlier[2].rhs)),
        Step("Radii are one over curvature. Call x = R σ_y/(E h); since κ_y = 2 σ_y/(E h), this is",
             sp.Eq(kappa_y, 2 * share / loaded_radius),
             lambda earlier: (2 * sigma / (modulus * depth)).subs(sigma, share * modulus * depth / loaded_radius)),
        Step("Divide by the loaded curvature 1/R: how much of the bend stays depends on one number.",
             sp.Eq(loaded_radius / released_radius, 4 * share**3 - 3 * share + 1),
             lambda earlier: sp.expand((earlier[3].rhs * loaded_radius).subs(kappa_y, earlier[4].rhs)
                                       .subs(kappa, 1 / loaded_radius)))))


def residual_stress_in_a_rectangle() -> Derivation:
    """Return the derivation of the stress that stays locked in after release."""
    surface = yield_moment * (sp.Rational(3, 2) - 1 / (2 * ratio**2)) * (depth / 2) / second_moment
    stiffness = sp.Eq(yield_moment, sigma * second_moment / (depth / 2))
    core_edge = depth / (2 * ratio)
    taken_away = surface.subs(yield_moment, stiffness.rhs) * 2 * height / depth
    no_moment = (2 * sp.Integral((2 * ratio * sigma * height / depth) * height, (height, 0, core_edge))
                 + 2 * sp.Integral(sigma * height, (height, core_edge, depth / 2))
                 - 2 * sp.Integral(taken_away * height, (height, 0, depth / 2)))
    return Derivation("the stress that stays locked in",
        picked(NAMES, residual, stress, moment, height, second_moment, sigma, depth, yield_moment, ratio), (
        Step("Springing back is elastic, so it takes away the straight-line stress M y/I.",
             sp.Eq(residual, stress - moment * height / second_moment)),
        Step("The yield moment puts the surface just at yield.", stiffness),
        Step("At the surface the metal held σ_y before. What is left has the opposite sign of the bend.",
             sp.Eq(residual, sigma * (1 / ratio**2 - 1) / 2),
             lambda earlier: sp.simplify(sigma - surface.subs(yield_moment, earlier[1].rhs))),
        Step("At the edge of the core, y = h/(2u), it held σ_y too, but less is taken away.",
             sp.Eq(residual, sigma * (1 - 3 / (2 * ratio) + 1 / (2 * ratio**3))),
             lambda earlier: sp.expand(sigma - surface.subs(yield_moment, earlier[1].rhs) / ratio)),
        Step("Nobody holds the piece any more, so what is left must have no moment.",
             sp.Eq(no_moment, 0, evaluate=False), lambda earlier: sp.simplify(no_moment.doit()))))


def what_stays_is_plastic() -> Derivation:
    """Return the derivation of the one integral the library computes with."""
    area = sp.Symbol("A", positive=True)
    strain_moment = sp.Symbol("P", positive=True)
    names = picked(NAMES, stress, modulus, height, kappa, plastic_strain, moment, second_moment, kappa_r)
    names |= {area: "area of the section [mm²]", strain_moment: "first moment of plastic strain, ∫ε_p y dA [mm³]"}
    return Derivation("what stays is what the plastic strain asks for", names, (
        Step("Each fibre's stress comes from the elastic part of its strain, whatever the metal's curve is.",
             sp.Eq(stress, modulus * (height * kappa - plastic_strain))),
        Step("Add up stress × lever arm over the section; ∫y² dA is I and ∫ε_p y dA is called P.",
             sp.Eq(moment, modulus * second_moment * kappa - modulus * strain_moment),
             lambda earlier: sp.expand((earlier[0].rhs * height).subs(plastic_strain, strain_moment / height))
                             .subs(height**2, second_moment)),
        Step("Letting go unbends the piece by M/(E I). What stays is P/I, whatever the curve was.",
             sp.Eq(kappa_r, strain_moment / second_moment),
             lambda earlier: sp.expand(kappa - earlier[1].rhs / (modulus * second_moment)))))


ALL = (rectangle_moment, springback_cubic, residual_stress_in_a_rectangle, what_stays_is_plastic, round_bar_moment)


def springback() -> Derivations:
    """Return the derivations of lesson 04, in the order they build on each other."""
    return Derivations(ALL)
