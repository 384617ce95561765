"""The circle through the rolls, derived step by step for both kinds of machine.

SymPy works out again every line that can be, and a test holds the last lines against `rollcalc.rolling`.
"""

import sympy as sp

from ..engine.derivation import Derivation, Derivations, Step, picked

circle, roll, travel, distance, spacing, middle = sp.symbols("R c T g a b", positive=True)
guide_angle = sp.Symbol("alpha", positive=True)
along, up = sp.symbols("x y", real=True)

NAMES = {
    circle: "radius of the circle, to mid-thickness [mm]",
    roll: "radius of the roll that sets the curve, and half the thickness [mm]", travel: "travel, from touch [mm]",
    distance: "how far behind the nip the bending roll's centre is at touch [mm]",
    guide_angle: "angle of the guide; 90 degrees is straight up [rad]",
    along: "how far behind the nip the bending roll's centre is now [mm]",
    up: "how high above the sheet line it is; negative below [mm]",
    middle: "half of what the two travels that fit the circle add up to [mm]",
    spacing: "from axle to axle of the bottom rolls [mm]",
}


def tangent_circle() -> Derivation:
    """Return the derivation of the circle that touches the sheet in the nip and the bending roll."""
    return Derivation("the circle through the nip and the bending roll",
                      picked(NAMES, circle, roll, along, up, travel, distance, guide_angle), (
        Step("The sheet lies level in the nip, so the centre of its circle is straight above, R high. The circle "
             "and the roll touch from outside, so their centres are R + c apart. Pythagoras:",
             sp.Eq((circle + roll) ** 2, along**2 + (circle - up) ** 2)),
        Step("Multiply out. R² stands on both sides and drops out; gather what is left.",
             sp.Eq(2 * circle * (up + roll), along**2 + up**2 - roll**2),
             lambda earlier: sp.expand(earlier[0].rhs - earlier[0].lhs + 2 * circle * (up + roll))),
        Step("Divide.", sp.Eq(circle, (along**2 + up**2 - roll**2) / (2 * (up + roll))),
             lambda earlier: sp.solve(earlier[1], circle)[0]),
        Step("At touch the roll's centre is g behind the nip. From there it moves along the guide:",
             sp.Eq(along, distance + travel * sp.cos(guide_angle))),
        Step("and it starts c below the sheet line.", sp.Eq(up, travel * sp.sin(guide_angle) - roll)),
        Step("Put both places in.",
             sp.Eq(circle, (distance**2 + travel**2) / (2 * travel * sp.sin(guide_angle))
                   + distance * sp.cos(guide_angle) / sp.sin(guide_angle) - roll),
             lambda earlier: earlier[2].rhs.subs({along: earlier[3].rhs, up: earlier[4].rhs})),
        Step("Near touch only the first part counts: twice the turns, half the radius.",
             sp.Eq(sp.Limit(circle * travel, travel, 0), distance**2 / (2 * sp.sin(guide_angle)), evaluate=False),
             lambda earlier: sp.limit(sp.expand(earlier[5].rhs * travel), travel, 0))))


def travel_for_a_circle() -> Derivation:
    """Return the derivation of the travel for a wanted circle."""
    sine, cosine = sp.sin(guide_angle), sp.cos(guide_angle)
    return Derivation("the travel for a circle", picked(NAMES, circle, roll, travel, distance, guide_angle, middle), (
        Step("The radius for a travel (the derivation before this one).", tangent_circle().steps[5].equation),
        Step("Call this b:", sp.Eq(middle, (circle + roll) * sine - distance * cosine)),
        Step("Multiply the first line by 2 T sin α. It becomes a square equation for the travel.",
             sp.Eq(2 * middle * travel, travel**2 + distance**2),
             lambda earlier: sp.expand(2 * travel * sine * (earlier[0].rhs + roll - distance * cosine / sine))),
        Step("Two travels fit; the smaller one comes first on the way up.",
             sp.Eq(travel, middle - sp.sqrt(middle**2 - distance**2)),
             lambda earlier: _smaller(sp.solve(earlier[2], travel), {middle: 5, distance: 3}))))


def pyramid_circle() -> Derivation:
    """Return the derivation of the circle that touches all three rolls of a pyramid machine."""
    return Derivation("the circle through the three rolls of a pyramid machine",
                      picked(NAMES, circle, roll, travel, spacing), (
        Step("The top roll has come down by T, and the circle's lowest point with it. The bottom rolls' centres "
             "lie a/2 to either side and c below the line where the sheet was flat; the circle touches them from "
             "above. Pythagoras:", sp.Eq((circle + roll) ** 2, spacing**2 / 4 + (circle - travel + roll) ** 2)),
        Step("Multiply out; the squares of R drop out again. Divide.",
             sp.Eq(circle, spacing**2 / (8 * travel) + travel / 2 - roll),
             lambda earlier: sp.solve(earlier[0], circle)[0]),
        Step("Or the other way round, for the travel; the smaller of two.",
             sp.Eq(travel, (circle + roll) - sp.sqrt((circle + roll) ** 2 - spacing**2 / 4)),
             lambda earlier: _smaller(sp.solve(earlier[0], travel), {circle: 5, roll: 1, spacing: 3}))))


def _smaller(roots: list[sp.Expr], example: dict[sp.Symbol, int]) -> sp.Expr:
    """Return the root that is smaller at an example, and so everywhere: they differ in the sign of a square root."""
    return min(roots, key=lambda root: root.subs(example))


ALL = (tangent_circle, travel_for_a_circle, pyramid_circle)


def circle_through_the_rolls() -> Derivations:
    """Return the derivations of lesson 02, in the order they build on each other."""
    return Derivations(ALL)
