"""Strain and first yield, half as much again, the wide sheet, and hardening, derived step by step."""

import sympy as sp

from ..engine.derivation import Derivation, Derivations, Equations, Step
from ..lesson04.derivations import ratio as lesson_ratio, rectangle_moment, yield_moment

radius, yield_radius, angle, height, thickness, width = sp.symbols("R R_y phi y t w", positive=True)
middle_length, length, strain, surface_strain = sp.symbols("L_0 L epsilon epsilon_s", positive=True)
modulus, wide_modulus, poisson, sigma, wide_sigma = sp.symbols("E E_s nu sigma_y sigma_s", positive=True)
stress, across, across_strain, deviator = sp.symbols("sigma sigma_w epsilon_w s_w", real=True)
force, full_force, plastic_moment, moment = sp.symbols("F F_p M_p M", positive=True)
tangent, perfect_stress, perfect_moment, second_moment = sp.symbols("a sigma_0 M_0 I", positive=True)
kappa, ratio = sp.symbols("kappa u", positive=True)


def first_yield() -> Derivation:
    """Return the derivation of strain from radius, and of the radius at which a bar begins to stay bent."""
    return Derivation("from the radius to the strain, and the radius of first yield", {
        radius: "radius to mid-thickness [mm]", angle: "angle over which the piece is bent [rad]",
        height: "height of a fibre from mid-thickness [mm]", middle_length: "length of the middle [mm]",
        length: "length of the fibre [mm]", strain: "strain of the fibre [-]",
        surface_strain: "strain at the surface [-]", thickness: "thickness [mm]",
        modulus: "elastic modulus [MPa]", sigma: "yield strength [MPa]", yield_radius: "radius at first yield [mm]",
    }, (
        Step("Bending without pulling leaves the middle as long as it was.", sp.Eq(middle_length, radius * angle)),
        Step("A fibre at height y lies on the larger radius R + y, over the same angle.",
             sp.Eq(length, (radius + height) * angle)),
        Step("Strain is what it has gained, as a share of what it was: nothing is left but geometry.",
             sp.Eq(strain, height / radius),
             lambda earlier: (earlier[1].rhs - earlier[0].rhs) / earlier[0].rhs),
        Step("The surface lies half the thickness from the middle.", sp.Eq(surface_strain, thickness / (2 * radius)),
             lambda earlier: earlier[2].rhs.subs(height, thickness / 2)),
        Step("The metal yields at the strain σ_y/E. Ask for the radius at which the surface gets there.",
             sp.Eq(yield_radius, modulus * thickness / (2 * sigma)),
             lambda earlier: sp.solve(sp.Eq(earlier[3].rhs, sigma / modulus), radius)[0])))


def half_as_much_again() -> Derivation:
    """Return the derivation of full plastic moment over moment of first yield for a rectangle, by two levers."""
    return Derivation("why right through is half as much again", {
        force: "force of each half at first yield [N]", full_force: "force of each half right through [N]",
        sigma: "yield strength [MPa]", width: "width [mm]", thickness: "thickness [mm]",
        yield_moment: "moment at first yield [N mm]", plastic_moment: "full plastic moment [N mm]",
    }, (
        Step("At first yield the stress climbs from nothing to σ_y, so one half of the thickness pulls with the mean "
             "of the two. The other half pushes as hard.", sp.Eq(force, sigma / 2 * width * thickness / 2)),
        Step("Such a triangle of stress acts at two thirds of its height. Force times the lever between both halves:",
             sp.Eq(yield_moment, sigma * width * thickness**2 / 6),
             lambda earlier: earlier[0].rhs * 2 * sp.Rational(2, 3) * thickness / 2),
        Step("Right through, every fibre of the half pulls with σ_y: twice the force.",
             sp.Eq(full_force, 2 * force), lambda earlier: sigma * width * thickness / 2 / earlier[0].rhs * force),
        Step("But a block of stress acts at half of its height: three quarters of the lever.",
             sp.Eq(plastic_moment, sigma * width * thickness**2 / 4),
             lambda earlier: earlier[2].rhs.subs(force, earlier[0].rhs) * 2 * thickness / 4),
        Step("Twice the force on three quarters of the lever.",
             sp.Eq(plastic_moment, sp.Rational(3, 2) * yield_moment),
             lambda earlier: earlier[3].rhs / earlier[1].rhs * yield_moment)))


def wide_sheet() -> Derivation:
    """Return the derivation of how much stiffer and stronger a sheet is that cannot narrow."""
    return Derivation("why a wide sheet is stiffer and stronger", {
        strain: "strain along the bend [-]", across_strain: "strain along the rolls [-]",
        stress: "stress along the bend [MPa]", across: "stress along the rolls [MPa]", modulus: "elastic modulus [MPa]",
        poisson: "Poisson's ratio [-]", wide_modulus: "stiffness of a wide sheet [MPa]",
        deviator: "how far the stress along the rolls is from the mean of all three [MPa]",
        sigma: "yield strength [MPa]", wide_sigma: "yield of a wide sheet [MPa]",
    }, (
        Step("Elastic metal stretches with its stress, and narrows by ν of it.",
             sp.Eq(strain, (stress - poisson * across) / modulus)),
        Step("Along the rolls the same holds the other way round.",
             sp.Eq(across_strain, (across - poisson * stress) / modulus)),
        Step("A wide sheet cannot narrow, so that strain is zero: the metal beside it pulls across.",
             sp.Eq(across, poisson * stress), lambda earlier: sp.solve(earlier[1].rhs, across)[0]),
        Step("Stress over strain is the stiffness.", sp.Eq(wide_modulus, modulus / (1 - poisson**2)),
             lambda earlier: stress / earlier[0].rhs.subs(across, earlier[2].rhs)),
        Step("Once it flows, a direction gives way as its stress differs from the mean. (The third, through the "
             "thickness, is zero.)", sp.Eq(deviator, across - (stress + across) / 3)),
        Step("Along the rolls nothing may give way, so the difference is zero.",
             sp.Eq(across, stress / 2), lambda earlier: sp.solve(earlier[4].rhs, across)[0]),
        Step("Metal yields when the stresses together reach this (von Mises).",
             sp.Eq(sigma**2, stress**2 - stress * across + across**2)),
        Step("Put the stress across in, and look for the stress along the bend.",
             sp.Eq(wide_sigma, 2 * sigma / sp.sqrt(3)),
             lambda earlier: sp.solve(sp.Eq(earlier[6].rhs.subs(across, earlier[5].rhs), sigma**2), stress)[-1])))


def hardening() -> Derivation:
    """Return the derivation of the moment of a metal that hardens along a straight line."""

    def for_a_rectangle(earlier: Equations) -> sp.Expr:
        return (earlier[2].rhs.subs(perfect_moment, earlier[4].rhs)
                .subs(second_moment, sp.solve(earlier[3], second_moment)[0]))

    return Derivation("hardening adds its share of a spring", {
        stress: "stress in a fibre that has yielded [MPa]", sigma: "yield strength [MPa]",
        tangent: "slope past yield, as a share of the elastic slope E [-]", modulus: "elastic modulus [MPa]",
        height: "distance from mid-thickness [mm]", kappa: "curvature, 1/R [1/mm]",
        perfect_stress: "stress without hardening [MPa]", moment: "bending moment [N mm]",
        perfect_moment: "the moment without hardening [N mm]", second_moment: "second moment of area [mm⁴]",
        yield_moment: "moment at first yield [N mm]", ratio: "how far past yield, κ/κ_y [-]",
    }, (
        Step("Past yield the stress climbs on, on a gentler slope.",
             sp.Eq(stress, sigma + tangent * modulus * (height * kappa - sigma / modulus))),
        Step("That is a mixture: mostly a fibre that does not harden, σ_0, and a little of one that never yields. (In "
             "the core σ_0 is E y κ, and the mixture is E y κ too.)",
             sp.Eq(stress, (1 - tangent) * perfect_stress + tangent * modulus * height * kappa),
             lambda earlier: sp.expand(earlier[0].rhs).subs(sigma, perfect_stress)),
        Step("Add up stress × lever arm: the moments mix in the same way.",
             sp.Eq(moment, (1 - tangent) * perfect_moment + tangent * modulus * second_moment * kappa),
             lambda earlier: sp.expand(earlier[1].rhs * height).subs(perfect_stress * height, perfect_moment)
                             .subs(height**2, second_moment)),
        Step("First yield is still elastic, so the spring's moment is u times that of first yield.",
             sp.Eq(modulus * second_moment * kappa, ratio * yield_moment)),
        Step("Without hardening, a rectangle has this moment. (Lesson 04 adds up its core and its layers.)",
             sp.Eq(perfect_moment, yield_moment * (sp.Rational(3, 2) - 1 / (2 * ratio**2))),
             lambda earlier: rectangle_moment().result.rhs.subs(lesson_ratio, ratio)),
        Step("Both together.",
             sp.Eq(moment, yield_moment * ((1 - tangent) * (sp.Rational(3, 2) - 1 / (2 * ratio**2)) + tangent * ratio)),
             for_a_rectangle)))


ALL = (first_yield, half_as_much_again, wide_sheet, hardening)


def bending() -> Derivations:
    """Return the derivations of lesson 03."""
    return Derivations(ALL)
