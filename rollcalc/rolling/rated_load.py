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

from .hold import held, held_at_travel
from .machines import Machine

SMALLEST_RING = 1.5
"""Smallest ring over the diameter of the inside roll, 1.5 to 2 in handbooks (from memory): the heaviest job of a plate,
as the load at the smallest shell sets a machine's capacity (Gajjar, Gandhi, Jafri, Raval, WASET Int. J. 1(8), 2007,
first page). [-]"""


@dataclass(frozen=True, eq=False)
class RatedLoad:
    """What the plate's own sheet asks of the machine.

    Parameters
    ----------
    moment : float
        Full plastic moment of the rated sheet over the full width. [N mm]
    force : float or array, shape (...)
        Bending-roll force of the rated sheet in its smallest ring, or at the wanted radius where that is tighter;
        where the rolls cannot hold either, in the tightest curve that they can. [N]

    Raises
    ------
    None
        Built by `RatedLoad.of`.

    Notes
    -----
    Validity: the plate speaks of the full width.

    Source: common practice, no source.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> rated = RatedLoad.of(DEMO_MACHINE, 90.0)
    >>> round(rated.moment), round(rated.force)
    (26612, 989)
    """

    moment: float
    force: FloatLike
    USUAL: ClassVar[str] = "low-carbon steel, cold rolled"
    """The metal of a plate that names none."""

    @classmethod
    def of(cls, machine: Machine, released_radius: FloatLike) -> RatedLoad | None:
        """Return the load of the rated sheet; None where the plate says nothing."""
        if machine.rated_thickness is None:
            return None
        sheet = Sheet(machine.rated_thickness, machine.working_width)
        metal = MATERIALS[cls.USUAL if machine.rated_material is None else machine.rated_material]
        tightest = 0.999 / (machine.inside_roll_diameter / 2 + machine.rated_thickness / 2)
        kept = np.asarray(first_moments(sheet, fibre_law(sheet, metal), tightest)[0])
        ring = SMALLEST_RING * machine.inside_roll_diameter / 2
        wanted = plain(np.minimum(1 / np.minimum(released_radius, ring), kept))
        loaded = np.asarray(loaded_curvature(sheet, metal, wanted))
        loaded = np.where(loaded > 0, loaded, tightest)  # foil that springs back flat even from the roll itself
        state = held(machine.with_perfect_nip(), sheet, metal, loaded, 0.0, "forward")
        force, beyond = np.asarray(state.bending_force), ~np.isfinite(state.travel)
        if np.any(beyond):  # rolls that cannot hold this ring: the tightest curve they hold
            most = 10 * (machine.inside_roll_diameter + machine.working_width)
            force = np.where(beyond, held_at_travel(machine.with_perfect_nip(), sheet, metal, most, 0.0, 0.0,
                                                    "forward").bending_force, force)  # fmt: skip
        return cls(float(plastic_moment(sheet, metal)), plain(force))
