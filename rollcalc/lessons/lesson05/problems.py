"""The problems of lesson 05, the sheet is not a circle."""

from dataclasses import replace

import rollcalc as rc

from ..engine.problem import Problem, Slip
from ..lesson02.problems import IDEAL, MACHINE, STEEL, body, circle_turns


def turns(metal: str, thickness: float, radius: float, machine: rc.PinchMachine = MACHINE) -> float:
    """Return the turns of the screws for a radius. [turns]"""
    return float(rc.setting_for_radius(machine, body(thickness), rc.MATERIALS[metal], radius).turns)


def _held(metal: str, thickness: float, radius: float) -> float:
    """Return the loaded radius that leaves a radius. [mm]"""
    return float(rc.loaded_radius(body(thickness), rc.MATERIALS[metal], radius))


def _circle(share: float, held: float, released: float) -> float:
    """Return the radius of the circle that holds a share of the springback. [mm]"""
    return 1 / (1 / released + share * (1 / held - 1 / released))


def _pressed(metal: str, thickness: float, radius: float, force: float) -> float:
    """Return the radius that comes out under a pinch force, at the travel for a perfect nip. [mm]"""
    travel = turns(metal, thickness, radius, IDEAL) * MACHINE.screw_pitch
    pressed = replace(MACHINE, pinch_force=force)
    return float(rc.radius_for_travel(pressed, body(thickness), rc.MATERIALS[metal], travel))


PROBLEMS = (
    Problem("05.1",
        "The sheet is {thickness} mm {metal}, 240 mm wide. The bench roll is pinched with 2500 N. How many turns of "
        "the screws, from touch, leave a radius of {radius} mm? Answer to 0.1 turns.",
        {"metal": STEEL, "thickness": 0.76, "radius": 120}, turns, "turns", 0.1, digits=2, slips=(
            Slip(lambda metal, thickness, radius: turns(metal, thickness, radius, IDEAL),
                 "this is for a perfect nip, a teaching ideal; this one tilts the sheet and gives way."),
            Slip(lambda metal, thickness, radius: circle_turns(radius, thickness),
                 "this circle has the wanted radius, so all of the springback is still to come."),
            Slip(lambda metal, thickness, radius: circle_turns(_held(metal, thickness, radius), thickness),
                 "this circle has the loaded radius; but the sheet is held as tight as that only in the nip."),
            Slip(lambda metal, thickness, radius: MACHINE.screw_pitch * turns(metal, thickness, radius),
                 "this is the travel in mm; one turn of the screws is 1.5 mm."),
            Slip(lambda metal, thickness, radius: turns(metal, thickness, 2 * radius),
                 "the diameter went in where a radius belongs."))),
    Problem("05.2",
        "A sheet must be held at a radius of {held} mm in the nip so that {released} mm stay. Which radius must the "
        "circle through the rolls have, by the two-thirds rule? Answer to 0.3 mm.",
        {"held": 80, "released": 120}, lambda held, released: _circle(2 / 3, held, released), "mm", 0.3, slips=(
            Slip(lambda held, released: _circle(1 / 3, held, released),
                 "this circle holds only one third of the springback."),
            Slip(lambda held, released: _circle(0.5, held, released),
                 "this is half of the springback: near, but the curvature close to the nip lifts the sheet most."),
            Slip(lambda held, released: released + (held - released) * 2 / 3,
                 "these are two thirds of the way between the radii; take the curvatures, one over the radius."),
            Slip(lambda held, released: held, "this circle holds all of the springback."))),
    Problem("05.3",
        "{thickness} mm {metal}, 240 mm wide: the screws of the bench roll are set for {radius} mm in a perfect nip. "
        "But the nip is pinched with {force} N. Which radius comes out? Answer to 1 mm. And what would you do at the "
        "machine?",
        {"metal": STEEL, "thickness": 0.76, "radius": 120, "force": 4000}, _pressed, "mm", 1, slips=(
            Slip(lambda metal, thickness, radius, force: radius,
                 "nothing changed here: give the machine the pinch_force."),
            Slip(lambda metal, thickness, radius, force: _pressed(metal, thickness, radius, force) - radius,
                 "this is how much the radius grows; the question asks for the radius itself."),
            Slip(lambda metal, thickness, radius, force: _pressed(metal, thickness, radius, 2500),
                 "this is for the bench roll's own 2500 N; the question has another pinch."))),
)
