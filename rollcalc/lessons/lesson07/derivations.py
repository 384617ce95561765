"""The formulas of blanks and cones, derived step by step."""

from __future__ import annotations

import sympy as sp

from ..engine.derivation import Derivation, Derivations, Step

inside, thickness, area = sp.symbols("r t A", positive=True)
length, mean = sp.symbols("l d_m", positive=True)
large, small, slant = sp.symbols("D d s", positive=True)
outer, inner, sector = sp.symbols("R r theta", positive=True)


def mean_diameter_rule() -> Derivation:
    """Return the derivation of the length of a ring from its mean diameter."""
    flat = sp.Eq(area, length * thickness)
    ring = sp.Eq(area, sp.pi * ((inside + thickness) ** 2 - inside**2))
    return Derivation(
        "why the mean diameter",
        {
            inside: "inside radius [mm]",
            thickness: "thickness of the sheet [mm]",
            area: "area of metal, seen from the side [mm²]",
            length: "length of the flat strip [mm]",
            mean: "mean diameter, inside diameter plus thickness [mm]",
        },
        (
            Step("Seen from the side, the flat strip shows its length times its thickness.", flat),
            Step("Rolls bend without pulling, so the thickness stays; the ring shows what lies between two circles.",
                 ring),
            Step("Metal keeps its volume and the sheet its width, so both areas are the same: solve for the length.",
                 sp.Eq(length, sp.pi * (2 * inside + thickness)),
                 lambda earlier: sp.expand(sp.solve(earlier[0].subs(area, earlier[1].rhs), length)[0])),
            Step("Inside diameter plus one thickness is the mean diameter, 2r + t. So the blank is π times that.",
                 sp.Eq(length, sp.pi * mean), lambda earlier: earlier[2].rhs.subs(inside, (mean - thickness) / 2)),
        ),
    )


def frustum_radii() -> Derivation:
    """Return the derivation of radii and angle of a frustum's pattern."""
    outside_arc = sp.Eq(outer * sector, sp.pi * large)
    inside_arc = sp.Eq(inner * sector, sp.pi * small)
    apart = sp.Eq(outer - inner, slant)
    return Derivation(
        "the pattern of a frustum",
        {
            large: "large diameter [mm]",
            small: "small diameter [mm]",
            slant: "slant, the length of the wall [mm]",
            outer: "outer radius of the pattern [mm]",
            inner: "inner radius of the pattern [mm]",
            sector: "angle of the pattern [rad]",
        },
        (
            Step("Rolled up, the outer arc goes once around the large end.", outside_arc),
            Step("The inner arc goes once around the small end.", inside_arc),
            Step("The two arcs are one slant apart.", apart),
            Step("Three equations, three unknowns. The angle first.", sp.Eq(sector, sp.pi * (large - small) / slant),
                 lambda earlier: sp.solve(earlier, [outer, inner, sector], dict=True)[0][sector]),
            Step("Then the outer radius.", sp.Eq(outer, slant * large / (large - small)),
                 lambda earlier: sp.solve(earlier[:3], [outer, inner, sector], dict=True)[0][outer]),
            Step("And the inner radius.", sp.Eq(inner, slant * small / (large - small)),
                 lambda earlier: sp.solve(earlier[:3], [outer, inner, sector], dict=True)[0][inner]),
        ),
    )


def blank() -> Derivations:
    """Return the derivation of lesson 07."""
    return Derivations((mean_diameter_rule(),))


def cone() -> Derivations:
    """Return the derivation of lesson 08."""
    return Derivations((frustum_radii(),))


ALL = (mean_diameter_rule, frustum_radii)
