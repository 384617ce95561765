"""Why a plate's rating goes with width × thickness² × yield, and why a narrow strip bends the rolls harder."""

import sympy as sp

from ..engine.derivation import Derivation, Derivations, Step

moment, sigma, width, thickness, height = sp.symbols("M sigma w t y", positive=True)
rated_sigma, rated_width, rated_thickness, rated_moment = sp.symbols("sigma_r w_r t_r M_r", positive=True)
force, span, spread, place, narrow, full = sp.symbols("F L b x M_n M_f", positive=True)


def same_moment() -> Derivation:
    """Return the derivation of the thickness that asks of the machine what its rated sheet asks."""
    return Derivation("the same moment as the rated sheet", {
        moment: "moment that bends the stock right through [N mm]", sigma: "yield of the stock [MPa]",
        width: "width of the stock [mm]", thickness: "thickness of the stock [mm]",
        height: "height in the stock, from its middle [mm]", rated_moment: "the same moment for the rated sheet [N mm]",
        rated_sigma: "yield of the rated sheet [MPa]", rated_width: "width of the rated sheet [mm]",
        rated_thickness: "thickness of the rated sheet [mm]",
    }, (
        Step("Bent right through, every fibre pulls or pushes with the yield. A layer dy high has the force "
             "σ w dy and, to the middle, the lever y. Both halves of the stock do the same.",
             sp.Eq(moment, 2 * sp.Integral(sigma * width * height, (height, 0, thickness / 2)))),
        Step("Do the integral. The thickness comes in twice: once as metal, once as lever.",
             sp.Eq(moment, sigma * width * thickness**2 / 4), lambda earlier: earlier[0].rhs.doit()),
        Step("The rated sheet is a rectangle, too.",
             sp.Eq(rated_moment, rated_sigma * rated_width * rated_thickness**2 / 4),
             lambda earlier: earlier[1].rhs.subs({sigma: rated_sigma, width: rated_width, thickness: rated_thickness})),
        Step("Ask the same of the machine, M = M_r, and look for the thickness.",
             sp.Eq(thickness, rated_thickness * sp.sqrt(rated_width * rated_sigma / (width * sigma))),
             lambda earlier: sp.solve(sp.Eq(earlier[1].rhs, earlier[2].rhs), thickness)[0]),
        Step("In the same metal only the widths are left: a quarter of the width, twice the thickness.",
             sp.Eq(thickness, rated_thickness * sp.sqrt(rated_width / width)),
             lambda earlier: earlier[3].rhs.subs(sigma, rated_sigma))))


def strip_in_the_middle() -> Derivation:
    """Return the derivation of how much harder a narrow strip bends a roll than the same force spread out."""
    to_bearing = force / 2 * span / 2
    return Derivation("why a narrow strip bends the rolls harder", {
        moment: "moment in the middle of the roll [N mm]", force: "force of the stock on the roll [N]",
        span: "from bearing to bearing [mm]", spread: "width that the force is spread over, in the middle [mm]",
        place: "distance from the middle [mm]", narrow: "moment of a very narrow strip [N mm]",
        full: "moment of stock from bearing to bearing [N mm]",
    }, (
        Step("Each bearing holds half of the force, half a span away from the middle. The half of the stock on "
             "that side presses against it with F/b on each millimetre.",
             sp.Eq(moment, to_bearing - sp.Integral(force / spread * place, (place, 0, spread / 2)))),
        Step("Do the integral.", sp.Eq(moment, force * (2 * span - spread) / 8), lambda earlier: earlier[0].rhs.doit()),
        Step("All of it in one place:", sp.Eq(narrow, force * span / 4),
             lambda earlier: sp.limit(earlier[1].rhs, spread, 0)),
        Step("and spread from bearing to bearing:", sp.Eq(full, force * span / 8),
             lambda earlier: earlier[1].rhs.subs(spread, span)),
        Step("So the same force bends the roll twice as hard.", sp.Eq(narrow, 2 * full),
             lambda earlier: earlier[2].rhs.subs(force, sp.solve(sp.Eq(full, earlier[3].rhs), force)[0]))))


ALL = (same_moment, strip_in_the_middle)


def capacity() -> Derivations:
    """Return the derivations of lesson 01."""
    return Derivations(ALL)
