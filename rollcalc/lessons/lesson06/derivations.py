"""Why passes share the work out and save nothing, derived step by step."""

import sympy as sp

from ..engine.derivation import Derivation, Step

work = sp.Function("W")
count, number = sp.symbols("n k", integer=True, positive=True)
drive, together, total, share = sp.symbols("T_k T_all W S", positive=True)
force, most, roll, crank, gears, friction = sp.symbols("F F_all D r i F_b", positive=True)


def passes_share_the_work() -> Derivation:
    """Return the derivation of the crank's force over all passes, for the metal and with the bearings."""
    added = sp.Sum(work(number) - work(number - 1), (number, 1, count))
    metal = total * roll / (2 * crank * gears)
    return Derivation("passes share the work out, and save none", {
        drive: "force along the sheet in pass k, which is also the work in each mm of it [N]",
        together: "the same force, all passes added up [N]",
        work(number): "plastic work in a mm of sheet when pass k is done [N]",
        work(number - 1): "the same before pass k [N]", work(count): "the same after the last pass [N]",
        work(0): "the same in a flat sheet, which is none [N]", number: "which pass [-]",
        count: "how many passes [-]", total: "plastic work in a mm of the finished ring [N]",
        share: "a whole share of it [N]", force: "force at the crank for the metal alone [N]",
        most: "forces at the crank of all passes, added up, with the bearings [N]",
        friction: "force at the crank that the bearings take in a pass [N]", roll: "diameter of the driven rolls [mm]",
        crank: "radius of the crank [mm]", gears: "turns of the crank for one of the rolls [-]",
    }, (
        Step("Lesson 05: the driven rolls supply the work that stays in the metal. Metal that has been bent before "
             "goes on from where it was, so a pass supplies only what is new.",
             sp.Eq(drive, work(number) - work(number - 1))),
        Step("Add up all passes. What one leaves is where the next begins, so it drops out: only the end and the "
             "beginning are left. How many steps lie between does not matter.",
             sp.Eq(together, work(count) - work(0)), lambda earlier: added.doit()),
        Step("A flat sheet holds no work.", sp.Eq(together, total),
             lambda earlier: earlier[1].rhs.subs({work(0): 0, work(count): total})),
        Step("Share it out: equal shares, and a last one half as large, to come near the radius gently.",
             sp.Eq(total, (count - 1) * share + share / 2)),
        Step("So a share is", sp.Eq(share, total / (count - sp.Rational(1, 2))),
             lambda earlier: sp.solve(earlier[3], share)[0]),
        Step("While the rolls turn once, the hand goes once round the crank for every turn of the gears. It puts "
             "in what the sheet takes on that way.", sp.Eq(force * 2 * sp.pi * crank * gears, drive * sp.pi * roll)),
        Step("That is the force at the crank for the metal.", sp.Eq(force, drive * roll / (2 * crank * gears)),
             lambda earlier: sp.solve(earlier[5], force)[0]),
        Step("All passes together. The metal asks the same whatever their number. The bearings ask again in each.",
             sp.Eq(most, metal + count * friction), lambda earlier: earlier[6].rhs.subs(drive, earlier[2].rhs)
             + sp.summation(friction, (number, 1, count)))))


ALL = (passes_share_the_work,)
