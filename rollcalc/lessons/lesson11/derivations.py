"""Why the guide distance counts twice, derived step by step."""

import sympy as sp

from ..engine.derivation import Derivation, Step

circle, distance, roll, turns, pitch = sp.symbols("R g c n p", positive=True)
by_distance, by_pitch = sp.symbols("S_g S_p", real=True)


def what_a_reading_does() -> Derivation:
    """Return the derivation of how a radius grows with guide distance and screw pitch, in percent for one percent."""
    return Derivation("the guide distance counts twice, the pitch once", {
        circle: "radius of the circle through the rolls [mm]", distance: "guide distance [mm]",
        roll: "from the bending roll's centre to the middle of the sheet [mm]", turns: "turns of the screws [turns]",
        pitch: "screw pitch [mm]", by_distance: "percent of R for one percent of g [-]",
        by_pitch: "percent of R for one percent of p [-]",
    }, (
        Step("Lesson 02, with a roll that rises straight up: the circle touches the sheet's line at the nip, and the "
             "bending roll has come up by n p. Pythagoras:",
             sp.Eq((circle + roll) ** 2, distance**2 + (circle + roll - turns * pitch) ** 2)),
        Step("Multiply out; the squares of R drop out. Divide.",
             sp.Eq(circle, distance**2 / (2 * turns * pitch) + turns * pitch / 2 - roll),
             lambda earlier: sp.solve(earlier[0], circle)[0]),
        Step("How many percent does R change for one percent of g? That is its slope, times g over R.",
             sp.Eq(by_distance, distance**2 / (turns * pitch * circle)),
             lambda earlier: sp.diff(earlier[1].rhs, distance) * distance / circle),
        Step("Put in g squared from the second line. The guide distance counts twice, and a little more on a tight "
             "ring.", sp.Eq(by_distance, 2 + (2 * roll - turns * pitch) / circle),
             lambda earlier: earlier[2].rhs.subs(distance, sp.solve(earlier[1], distance)[0])),
        Step("The same for the pitch. It counts once, the other way: a coarser screw makes a tighter ring.",
             sp.Eq(by_pitch, -1 - (roll - turns * pitch) / circle),
             lambda earlier: (sp.diff(earlier[1].rhs, pitch) * pitch / circle).subs(
                 distance, sp.solve(earlier[1], distance)[0]))))


ALL = (what_a_reading_does,)
