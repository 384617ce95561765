"""The length of a blank, derived step by step."""

import sympy as sp

from ..engine.derivation import Derivation, Step

inside, thickness, area = sp.symbols("r t A", positive=True)
length, mean = sp.symbols("l d_m", positive=True)


def blank() -> Derivation:
    """Return the derivation of the length of a ring from its mean diameter."""
    return Derivation("why the mean diameter", {
        inside: "inside radius [mm]", thickness: "thickness of the sheet [mm]",
        area: "area of metal, seen from the side [mm²]", length: "length of the flat strip [mm]",
        mean: "mean diameter, inside diameter plus thickness [mm]",
    }, (
        Step("Seen from the side, the flat strip shows its length times its thickness.",
             sp.Eq(area, length * thickness)),
        Step("Rolls bend without pulling, so the thickness stays; the ring shows what lies between two circles.",
             sp.Eq(area, sp.pi * ((inside + thickness) ** 2 - inside**2))),
        Step("Metal keeps its volume and the sheet its width, so both areas are the same: solve for the length.",
             sp.Eq(length, sp.pi * (2 * inside + thickness)),
             lambda earlier: sp.expand(sp.solve(earlier[0].subs(area, earlier[1].rhs), length)[0])),
        Step("Inside diameter plus one thickness is the mean diameter, 2r + t. So the blank is π times that.",
             sp.Eq(length, sp.pi * mean), lambda earlier: earlier[2].rhs.subs(inside, (mean - thickness) / 2))))


ALL = (blank,)
