"""How hard the crank is: the work the metal takes, and what the bearings take on top."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import FloatLike, InputError, checked, plain

from .machines import Machine, PinchMachine, checked_machine
from .setting import Setting

SNUG_PINCH = 5000.0
"""Pinch force taken where a machine gives none: our own estimate for screws turned snug by hand. [N]"""

HAND_CRANK_LIMIT = 98.0
"""Steady force of one person at a crank, 10 kgf: the lower end of the 10 to 15 kgf that O. Lueger, Lexikon der gesamten
Technik, 2nd ed., article "Handkurbeln", p. 769 (seen as kept by zeno.org) takes for one worker, with 20 kgf for a
moment. It is used because it speaks of cranks. A present rule for nearly the same effort agrees for men and asks for
less from women: `KEEP_MOVING`. [N]"""

KEEP_MOVING = {"men": 100.0, "women": 70.0}
"""Guideline force to keep a load moving that is pushed or pulled with the hands between knuckle and shoulder; above it
the task is to be looked at more closely. UK Health and Safety Executive, web page "Doing a push/pull risk assessment",
table of guideline figures (10 kg and 7 kg; to start or stop, 20 and 15 kg), after its guidance L23, Manual handling. It
speaks of loads on wheels, not of cranks, so it stands here beside the limit and not in its place. [N]"""


@dataclass(frozen=True, eq=False)
class Effort:
    """What a setting asks of the crank.

    Parameters
    ----------
    drive_force : float or array, shape (...)
        Force along the sheet that the driven rolls must supply, whole width. [N]
    roll_torque : float or array, shape (...)
        Torque at the driven rolls for the metal alone. [N mm]
    crank_force_least : float or array, shape (...)
        Force at the crank for the metal alone. [N]
    crank_force : float or array, shape (...)
        Force at the crank with the friction of the bearings; the true one lies in between, or above where
        gears, scale or dirt take their share. [N]
    grip : float or array, shape (...)
        Most drive that friction at the driven rolls can pass on. [N]

    Raises
    ------
    None
        Built by `crank_effort`.

    Notes
    -----
    Validity: as `crank_effort`.

    Source: house definition.

    Examples
    --------
    >>> Effort(drive_force=100.0, roll_torque=2500.0, crank_force_least=10.0, crank_force=58.0, grip=1000.0).crank_force
    58.0
    """

    drive_force: FloatLike
    roll_torque: FloatLike
    crank_force_least: FloatLike
    crank_force: FloatLike
    grip: FloatLike

    def work(self, length: FloatLike) -> FloatLike:
        """Return the work of the crank on the metal for a length of stock. [N mm]"""
        long = checked("length", length, "mm", above=0, advice="give the length that goes through the rolls")
        return plain(self.drive_force * np.asarray(long))


def crank_effort(setting: Setting) -> Effort:
    r"""Return how hard the crank is at a setting, as a range.

    Parameters
    ----------
    setting : Setting
        A setting of a machine that has a crank radius.

    Returns
    -------
    effort : Effort
        Drive, torque, crank force for the metal alone and with the bearings, and grip.

    Raises
    ------
    InputError
        If it is no setting, or the machine has no crank radius.

    Notes
    -----
    The drive is the plastic work per length, W. With the crank radius r, i crank turns for a turn of the rolls of
    radius R, journals of diameter d_j, friction μ and bearing loads N_k,

    .. math:: F_{least} = \frac{W R}{i r}, \qquad F = F_{least} + \frac{\mu\,d_j/2 \sum N_k}{i r}

    Bearing loads are the contact forces; a perfect nip, whose forces are endless, is taken as pressing with
    `SNUG_PINCH`. Never what you will feel: gears, scale and dirt add to it. Validity: as `setting_for_radius`.

    Source: energy balance; Coulomb friction in plain bearings, any text on machine elements (from memory).

    Examples
    --------
    >>> from rollcalc.rolling import DEMO_MACHINE, setting_for_radius
    >>> from rollcalc.stock import Material, Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> effort = crank_effort(setting_for_radius(DEMO_MACHINE, Sheet(thickness=0.76, width=300), steel, 90))
    >>> round(effort.crank_force_least), round(effort.crank_force)
    (13, 63)
    """
    checked_kind("the setting", setting, Setting, advice="take it from setting_for_radius")
    if setting.machine.crank_radius is None:
        raise InputError("the machine has no crank_radius [mm], but the force at the crank needs one: "
                         "measure it from the axle of the crank to its grip.")  # fmt: skip
    return effort_of(setting.machine, setting.drive_force, setting.front_roll_force, setting.inside_roll_force,
                     setting.bending_roll_force)  # fmt: skip


def crank_work(settings: Setting) -> tuple[float, float]:
    """Return the work at the crank for a whole ring over all passes: metal alone, and with greased bearings.

    Parameters
    ----------
    settings : Setting
        The settings of the passes, in an array.

    Returns
    -------
    work : tuple of two floats
        For the metal, and with the bearings. [N mm]

    Raises
    ------
    InputError
        If the machine has no crank radius.

    Notes
    -----
    Force times the way of the hand. Validity: as `crank_effort`.

    Source: energy balance.

    Examples
    --------
    >>> from rollcalc.rolling import DEMO_MACHINE, pass_settings
    >>> from rollcalc.stock import MATERIALS, Sheet
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> [round(crank_work(pass_settings(DEMO_MACHINE, Sheet(0.76, 240), steel, 90, n))[0] / 1000) for n in (1, 5)]
    [51, 51]
    """
    machine, effort = settings.machine, crank_effort(settings)
    length = 2 * math.pi * float(np.atleast_1d(settings.released_radius)[-1])
    arm = machine.gear_ratio * (machine.crank_radius or 0.0)
    way = 2 * length * arm / driven_diameter(machine)
    return float(np.sum(effort.crank_force_least)) * way, float(np.sum(effort.crank_force)) * way


def effort_of(machine: Machine, drive: FloatLike, front: FloatLike, inside: FloatLike, bending: FloatLike) -> Effort:
    """Return the effort of these forces; the crank's are infinite where the machine has no crank.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    drive : float or array, shape (...)
        Force along the sheet that the driven rolls must supply, whole width. [N]
    front, inside, bending : float or array, broadcastable with drive
        Forces between the stock and the three rolls, whole width; infinite in a perfect nip. [N]

    Returns
    -------
    effort : Effort
        The effort.

    Raises
    ------
    None
        The callers have checked the numbers.

    Notes
    -----
    Front and inside roll are driven on a pinch machine, the two bottom rolls on a pyramid machine.
    Validity: as `crank_effort`.

    Source: as `crank_effort`.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> effort_of(DEMO_MACHINE, 100.0, np.inf, np.inf, 300.0).grip
    1000.0
    """
    before, within = (np.where(np.isfinite(force), force, SNUG_PINCH) for force in (front, inside))
    driven_by = (before, within) if isinstance(machine, PinchMachine) else (before, np.asarray(bending))
    torque = np.asarray(drive) * driven_diameter(machine) / 2
    arm = machine.gear_ratio * (0.0 if machine.crank_radius is None else machine.crank_radius)
    friction = machine.bearing_friction * sum(
        load * journal / 2
        for load, journal in zip((before, within, np.asarray(bending)), _journals(machine), strict=True)
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        least, most = (np.where(arm > 0, total / arm, np.inf) for total in (torque, torque + friction))
    grip = machine.grip_friction * (driven_by[0] + driven_by[1])
    return Effort(plain(np.asarray(drive)), plain(torque), plain(least), plain(most), plain(grip))


def crank_force_limit(machine: Machine) -> float:
    """Return the most force that the people who crank shall need.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine; its own limit counts where it has one.

    Returns
    -------
    limit : float
        Force at the crank. [N]

    Raises
    ------
    InputError
        If it is no machine.

    Notes
    -----
    The published value is old, for a grown worker at a winch. A present guideline for pushing and pulling gives about
    100 N for men and 70 N for women, so give 70 N or less as a machine's crank_limit where anybody may crank, and less
    for young people. Present standards, such as EN 1005-3 for machines, work it out from the people, the posture and
    how often. Validity: steady cranking.

    Source: `HAND_CRANK_LIMIT`, beside `KEEP_MOVING`.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> crank_force_limit(DEMO_MACHINE)
    98.0
    """
    checked_machine(machine)
    return HAND_CRANK_LIMIT if machine.crank_limit is None else machine.crank_limit


def driven_diameter(machine: Machine) -> float:
    """Return the diameter of the driven roll whose turn feeds the stock.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.

    Returns
    -------
    diameter : float
        Inside roll of a pinch machine, bottom roll of a pyramid machine. [mm]

    Raises
    ------
    None
        Every machine has one.

    Notes
    -----
    Validity: no slip.

    Source: house definition.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> driven_diameter(DEMO_MACHINE)
    50.0
    """
    return machine.upper_roll_diameter if isinstance(machine, PinchMachine) else machine.bottom_roll_diameter


def _journals(machine: Machine) -> tuple[float, float, float]:
    """Return the diameters that front, inside and bending roll turn in; half the roll's where it is not given."""
    if isinstance(machine, PinchMachine):
        rolls = (machine.lower_roll_diameter, machine.upper_roll_diameter, machine.bending_roll_diameter)
    else:
        rolls = (machine.bottom_roll_diameter, machine.top_roll_diameter, machine.bottom_roll_diameter)
    front, inside, bending = (
        roll / 2 if machine.journal_diameter is None else machine.journal_diameter for roll in rolls
    )
    return front, inside, bending
