"""The problems of lesson 12, the trial strip."""

import math

import rollcalc as rc

from ..engine.problem import Problem, Slip
from ..lesson02.problems import MACHINE, STEEL, body


def _middle_radius(chord: float, rise: float, thickness: float, way: float = 1.0) -> float:
    """Return the radius to mid-thickness from a reading inside. [mm]"""
    return float(rc.radius_from_chord(chord, rise)) + way * thickness / 2


def _arc(radius: float, chord: float) -> float:
    """Return the length along the curve under a chord. [mm]"""
    return 2 * radius * math.asin(chord / 2 / radius)


def _learned(turns: float, rise: float, thickness: float, radius: float) -> rc.job.NextPass:
    """Return what to do after one reading over 100 mm."""
    start = rc.estimate(MACHINE, rc.MATERIALS[STEEL])
    return start.updated(body(thickness), turns=turns, chord=100, rise=rise).next_pass(body(thickness), radius)


def _next_turns(turns: float, rise: float, thickness: float, radius: float) -> float:
    """Return where the screws go next. [turns]"""
    found = _learned(turns, rise, thickness, radius).turns
    assert found is not None
    return found


def _nominal_turns(thickness: float, radius: float) -> float:
    """Return where nominal values would put them. [turns]"""
    return float(rc.setting_for_radius(MACHINE, body(thickness), rc.MATERIALS[STEEL], radius).turns)


PROBLEMS = (
    Problem("12.1",
        "After a pass you measure inside the lantern's body, {thickness} mm thick: over a chord of {chord} mm the rise "
        "is {rise} mm. What is the radius to mid-thickness? Answer to 0.3 mm.",
        {"thickness": 0.76, "chord": 100, "rise": 12.2}, lambda thickness, chord, rise: _middle_radius(
            chord, rise, thickness), "mm", 0.3, slips=(
            Slip(lambda thickness, chord, rise: _middle_radius(chord, rise, thickness, -1.0),
                 "you measured inside, and the middle lies further out."),
            Slip(lambda thickness, chord, rise: _middle_radius(chord, rise, thickness) - rise / 2,
                 "the second term, half the rise, is missing."),
            Slip(lambda thickness, chord, rise: 2 * _middle_radius(chord, rise, thickness),
                 "a radius is asked for, not a diameter."))),
    Problem("12.2",
        "A trial strip of the lantern's sheet will be measured over a chord of {chord} mm at a radius of {radius} mm. "
        "Its first {flat} mm stay flat, and you allow {settling} mm until the curve is steady. How long must it be at "
        "least? Answer to 1 mm.",
        {"chord": 100, "radius": 90, "flat": 28, "settling": 80},
        lambda chord, radius, flat, settling: _arc(radius, chord) + flat + settling, "mm", 1.0, digits=0, slips=(
            Slip(lambda chord, radius, flat, settling: chord + flat + settling,
                 "the chord is the straight way; the strip runs along the curve."),
            Slip(lambda chord, radius, flat, settling: _arc(radius, chord) + settling,
                 "the leading flat is missing."),
            Slip(lambda chord, radius, flat, settling: _arc(radius, chord) + flat,
                 "behind the flat the curve is not steady yet: leave room for it to settle."))),
    Problem("12.3",
        "On the bench roll a body {thickness} mm thick and 240 mm wide, of cold rolled low-carbon steel, is wanted at "
        "R {radius}. Its first pass at {turns} turns shows a rise of {rise} mm over 100 mm, inside. Where does "
        "`rc.estimate` put the screws next? Answer to 0.03 turns. And why not where nominal values would?",
        {"turns": 11.375, "rise": 12.4, "thickness": 0.76, "radius": 90.38},
        _next_turns, "turns", 0.03, digits=2, slips=(
            Slip(lambda turns, rise, thickness, radius: _nominal_turns(thickness, radius),
                 "this is where nominal values put them; the reading says that this sheet bends more easily."),
            Slip(lambda turns, rise, thickness, radius: _next_turns(turns, rise, thickness, radius) - turns,
                 "this is how much further; the knobs count from touch."),
            Slip(lambda turns, rise, thickness, radius: turns,
                 "this repeats the pass, and a repeated pass changes nothing."))),
)
