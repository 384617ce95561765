"""The sheet between the rolls, derived step by step: force, drive, the two-thirds rule, and the tilt of a nip.

SymPy works out again every line that can be, and tests hold the last lines against the numbers of `rollcalc.rolling`.
"""

import sympy as sp

from ..engine.derivation import Derivation, Derivations, Step, picked

kappa, kappa_0, kappa_r, kappa_c = sp.symbols("kappa kappa_0 kappa_r kappa_c", positive=True)
moment, top_moment, force, stiffness = sp.symbols("M M_0 F B", positive=True)
slope, end_slope, along, length = sp.symbols("theta theta_c s L", positive=True)
energy, loading, work, drive = sp.symbols("U U_in W F_d", positive=True)
rise, circle_rise = sp.symbols("h h_c", positive=True)
tilt, slack, apart, pinch, reach = sp.symbols("varphi e D N a", positive=True)

NAMES = {
    kappa: "curvature at a place on the sheet [1/mm]", kappa_0: "loaded curvature, in the nip [1/mm]",
    kappa_r: "released curvature [1/mm]", kappa_c: "curvature of the circle through the rolls [1/mm]",
    moment: "bending moment at a place [N mm]", top_moment: "bending moment in the nip [N mm]",
    force: "force of the bending roll, square to the sheet [N]", stiffness: "bending stiffness E′I [N mm²]",
    slope: "slope of the sheet at a place [rad]", end_slope: "slope where the sheet meets the bending roll [rad]",
    along: "length of sheet behind the nip [mm]", length: "length of sheet from nip to bending roll [mm]",
    energy: "area between the unloading line and the moment axis, ∫κ dM on the way out [N]",
    loading: "area between the loading curve and the moment axis, ∫κ dM on the way in [N]",
    work: "plastic work in a millimetre of sheet [N]", drive: "force along the sheet that the driven rolls supply [N]",
    rise: "how far the sheet has risen at the bending roll [mm]",
    circle_rise: "how far a circle would have risen there [mm]", tilt: "tilt of the sheet in the nip [rad]",
    slack: "slack: how much wider than the sheet the nip is [mm]",
    apart: "from axle to axle of the front rolls in a perfect nip [mm]", pinch: "pinch force [N]",
    reach: "how far apart the two contacts of the nip sit [mm]",
}


def bending_roll_force() -> Derivation:
    """Return the derivation of the bending roll's force from the complementary energy."""
    turned = sp.Function("theta")(along)
    falls = sp.Eq(sp.Symbol("dM/ds"), -force * sp.cos(end_slope - slope))
    bent = sp.Derivative(turned, along)
    both = sp.Eq(sp.Symbol(r"\kappa\,dM/ds"), -force * sp.cos(end_slope - turned) * bent)
    return Derivation("the force of the bending roll, from energy",
        {**picked(NAMES, moment, top_moment, kappa, kappa_0, kappa_r, stiffness, force, along, slope, end_slope,
                  energy),
         falls.lhs: "how fast the moment changes along the sheet [N]",
         both.lhs: "the same times the curvature [N/mm]"}, (
        Step("Behind the nip only the bending roll touches the sheet. A step ds along the sheet changes the lever "
             "arm of its force by cos(θ_c − θ) ds.", falls),
        Step("Multiply by the curvature, which is how fast the slope turns, κ = dθ/ds.", both,
             lambda earlier: earlier[0].rhs.subs(slope, turned) * bent),
        Step("Both sides are now changes of something: the right one of −F sin of what is left to turn. So add up "
             "from the nip, where the slope is 0 and the moment M_0, to the roll, where the moment is 0.",
             sp.Eq(energy, sp.Integral(force * sp.cos(end_slope - slope), (slope, 0, end_slope)))),
        Step("Do the integral: force times the sine of the slope.", sp.Eq(energy, force * sp.sin(end_slope)),
             lambda earlier: earlier[2].rhs.doit()),
        Step("The left side, U = ∫κ dM, needs only the way down: the sheet unloads on a straight line.",
             sp.Eq(kappa, kappa_r + moment / stiffness)),
        Step("Its area is", sp.Eq(energy, kappa_r * top_moment + top_moment**2 / (2 * stiffness)),
             lambda earlier: sp.integrate(earlier[4].rhs, (moment, 0, top_moment))),
        Step("or, with the loaded curvature κ_0 = κ_r + M_0/B,",
             sp.Eq(energy, kappa_0 * top_moment - top_moment**2 / (2 * stiffness)),
             lambda earlier: sp.expand(earlier[5].rhs.subs(kappa_r, kappa_0 - top_moment / stiffness))),
        Step("So the roll's force is known as soon as curvature and slope are.",
             sp.Eq(force, (kappa_0 * top_moment - top_moment**2 / (2 * stiffness)) / sp.sin(end_slope)),
             lambda earlier: sp.solve(sp.Eq(earlier[3].rhs, earlier[6].rhs), force)[0])))


def drive_is_plastic_work() -> Derivation:
    """Return the derivation that the drive equals the plastic work, the nip's own contacts included."""
    stored = sp.Symbol("A", positive=True)
    return Derivation("the drive is the plastic work",
                      {**picked(NAMES, energy, loading, kappa_0, top_moment, stiffness, drive, work),
                       stored: "area under the loading curve, ∫M dκ [N]"}, (
        Step("The bending roll pushes square to the sheet. Along the flat sheet that is F sin θ_c, against the "
             "feed: the energy of the derivation before this one.",
             sp.Eq(energy, kappa_0 * top_moment - top_moment**2 / (2 * stiffness)),
             lambda earlier: bending_roll_force().steps[6].equation.rhs),
        Step("A nip that holds a moment must have two contacts, a little apart. Between them the sheet loads. The "
             "same identity holds there: the lower roll pushes the sheet forward with U_in = ∫κ dM, however "
             "close the contacts are. The two areas beside and under the curve fill the rectangle κ_0 M_0.",
             sp.Eq(loading, kappa_0 * top_moment - stored)),
        Step("The driven rolls must supply what is missing.", sp.Eq(drive, energy - loading)),
        Step("Put both in.", sp.Eq(drive, stored - top_moment**2 / (2 * stiffness)),
             lambda earlier: sp.expand(earlier[2].rhs.subs(energy, earlier[0].rhs).subs(loading, earlier[1].rhs))),
        Step("Work put into a millimetre of sheet is the area under the loading curve. The springback part, "
             "M_0²/(2B), comes back on release. The rest is plastic work.",
             sp.Eq(work, stored - top_moment**2 / (2 * stiffness))),
        Step("It is the same: energy in equals energy spent.", sp.Eq(drive, work),
             lambda earlier: work + sp.simplify(earlier[3].rhs - earlier[4].rhs))))


def two_thirds_rule() -> Derivation:
    """Return the derivation of the two-thirds rule for small slopes."""
    return Derivation("the two-thirds rule",
        picked(NAMES, moment, top_moment, along, length, kappa, kappa_r, stiffness, rise, circle_rise, kappa_c), (
        Step("While slopes are small, the lever arm of the bending roll is simply the way left to it: the moment "
             "falls in a straight line.", sp.Eq(moment, top_moment * (1 - along / length))),
        Step("Unloading is elastic, so the curvature falls in a straight line too.",
             sp.Eq(kappa, kappa_r + top_moment / stiffness * (1 - along / length)),
             lambda earlier: kappa_r + earlier[0].rhs / stiffness),
        Step("Each bit of curvature lifts everything behind it: at the roll it counts with the way left.",
             sp.Eq(rise, sp.Integral(kappa * (length - along), (along, 0, length)))),
        Step("Put the straight line in.", sp.Eq(rise, length**2 / 2 * kappa_r + length**2 / 3 * top_moment / stiffness),
             lambda earlier: sp.integrate(sp.expand(earlier[1].rhs * (length - along)), (along, 0, length))),
        Step("A circle has one curvature all the way.", sp.Eq(circle_rise, length**2 / 2 * kappa_c),
             lambda earlier: sp.integrate(kappa_c * (length - along), (along, 0, length))),
        Step("The circle through the rolls rises as far as the sheet. So it holds what stays, and two thirds of "
             "what springs back.", sp.Eq(kappa_c, kappa_r + sp.Rational(2, 3) * top_moment / stiffness),
             lambda earlier: sp.expand(sp.solve(sp.Eq(earlier[4].rhs, earlier[3].rhs), kappa_c)[0]))))


def tilt_of_the_nip() -> Derivation:
    """Return the derivation of the sheet's tilt in a nip that has slack, or a pinch force."""
    return Derivation("how far the sheet tilts in the nip",
                      picked(NAMES, tilt, slack, apart, pinch, reach, top_moment), (
        Step("A straight sheet that touches both front rolls and leans by φ needs the axles further apart.",
             sp.Eq(apart + slack, apart / sp.cos(tilt))),
        Step("The slack is what it needs; for a small tilt, half the square of it.", sp.Eq(slack, apart * tilt**2 / 2),
             lambda earlier: sp.series(earlier[0].rhs - apart, tilt, 0, 4).removeO()),
        Step("Turned round: the first hundredth of a millimetre tilts most.", sp.Eq(tilt, sp.sqrt(2 * slack / apart)),
             lambda earlier: sp.solve(sp.Eq(slack, earlier[1].rhs), tilt)[-1]),
        Step("A nip that presses instead, and the sheet still straight: its two contacts sit apart by",
             sp.Eq(reach, apart * tilt)),
        Step("because each front roll touches where its own surface leans by φ. With that lever arm the pinch "
             "force must hold the moment.", sp.Eq(top_moment, pinch * reach)),
        Step("So a small pinch force and a large moment, that is a wide sheet, tilt it more. (The bend between the "
             "contacts adds up to a tenth.)", sp.Eq(tilt, top_moment / (pinch * apart)),
             lambda earlier: sp.solve(sp.Eq(top_moment, earlier[4].rhs.subs(reach, earlier[3].rhs)), tilt)[0])))


ALL = (two_thirds_rule, bending_roll_force, drive_is_plastic_work, tilt_of_the_nip)


def span() -> Derivations:
    """Return the derivations of lesson 05, in the order they are told."""
    return Derivations(ALL)
