"""The problems of lesson 03, bend a sheet."""

from math import pi

import rollcalc as rc
from rollcalc.bending import yield_curvature

from ..engine.problem import Problem, Slip
from ..lesson02.problems import STEEL, body

BAR_STEEL = "mild steel bar, hot rolled"
LEVER = 100.0
"""From the jaws of the vice to the hand. [mm]"""


def _first_radius(metal: str, stock: rc.Stock) -> float:
    """Return the radius at which a piece begins to stay bent. [mm]"""
    return 1 / float(yield_curvature(stock, rc.MATERIALS[metal]))


def _push(metal: str, diameter: float) -> float:
    """Return the push that bends a round bar right through. [N]"""
    return float(rc.plastic_moment(rc.RoundBar(diameter), rc.MATERIALS[metal])) / LEVER


def _core_share(metal: str, thickness: float, radius: float, stock: rc.Stock | None = None) -> float:
    """Return how much of the thickness is still elastic. [%]"""
    core = rc.elastic_core(stock or body(thickness), rc.MATERIALS[metal], 1 / radius)
    return 100 * float(core) / thickness


PROBLEMS = (
    Problem("03.1",
        "The lantern's band is flat bar, {thickness} mm thick and {width} mm wide, of {metal}, with the yield of the "
        "table. At which radius, to mid-thickness, does it begin to stay bent? Answer to 2 mm.",
        {"metal": BAR_STEEL, "thickness": 3, "width": 25},
        lambda metal, thickness, width: _first_radius(metal, rc.FlatBar(thickness, width)), "mm", 2.0, digits=0, slips=(
            Slip(lambda metal, thickness, width: 2 * _first_radius(metal, rc.FlatBar(thickness, width)),
                 "the surface lies half the thickness from the middle, not all of it."),
            Slip(lambda metal, thickness, width: _first_radius(metal, rc.Sheet(thickness=thickness, width=width)),
                 "this bar is narrow and may draw in: use rc.FlatBar, not rc.Sheet."),
            Slip(lambda metal, thickness, width: _first_radius(metal, rc.FlatBar(width, thickness)),
                 "this bends it on edge: width and thickness have changed places."))),
    Problem("03.2",
        "The hanging ring is round bar of {diameter} mm, {metal}. It stands upright in a vice, and you push it over "
        "100 mm above the jaws. Which push bends it right through, if it did not harden? Answer to 1 N.",
        {"metal": BAR_STEEL, "diameter": 6}, _push, "N", 1.0, digits=0, slips=(
            Slip(lambda metal, diameter: _push(metal, diameter) * 1.5 * 3 * pi / 16,
                 "1.5 is for a rectangle; a round bar has its metal near the middle, and a larger factor."),
            Slip(lambda metal, diameter: _push(metal, diameter) * 3 * pi / 16,
                 "this is where it begins to stay bent; right through takes more."),
            Slip(lambda metal, diameter: LEVER * _push(metal, diameter),
                 "this is the moment: divide by the lever."))),
    Problem("03.3",
        "Sheet of {thickness} mm {metal} is held at a radius of {radius} mm. How many per cent of its thickness have "
        "yielded? Answer to 0.5 %. And why does a tighter bend hardly take more moment?",
        {"metal": STEEL, "thickness": 0.76, "radius": 90},
        lambda metal, thickness, radius: 100 - _core_share(metal, thickness, radius), "%", 0.5, slips=(
            Slip(_core_share, "this is the elastic core; the question asks for the rest."),
            Slip(lambda metal, thickness, radius: (100 - _core_share(metal, thickness, radius)) / 2,
                 "this is one side of the core: outside and inside have both yielded."),
            Slip(lambda metal, thickness, radius:
                 100 - _core_share(metal, thickness, radius, rc.FlatBar(thickness, 10.0)),
                 "a wide sheet cannot narrow where it stretches: use rc.Sheet, not rc.FlatBar."))),
)
