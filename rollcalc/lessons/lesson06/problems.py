"""The problems of lesson 06, passes and the crank."""

import math

import rollcalc as rc

from ..engine.problem import Problem, Slip
from ..lesson02.problems import IDEAL, MACHINE, STEEL, body
from ..lesson05.problems import turns


def _dialled(metal: str, thickness: float, radius: float, number: int = -1,
             machine: rc.PinchMachine = MACHINE) -> float:
    """Return the turns of one pass of a plan, the last one if not said otherwise. [turns]"""
    return rc.pass_schedule(machine, body(thickness), rc.MATERIALS[metal], radius).passes[number].turns_left


PROBLEMS = (
    Problem("06.1",
        "The sheet is {thickness} mm {metal}, 240 mm wide, and shall have a radius of {radius} mm. The bench roll is "
        "pinched with 2500 N, and you dial whole eighths of a turn. What do the knobs read in the last of three "
        "passes? Answer to 0.02 turns.",
        {"metal": STEEL, "thickness": 0.76, "radius": 120}, _dialled, "turns", 0.02, digits=3, slips=(
            Slip(turns,
                 "a flat sheet would need this much; after two passes it is curved, and lies otherwise in the nip."),
            Slip(lambda metal, thickness, radius: math.floor(8 * turns(metal, thickness, radius)) / 8,
                 "this is for one pass from flat; after two passes the sheet is curved, and lies otherwise in the "
                 "nip."),
            Slip(lambda metal, thickness, radius: _dialled(metal, thickness, radius, machine=IDEAL),
                 "this is for a perfect nip, a teaching ideal."),
            Slip(lambda metal, thickness, radius: _dialled(metal, thickness, radius) * MACHINE.screw_pitch,
                 "this is the travel in mm; divide it by what one turn moves the roll, 1.5 mm."),
            Slip(lambda metal, thickness, radius: _dialled(metal, thickness, radius) + 0.125,
                 "this is one eighth further, and too tight: round down, since turning back does not open a ring."),
            Slip(lambda metal, thickness, radius: _dialled(metal, thickness, radius, 0),
                 "these are the turns of the first pass; the knobs go on from there."),
            Slip(lambda metal, thickness, radius:
                 _dialled(metal, thickness, radius) - _dialled(metal, thickness, radius, 1),
                 "this is how far you turn from the pass before; the knobs count from touch."),
            Slip(lambda metal, thickness, radius: _dialled(metal, thickness, 2 * radius),
                 "the diameter went in where a radius belongs."))),
    Problem("06.2",
        "A sheet {width} mm wide is fed {skew} degrees out of square and rolled to a full ring of radius {radius} mm. "
        "How far do the edges miss each other at the seam? Answer to 0.05 mm.",
        {"width": 240, "skew": 0.3, "radius": 90.38},
        lambda width, skew, radius: float(rc.rolling.seam_offset(radius, skew)), "mm", 0.05, digits=2, slips=(
            Slip(lambda width, skew, radius: math.pi * radius * math.tan(math.radians(skew)),
                 "this is half way round: once round the ring is π times the diameter."),
            Slip(lambda width, skew, radius: width * math.tan(math.radians(skew)),
                 "this is how far one corner lags at the nip; the seam comes after a whole way round."),
            Slip(lambda width, skew, radius: 2 * radius * math.tan(math.radians(skew)),
                 "this goes straight across the ring; the sheet goes round it."))),
    Problem("06.3",
        "The body is pinched with 2500 N. In one pass the metal asks {metal_force} N of the crank, and the bearings "
        "ask {bearing_force} N more. Now you take {passes} passes to the same radius. Add up the forces at the crank "
        "of all passes. Answer to 2 N. And why would anyone take passes, then?",
        {"metal_force": 9, "bearing_force": 26, "passes": 5},
        lambda metal_force, bearing_force, passes: metal_force + passes * bearing_force, "N", 2, digits=0, slips=(
            Slip(lambda metal_force, bearing_force, passes: passes * (metal_force + bearing_force),
                 "here the metal is paid in every pass; but each pass goes on from where the last one stopped."),
            Slip(lambda metal_force, bearing_force, passes: metal_force + bearing_force,
                 "the bearings turn again in every pass, and ask again."),
            Slip(lambda metal_force, bearing_force, passes: metal_force / passes + bearing_force,
                 "this is the force in one of the passes; the question asks for all of them together."))),
)
