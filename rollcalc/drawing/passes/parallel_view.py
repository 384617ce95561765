"""Screws that differ: the rolls out of parallel from the front, and the joint of the ring that comes out."""

import math

from rollcalc.rolling import Machine, Taper
from rollcalc.rolling.deflection import bearing_span
from rollcalc.stock import format_length

from ..core.marks import slab
from ..core.picture import Line, Mark, Picture, Text
from ..machine.machine_view import roll_places, tilted_roll

SIZE = (680, 520)
ENLARGED = 100.0  # how many times too steep a roll is drawn [-]
GAP_ENLARGED = 3.0  # how many times too wide the gap of a joint is drawn [-]


def parallel_view(machine: Machine, width: float, cone: Taper, turns: tuple[float, float],
                  units: str = "mm") -> Picture:
    """Return the roll that moves, tilted by two screws that differ, and the ring it makes, its joint to the front."""
    half = bearing_span(machine) / 2
    marks = [*_rolls(machine, width, turns), *_ring(half, width, cone, units)]
    return Picture(_sentence(cone, turns, units), marks, size=SIZE,
                   alt="Front view of the rolls out of parallel, and the ring", frame=(-half, -410, half, 175))


def _rolls(machine: Machine, width: float, turns: tuple[float, float]) -> list[Mark]:
    """Return the roll that stays, and the roll that moves, below it and tilted."""
    half = machine.working_width / 2
    (still, _, fixed), (moves, _, moving) = (roll_places(machine, 0.0, 0.0)[place] for place in (0, -1))
    rise = (turns[1] - turns[0]) * machine.screw_pitch * ENLARGED / 2
    middle, level = -moving / 2 - 25.0, 60.0
    roll, _ = tilted_roll(machine, middle, (middle - rise, middle + rise), (-width / 2, width / 2))
    return [
        *slab((-half, level), (half, level), fixed, "roll"), *roll,
        Text((-half, level + fixed / 2), still, "roll", "start", (10, -5)),
        Text((-half, level + fixed), f"left screw {turns[0]:.2f} turns", "outline", "start", (0, 10)),
        Text((half, level + fixed), f"right screw {turns[1]:.2f} turns", "outline", "end", (0, 10)),
        Text((0, middle), moves, "roll", "middle", (0, -5))]


def _ring(half: float, width: float, cone: Taper, units: str) -> list[Mark]:
    """Return the ring from outside, its axle along the rolls, and the joint that gapes towards the wider end."""
    centre, (start, stop) = -280.0, (-width / 2, width / 2)
    (left, right), gap = (cone.radius_left, cone.radius_right), GAP_ENLARGED * cone.joint_mismatch

    def across(low: float, high: float, role: str) -> Line:
        return Line([(start, centre - low), (stop, centre - high), (stop, centre + high), (start, centre + low)], role,
                    closed=True)

    marks: list[Mark] = [
        across(left, right, "sheet"), Line([(start, centre), (stop, centre)], "centre"),
        Text((max(start, 130 - half), centre + left), f"R {format_length(left, units, 2)}", "sheet", "end", (-4, 9)),
        Text((min(stop, half - 130), centre + right), f"R {format_length(right, units, 2)}", "sheet", "start", (4, 9))]
    if gap > 0:
        side, anchor, open_ends = (start, "start", (gap / 2, 0.0)) if left > right else (stop, "end", (0.0, gap / 2))
        words = f"gapes {format_length(cone.joint_mismatch, units)}"
        marks += [across(*open_ends, "released piece"),
                  Text((side, centre - max(left, right)), words, "released", anchor, (0, -20))]
    return marks


def _sentence(cone: Taper, turns: tuple[float, float], units: str) -> str:
    """Return what the screws do to the radii, and what the joint says of it."""
    eighths = 8 * abs(turns[0] - turns[1])
    tight, wide = sorted((cone.radius_left, cone.radius_right))
    if eighths < 1e-9:
        return f"Both screws alike: both edges come out at R {format_length(wide, units)}, and the joint closes."
    said = f"{eighths:.3g} {'eighth' if eighths <= 1 else 'eighths'}"
    return (
        f"The screws differ by {said} of a turn. One edge comes out at R {format_length(tight, units, 2)}, the other "
        f"at R {format_length(wide, units, 2)}: a cone of {math.degrees(cone.half_angle):.2f}° to its axis. Close the "
        f"joint at the tight end, and it gapes {format_length(cone.joint_mismatch, units)} at the other. The tilt is "
        f"drawn {ENLARGED:.0f} times too steep (dashed: parallel), the gap {GAP_ENLARGED:.0f} times too wide.")
