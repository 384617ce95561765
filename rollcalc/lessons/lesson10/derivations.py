"""Why a round bar springs back more than a square one, and what a bar on edge asks for."""

import sympy as sp

from ..engine.derivation import Derivation, Step

sigma, modulus, depth, height, angle = sp.symbols("sigma E d y phi", positive=True)
square_moment, round_moment, first_moment = sp.symbols("M_s M_o M_y", positive=True)
square_second, round_second = sp.symbols("I_s I_o", positive=True)
square_back, round_back = sp.symbols("K_s K_o", positive=True)
width, thickness, flat_moment, edge_moment = sp.symbols("w t M_f M_e", positive=True)
flat_second, edge_second = sp.symbols("I_f I_e", positive=True)


def _round_second_moment() -> sp.Expr:
    """Return the second moment of area of a round bar, stepped in the angle φ of y = d/2 sin φ."""
    high, half_breadth = depth / 2 * sp.sin(angle), depth / 2 * sp.cos(angle)
    return 2 * sp.integrate(high**2 * 2 * half_breadth**2, (angle, 0, sp.pi / 2))


def round_against_square() -> Derivation:
    """Return the derivation of how much more a round bar springs back than a square one of the same depth."""
    breadth = sp.sqrt(depth**2 - 4 * height**2)
    return Derivation("a round bar springs back more than a square one", {
        depth: "depth of both bars: side of the square, diameter of the round [mm]",
        height: "height in the bar, from its middle [mm]", sigma: "yield of the metal [MPa]",
        modulus: "elastic modulus of the metal [MPa]",
        square_moment: "moment that bends the square bar right through [N mm]",
        round_moment: "moment that bends the round bar right through [N mm]",
        first_moment: "moment at which the round bar's outermost fibre first yields [N mm]",
        square_second: "second moment of area of the square bar [mm⁴]",
        round_second: "second moment of area of the round bar [mm⁴]",
        square_back: "curvature that the square bar loses when it is let go [1/mm]",
        round_back: "curvature that the round bar loses when it is let go [1/mm]",
    }, (
        Step("Bent right through, every fibre pulls or pushes with the yield, on the lever y. The square bar has "
             "the same breadth everywhere.", sp.Eq(square_moment, sigma * depth**3 / 4),
             lambda earlier: 2 * sp.integrate(sigma * depth * height, (height, 0, depth / 2))),
        Step("The round bar gets narrower towards the outside, where the levers are long.",
             sp.Eq(round_moment, 2 * sp.Integral(sigma * breadth * height, (height, 0, depth / 2)))),
        Step("Do the integral. Two thirds of the square's moment are left.",
             sp.Eq(round_moment, sigma * depth**3 / 6), lambda earlier: earlier[1].rhs.doit()),
        Step("Stiffness counts the lever twice, once for the stretch and once for the moment. First the square.",
             sp.Eq(square_second, depth**4 / 12),
             lambda earlier: 2 * sp.integrate(depth * height**2, (height, 0, depth / 2))),
        Step("Then the round: only 59 % of it is left. The corners that are gone had the longest levers.",
             sp.Eq(round_second, sp.pi * depth**4 / 64), lambda earlier: _round_second_moment()),
        Step("At first yield only the outermost fibre, at d/2, has the yield.",
             sp.Eq(first_moment, 2 * sigma * round_second / depth)),
        Step("So from first yield to right through the moment of a round bar grows by 70 %. A square or a flat bar "
             "has 3/2, that is 50 %.", sp.Eq(round_moment / first_moment, 16 / (3 * sp.pi)),
             lambda earlier: earlier[2].rhs / earlier[5].rhs.subs(round_second, earlier[4].rhs)),
        Step("Let go, each bar loses moment over stiffness. The square bar:",
             sp.Eq(square_back, 3 * sigma / (modulus * depth)),
             lambda earlier: earlier[0].rhs / (modulus * earlier[3].rhs)),
        Step("The round bar:", sp.Eq(round_back, 32 * sigma / (3 * sp.pi * modulus * depth)),
             lambda earlier: earlier[2].rhs / (modulus * earlier[4].rhs)),
        Step("Depth, yield and modulus drop out. The round bar springs back 13 % more.",
             sp.Eq(round_back / square_back, 32 / (9 * sp.pi)),
             lambda earlier: sp.simplify(earlier[8].rhs / earlier[7].rhs))))


def edge_against_flat() -> Derivation:
    """Return the derivation of what a flat bar asks for when it is stood on edge."""
    return Derivation("a flat bar on edge", {
        width: "width of the bar, the long side [mm]", thickness: "thickness of the bar, the short side [mm]",
        sigma: "yield of the metal [MPa]", height: "height in the bar, from its middle [mm]",
        flat_moment: "moment that bends it right through, lying flat [N mm]",
        edge_moment: "the same, standing on edge [N mm]", flat_second: "second moment of area, lying flat [mm⁴]",
        edge_second: "second moment of area, standing on edge [mm⁴]",
    }, (
        Step("Lying flat, the bar is w broad and t deep. Each layer has the yield, and the lever y.",
             sp.Eq(flat_moment, 2 * sp.Integral(sigma * width * height, (height, 0, thickness / 2)))),
        Step("Do the integral.", sp.Eq(flat_moment, sigma * width * thickness**2 / 4),
             lambda earlier: earlier[0].rhs.doit()),
        Step("On edge the two change places.", sp.Eq(edge_moment, sigma * thickness * width**2 / 4),
             lambda earlier: earlier[1].rhs.subs({width: thickness, thickness: width}, simultaneous=True)),
        Step("So it takes as many times the moment as the bar is wider than thick.",
             sp.Eq(edge_moment / flat_moment, width / thickness), lambda earlier: earlier[2].rhs / earlier[1].rhs),
        Step("Stiffness counts the lever twice.", sp.Eq(flat_second, width * thickness**3 / 12),
             lambda earlier: 2 * sp.integrate(width * height**2, (height, 0, thickness / 2))),
        Step("Change places again, and divide: the square of it.",
             sp.Eq(edge_second / flat_second, width**2 / thickness**2),
             lambda earlier: earlier[4].rhs.subs({width: thickness, thickness: width}, simultaneous=True)
             / earlier[4].rhs)))


ALL = (round_against_square, edge_against_flat)
