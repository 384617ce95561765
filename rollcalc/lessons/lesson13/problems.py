"""The problems of lesson 13, plan a job."""

import rollcalc as rc

from ..engine.problem import Problem, Slip

MACHINE = rc.DEMO_MACHINE
BAR_STEEL = "mild steel bar, hot rolled"


def _last_turns(metal: str, diameter: float, inside: float, number: int = -1) -> float:
    """Return the turns of one pass of a plan of a ring of round bar, the last one if not said otherwise. [turns]"""
    plan = rc.plan_ring(MACHINE, rc.RoundBar(diameter), rc.MATERIALS[metal], inside_diameter=inside)
    return plan.passes[number].turns_left


def _middle_radius(thickness: float, chord: float, rise: float) -> float:
    """Return the radius to mid-thickness of a curve that was measured inside. [mm]"""
    return _inside_radius(chord, rise) + thickness / 2


def _inside_radius(chord: float, rise: float) -> float:
    """Return the radius of the face that was measured. [mm]"""
    return float(rc.radius_from_chord(chord, rise))


def _too_tight(thickness: float, inside: float, chord: float, rise: float) -> float:
    """Return by how much a radius to mid-thickness came out too small. [%]"""
    wanted = (inside + thickness) / 2
    return 100 * (1 - _middle_radius(thickness, chord, rise) / wanted)


PROBLEMS = (
    Problem("13.1",
        "A ring of {diameter} mm round bar, {metal}, shall be {inside} mm inside. Plan it on the bench roll. How many "
        "turns do the knobs show in the last of its passes? Answer to 0.02 turns.",
        {"metal": BAR_STEEL, "diameter": 6, "inside": 150}, _last_turns, "turns", 0.02, digits=3, slips=(
            Slip(lambda metal, diameter, inside: _last_turns(metal, diameter, inside, 0),
                 "these are the turns of the first pass; the knobs go on from there."),
            Slip(lambda metal, diameter, inside: _last_turns(metal, diameter, inside, -2),
                 "these are the turns of the pass before the last."),
            Slip(lambda metal, diameter, inside: _last_turns(metal, diameter, inside - 2 * diameter),
                 "the outside diameter went in where the inside belongs."),
            Slip(lambda metal, diameter, inside: _last_turns(metal, diameter, 2 * inside),
                 "a radius of 150 mm went in; 150 mm is the diameter."),
            Slip(lambda metal, diameter, inside: _last_turns(metal, diameter, inside) * MACHINE.screw_pitch,
                 "this is the travel in mm; divide it by what one turn moves the roll, 1.5 mm."))),
    Problem("13.2",
        "An aluminium bar, 25 × {thickness} mm, is on its way to a ring. Over a chord of {chord} mm, on the inside "
        "face, you measure a rise of {rise} mm. What is its radius to mid-thickness? Answer to 0.3 mm.",
        {"thickness": 3, "chord": 100, "rise": 11.2}, _middle_radius, "mm", 0.3, digits=1, slips=(
            Slip(lambda thickness, chord, rise: _inside_radius(chord, rise),
                 "this is the radius of the inside face; mid-thickness lies half a thickness further out."),
            Slip(lambda thickness, chord, rise: _inside_radius(chord, rise) - thickness / 2,
                 "half the thickness goes on, not off: you measured inside."),
            Slip(lambda thickness, chord, rise: chord**2 / (8 * rise) + thickness / 2,
                 "half of the rise is missing: R = c²/(8h) + h/2."),
            Slip(lambda thickness, chord, rise: _inside_radius(chord, rise) + thickness,
                 "a whole thickness is the outside face."))),
    Problem("13.3",
        "The lantern's body, {thickness} mm thick, shall be {inside} mm across inside. After its second pass the rise "
        "is {rise} mm over a chord of {chord} mm on the inside face. By how many percent is the radius to "
        "mid-thickness too small? Answer to 0.1 %. And what do you do now?",
        {"thickness": 0.76, "inside": 180, "rise": 16.1, "chord": 100}, _too_tight, "%", 0.1, digits=1, slips=(
            Slip(lambda thickness, inside, rise, chord:
                 100 * ((inside + thickness) / 2 / _middle_radius(thickness, chord, rise) - 1),
                 "this is in parts of what came out; the wanted radius is the whole."),
            Slip(lambda thickness, inside, rise, chord:
                 100 * (1 - 2 * _inside_radius(chord, rise) / (inside + thickness)),
                 "you measured the inside face, and compare with the middle: add half a thickness."),
            Slip(lambda thickness, inside, rise, chord:
                 100 * (1 - (chord**2 / (8 * rise) + thickness / 2) / ((inside + thickness) / 2)),
                 "half of the rise is missing: R = c²/(8h) + h/2."))),
)
