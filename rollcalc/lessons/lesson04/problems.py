"""The problems of lesson 04, springback."""

import rollcalc as rc

from ..engine.problem import Problem, Slip
from ..lesson02.problems import STEEL, body


def _opened(metal: str, thickness: float, radius: float, bar: rc.FlatBar | None = None) -> float:
    """Return the radius that stays when the sheet, or a bar instead, was held at a radius. [mm]"""
    return float(rc.released_radius(bar or body(thickness), rc.MATERIALS[metal], radius))


def _to_hold(metal: str, thickness: float, radius: float) -> float:
    """Return the radius to hold, so that a radius stays. [mm]"""
    return float(rc.loaded_radius(body(thickness), rc.MATERIALS[metal], radius))


def _spread(metal: str, thickness: float, radius: float, start: str = "low") -> float:
    """Return how far the strong end of the springback band lies above its weak end, or its middle. [mm]"""
    band = rc.springback_band(body(thickness), rc.MATERIALS[metal], radius)
    return float(band.high) - float(getattr(band, start))


PROBLEMS = (
    Problem("04.1",
        "The sheet is {thickness} mm {metal}, with the yield of the table. The rolls hold it at a radius of "
        "{radius} mm, to mid-thickness. Which radius stays when it is let go? Answer to 0.2 mm.",
        {"metal": STEEL, "thickness": 0.76, "radius": 45}, _opened, "mm", 0.2, slips=(
            Slip(_to_hold, "this is the radius to hold so that the given one stays; the question goes the other way."),
            Slip(lambda metal, thickness, radius: _opened(metal, thickness, radius, rc.FlatBar(thickness, width=10)),
                 "a wide sheet cannot narrow where it stretches: use rc.Sheet, not rc.FlatBar."),
            Slip(lambda metal, thickness, radius: _opened(metal, thickness, radius) - thickness / 2,
                 "this is measured to the inside; the answer is to mid-thickness."),
            Slip(lambda metal, thickness, radius: radius, "this is the radius while held: nothing sprang back."))),
    Problem("04.2",
        "The lantern's body is {thickness} mm {metal} and {inside_diameter} mm across inside. Which radius, to "
        "mid-thickness, must the rolls hold so that it comes out right? Answer to 0.1 mm.",
        {"metal": STEEL, "thickness": 0.76, "inside_diameter": 180},
        lambda metal, thickness, inside_diameter: _to_hold(metal, thickness, inside_diameter / 2 + thickness / 2),
        "mm", 0.1, slips=(
            Slip(lambda metal, thickness, inside_diameter: _opened(metal, thickness, (inside_diameter + thickness) / 2),
                 "this is larger than the body: springback opens the sheet, so the rolls must hold it tighter."),
            Slip(lambda metal, thickness, inside_diameter: _to_hold(metal, thickness, inside_diameter + thickness),
                 "the diameter went in where a radius belongs."),
            Slip(lambda metal, thickness, inside_diameter: _to_hold(metal, thickness, inside_diameter / 2),
                 "half the thickness is missing: radii are to mid-thickness."))),
    Problem("04.3",
        "{thickness} mm {metal} is held at a radius of {radius} mm. Its yield may lie anywhere in the range of the "
        "table. How far apart are the largest and the smallest radius that may stay? Answer to 0.2 mm.",
        {"metal": STEEL, "thickness": 0.76, "radius": 60}, _spread, "mm", 0.2, slips=(
            Slip(lambda metal, thickness, radius: _spread(metal, thickness, radius, "nominal"),
                 "this is only from the middle to the strong end: the sheet may be weaker too."),
            Slip(lambda metal, thickness, radius: _spread(metal, thickness, radius) / 2,
                 "this is plus-or-minus; the question asks from end to end."),
            Slip(_opened, "this is one radius; the question asks for the difference of two."))),
)
