"""The problems of lesson 01, may it roll."""

from math import sqrt

import rollcalc as rc

from ..engine.problem import Problem, Slip
from ..lesson02.problems import MACHINE, STEEL

FULL, RATED = 760.0, 0.76
"""Width and thickness on the plate of the bench roll. [mm]"""


def _thickest(metal: str, width: float) -> float:
    """Return the thickness that asks for the moment of the rated sheet. [mm]"""
    found = rc.check_capacity(MACHINE, rc.Sheet(thickness=RATED, width=width), rc.MATERIALS[metal], 90)
    return RATED / sqrt(float(found["bending moment"].ratio))


def _yield(metal: str) -> float:
    """Return the nominal yield. [MPa]"""
    return float(rc.MATERIALS[metal].first_yield)


def _stress(width: float, force: float) -> float:
    """Return the stress in the lower front roll, which a strip in the middle presses on with this force. [MPa]"""
    return float(rc.rolling.roll_stress(MACHINE, rc.Sheet(thickness=1.0, width=width), force, roll="lower"))


PROBLEMS = (
    Problem("01.1",
        "The bench roll's plate says 0.76 mm over 760 mm. A strip of the same steel is {width} mm wide. How thick may "
        "it be by width times thickness squared alone? Answer to 0.02 mm.",
        {"width": 120}, lambda width: _thickest(STEEL, width), "mm", 0.02, digits=2, slips=(
            Slip(lambda width: RATED * FULL / width,
                 "this keeps width times thickness; the thickness counts twice, so take a root."),
            Slip(lambda width: RATED * sqrt(width / FULL),
                 "narrower stock may be thicker, not thinner: the other way round."),
            Slip(lambda width: RATED, "this is the plate's own sheet; yours is narrower."))),
    Problem("01.2",
        "Now sheet over the full 760 mm, but of {metal}. How thick may it be, by nominal yield alone? Answer to "
        "0.01 mm.",
        {"metal": "stainless 304, annealed"}, lambda metal: _thickest(metal, FULL), "mm", 0.01, digits=2, slips=(
            Slip(lambda metal: RATED * _yield(STEEL) / _yield(metal),
                 "this divides by the ratio of the yields; the thickness counts twice, so take a root."),
            Slip(lambda metal: RATED * sqrt(_yield(metal) / _yield(STEEL)),
                 "harder metal must be thinner, not thicker: the other way round."),
            Slip(lambda metal: RATED, "this is the plate's own steel; yours is harder."))),
    Problem("01.3",
        "A bar {width} mm wide lies in the middle of the bench roll, pinched with {force} N. Sheet over the full "
        "760 mm is pinched with the same force. How many times as hard does the bar strain the lower front roll? "
        "Answer to 0.03. And why not thirty times, as it is thirty times narrower?",
        {"width": 25, "force": 2500},
        lambda width, force: _stress(width, force) / _stress(FULL, force), "", 0.03, digits=2, slips=(
            Slip(lambda width, force: FULL / width,
                 "this compares the pressures; the roll feels force and lever, and the levers differ much less."),
            Slip(lambda width, force: _stress(FULL, force) / _stress(width, force),
                 "upside down: the bar strains the roll harder."),
            Slip(lambda width, force: 2.0,
                 "twice is for a point against the whole span; the bar has a width, and the sheet ends before the "
                 "bearings."))),
)
