"""A round bar between the front rolls, cut through the nip: which groove it lies in, and how it sits there."""

import math

import numpy as np

from rollcalc.rolling import Groove, PinchMachine, grooves
from rollcalc.stock import RoundBar, format_length

from ..core.dimensions import dimension
from ..core.marks import circle, on_circle
from ..core.picture import Line, Mark, Picture, Points, Text

SIZE = (660, 394)
WIDE, ABOVE, BELOW = 50.0, 14.0, 13.0  # width of the window, and how far it reaches from the lower roll's face [mm]
DEEP = 60.0  # how much of each roll is drawn; most of it lies beyond the page [mm]
MEET = 0.05  # front rolls nearer to each other than this are said to meet [mm]


def groove_view(machine: PinchMachine, bar: RoundBar, groove: Groove, units: str = "mm") -> Picture:
    """Return the cut through the nip, seen along the bar: grooves, bar, and the faces of the front rolls."""
    size, places = float(bar.diameter), groove_places(machine)
    low, gap = seat(groove, size)
    here = places[[one.diameter for one, _ in places].index(groove.diameter)][1]
    first, final = min(place for _, place in places), max(place for _, place in places)
    left = (first + final - WIDE) / 2 if final - first < 0.7 * WIDE else here - WIDE / 2  # one for all, if it can
    end = None if groove.position is None else machine.working_width / 2
    marks: list[Mark] = [
        Line(_roll(places, "lower", left, end), "roll", closed=True),
        Line(_roll(places, "upper", left, end) * (1, -1) + np.array([0, gap]), "roll", closed=True),
        *_loose(groove, size, here, gap), *circle((here, low + size / 2), size / 2, "section"),
        *_face_gap(left + 4, gap, "lower" not in groove.rolls, units), *_words(groove, places, left, gap, units),
        *([] if end is None or end > left + WIDE
          else [Text((end, 0.0), "end of the rolls", "dimension", "middle", (22, 0), 90)]),
        Text((left, ABOVE), _roll_words(machine, "upper", groove, units), "roll", "start", (-14, 0)),
        Text((left, -BELOW), _roll_words(machine, "lower", groove, units), "roll", "start", (-14, 4))]
    return Picture(_sentence(groove, size, gap, units), marks, size=SIZE, alt="Cut through the nip at the groove",
                   frame=(left, -BELOW, left + WIDE, ABOVE))


def seat(groove: Groove, bar_diameter: float) -> tuple[float, float]:
    """Return where the underside of a bar lies, on the bottom or riding on the edges, and the upper roll's face."""
    radius, half = bar_diameter / 2, groove_line(groove)[-1, 0]
    sinks = groove.depth if bar_diameter <= groove.diameter else radius - math.sqrt(radius**2 - half**2)
    low = -sinks if "lower" in groove.rolls else 0.0
    return low, max(low + bar_diameter - (sinks if "upper" in groove.rolls else 0.0), 0.0)


def groove_line(groove: Groove) -> Points:
    """Return the outline of a groove from edge to edge, with upright walls where it is deeper than half its width."""
    radius = groove.diameter / 2
    rise = max(1 - groove.depth / radius, 0.0)  # sine of the angle at which the arc meets the face
    angle = np.linspace(math.pi + math.asin(rise), 2 * math.pi - math.asin(rise), 49)
    arc = on_circle((0.0, radius - groove.depth), radius, angle)
    return np.concatenate([arc[:1] * (1, 0), arc, arc[-1:] * (1, 0)])


def groove_places(machine: PinchMachine) -> list[tuple[Groove, float]]:
    """Return the grooves of a machine with their places along the rolls, side by side where none are given."""
    cut = grooves(machine)
    apart = 1.6 * cut[-1].diameter
    return [(one, apart * number if one.position is None else one.position) for number, one in enumerate(cut)]


def _roll(places: list[tuple[Groove, float]], roll: str, left: float, end: float | None) -> Points:
    """Return the outline of a roll below its face, with the grooves it has in sight."""
    right = left + 2 * WIDE if end is None else end
    sight = [(one, place) for one, place in places if roll in one.rolls and left < place < left + WIDE]
    lines = [groove_line(one) + np.array([place, 0.0]) for one, place in sorted(sight, key=lambda pair: pair[1])]
    return np.concatenate([np.array([(left - WIDE, -DEEP), (left - WIDE, 0.0)]), *lines,
                           np.array([(right, 0.0), (right, -DEEP)])])


def _loose(groove: Groove, size: float, here: float, gap: float) -> tuple[Mark, ...]:
    """Return the bar as it lies once it has climbed to either wall of a groove that is too large."""
    play = (groove.diameter - size) / 2
    if play < 0.05:
        return ()
    rise = groove.diameter / 2 - groove.depth
    level = rise if "lower" in groove.rolls else gap - rise
    return tuple(mark for side in (-play, play) for mark in circle((here + side, level), size / 2, "hidden"))


def _face_gap(x: float, gap: float, below: bool, units: str) -> tuple[Mark, ...]:
    """Return the way from face to face of the front rolls, its words on the side without grooves."""
    if gap < MEET:
        return (Text((x, 0.0), "the rolls meet", "dimension", "start", (0, 5)),)
    start, stop = ((x, gap), (x, 0.0)) if below else ((x, 0.0), (x, gap))
    return dimension(start, stop, f"faces {format_length(gap, units)} apart", -1, outside=True)


def _words(groove: Groove, places: list[tuple[Groove, float]], left: float, gap: float, units: str) -> list[Mark]:
    """Return which bar each groove is for."""
    marks: list[Mark] = []
    for one, place in places:
        if not left < place < left + WIDE:
            continue
        level, side = (-one.depth, -1) if "lower" in one.rolls else (gap + one.depth, 1)
        deep = [f"{format_length(one.depth, units)} deep"] * (one.diameter == groove.diameter)
        rows = [f"for {format_length(one.diameter, units)}", *deep]
        for number, words in enumerate(rows):
            below = 18 * (number + 1) if side < 0 else 18 * (len(rows) - 1 - number) + 8
            marks.append(Text((place, level), words, "dimension", "middle", (0, side * below)))
    return marks


def _roll_words(machine: PinchMachine, roll: str, groove: Groove, units: str) -> str:
    """Return what a roll is called, and what it is worth at the bottom of the groove."""
    diameter = getattr(machine, f"{roll}_roll_diameter")
    said = f"{roll} roll, {format_length(diameter, units)}"
    inside = f"; {format_length(diameter - 2 * groove.depth, units)} in the groove" if roll in groove.rolls else ""
    return said + inside


def _sentence(groove: Groove, size: float, gap: float, units: str) -> str:
    """Return how the bar sits."""
    *first, last = groove.rolls
    which = f"{', '.join(first)} and {last} roll" if first else f"{last} roll"
    cut = f"the groove for {format_length(groove.diameter, units)}"
    bar = f"The {format_length(size, units)} bar"
    play = groove.diameter - size
    deep = f"which is {format_length(groove.depth, units)} deep in {which}"
    if groove.front_depth > size * (1 + 1e-9):
        return f"{bar} sinks into {cut}, {deep}: the front rolls meet, and nothing grips it."
    if play < -1e-9:
        return f"{bar} does not go into {cut}: it rides on two edges, which cut into it."
    apart = ("the front rolls meet, and hardly grip it" if gap < MEET
             else f"the faces of the front rolls stand {format_length(gap, units)} apart")
    if play > 0.05:
        return (f"{bar} lies loose in {cut}, {deep}: it has {format_length(play, units)} of play, wanders from wall to "
                f"wall (dashed) and climbs; {apart}.")
    return f"{bar} fills {cut}, {deep}: it lies on the bottom, and {apart}."
