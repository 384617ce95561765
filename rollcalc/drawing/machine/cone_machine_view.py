"""A cone on straight rolls: how the bending roll tilts and what its strips come to, and how the two ends feed."""

import math

import numpy as np

from rollcalc.layout import FrustumPattern
from rollcalc.rolling import ConeSetting, Machine
from rollcalc.rolling.deflection import bearing_span
from rollcalc.stock import format_length

from ..core.dimensions import arrow
from ..core.marks import slab
from ..core.page import signed
from ..core.picture import Line, Mark, Picture, Points, Text
from .machine_view import roll_places, tilted_roll

ENLARGED = 1 / 250  # scale of the cone by that of the rolls, a mm of half their length: 1.5 on rolls of 760 mm [1/mm]
ROWS = (1.0, 0.75, 0.5, 0.25, 0.0)  # strips that are named, from the large end at 1 to the small end at 0


def cone_on_rolls_view(machine: Machine, cone: ConeSetting, position: float = 0.0, small_end: str = "right",
                       units: str = "mm") -> Picture:
    """Return the tilted roll, seen square to its guide, above the cone that it makes."""
    half = machine.working_width / 2
    marks = [*_tilted_roll(machine, cone, position, small_end), *_cone(cone, half, units)]
    worst = int(np.argmax(np.abs(cone.deviation)))
    left, right = (f"{turns:.1f} turns" if turns > -0.05 else f"{-turns:.1f} turns below touch"
                   for turns in (cone.turns_left, cone.turns_right))
    stray = (f"Half way up the wall the bend comes out {-100 * cone.deviation[worst]:.1f} % too tight."
             if cone.deviation[worst] < -5e-5 else "Both ends are alike: a cylinder.")
    passed = ", ".join(check.name for check in cone.checks if check.exceeded)
    limits = f" Too much: {passed}." if passed else ""
    return Picture(
        f"Left screw {left}, right screw {right}: the roll tilts {math.degrees(cone.roll_tilt):.1f}°. {stray}{limits} "
        f"Verdict: {cone.verdict}",
        marks, size=(680, 520), alt="The tilted bending roll, and the cone it makes",
        frame=(-1.2 * half, -1.28 * half, 1.2 * half, 0.36 * half))


def cone_feed_view(pattern: FrustumPattern, share: float, units: str = "mm") -> Picture:
    """Return a cone's pattern on its way through the nip, turning about its point, and how far each end must go."""
    passed, edge, wall = (share - 0.5) * pattern.arc(), _edge(pattern, -0.5, 0.5), np.array([0.0, pattern.slant])
    swept = np.concatenate([_in_nip(pattern, *edge, (part - 0.5) * pattern.arc()) for part in (0, 0.5, 1)])
    (left, low), (right, high) = swept.min(axis=0).tolist(), swept.max(axis=0).tolist()
    size = max(right - left, high - low)
    quarters = (_in_nip(pattern, np.full(2, place * pattern.arc()), wall, passed) for place in (-0.25, 0.0, 0.25))
    marks: list[Mark] = [
        Line(_in_nip(pattern, *_edge(pattern, -0.5, share - 0.5), passed), "hidden", closed=True),
        Line(_in_nip(pattern, *_edge(pattern, share - 0.5, 0.5), passed), "sheet", closed=True),
        *(Line(line, "centre") for line in quarters), Line([(left, 0), (right, 0)], "roll", offset=[(-30, 0), (0, 0)]),
        Text((left, 0), "nip", "roll", "end", (-6, 5)),
        *arrow((left - 0.09 * size, -0.25 * size), (left - 0.09 * size, -0.05 * size), "guide"),
        Text((left - 0.09 * size, -0.25 * size), "in", "guide", "middle", (0, -16))]
    gone, bars = _bars(pattern, share, (left + right) / 2 - 0.35 * size, low - 0.1 * size, size, units)
    if not share:
        gone = "The pattern lies before the nip, its first edge along it."
    return Picture(
        gone, (*marks, *bars), size=(680, 520), alt="The pattern passing the nip, from above",
        frame=(left - 0.2 * size, low - 0.2 * size, right + 0.1 * size, high + 0.02 * size))


def _tilted_roll(machine: Machine, cone: ConeSetting, position: float, small_end: str) -> list[Mark]:
    """Return the roll where it touches and where it stands, the wall on it, and what the screws say."""
    half, level = machine.working_width / 2, -0.1 * machine.working_width / 2
    _, _, diameter = roll_places(machine, 0.0, 0.0)[-1]
    reach, axle = float(cone.places[-1]) / 2, (level + cone.travel_left, level + cone.travel_right)
    names = ("large end", "small end") if small_end == "right" else ("small end", "large end")
    roll, (left, right) = tilted_roll(machine, level, axle, (position - reach, position + reach))
    high, anchor = (half, "end") if axle[1] >= axle[0] else (-half, "start")  # where the roll is out of the way
    marks: list[Mark] = [
        *roll, Text(left, names[0], "sheet", "end", (-4, 8)), Text(right, names[1], "sheet", "start", (4, 8)),
        Text((high, level - diameter / 2), "dashed: where it touches the flat sheet", "hidden", anchor, (0, -38))]
    ends = np.interp([-half, half], [-bearing_span(machine) / 2, bearing_span(machine) / 2], axle).tolist()
    for name, side, height, turns, anchor in (("left screw", -half, ends[0], cone.turns_left, "start"),
                                              ("right screw", half, ends[1], cone.turns_right, "end")):
        marks.append(Text((side, min(height, level) - diameter / 2), f"{name} {signed(turns, 1)} turns", "roll", anchor,
                          (0, -18)))
    return marks


def _cone(cone: ConeSetting, half: float, units: str) -> list[Mark]:
    """Return the cone wanted and the cone rolled, with the bends of some strips beside it."""
    middle, floor = -0.4 * half, -1.22 * half
    lean = ENLARGED * half * math.cos(cone.half_angle)
    heights = floor + (cone.places[-1] - cone.places) * lean
    marks: list[Mark] = []
    for radii, role in ((cone.wanted_radii, "outline"), (cone.released_radii, "released")):
        left, right = (np.column_stack([middle + side * lean * radii, heights]) for side in (-1, 1))
        marks.append(Line(np.concatenate([left, right[::-1]]), role, closed=True))
    for place in (round(share * (len(cone.places) - 1)) for share in ROWS):
        wanted, rolled = (format_length(float(radii[place]), units)
                          for radii in (cone.wanted_radii, cone.released_radii))
        edge, at = ((middle + lean * float(radius), float(heights[place]))
                    for radius in (cone.wanted_radii[place], cone.wanted_radii[-1]))
        marks += [Line([edge, at], "guide", offset=[(4, 0), (14, 0)]),
                  Text(at, f"{wanted}, rolled {rolled}", "outline", "start", (20, -4))]
    said = "bend square to the wall: wanted (solid), rolled (dashed)"
    marks.append(Text((1.18 * half, float(heights[0])), said, "outline", "end", (0, 22)))
    return marks


def _edge(pattern: FrustumPattern, first: float, last: float) -> tuple[Points, Points]:
    """Return the edge of a part of the pattern as places along the large arc and up the slant, closed."""
    along = np.linspace(first, last, 121) * pattern.arc()
    return np.concatenate([along, along[::-1]]), np.repeat([0.0, pattern.slant], 121)


def _in_nip(pattern: FrustumPattern, along: Points, up: Points, passed: float) -> Points:
    """Return points of the pattern with the line at ``passed`` in the nip, the large end at the left."""
    x, y = pattern.at(along - passed, up).T
    return np.column_stack([y, -x])


def _bars(pattern: FrustumPattern, share: float, left: float, top: float, size: float,
          units: str) -> tuple[str, list[Mark]]:
    """Return how far each end has gone, in words and as two bars; one turn of the large end is the longest."""
    turn = pattern.arc()
    large, small = share * turn, share * pattern.arc("small")
    gone = [format_length(length, units) for length in (large, small, large - small)]
    marks: list[Mark] = []
    for row, (name, length) in enumerate((("large end", large), ("small end", small))):
        low, scale, slip = top - (0.07 * row + 0.03) * size, 0.45 * size / turn, large - length
        bars = [(0.0, turn, "guide"), *[(0.0, length, "roll")] * bool(share),
                *[(length, large, "released piece")] * bool(share and slip)]
        for start, stop, role in bars:
            marks += slab((left + scale * start, low), (left + scale * stop, low), 0.03 * size, role)
        said = f"{gone[row]} and {gone[2]} slip" if slip else gone[row]
        marks += [Text((left, low), name, "outline", "end", (-6, 3)),
                  Text((left + 0.45 * size, low), said, "outline", "start", (6, 3))]
    if not pattern.curvature:
        return f"Equal ends: both have gone {gone[0]}, and nothing slips.", marks
    turned = math.degrees(share * pattern.sector_angle)
    return (f"The pattern has turned by {turned:.1f}° about the cone's point. Its large end has gone {gone[0]}, its "
            f"small end {gone[1]}: under it the rolls have run on by {gone[2]}.", marks)
