"""The formulas of a cone on the machine, derived step by step."""

import sympy as sp

from ..engine.derivation import Derivation, Derivations, Step

radius, lean, path = sp.symbols("r alpha s", positive=True)
across, turning, curvature, bend = sp.symbols("x k kappa R_bend", positive=True)
large, small, wanted, rolled, missing = sp.symbols("R_l R_s R_wanted R_rolled m", positive=True)
large_diameter, small_diameter = sp.symbols("D d", positive=True)


def bend_of_a_cone() -> Derivation:
    """Return the derivation of the bend that a cone asks of the rolls."""
    return Derivation("the bend of a cone, square to its wall", {
        radius: "radius of the cone where you stand [mm]", lean: "how far the wall leans from the axis [rad]",
        path: "length walked round the cone [mm]", across: "place towards where you started, from the axis [mm]",
        turning: "curvature of the path in its own plane [1/mm]", curvature: "curvature square to the wall [1/mm]",
        bend: "radius of the bend that the rolls must make [mm]",
    }, (
        Step("Walk round the cone at one height. Your path is a circle.",
             sp.Eq(across, radius * sp.cos(path / radius))),
        Step("How fast it turns in, where you start.", sp.Eq(turning, 1 / radius),
             lambda earlier: -sp.diff(earlier[0].rhs, path, 2).subs(path, 0)),
        Step("The direction square to the wall leans out of the plane of that circle by α. Only the share cos α of "
             "the turning points that way.", sp.Eq(curvature, turning * sp.cos(lean))),
        Step("Both together: a cone is flatter than its circle.", sp.Eq(curvature, sp.cos(lean) / radius),
             lambda earlier: earlier[2].rhs.subs(turning, earlier[1].rhs)),
        Step("One over it is the radius that the rolls must make.", sp.Eq(bend, radius / sp.cos(lean)),
             lambda earlier: 1 / earlier[3].rhs)))


def waist_of_a_cone() -> Derivation:
    """Return the derivation of the waist that straight rolls give a cone."""
    return Derivation("difference over sum, squared", {
        large: "bend at the large end [mm]", small: "bend at the small end [mm]",
        wanted: "bend wanted half way up the wall [mm]", rolled: "bend that comes out there [mm]",
        missing: "share that is missing [-]", large_diameter: "large diameter [mm]",
        small_diameter: "small diameter [mm]",
    }, (
        Step("On a cone the radius changes evenly. Half way it is the mean of both ends.",
             sp.Eq(wanted, (large + small) / 2)),
        Step("Under a straight roll the curvature changes nearly evenly. Half way it is the mean of both ends.",
             sp.Eq(1 / rolled, (1 / large + 1 / small) / 2)),
        Step("So the radius that comes out is this.", sp.Eq(rolled, 2 * large * small / (large + small)),
             lambda earlier: sp.solve(earlier[1], rolled)[0]),
        Step("What is missing, as a share of what was wanted.",
             sp.Eq(missing, ((large - small) / (large + small)) ** 2),
             lambda earlier: 1 - earlier[2].rhs / earlier[0].rhs),
        Step("Both bends are diameters over 2 cos α, so it holds for diameters too: difference over sum, squared.",
             sp.Eq(missing, ((large_diameter - small_diameter) / (large_diameter + small_diameter)) ** 2),
             lambda earlier: earlier[3].rhs.subs({large: large_diameter / (2 * sp.cos(lean)),
                                                  small: small_diameter / (2 * sp.cos(lean))}))))


ALL = (bend_of_a_cone, waist_of_a_cone)


def cone_on_rolls() -> Derivations:
    """Return the derivations of lesson 09."""
    return Derivations(ALL)
