"""Bars in grooves: which groove takes a round bar, and what the rolls are worth in it."""

import math
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import FloatLike, InputError, shown
from rollcalc.stock.record import Record
from rollcalc.stock.sections import FlatBar, RoundBar, Stock

from .kinds import Machine, PinchMachine, RollPair, checked_machine

_FITS = 1 + 1e-9
"""A bar fits a groove of its own size, whatever the last digit says."""


@dataclass(frozen=True, eq=False, repr=False)
class Groove(Record):
    """A groove of the rolls.

    Parameters
    ----------
    diameter, depth, position : float
        Bar it is cut for; how deep it is; from the middle of the rolls, None where the machine does not say. [mm]
    rolls : tuple of str
        The rolls that have it.
    """

    diameter: float
    depth: float
    position: float | None
    rolls: tuple[str, ...]

    SHOWS = "diameter [mm], depth [mm], position [mm], rolls"

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"{self.diameter:g} mm groove"

    @property
    def front_depth(self) -> float:
        """How much nearer than the bar's diameter the faces of the front rolls come. [mm]"""
        return self.depth * sum(roll in self.rolls for roll in ("upper", "lower"))

    def takes(self, bar_diameter: float) -> bool:
        """Return whether a bar goes in, and is gripped before the front rolls meet."""
        return self.front_depth / _FITS <= bar_diameter <= self.diameter * _FITS


def grooves(machine: Machine) -> tuple[Groove, ...]:
    """Return the grooves of a machine, the smallest first.

    Parameters
    ----------
    machine : Machine
        The machine.

    Returns
    -------
    grooves : tuple of Groove
        Its grooves; none where it has none.

    Raises
    ------
    InputError
        If there are not as many depths or positions as diameters, or a groove is deeper than its roll's radius.

    Notes
    -----
    A groove without a depth is half as deep as its bar is thick. Validity: grooves that go all round.
    Source: common practice, no source.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE
    >>> [groove.diameter for groove in grooves(DEMO_MACHINE)]
    [5.0, 6.0, 8.0]
    """
    machine = plain_machine(checked_machine(machine))
    if not isinstance(machine, PinchMachine):
        return ()
    diameters = machine.groove_diameters
    for name, values in (("groove depths", machine.groove_depths), ("groove positions", machine.groove_positions)):
        if len(values) not in (0, len(diameters)):
            raise InputError(f"{name} has {len(values)} numbers, but must have {len(diameters)}, one for each of the "
                             "groove diameters: leave it out, or give them all.")
    depths = machine.groove_depths or tuple(diameter / 2 for diameter in diameters)
    positions = machine.groove_positions or (None,) * len(diameters)
    rolls = tuple(word.strip() for word in machine.grooved_rolls.split(","))
    thinnest = min(getattr(machine, f"{roll}_roll_diameter") for roll in rolls)
    if depths and max(depths) >= thinnest / 2:
        raise InputError(f"groove depths has {max(depths):.6g} mm, but must be below {thinnest / 2:.6g} mm, the radius "
                         "of the roll: measure it again.")
    rows = zip(diameters, depths, positions, strict=True)
    return tuple(sorted((Groove(*row, rolls) for row in rows), key=lambda groove: groove.diameter))


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class GroovedMachine(PinchMachine):
    """A machine as a round bar in its groove meets it: grooved rolls as thin as their grooves leave them."""

    groove: Groove

    @property
    def plain(self) -> PinchMachine:
        """The machine as flat stock meets it, which lies beside the groove."""
        return PinchMachine(**_with_rolls(self, self.groove, 1.0))

    def body_diameter(self, roll: str) -> float:
        """Return the diameter of a roll beside its groove. [mm]"""
        return super().body_diameter(roll) + (2 * self.groove.depth if roll in self.groove.rolls else 0.0)

    def roll_pairs(self, thickness: FloatLike) -> tuple[RollPair, ...]:
        """Return the pairs of rolls that may meet, which they do beside the groove, where they are thicker."""
        pairs = super().roll_pairs(thickness)
        reaches = ((self.body_diameter(roll) + self.body_diameter("bending")) / 2 for roll in ("upper", "lower"))
        return tuple((vector, change, reach) for (vector, change, _), reach in zip(pairs, reaches, strict=True))


def groove_for(machine: Machine, stock: Stock) -> Groove:
    """Return the groove that takes a round bar: the smallest that is large enough.

    Parameters
    ----------
    machine, stock : Machine and RoundBar
        The machine, and the bar, of one diameter.

    Returns
    -------
    groove : Groove
        The groove.

    Raises
    ------
    InputError
        If it is no single round bar, the machine has no grooves, or no groove takes the bar.

    Notes
    -----
    A bar between flat rolls is marked, and wanders along them. Validity: as `grooves`.
    Source: common practice, no source.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE
    >>> groove_for(DEMO_MACHINE, RoundBar(5.5)).diameter
    6.0
    """
    if not isinstance(stock, RoundBar) or np.ndim(stock.diameter):
        raise InputError(f"the stock is {shown(stock)}, but must be one round bar: flat stock needs no groove.")
    cut, bar = grooves(machine), float(stock.diameter)
    if not cut:
        raise InputError(f"bar diameter is {bar:.6g} mm, but the machine has no grooves, and a round bar must lie in "
                         "one: it wanders between plain rolls.")
    for groove in cut:
        if groove.takes(bar):
            return groove
    if bar > cut[-1].diameter:
        raise InputError(f"bar diameter is {bar:.6g} mm, but must be at most {cut[-1].diameter:.6g} mm, the "
                         "largest groove of this machine: take a thinner bar, or another machine.")
    least = min(groove.front_depth for groove in cut if bar <= groove.diameter)
    raise InputError(f"bar diameter is {bar:.6g} mm, but must be at least {least:.6g} mm: it sinks in so far that the "
                     "front rolls meet before they grip it; take a thicker bar, or another machine.")


def grooved_machine(machine: Machine, stock: Stock, groove: Groove | None = None) -> PinchMachine:
    """Return the machine as a round bar in its groove meets it: every grooved roll is thinner by its groove.

    Parameters
    ----------
    machine, stock : Machine and RoundBar
        The machine, and the bar, of one diameter.
    groove : Groove or None
        One of the grooves of the machine; None for the one that fits.

    Returns
    -------
    machine : PinchMachine
        The machine to ask for settings with this bar.

    Raises
    ------
    InputError
        As `groove_for`, or if the groove does not take the bar; the sentence says which does.

    Notes
    -----
    Every function of the rolls asks this itself for a round bar; call it to choose a groove by hand. A machine that has
    been through it keeps its groove. A roll of radius R acts as one of R − e in a groove of depth e. A bending roll
    then touches the bar e higher on its guide, so its distance from the nip changes by e cot(guide angle).
    Validity: the bar lies on the bottom of the groove. It tends to climb out and to twist: guide it square.
    Source: geometry.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE
    >>> bar_machine = grooved_machine(DEMO_MACHINE, RoundBar(6))
    >>> bar_machine.bending_roll_diameter, bar_machine.upper_roll_diameter, round(bar_machine.guide_distance, 2)
    (44.0, 50.0, 58.91)
    """
    fits, plain = groove_for(machine, stock), plain_machine(machine)
    assert isinstance(plain, PinchMachine) and isinstance(stock, RoundBar)  # noqa: PT018
    if groove is None:
        groove = machine.groove if isinstance(machine, GroovedMachine) else fits
    checked_kind("the groove", groove, Groove, advice="take one from grooves")
    if not groove.takes(float(stock.diameter)):
        raise InputError(f"bar diameter is {stock.diameter:.6g} mm, but must be {groove.front_depth:.6g} to "
                         f"{groove.diameter:.6g} mm in the groove for {groove.diameter:.6g} mm: take the groove for "
                         f"{fits.diameter:.6g} mm.")
    if isinstance(machine, GroovedMachine) and machine.groove == groove:
        return machine
    return GroovedMachine(**_with_rolls(plain, groove, -1.0), groove=groove)


def plain_machine(machine: Machine) -> Machine:
    """Return the machine as flat stock meets it, whatever groove it was asked about before."""
    return machine.plain if isinstance(machine, GroovedMachine) else machine


def width_along(stock: Stock) -> FloatLike:
    """Return the size of the stock along the rolls: its width, or a bar's diameter. [mm]"""
    return stock.depth if isinstance(stock, RoundBar) else stock.width


def machine_for(machine: Machine, stock: Stock) -> Machine:
    """Return the machine as the stock meets it: a round bar through its groove, all else on the plain rolls."""
    checked_machine(machine)
    if not isinstance(stock, RoundBar):
        return plain_machine(machine)
    kept = isinstance(machine, GroovedMachine) and not np.ndim(stock.diameter)
    if kept and machine.groove.takes(float(stock.diameter)):  # type: ignore[union-attr]
        return machine  # asked before, which is quicker
    return grooved_machine(machine, stock)


def _with_rolls(machine: PinchMachine, groove: Groove, sign: float) -> dict[str, Any]:
    """Return the fields of a machine whose grooved rolls are thicker (sign 1) or thinner (-1) by a groove."""
    sizes = {field.name: getattr(machine, field.name) for field in fields(PinchMachine)}
    for roll in groove.rolls:
        sizes[f"{roll}_roll_diameter"] += sign * 2 * groove.depth
    if "bending" in groove.rolls:
        sizes["guide_distance"] -= sign * groove.depth / math.tan(math.radians(machine.guide_angle_degrees))
    return sizes


def bar_cautions(stock: Stock) -> tuple[str, ...]:
    """Return what to watch when a bar goes through the rolls. Not computed."""
    if isinstance(stock, FlatBar):
        return ("Roll a flat bar the easy way, flat on the rolls; on edge it twists and falls over.",
                "A bar that enters out of square comes out as a spiral: hold its tail against a line.")
    if isinstance(stock, RoundBar):
        return ("A round bar tends to climb out of its groove and to twist: keep it in line with the groove by its "
                "tail, with the hands well behind, and stop when it rides up.",)
    return ()
