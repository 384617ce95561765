"""How hard the crank is: the work the metal takes, and what the bearings take on top."""

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import FloatLike, InputError, checked, plain
from rollcalc.stock.record import Record

from .machine.kinds import Machine, checked_machine
from .setting import Setting

SHORT_TIME_CEILING = 98.0
"""Force of one person at a crank for a short time, 10 kgf: the lower end of the 10 to 15 kgf that O. Lueger, Lexikon
der gesamten Technik, 2nd ed., article "Handkurbeln", p. 769 (seen as kept by zeno.org) takes for one worker, with
20 kgf for a moment. [N]"""

KEPT_UP = 50.0
"""Force at a crank that a person keeps up pass after pass, the default for planning: about half of the ceiling, and
below the guideline for women in `KEEP_MOVING`; our own choice. [N]"""

KEEP_MOVING = {"men": 100.0, "women": 70.0}
"""Guideline force to keep a load moving that is pushed or pulled with the hands between knuckle and shoulder; above it
the task is to be looked at more closely. UK Health and Safety Executive, web page "Doing a push/pull risk assessment",
table of guideline figures (10 kg and 7 kg; to start or stop, 20 and 15 kg), after its guidance L23, Manual handling. It
speaks of loads on wheels, not of cranks, so it stands here beside the limit and not in its place. [N]"""


@dataclass(frozen=True, eq=False, repr=False)
class Effort(Record):
    """What a setting asks of the crank.

    Parameters
    ----------
    drive_force, idle_drag, grip : float or array, shape (...)
        Forces along the stock: to bend the metal, whole width, and to turn the idle rolls against their bearings; most
        pull that friction at the driven rolls can pass on, infinite in a perfect nip. [N]
    roll_torque : float or array, shape (...)
        Torque at the driven rolls for the metal alone. [N mm]
    crank_force_least, crank_force : float or array, shape (...)
        Force at the crank for the metal alone, and with the friction of bearings and of unlike rolls; the true one lies
        in between, or above where gears, scale or dirt take their share. [N]
    """

    drive_force: FloatLike
    idle_drag: FloatLike
    roll_torque: FloatLike
    crank_force_least: FloatLike
    crank_force: FloatLike
    grip: FloatLike

    SHOWS = ("drive_force [N], idle_drag [N], pull [N], grip [N], roll_torque [N mm], crank_force_least [N], "
             "crank_force [N]")
    caption = "Effort at the crank"

    @property
    def pull(self) -> FloatLike:
        """Force along the stock that friction at the driven rolls must pass on: metal and idle rolls. [N]"""
        return plain(np.asarray(self.drive_force) + self.idle_drag)

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
        Drive, drag, torque, crank force for the metal alone and with friction, and grip.

    Notes
    -----
    The drive is the plastic work per length, W. An idle roll of diameter d on a journal d_j under a load N drags the
    stock back by D = μ N d_j/d. The driven rolls turn together; of two that are not alike, as in a groove, the stock
    follows the smaller, R₁, and slips on the larger, R₂. With the crank radius r, and i crank turns for a turn of the
    rolls,

    .. math:: F_{least} = \frac{W R_1}{i r}, \qquad
        F = \frac{(W + D) R_1 + \mu_g N_2 (R_2 - R_1) + \sum \mu N_k d_j / 2}{i r}

    with the sum over the driven rolls. A perfect nip, a teaching ideal, has no pinch that could load its bearings:
    only the bending roll drags there. Never what you will feel: gears, scale and dirt add to it. Validity: as
    `setting_for_radius`; driven rolls geared one to one. A pull below μ_g (N₂ - N₁), as in very gentle bends, lets the
    stock follow the larger roll, and takes a little less.
    Source: energy balance; Coulomb friction in plain bearings, any text on machine elements (from memory).

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Material, Sheet, setting_for_radius
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> effort = crank_effort(setting_for_radius(DEMO_MACHINE, Sheet(thickness=0.76, width=300), steel, 90))
    >>> round(effort.crank_force_least), round(effort.crank_force)
    (13, 40)
    """
    checked_kind("the setting", setting, Setting, advice="take it from setting_for_radius")
    if setting.machine.crank_radius is None:
        raise InputError("the machine has no crank_radius [mm], but the force at the crank needs one: "
                         "measure it from the axle of the crank to its grip.")
    return effort_of(setting)


def crank_work(settings: Setting) -> tuple[float, float]:
    """Return the work at the crank for a ring over all passes, force times path: metal alone, and with friction."""
    machine, effort = settings.machine, crank_effort(settings)
    length = 2 * math.pi * float(np.atleast_1d(settings.released_radius)[-1])
    path = 2 * length * machine.gear_ratio * (machine.crank_radius or 0.0) / machine.driven_diameter
    return float(np.sum(effort.crank_force_least)) * path, float(np.sum(effort.crank_force)) * path


def effort_of(setting: Setting) -> Effort:
    """Return the effort at a setting; the crank's forces are infinite where the machine has no crank."""
    machine, drive, forces = setting.machine, np.asarray(setting.drive_force), setting.roll_forces
    loads = [np.where(np.isfinite(force), force, 0.0) for force in forces]
    diameters, journals, driven, idle = machine.roll_diameters, machine.journal_diameters, machine.DRIVEN, machine.IDLE
    drag = machine.bearing_friction * loads[idle] * journals[idle] / diameters[idle]
    bearings = sum(machine.bearing_friction * loads[roll] * journals[roll] / 2 for roll in driven)
    small, large = sorted(driven, key=diameters.__getitem__)
    slipping = machine.grip_friction * loads[large] * (diameters[large] - diameters[small]) / 2
    metal = drive * machine.driven_diameter / 2
    torque = (drive + drag) * machine.driven_diameter / 2 + slipping + bearings
    arm = machine.gear_ratio * (machine.crank_radius or 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        least, most = (np.where(arm > 0, total / arm, np.inf) for total in (metal, torque))
    grip = machine.grip_friction * sum(np.asarray(forces[roll]) for roll in driven)
    return Effort(*map(plain, (drive, drag, metal, least, most, grip)))


def crank_force_limit(machine: Machine) -> float:
    """Return the most force that the people who crank should need.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine; its own limit counts where it has one.

    Returns
    -------
    limit : float
        Force at the crank. [N]

    Notes
    -----
    Without a limit of the machine, what a person keeps up: about half of what an old encyclopaedia takes for a short
    time at a crank, and less than a present guideline for pushing. Give less for young people. Present standards, such
    as EN 1005-3 for machines, work it out from the people, the posture and how often. Validity: steady cranking.
    Source: `KEPT_UP`, beside `SHORT_TIME_CEILING` and `KEEP_MOVING`.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE
    >>> crank_force_limit(DEMO_MACHINE)
    50.0
    """
    checked_machine(machine)
    return KEPT_UP if machine.crank_limit is None else machine.crank_limit
