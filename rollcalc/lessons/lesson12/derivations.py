"""What an error of the rise makes of a radius, derived step by step."""

import sympy as sp

from ..engine.derivation import Derivation, Step

radius, chord, rise, error = sp.symbols("R c h e", positive=True)
slope, share = sp.symbols("k q", real=True)


def misread_rise() -> Derivation:
    """Return the derivation of how much of a radius a misread rise makes, and why the chord counts twice."""
    return Derivation("why short chords fail", {
        radius: "radius that is measured [mm]", chord: "chord [mm]", rise: "rise over it [mm]",
        slope: "change of the radius for each mm of rise [-]", error: "how far the rise is misread [mm]",
        share: "change of the radius, as a share of it [-]",
    }, (
        Step("The radius from chord and rise, as in lesson 06.", sp.Eq(radius, chord**2 / (8 * rise) + rise / 2)),
        Step("How it changes with the rise is its slope: a larger rise is a smaller radius.",
             sp.Eq(slope, sp.Rational(1, 2) - chord**2 / (8 * rise**2)),
             lambda earlier: sp.diff(earlier[0].rhs, rise)),
        Step("While the rise is small against the chord, the last term of the first line hardly counts, and the rise "
             "is nearly this.", sp.Eq(rise, chord**2 / (8 * radius))),
        Step("Put it in.", sp.Eq(slope, sp.Rational(1, 2) - 8 * radius**2 / chord**2),
             lambda earlier: earlier[1].rhs.subs(rise, earlier[2].rhs)),
        Step("Slope times error, as a share of the radius. The chord is squared: half of it, and the share is four "
             "times as large.", sp.Eq(share, error / (2 * radius) - 8 * radius * error / chord**2),
             lambda earlier: sp.expand(earlier[3].rhs * error / radius))))


ALL = (misread_rise,)
