"""The problems of lesson 08, the pattern of a cone."""

import math

import rollcalc as rc
from rollcalc.layout.bench import stepped_arc_error

from ..engine.problem import Problem, Slip


def _angle(large: float, small: float, height: float) -> float:
    """Return the angle of the pattern. [deg]"""
    return math.degrees(rc.frustum_pattern(large, small, height).sector_angle)


def _outer(large: float, small: float, height: float) -> float:
    """Return the outer radius of the pattern. [mm]"""
    return rc.frustum_pattern(large, small, height).outer_radius


def _mean_gap(diameter: float, slant: float, steps: int) -> float:
    """Return how much shorter the chords of the large arc of a full cone's pattern are than the arc. [mm]"""
    radius, angle = slant, math.pi * diameter / slant
    return math.pi * diameter - steps * 2 * radius * math.sin(angle / steps / 2)


PROBLEMS = (
    Problem("08.1",
        "Make the roof steeper: {large} mm and {small} mm across its ends, to mid-thickness, but {height} mm high. How "
        "wide is the pattern's angle? Answer to 0.5 deg.",
        {"large": 220, "small": 60, "height": 120}, _angle, "deg", 0.5, slips=(
            Slip(lambda large, small, height: math.degrees(math.pi * (large - small) / height),
                 "the height went in where the slant belongs: measure along the wall."),
            Slip(lambda large, small, height:
                 math.degrees(math.pi * (large - small) / math.hypot(height, large - small)),
                 "the wall leans by half the difference of the diameters, not by all of it."),
            Slip(lambda large, small, height: 360 - _angle(large, small, height),
                 "this is the piece that is left over."))),
    Problem("08.2",
        "The skirt is {large} mm and {small} mm across its ends, to mid-thickness, and {height} mm high. What is the "
        "outer radius of its pattern? Answer to 0.5 mm.",
        {"large": 220, "small": 160, "height": 100}, _outer, "mm", 0.5, slips=(
            Slip(lambda large, small, height: rc.frustum_pattern(large, small, height).inner_radius,
                 "this is the inner radius; the outer one is a slant larger."),
            Slip(lambda large, small, height: height * large / (large - small),
                 "the height went in where the slant belongs: measure along the wall."),
            Slip(lambda large, small, height: _outer(large, small, height) * 2,
                 "this is a diameter: compasses want the radius."))),
    Problem("08.3",
        "A full cone is {diameter} mm across its end, with a slant of {slant} mm. On its pattern you divide the outer "
        "arc into {steps} equal parts. How much shorter are the {steps} straight chords together than the arc? Answer "
        "to 0.1 mm.",
        {"diameter": 200, "slant": 300, "steps": 12}, _mean_gap, "mm", 0.1, digits=2, slips=(
            Slip(lambda diameter, slant, steps: math.pi * diameter - steps * diameter * math.sin(math.pi / steps),
                 "these are chords of the cone's end; on the flat pattern the arc is much flatter."),
            Slip(lambda diameter, slant, steps:
                 -math.pi * diameter * stepped_arc_error(rc.frustum_pattern(diameter, 0, slant=slant), steps),
                 "the dividers were set on the cone's end; set them on the pattern's own arc."),
            Slip(lambda diameter, slant, steps: _mean_gap(diameter, slant, steps) / steps,
                 "this is the error of one step; they add up."))),
)
