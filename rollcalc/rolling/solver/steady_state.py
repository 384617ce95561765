"""The rolls hold a curve: from the curvature at the inside roll to travel, slopes and forces."""

from functools import partial
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from rollcalc.bending.law import FibreLaw, fibre_law
from rollcalc.bending.release import loaded_curvature
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike
from rollcalc.stock.sections import Stock

from ..machine.kinds import Machine
from .batches import common_shape
from .contact import contacts
from .path import loading_path
from .roots import rising_root
from .span import LevelledSpan, Span, entering_span, leaving_span


class Held(NamedTuple):
    """What the rolls hold, and what comes out."""

    loaded: FloatLike  # curvature at the inside roll [1/mm]
    released: FloatLike  # curvature after release [1/mm]
    travel: FloatLike  # travel of the roll that moves; infinite where the rolls cannot hold this curve [mm]
    front_angle: FloatLike  # slopes between the contacts, and at the inside roll [rad]
    bending_angle: FloatLike
    tilt: FloatLike
    front_force: FloatLike  # normal forces of the outer rolls, and what the driven rolls must supply, whole width [N]
    bending_force: FloatLike
    drive: FloatLike


def spans(machine: Machine, stock: Stock, law: FibreLaw, loaded: FloatLike, released: FloatLike, previous: FloatLike,
          feed: str) -> tuple[Span | None, Span]:
    """Return the spans before the inside roll, None in a perfect nip, and behind it; fed back, they change places."""
    enter, leave = partial(entering_span, stock, law, loaded, previous), partial(leaving_span, loaded, released)
    front, bending = (enter, leave) if feed == "forward" else (leave, enter)
    return None if machine.nip_is_perfect else front(), bending()


def held(machine: Machine, stock: Stock, material: Material, loaded: FloatLike, previous: FloatLike, feed: str) -> Held:
    """Return what the rolls hold when the curvature at the inside roll is ``loaded``. The drive is what unloading gives
    back less than loading takes, U_out − U_in: the plastic work per length.
    """
    law = fibre_law(stock, material)
    path = loading_path(stock, law, loaded, previous)
    stiffness = law.modulus * stock.second_moment
    moment, released = stiffness * path.moment, loaded - path.moment
    drive = moment * (loaded + released) / 2 - stiffness * path.energy
    front, bending = spans(machine, stock, law, loaded, released, previous, feed)
    found = contacts(machine, stock.depth, moment, front, bending, loaded if machine.bends_plate else None)
    front_force, bending_force = (
        _force(moment * (1 + np.asarray(found.peak)),
               LevelledSpan(span, loaded, found.peak) if span and machine.bends_plate else span, angle)
        for span, angle in ((front, found.front_angle), (bending, found.bending_angle)))
    return Held(loaded, released, found.travel, found.front_angle, found.bending_angle, found.tilt,
                front_force, bending_force, drive)


def previous_curvature(stock: Stock, material: Material, entering: FloatLike) -> FloatLike:
    """Return the largest curvature the stock was held at so far, from the curvature it kept."""
    return loaded_curvature(stock, material, entering) if np.any(entering) else 0.0


def held_at_travel(machine: Machine, stock: Stock, material: Material, travel: FloatLike, entering: FloatLike,
                   feed: str) -> Held:
    """Return what the rolls hold at a travel; stock that they do not reach keeps its entering curvature, unpressed."""
    law, previous = fibre_law(stock, material), previous_curvature(stock, material, entering)
    shape = common_shape(machine, stock, material, travel, entering)
    just_bent = 1e-9 * (np.asarray(entering) + 2 * law.yield_strain / stock.depth)
    lowest = np.broadcast_to(entering + just_bent, shape)
    highest = np.broadcast_to(2 / (machine.inside_roll_diameter + np.asarray(stock.depth)), shape)
    miss = lambda loaded: held(machine, stock, material, loaded, previous, feed).travel - travel
    root = rising_root(miss, lowest, highest)
    state = held(machine, stock, material, root, previous, feed)
    loose = root <= lowest * (1 + 1e-9)
    if not np.any(loose):
        return state
    unpressed = Held(*(np.where(loose, 0.0, value) for value in state))
    loaded, released = np.where(loose, entering, root), np.where(loose, entering, state.released)
    return unpressed._replace(loaded=loaded, released=released, travel=np.broadcast_to(travel, shape))


def _force(moment: FloatLike, span: Span | LevelledSpan | None, angle: FloatLike) -> Any:
    """Return the normal force at the far end of a span, M₀ over its lever arm; infinite where the arm is nothing."""
    if span is None:
        return np.inf
    arm: NDArray[np.float64] = np.asarray(span.lever * np.sin(angle))
    return np.where(arm > 0, moment / np.where(arm > 0, arm, 1.0), np.inf)
