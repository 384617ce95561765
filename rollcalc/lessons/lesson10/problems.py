"""The problems of lesson 10, bars in grooves and flat bars."""

import math

import rollcalc as rc

from ..engine.problem import Problem, Slip
from ..lesson02.problems import IDEAL, MACHINE

METAL = "mild steel bar, hot rolled"


def _turns(metal: str, diameter: float, radius: float, machine: rc.PinchMachine = MACHINE) -> float:
    """Return the turns of the screws for a radius to the middle of a round bar, in its groove. [turns]"""
    return float(rc.setting_for_radius(machine, rc.RoundBar(diameter), rc.MATERIALS[metal], radius).turns)


def _moment_over_flat(width: float, thickness: float) -> float:
    """Return the full plastic moment of a flat bar on edge, over the same lying flat. [-]"""
    steel = rc.MATERIALS[METAL]
    edge, flat = rc.FlatBar(thickness=width, width=thickness), rc.FlatBar(thickness=thickness, width=width)
    return float(rc.plastic_moment(edge, steel)) / float(rc.plastic_moment(flat, steel))


PROBLEMS = (
    Problem("10.1",
        "The hanging ring is to be made of {diameter} mm round bar ({metal}), still {inside} mm inside. The bar lies "
        "in its groove on the bench roll, pinched with 2500 N. How many turns of the screws, from touch? Answer to "
        "0.03 turns.",
        {"metal": METAL, "diameter": 5, "inside": 90},
        lambda metal, diameter, inside: _turns(metal, diameter, (inside + diameter) / 2),
        "turns", 0.03, digits=2, slips=(
            Slip(lambda metal, diameter, inside: _turns(metal, diameter, (inside + diameter) / 2, IDEAL),
                 "this is for a perfect nip, a teaching ideal; this one tilts the bar and gives way."),
            Slip(lambda metal, diameter, inside: _turns(metal, diameter, inside / 2),
                 "this radius goes to the inside; the library counts to the middle of the bar."),
            Slip(lambda metal, diameter, inside: _turns(metal, diameter, inside / 2 + diameter),
                 "this radius goes to the outside; the library counts to the middle of the bar."),
            Slip(lambda metal, diameter, inside: _turns(metal, diameter, inside + diameter),
                 "the diameter went in where a radius belongs."))),
    Problem("10.2",
        "Two rings of {diameter} mm round bar, {inside} mm inside, are sawn from a spiral of {rounds} turns. How much "
        "bar does the spiral take? Answer to 1 mm.",
        {"diameter": 5, "inside": 70, "rounds": 2.5},
        lambda diameter, inside, rounds: rounds * math.pi * (inside + diameter), "mm", 1, digits=0, slips=(
            Slip(lambda diameter, inside, rounds: rounds * math.pi * inside,
                 "this goes round on the inside; take the middle of the bar."),
            Slip(lambda diameter, inside, rounds: rounds * math.pi * (inside + 2 * diameter),
                 "this goes round on the outside; take the middle of the bar."),
            Slip(lambda diameter, inside, rounds: math.floor(rounds) * math.pi * (inside + diameter),
                 "these are the rings alone; the half turn is what falls away."))),
    Problem("10.3",
        "A flat bar is {width} mm wide and {thickness} mm thick. How many times as large is its full "
        "plastic moment on edge as lying flat? Answer to 0.1. And how many times as stiff is it? Why more?",
        {"width": 20, "thickness": 4}, _moment_over_flat, "", 0.1, slips=(
            Slip(lambda width, thickness: (width / thickness) ** 2,
                 "this is how much stiffer it is; the moment counts the lever once, not twice."),
            Slip(lambda width, thickness: thickness / width,
                 "this is lying flat against on edge: turn the fraction over."),
            Slip(lambda width, thickness: (width / thickness) ** 3,
                 "deeper counts twice or three times, but the bar on edge is narrower, too."))),
)
