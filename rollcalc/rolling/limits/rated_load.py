"""What the plate promises: the load of the rated sheet over the full width."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from rollcalc.bending.first_yield import plastic_moment
from rollcalc.bending.law import fibre_law
from rollcalc.bending.moment import first_moments
from rollcalc.bending.release import loaded_curvature
from rollcalc.stock.materials import MATERIALS
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.sections import Sheet

from ..machine.kinds import Machine
from ..solver.batches import common_shape
from ..solver.steady_state import Held, held, held_at_travel

SMALLEST_RING = 1.5
"""Smallest ring over the diameter of the inside roll, 1.5 to 2 in handbooks (from memory): the heaviest job of a plate,
as the load at the smallest shell sets a machine's capacity (Gajjar, Gandhi, Jafri, Raval, WASET Int. J. 1(8), 2007,
first page). [-]"""


@dataclass(frozen=True, eq=False)
class RatedLoad:
    """What the plate's own sheet asks of the machine: the rated thickness over the full width, in its smallest ring.

    ``moment`` is its full plastic moment [N mm]; ``front``, ``inside`` and ``bending`` are the forces on the three
    rolls [N], at the wanted radius where that is tighter, and in the tightest curve the rolls hold where they hold
    neither. That a plate speaks of the full width is common practice, no source.
    """

    moment: float
    front: FloatLike
    inside: FloatLike
    bending: FloatLike

    USUAL: ClassVar[str] = "low-carbon steel, cold rolled"
    """The metal of a plate that names none."""

    @classmethod
    def of(cls, machine: Machine, released_radius: FloatLike) -> RatedLoad | None:
        """Return the load of the rated sheet; None where the plate says nothing."""
        if machine.rated_thickness is None:
            return None
        sheet = Sheet(thickness=machine.rated_thickness, width=machine.working_width)
        metal = MATERIALS[cls.USUAL if machine.rated_material is None else machine.rated_material]
        tightest = 0.999 / (machine.inside_roll_diameter / 2 + machine.rated_thickness / 2)
        kept = np.asarray(first_moments(sheet, fibre_law(sheet, metal), tightest)[0])
        ring = SMALLEST_RING * machine.inside_roll_diameter / 2
        tight = np.asarray(ring if np.all(np.asarray(released_radius) >= ring) else np.minimum(released_radius, ring))
        wanted = plain(np.minimum(1 / tight, kept))
        loaded = np.asarray(loaded_curvature(sheet, metal, wanted))
        loaded = np.where(loaded > 0, loaded, tightest)  # foil that springs back flat even from the roll itself
        loaded = np.broadcast_to(loaded, common_shape(machine, sheet, metal, loaded))  # a pinch may be an array
        state = held(machine, sheet, metal, loaded, 0.0, "forward")
        beyond = ~np.isfinite(state.travel)
        if np.any(beyond):  # rolls that cannot hold this ring: the tightest curve they hold
            most = 10 * (machine.inside_roll_diameter + machine.working_width)
            last = held_at_travel(machine, sheet, metal, most, 0.0, "forward")
            state = Held(*(np.where(beyond, part, usual) for usual, part in zip(state, last, strict=True)))
        return cls(float(plastic_moment(sheet, metal)), *roll_forces(state))


def roll_forces(state: Held) -> tuple[FloatLike, FloatLike, FloatLike]:
    """Return the forces on front, inside and bending roll; the first two infinite in a perfect nip. [N]"""
    front, bending = np.asarray(state.front_force), np.asarray(state.bending_force)
    inside = front * np.cos(state.front_angle) + bending * np.cos(state.bending_angle)
    return plain(front), plain(inside), plain(bending)
