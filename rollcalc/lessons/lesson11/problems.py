"""The problems of lesson 11, measure your machine."""

import math
from dataclasses import replace

import rollcalc as rc

from ..engine.problem import Problem, Slip
from ..lesson02.problems import MACHINE, STEEL, body


def _angle(back: float, up: float) -> float:
    """Return the guide angle from two marks. [deg]"""
    return math.degrees(math.atan2(up, -back))


def comes_out(true_distance: float, radius: float, thickness: float) -> float:
    """Return the radius that the file's turns give where the guide distance is another. [mm]"""
    metal = rc.MATERIALS[STEEL]
    travel = rc.setting_for_radius(MACHINE, body(thickness), metal, radius).travel
    return float(rc.radius_for_travel(replace(MACHINE, guide_distance=true_distance), body(thickness), metal, travel))


PROBLEMS = (
    Problem("11.1",
        "You turn both screws of a machine {turns} times, always the same way. The bending roll comes {moved} mm "
        "along its guide. What is the screw pitch? Answer to 0.005 mm.",
        {"turns": 12, "moved": 19.1}, lambda turns, moved: moved / turns, "mm", 0.005, digits=3, slips=(
            Slip(lambda turns, moved: turns / moved, "these are turns for one mm; the pitch is mm for one turn."),
            Slip(lambda turns, moved: moved / 10, "this is for ten turns; here more were counted."),
            Slip(lambda turns, moved: moved, "this is for all the turns; the pitch is for one."))),
    Problem("11.2",
        "The middle of a bending roll is marked at touch and once more when it is up. The second mark is {back} mm "
        "further back, towards the front rolls, and {up} mm higher. What is the guide angle? Answer to 0.5 deg.",
        {"back": 9, "up": 31}, _angle, "deg", 0.5, slips=(
            Slip(lambda back, up: 180 - _angle(back, up),
                 "this is counted from the side of the front rolls; count from the other side of the sheet."),
            Slip(lambda back, up: _angle(back, up) - 90,
                 "this is how far it leans from upright; upright itself is 90."),
            Slip(lambda back, up: _angle(up, back), "the two readings have changed places."))),
    Problem("11.3",
        "The file of the bench roll says that the guide distance is 60 mm. In truth it is {true_distance} mm. A sheet "
        "{thickness} mm thick, 240 mm wide, of cold rolled low-carbon steel is rolled in one pass with the turns that "
        "the file gives for a radius of {radius} mm, pinched with 2500 N. Which radius comes out? Answer to 0.3 mm. "
        "And how would you notice?",
        {"true_distance": 59, "radius": 90.38, "thickness": 0.76}, comes_out, "mm", 0.3, slips=(
            Slip(lambda true_distance, radius, thickness: radius, "this is what the file promises."),
            Slip(lambda true_distance, radius, thickness: comes_out(120 - true_distance, radius, thickness),
                 "this is for a guide distance as much too large; the rolls stand closer here."),
            Slip(lambda true_distance, radius, thickness: radius * true_distance / 60,
                 "here the distance counts once; it counts twice, and springback adds to it."),
            Slip(lambda true_distance, radius, thickness: radius * (true_distance / 60) ** 2,
                 "this is the rule of thumb for a circle; the metal springs back from it, and the nip gives way."))),
)
