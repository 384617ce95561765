"""A flat strip of continuum fed through a pinch or a pyramid machine, taken off, and measured.

The strip is really fed: the moving roll comes to its place while the strip goes through, and stays there for the
rest. A node of the middle surface beside the nip is pulled along; its force is the drive force. Taking off is the
rolls' forces fading to nothing with the strip held so that nothing else can press it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

import rollcalc as rc

from .balance import Balance, Roll
from .sheet import Array, Strip

NIP, BENDING, PLATE = 1e5, 1e3, 2e4
"""Stiffness of contact in a nip, with a bending roll, and with a pyramid's rolls. Much stiffer is not resolved by the
elements' points, much softer spreads the contact: 5e3 under a top roll makes a 12 mm plate 0.7 % larger. [MPa/mm]"""
SQUEEZE = 0.002
"""How much narrower than the sheet a nip is at the start, so that it grips before the bending roll holds. [mm]"""
GENTLE = 0.2
"""Travel of the bending roll when the feed starts: elastic, but enough to hold the sheet. [mm]"""
STEP = math.sqrt(5) - 2
"""Longest step of feed in elements; it shares no rhythm with them, so that a mean over steps is a mean. [-]"""
PINCH_CELL, PYRAMID_CELL = 0.6, 0.35
"""How long elements are, in thicknesses. [-]"""
SOFT_TO_HARD = (1e-3, 1e-2, 0.1, 1.0)
"""Shares of their stiffness by which rolls take hold. [-]"""
OVERLAP = 0.02
"""How deep the rolls of a pyramid machine stand in the flat sheet at the start, so that they hold it. [mm]"""


@dataclass(frozen=True)
class Rolled:
    """What came out: radii to mid-thickness [mm], forces per mm of width [N/mm], and what it took."""

    radius: float
    newer: float
    older: float
    roundness: float
    front_force: float
    bending_force: float
    drive_force: float
    force_scatter: float
    cells: int
    rounds: int

    @property
    def error_bar(self) -> float:
        """How far the newer half of the measured arc is from the older, as a share."""
        return abs(self.newer / self.older - 1)


def march_pinch(machine: rc.PinchMachine, thickness: float, metal: rc.Material, travel: float, gap: float,
                cell: float = PINCH_CELL, fed: float = 2.3) -> Rolled:
    """Return what a pinch machine makes of a flat sheet, its front rolls apart by the thickness and the gap.

    Elements are `cell` thicknesses long, and the strip is fed `fed` guide distances at the full travel.
    """
    rise, feed = 0.25 * machine.guide_distance, fed * machine.guide_distance
    tail, tip = 12 + 4 * thickness, machine.guide_distance + 5
    strip = _strip(metal, thickness, rise + feed + tail, tip, cell)
    upper = Roll(machine.upper_roll_diameter / 2, NIP, True)
    lower = Roll(machine.lower_roll_diameter / 2, NIP, False)
    bending = Roll(machine.bending_roll_diameter / 2, BENDING, False)
    balance = Balance(strip, [upper, lower, bending])
    (_, upper.y), half = machine.upper_roll_centre(thickness), thickness / 2

    def place(share: float) -> None:
        risen = GENTLE + share * (travel - GENTLE)
        bending.x, bending.y = map(float, machine.bending_roll_centre(thickness, risen))
        opened = min(max(2 * share - 0.5, 0), 1)  # the nip opens once the bending roll holds
        lower.y = -half - lower.radius - (-SQUEEZE + opened * (gap + SQUEEZE))

    place(0.0)
    middle = _near(strip, 0.0)
    held = {2 * middle: 0.0, 2 * middle + 1: SQUEEZE / 2, 2 * int(strip.middle[0]) + 1: SQUEEZE / 2}
    for share in SOFT_TO_HARD:
        bending.stiffness = share * BENDING
        _grip(balance, held)
    record = _feed(balance, place, rise, feed, -thickness)
    return _result(balance, _last(record, 0.25 * machine.guide_distance), lower, bending, thickness)


def march_pyramid(machine: rc.PyramidMachine, thickness: float, metal: rc.Material, travel: float,
                  cell: float = PYRAMID_CELL, fed: float = 1.8) -> Rolled:
    """Return what a pyramid machine makes of a flat plate.

    Elements are `cell` thicknesses long, and the plate is fed `fed` spacings at the full travel.
    """
    half_spacing, half = machine.bottom_roll_spacing / 2, thickness / 2
    rise, feed = 0.25 * half_spacing, 2 * fed * half_spacing
    beyond = half_spacing + 5 * thickness
    strip = _strip(metal, thickness, beyond + rise + feed, beyond, cell)
    top = Roll(machine.top_roll_diameter / 2, PLATE, True)
    front, behind = (Roll(machine.bottom_roll_diameter / 2, PLATE, False, x) for x in (-half_spacing, half_spacing))
    front.y = behind.y = -half - front.radius + OVERLAP
    balance = Balance(strip, [top, front, behind])

    def place(share: float) -> None:
        top.y = half + top.radius - OVERLAP - share * (travel - 2 * OVERLAP)

    place(0.0)
    middle = _near(strip, 0.0)
    for share in SOFT_TO_HARD:
        for roll in balance.rolls:
            roll.stiffness = share * PLATE
        _grip(balance, {2 * middle: 0.0})
    record = _feed(balance, place, rise, feed, 0.0)
    return _result(balance, _last(record, half_spacing), front, behind, thickness)


def _strip(metal: rc.Material, thickness: float, before: float, beyond: float, cell: float) -> Strip:
    """Return a flat strip from `before` the nip to `beyond` it, in elements of about `cell` thicknesses."""
    columns = math.ceil((before + beyond) / (cell * thickness))
    return Strip(metal, thickness, -before, before + beyond, columns, layers=4)


def _last(record: Array, length: float) -> Array:
    """Return the record of the last steps that make up this length of feed."""
    return record[np.cumsum(record[::-1, 0])[::-1] <= length]


def _near(strip: Strip, x: float) -> int:
    """Return the node of the middle surface nearest to a place along the machine, among those not yet curled."""
    places = strip.places()[strip.middle]
    return int(strip.middle[np.argmin(np.hypot(places[:, 0] - x, places[:, 1]))])


def _grip(balance: Balance, held: dict[int, float]) -> None:
    """Find the balance before the feed, the strip held besides where no roll holds it yet."""
    if not balance.find(held, most=60):
        raise ArithmeticError("the rolls do not grip")


def _feed(balance: Balance, place: Callable[[float], None], rise: float, feed: float, pulled: float) -> Array:
    """Feed the strip while the rolls come to their places and on; return step, forces and drive after each step."""
    strip, fed, felt = balance.strip, 0.0, []
    longest = step = STEP * strip.cell
    guess = np.zeros_like(strip.moved)
    while fed < rise + feed - 1e-9:
        node, was = _near(strip, pulled), strip.moved
        place(min((fed + step) / rise, 1.0))
        held = {2 * node: float(was[2 * node]) + step}
        if balance.find(held, guess * step, most=12) or (step < longest / 4 and balance.find(held, most=25)):
            guess, fed = (strip.moved - was) / step, fed + step
            felt.append([step, *(roll.force for roll in balance.rolls), balance.held_forces[2 * node]])
            step = min(1.5 * step, longest)
        elif step > longest / 200:
            step /= 2
        else:
            raise ArithmeticError(f"no balance after {fed:.1f} mm of feed")
    return np.array(felt)


def _result(balance: Balance, record: Array, front: Roll, bending: Roll, thickness: float) -> Rolled:
    """Take the strip off and measure the arc that lay between the nip and the bending roll."""
    strip, steady = balance.strip, np.average(record, axis=0, weights=record[:, 0])
    index = {id(roll): number for number, roll in enumerate(balance.rolls, start=1)}
    arc = list(_arc(strip, thickness, bending))
    release(balance)
    places = strip.places()[arc]
    radius, off = circle_through(places)
    half = len(arc) // 2
    force = steady[index[id(bending)]]
    return Rolled(
        radius=radius, newer=circle_through(places[:half])[0], older=circle_through(places[half:])[0], roundness=off,
        front_force=steady[index[id(front)]], bending_force=force, drive_force=steady[-1],
        force_scatter=record[:, index[id(bending)]].std() / force, cells=len(strip.nodes), rounds=balance.rounds,
    )


def _arc(strip: Strip, thickness: float, bending: Roll) -> Iterator[int]:
    """Yield the nodes of the middle surface from the nip to the bending roll, short of either by three thicknesses."""
    places = strip.places()[strip.middle]
    start = int(np.argmin(np.hypot(*places.T)))
    end = start + int(np.argmin(np.hypot(*(places[start:] - bending.contact).T)))
    edge = round(3 * thickness / (strip.cell / 2))
    yield from map(int, strip.middle[start + edge : end - edge])


def release(balance: Balance) -> None:
    """Fade the rolls' forces to nothing, the strip held at two nodes so that only it can press itself."""
    strip = balance.strip
    inner, _ = strip.forces(strip.moved)
    node = int(np.argmin(np.abs(strip.middle - _near(strip, 0.0))))
    first, other = int(strip.middle[node]), int(strip.middle[node - 8])
    held = {dof: float(strip.moved[dof]) for dof in (2 * first, 2 * first + 1, 2 * other + 1)}
    balance.rolls = []
    share, step = 1.0, 0.1
    while share > 0:
        balance.load = inner * max(share - step, 0)
        if balance.find(held, most=30):
            share = max(share - step, 0)
        else:
            step /= 2
            if step < 1e-3:
                raise ArithmeticError("the strip does not come off")


def circle_through(places: Array) -> tuple[float, float]:
    """Return the radius of the circle nearest to these places, and how far the furthest is off it. [mm]

    >>> turn = np.linspace(0, 1, 20)
    >>> radius, off = circle_through(np.stack((90 * np.sin(turn), 90 - 90 * np.cos(turn)), -1))
    >>> round(radius, 6), round(off, 6)
    (90.0, 0.0)
    """
    system = np.column_stack((2 * places, np.ones(len(places))))
    (x, y, rest), *_ = np.linalg.lstsq(system, (places**2).sum(1), rcond=None)
    radius = math.sqrt(rest + x**2 + y**2)
    return radius, float(np.abs(np.hypot(places[:, 0] - x, places[:, 1] - y) - radius).max())
