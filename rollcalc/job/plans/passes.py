"""Pass by pass: the screws in steps that a person reads, and how far the metal may stray."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from rollcalc.bending.release import released_radius
from rollcalc.rolling import Machine, Schedule, pass_schedule, setting_for_travel
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError
from rollcalc.stock.sections import Stock

STEP, LAST_STEP = 1 / 8, 1 / 16
"""Parts of a turn that a person reads off a knob, and in the last pass with a second look. [turns]"""

FEWEST = 3
"""Passes of a ring at least: the second tells whether the first was understood. [-]"""

NO_LIMIT = 1e6
"""Stands for the crank's limit where its length is not known, and so its force neither. [N]"""

USUAL_CRANK = 250.0
"""Stands for the crank's length where it is not known; no number of it is shown then. [mm]"""

Numbers = NDArray[np.float64]


def ring_schedule(machine: Machine, stock: Stock, material: Material, radius: float, chord: float) -> Schedule:
    """Return the passes of a cylinder or a ring."""
    known = machine.crank_radius is not None
    return pass_schedule(machine if known else replace(machine, crank_radius=USUAL_CRANK), stock, material, radius,
                         step_turns=STEP, last_step_turns=LAST_STEP, crank_limit=None if known else NO_LIMIT,
                         least_passes=FEWEST, chord=chord)


def yield_band(machine: Machine, stock: Stock, material: Material, travels: Numbers) -> Numbers:
    """Return the released radii of the softest and the hardest metal, shape (passes, 2, places), for travels of shape
    (passes, places); every pass enters with the radius of the pass before. Without a yield range there are none.
    """
    if material.yield_range is None:
        return np.zeros((len(travels), 0, travels.shape[1]))
    yields = np.array(material.yield_range)[:, None]
    radii = [np.full((2, travels.shape[1]), math.inf)]
    for travel in travels:
        radii.append(_released(machine, stock, material, yields, travel, radii[-1]))
    return np.array(radii[1:])


def _released(machine: Machine, stock: Stock, material: Material, yields: Numbers, travel: Numbers,
              entering: Numbers) -> Numbers:
    """Return the radii after a pass; metal so soft that it lies against the inside roll keeps that curve."""
    try:
        found = setting_for_travel(machine, stock, material.with_yield(yields), travel, entering_radius=entering)
        return np.asarray(found.released_radius)
    except InputError:
        if yields.size > 1 or travel.size > 1:
            return np.array([[_released(machine, stock, material, one[None], travel[[place]], before[[place]][None])
                              .item() for place in range(len(travel))]
                             for one, before in zip(yields, entering, strict=True)])
        against = machine.inside_roll_diameter / 2 + float(stock.depth) / 2
        held = released_radius(stock, material.with_yield(float(yields.item())), against)
        return np.minimum(entering, float(held))
