"""The problems of lesson 07, blanks."""

import math
from typing import Any

import rollcalc as rc

from ..engine.problem import Problem, Slip


def _length(thickness: float, **diameter_and_seam: Any) -> float:
    """Return the length to cut for a ring; how wide it is changes nothing. [mm]"""
    return rc.cylinder_blank(rc.Sheet(thickness=thickness, width=50), **diameter_and_seam).length


PROBLEMS = (
    Problem("07.1",
        "The lantern's collar is {thickness} mm stainless, {inside_diameter} mm across inside, with a plain lap of "
        "{lap} mm. How long is the blank? Answer to 0.2 mm.",
        {"thickness": 0.6, "inside_diameter": 75, "lap": 8}, lambda thickness, inside_diameter, lap:
        _length(thickness, inside_diameter=inside_diameter, seam=rc.LapSeam(lap)), "mm", 0.2, slips=(
            Slip(lambda thickness, inside_diameter, lap: math.pi * inside_diameter + lap,
                 "this goes round the inside; the sheet keeps its length in the middle of the thickness."),
            Slip(lambda thickness, inside_diameter, lap: math.pi * (inside_diameter + thickness),
                 "the lap is missing: one edge must lie on the other."),
            Slip(lambda thickness, inside_diameter, lap: math.pi * (inside_diameter + 2 * thickness) + lap,
                 "this goes round the outside; stop at the middle of the thickness."))),
    Problem("07.2",
        "The band is flat bar, {thickness} mm thick, and shall be {outside_diameter} mm across outside, its ends "
        "butted. How long is the blank? Answer to 0.2 mm.",
        {"thickness": 3, "outside_diameter": 190}, _length, "mm", 0.2, slips=(
            Slip(lambda thickness, outside_diameter: math.pi * outside_diameter,
                 "this goes round the outside; take off one thickness first."),
            Slip(lambda thickness, outside_diameter: math.pi * (outside_diameter + thickness),
                 "from the outside one comes to the middle by taking a thickness off, not by adding it."),
            Slip(lambda thickness, outside_diameter: math.pi * (outside_diameter - 2 * thickness),
                 "this goes round the inside; take off one thickness, not two."))),
    Problem("07.3",
        "Somebody measured a finished tank of {thickness} mm plate, {inside_diameter} mm across inside, and cut the "
        "next blank by that inside diameter. By how much is it too short? Answer to 0.3 mm.",
        {"thickness": 6, "inside_diameter": 400}, lambda thickness, inside_diameter:
        _length(thickness, inside_diameter=inside_diameter) - math.pi * inside_diameter, "mm", 0.3, slips=(
            Slip(lambda thickness, inside_diameter: thickness,
                 "one thickness is the difference of the diameters; around, it counts π times."),
            Slip(lambda thickness, inside_diameter: 2 * math.pi * thickness,
                 "this is from inside to outside; the length is kept half way."))),
)
