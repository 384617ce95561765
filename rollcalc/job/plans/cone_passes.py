"""The passes of a cone: both ends share out their work, and the screws stand as the two radii ask for."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from rollcalc.rolling import ConeSetting, Machine, crank_force_limit, setting_for_radius, setting_for_travel
from rollcalc.rolling.effort import effort_of
from rollcalc.rolling.passes.plan import pass_settings
from rollcalc.rolling.passes.words import crank_words
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError
from rollcalc.stock.sections import Sheet

from .passes import FEWEST, LAST_STEP, NO_LIMIT, STEP, Numbers

PASSES = (FEWEST, 5, 8)
"""Passes that are tried, until the crank goes easily. [-]"""


class ConePasses(NamedTuple):
    """The passes of a cone, before they are written down."""

    turns: Numbers  # left and right screw, shape (passes, 2) [turns]
    travels: Numbers  # at the large and the small end, shape (passes, 2) [mm]
    radii: Numbers  # after each pass at the large and the small end, square to the wall, shape (passes, 2) [mm]
    crank_forces: Numbers  # for the metal alone, and with the friction of the bearings, shape (passes, 2) [N]
    slips: float  # pull over grip in the worst pass [-]


def cone_passes(machine: Machine, wall: Sheet, material: Material, cone: ConeSetting, position: float,
                small_end: str) -> tuple[ConePasses, str]:
    """Return the fewest passes of a cone that the crank allows, each with the tilt that its two radii ask for, and a
    warning where no number of passes eases the crank enough.
    """
    limit = NO_LIMIT if machine.crank_radius is None else crank_force_limit(machine)
    found = []
    for number in PASSES:
        found.append(_passes(machine, wall, material, cone, cone_edges(wall, position, small_end), number))
        if found[-1].slips <= 1 and (limit == NO_LIMIT or found[-1].crank_forces.max() <= limit):
            return found[-1], ""
    grips = [one for one in found if one.slips <= 1]
    if not grips:
        raise InputError(f"the rolls slip on this cone, even in {PASSES[-1]} passes: degrease them and pinch harder.")
    worst = int(np.argmax(grips[0].crank_forces[:, 1]))
    least, most = grips[0].crank_forces[worst].tolist()
    return grips[0], crank_words(worst + 1, most, least, limit)


def _passes(machine: Machine, wall: Sheet, material: Material, cone: ConeSetting, edges: Numbers,
            number: int) -> ConePasses:
    """Return a number of passes of a cone; each enters with the radii of the pass before."""
    ends = (float(cone.wanted_radii[-1]), float(cone.wanted_radii[0]))
    shared = [np.asarray(pass_settings(machine, wall, material, end, number).released_radius).ravel() for end in ends]
    ends_of_roll, pitch, radii = screws(machine), machine.screw_pitch, [np.full(2, math.inf)]
    turns, travels, forces, slips = [], [], [], []
    for place, wanted in enumerate(np.column_stack(shared)):
        aim = setting_for_radius(machine, wall, material, np.minimum(wanted, radii[-1]), entering_radius=radii[-1])
        step = LAST_STEP if place == number - 1 else STEP
        turns.append(np.floor(on_line(edges, np.asarray(aim.travel), ends_of_roll) / pitch / step + 1e-6) * step)
        travels.append(np.maximum(on_line(ends_of_roll, turns[-1] * pitch, edges), 0.0))  # hanging free it bends none
        got = setting_for_travel(machine, wall, material, travels[-1], entering_radius=radii[-1])
        radii.append(np.asarray(got.released_radius))
        effort = effort_of(got)
        forces.append([np.mean(effort.crank_force_least), np.mean(effort.crank_force)])
        slips.append(float(np.mean(effort.pull)) / float(np.mean(effort.grip)))
    return ConePasses(np.array(turns), np.array(travels), np.array(radii[1:]), np.array(forces), max(slips))


def cone_edges(wall: Sheet, position: float, small_end: str) -> Numbers:
    """Return where the large and the small end lie along the rolls, from their middle. [mm]"""
    return position + np.array([-0.5, 0.5]) * float(wall.width) * (1 if small_end == "right" else -1)


def screws(machine: Machine) -> Numbers:
    """Return where the left and the right screw stand, from the middle of the rolls. [mm]"""
    return np.array([-0.5, 0.5]) * machine.between_bearings


def on_line(places: Numbers, heights: Numbers, others: Numbers) -> Numbers:
    """Return the heights, at other places, of the straight line through two points."""
    slope = (heights[1] - heights[0]) / (places[1] - places[0])
    return np.asarray(heights[0] + slope * (others - places[0]))
