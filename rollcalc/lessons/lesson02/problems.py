"""The problems of lesson 02, three rolls and one circle."""

from dataclasses import replace

import rollcalc as rc

from ..engine.problem import Problem, Slip

STEEL = "low-carbon steel, cold rolled"
MACHINE = rc.DEMO_MACHINE
IDEAL = MACHINE.with_perfect_nip()
UPRIGHT = replace(MACHINE, guide_angle_degrees=90)


def body(thickness: float) -> rc.Sheet:
    """Return a sheet of this thickness, as wide as the lantern's body."""
    return rc.Sheet(thickness=thickness, width=240)


def _circle(turns: float, thickness: float, machine: rc.PinchMachine = MACHINE) -> float:
    """Return the radius of the circle after turns of the screws. [mm]"""
    return float(rc.circle_radius(machine, body(thickness), turns * machine.screw_pitch))


def circle_turns(radius: float, thickness: float, machine: rc.PinchMachine = MACHINE) -> float:
    """Return the turns of the screws for a circle. [turns]"""
    return float(rc.circle_travel(machine, body(thickness), radius)) / machine.screw_pitch


def _comes_out(metal: str, thickness: float, turns: float) -> float:
    """Return the radius of the sheet that comes out. [mm]"""
    return float(rc.radius_for_travel(IDEAL, body(thickness), rc.MATERIALS[metal], turns * MACHINE.screw_pitch))


def _against_springback(metal: str, thickness: float, turns: float) -> float:
    """Return how much larger the circle would be, sprung back. [%]"""
    circle = _circle(turns, thickness)
    return 100 * (float(rc.released_radius(body(thickness), rc.MATERIALS[metal], circle)) / circle - 1)


PROBLEMS = (
    Problem("02.1",
        "The screws of the bench roll stand at {turns} turns from touch; the sheet is {thickness} mm thick. Which "
        "radius has the circle through the rolls, to mid-thickness? Answer to 0.2 mm.",
        {"turns": 12, "thickness": 0.76}, _circle, "mm", 0.2, slips=(
            Slip(lambda turns, thickness: float(rc.circle_radius(MACHINE, body(thickness), turns)),
                 "the turns went in as millimetres: one turn is 1.5 mm of travel."),
            Slip(lambda turns, thickness: _circle(turns, thickness, UPRIGHT),
                 "this is for a roll that rises straight up: the guide leans back."),
            Slip(lambda turns, thickness: _circle(turns, thickness) - thickness / 2,
                 "this is measured to the inside; the answer is to mid-thickness."))),
    Problem("02.2",
        "The lantern's collar is {thickness} mm thick and {inside_diameter} mm across inside. How many turns from "
        "touch make a circle of that size through the rolls of the bench roll? Answer to 0.1 turns.",
        {"inside_diameter": 75, "thickness": 0.6},
        lambda inside_diameter, thickness: circle_turns((inside_diameter + thickness) / 2, thickness),
        "turns", 0.1, digits=2, slips=(
            Slip(lambda inside_diameter, thickness: circle_turns(inside_diameter + thickness, thickness),
                 "the diameter went in where a radius belongs."),
            Slip(lambda inside_diameter, thickness:
                 MACHINE.screw_pitch * circle_turns((inside_diameter + thickness) / 2, thickness),
                 "this is the travel in millimetres: divide by the pitch of the screw."),
            Slip(lambda inside_diameter, thickness: circle_turns((inside_diameter + thickness) / 2, thickness, UPRIGHT),
                 "this is for a roll that rises straight up: the guide leans back."))),
    Problem("02.3",
        "{thickness} mm {metal}, 240 mm wide, with the yield of the table, is rolled at {turns} turns of the bench "
        "roll's screws, in a perfect nip. By how many per cent is the radius that comes out larger than the circle "
        "through the rolls? Take rc.radius_for_travel for what comes out, with machine.with_perfect_nip(). Answer to "
        "0.5 %.",
        {"metal": STEEL, "thickness": 0.76, "turns": 6},
        lambda metal, thickness, turns: 100 * (_comes_out(metal, thickness, turns) / _circle(turns, thickness) - 1),
        "%", 0.5, slips=(
            Slip(_against_springback, "this is the circle sprung back: the sheet is not held to that circle."),
            Slip(lambda metal, thickness, turns:
                 100 * (1 - _circle(turns, thickness) / _comes_out(metal, thickness, turns)),
                 "this is a share of what comes out; the question asks for a share of the circle."),
            Slip(lambda metal, thickness, turns: 100 * _comes_out(metal, thickness, turns) / _circle(turns, thickness),
                 "this is the whole of it; take away the 100 % of the circle itself."),
            Slip(lambda metal, thickness, turns: _comes_out(metal, thickness, turns) - _circle(turns, thickness),
                 "this is the difference in millimetres."))),
)
