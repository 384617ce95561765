"""The pattern of a cone, derived step by step."""

import sympy as sp

from ..engine.derivation import Derivation, Step

large, small, slant = sp.symbols("D d s", positive=True)
outer, inner, sector = sp.symbols("R r theta", positive=True)


def frustum_radii() -> Derivation:
    """Return the derivation of radii and angle of a frustum's pattern."""
    return Derivation("the pattern of a frustum", {
        large: "large diameter [mm]", small: "small diameter [mm]",
        slant: "slant, the length of the wall [mm]", outer: "outer radius of the pattern [mm]",
        inner: "inner radius of the pattern [mm]", sector: "angle of the pattern [rad]",
    }, (
        Step("Rolled up, the outer arc goes once around the large end.", sp.Eq(outer * sector, sp.pi * large)),
        Step("The inner arc goes once around the small end.", sp.Eq(inner * sector, sp.pi * small)),
        Step("The two arcs are one slant apart.", sp.Eq(outer - inner, slant)),
        Step("Three equations, three unknowns. The angle first.", sp.Eq(sector, sp.pi * (large - small) / slant),
             lambda earlier: sp.solve(earlier, [outer, inner, sector], dict=True)[0][sector]),
        Step("Then the outer radius.", sp.Eq(outer, slant * large / (large - small)),
             lambda earlier: sp.solve(earlier[:3], [outer, inner, sector], dict=True)[0][outer]),
        Step("And the inner radius.", sp.Eq(inner, slant * small / (large - small)),
             lambda earlier: sp.solve(earlier[:3], [outer, inner, sector], dict=True)[0][inner])))


cone = frustum_radii
"""The derivation of lesson 08, under the name the lesson calls it by."""
ALL = (frustum_radii,)
