"""May the machine roll it? Every limit is a check of its own, with a reason."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rollcalc.bending.moment import bending_moment
from rollcalc.bending.release import checked_radius, loaded_curvature
from rollcalc.stock.materials import Material, checked_material
from rollcalc.stock.quantities import FloatLike, InputError, checked, plain
from rollcalc.stock.sections import FlatBar, RoundBar, Sheet, Stock

from .blocks import common_shape, in_blocks
from .bowed_radii import bowed_radii, travel_lost
from .checks import LAST_WORD, Check, named_check, standing
from .effort import effort_of
from .grooves import bar_cautions, groove_for, grooved_machine, grooves
from .hold import Held, held
from .limit_checks import reach_checks, result_checks, strength_checks
from .limits import checked_machine
from .machines import Machine, PinchMachine
from .rated_load import RatedLoad
from .setting import Setting
from .span import STEEPEST


@dataclass(frozen=True, eq=False)
class Capacity:
    """Whether a machine may roll a piece, with the reasons.

    Parameters
    ----------
    verdict : str or array of str
        "within the plate", "at the plate: ask" or "beyond the plate", with who has the last word. [-]
    checks : tuple of Check
        Every limit that was looked at.
    unchecked : tuple of str
        What could not be looked at, and what to measure for it.
    cautions : tuple of str
        What no check can see.
    setting : Setting
        The setting the checks are for, in a perfect nip.

    Raises
    ------
    None
        Built by `check_capacity`.

    Notes
    -----
    Validity: as `check_capacity`.

    Source: house definition.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> from rollcalc.stock import MATERIALS
    >>> body = check_capacity(DEMO_MACHINE, Sheet(0.76, 240), MATERIALS["low-carbon steel, cold rolled"], 90.4)
    >>> body["bending moment"].message
    'bending moment: to bend it right through, against the rated sheet over the full width: 8.4 N m of 26.6 N m, 32 %.'
    >>> body.word, body.binding.name
    ('within the plate', 'crank force')
    """

    verdict: str | NDArray[np.str_]
    checks: tuple[Check, ...]
    unchecked: tuple[str, ...]
    cautions: tuple[str, ...]
    setting: Setting

    def __getitem__(self, name: str) -> Check:
        """Return the check of that name."""
        return named_check(self.checks, name)

    @property
    def word(self) -> str | NDArray[np.str_]:
        """The verdict alone: "within the plate", "at the plate: ask" or "beyond the plate". [-]"""
        return standing(self.checks, complete=not self.unchecked)

    @property
    def binding(self) -> Check:
        """The check that decides: the furthest beyond its limit, or else the nearest to it."""
        return max((check for check in self.checks if check.counts), key=_severity)

    def __str__(self) -> str:
        """Return the verdict and every sentence, one a line."""
        lines = [check.message for check in self.checks] + [*self.unchecked, *self.cautions]
        return "\n".join([str(self.verdict), *lines])


def check_capacity(machine: Machine, stock: Stock, material: Material, released_radius: FloatLike, *,
                   position: FloatLike = 0.0) -> Capacity:  # fmt: skip
    r"""Return whether the machine may roll this piece to this radius, and why.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    stock : Sheet, FlatBar or RoundBar
        The piece.
    material : Material
        The metal.
    released_radius : float or array, broadcastable with the stock's and material's numbers
        Wanted radius after release, to mid-thickness. [mm]
    position : float or array, broadcastable with the other numbers
        From the middle of the rolls to the middle of the stock; a bar in a groove lies where its groove is. [mm]

    Returns
    -------
    capacity : Capacity
        Verdict, checks, what could not be checked, cautions.

    Raises
    ------
    InputError
        If a number makes no sense; what the machine cannot do is a verdict and no error.

    Notes
    -----
    The plate's promise is the full plastic moment of the rated sheet over the full width,

    .. math:: M = \sigma' w t^2 / 4

    nominal yield against nominal yield; force and strain of the rolls are compared with those of the rated sheet in
    its smallest ring. The tilt of a nip with slack or pinch force is added to the travel of a perfect nip. Validity: as
    `setting_for_radius`; one pass, so a limit of crank or grip may be met by more passes; the frame is not looked at.

    Source: the plate's promise, common practice, no source; every limit's own source stands with its check.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> from rollcalc.stock import MATERIALS
    >>> bar = MATERIALS["mild steel bar, hot rolled"]
    >>> check_capacity(DEMO_MACHINE, RoundBar(10), bar, 60).verdict
    'beyond the plate: plate and instructor win; stop if you struggle'
    """
    checked_machine(machine)
    checked_material(material)
    wanted = checked_radius(stock, "released radius", released_radius)
    place = checked("position", position, "mm", advice="count it from the middle of the rolls")
    rolling, place = _as_the_bar_meets_it(machine, stock, place)
    shape = common_shape(machine, stock, material, wanted, place)
    setting = _perfect_setting(rolling, stock, material, wanted, shape)
    tilted = _with_nip(machine, setting)
    rated = RatedLoad.of(machine, wanted)
    effort = effort_of(machine, setting.drive_force, tilted.front_roll_force, tilted.inside_roll_force,
                       setting.bending_roll_force)  # fmt: skip
    hardest = 0.0 if material.yield_range is None else material.yield_range[1]
    harder = np.maximum(hardest / np.asarray(material.first_yield), 1.0)
    checks = (
        *strength_checks(machine, replace(setting, travel=tilted.travel), rated, effort, harder, place),
        *reach_checks(machine, tilted),
        *result_checks(tilted, bowed_radii(*_on_the_rolls(tilted, place)), material),
    )
    unchecked = _unchecked(machine, stock)
    word = standing(checks, complete=not unchecked)
    verdict = f"{word}{';' if ':' in word else ':'} {LAST_WORD}" if isinstance(word, str) else _ended(word)
    return Capacity(verdict, checks, unchecked, (*bar_cautions(stock), *_cautions(machine, stock, material)), setting)


def _severity(check: Check) -> tuple[float, float]:
    """Return how far a check drives the verdict, and how near it is to its limit, in its worst case."""
    step = np.minimum(check.passed, check.counts)
    near = np.asarray(check.hard_demand if np.max(step) == 1 else check.demand) / check.limit
    return float(np.max(step)), float(np.max(np.where(np.isfinite(near), near, 1.0)))  # out of reach: others say why


def _ended(words: NDArray[np.str_]) -> NDArray[np.str_]:
    """Return the words with their end, for every case."""
    ends = {word: f"{word}{';' if ':' in word else ':'} {LAST_WORD}" for word in np.unique(words).tolist()}
    said = np.full(words.shape, "", f"<U{max(map(len, ends.values()))}")
    for word, end in ends.items():
        said[words == word] = end
    return said


def _as_the_bar_meets_it(machine: Machine, stock: Stock, place: FloatLike) -> tuple[Machine, FloatLike]:
    """Return the machine and the place of the stock, those of its groove where a round bar fits one."""
    if not isinstance(stock, RoundBar):
        return machine, place
    try:
        groove = groove_for(machine, stock)
    except InputError:
        return machine, place
    return grooved_machine(machine, stock), place if groove.position is None else groove.position


def _perfect_setting(machine: Machine, stock: Stock, material: Material, wanted: FloatLike, shape: tuple[int, ...]) -> (
    Setting
):  # fmt: skip
    """Return the setting in a perfect nip; where the rolls cannot hold the curve, an endless travel and no force."""
    ideal = machine.with_perfect_nip()
    loaded = np.asarray(loaded_curvature(stock, material, 1 / np.asarray(wanted)))
    state = in_blocks(held, shape, ideal, stock, material, loaded, 0.0, "forward")
    state = Held(*(np.broadcast_to(value, shape) for value in state))
    reached = np.isfinite(state.travel)  # elsewhere slopes and forces are no more than where the search ended
    kept = {name: np.where(reached, getattr(state, name), 0.0)
            for name in ("bending_angle", "front_angle", "tilt", "bending_force")}  # fmt: skip
    one = Held(*map(plain, state._replace(**kept, front_force=np.where(reached, state.front_force, np.inf))))
    return Setting(
        ideal, stock, material, one.travel, plain(np.broadcast_to(wanted, shape)), plain(1 / np.asarray(one.loaded)),
        one.bending_angle, one.front_angle, one.tilt, one.bending_force, one.front_force, one.drive,
        plain(np.full(shape, np.inf)), "forward",
    )  # fmt: skip


def _with_nip(machine: Machine, setting: Setting) -> Setting:
    """Return the setting with the tilt, the forces and the travel of the machine's own nip, to first order."""
    if not isinstance(machine, PinchMachine) or machine.nip_is_perfect:
        return setting
    moment = np.asarray(bending_moment(setting.stock, setting.material, 1 / np.asarray(setting.loaded_radius)))
    apart = (machine.upper_roll_diameter + machine.lower_roll_diameter) / 2 + np.asarray(setting.stock.depth)
    slack = np.asarray(machine.nip_slack)
    tilt = np.sqrt(2 * slack / apart) if machine.pinch_force is None else moment / (machine.pinch_force * apart)
    opened = tilt**2 * apart / 2
    force = np.asarray(setting.bending_roll_force)
    arm = moment / np.where(force > 0, force, np.inf)
    loose = tilt >= STEEPEST
    lost = travel_lost(machine, setting.stock.depth, arm, setting.contact_angle, 0.0, opened, 0.0)
    front = moment / (tilt * apart)
    return replace(setting, machine=machine, travel=plain(np.where(loose, np.inf, setting.travel + np.asarray(lost))),
                   tilt=plain(np.where(loose, 0.0, tilt)), front_roll_force=plain(front),
                   front_angle=plain(np.where(loose, 0.0, tilt)))  # fmt: skip


def _on_the_rolls(setting: Setting, place: FloatLike) -> tuple[Setting, FloatLike]:
    """Return the setting and the place, with the stock cut and moved so far that it lies on the rolls."""
    machine, stock = setting.machine, setting.stock
    if isinstance(stock, RoundBar):
        width: FloatLike = 0.0
    else:
        width = plain(np.minimum(stock.width, machine.working_width))
        setting = replace(setting, stock=replace(stock, width=width))
    room = (machine.working_width - np.asarray(width)) / 2
    return setting, plain(np.clip(place, -room, room))


def _unchecked(machine: Machine, stock: Stock) -> tuple[str, ...]:
    """Return what cannot be looked at."""
    said = []
    if machine.rated_thickness is None:
        said.append("Not checked: the machine has no rated_thickness [mm], so nothing is known of its strength: "
                    "read the plate.")  # fmt: skip
    if machine.crank_radius is None:
        said.append("Not checked: the force at the crank, as the machine has no crank_radius [mm]: measure it.")
    if isinstance(stock, RoundBar):
        cut = grooves(machine)
        if not cut:
            said.append("Not checked: a round bar between rolls without grooves, which marks it and lets it wander.")
        elif np.any(np.asarray(stock.diameter) < min(groove.front_depth for groove in cut)):
            said.append("Not checked: a bar that sinks in so far that the front rolls meet before they grip it.")
    return tuple(said)


def _cautions(machine: Machine, stock: Stock, material: Material) -> tuple[str, ...]:
    """Return what no check can see."""
    said = ["The frame, the screws and the gears are not looked at."]
    if machine.rated_material is None and machine.rated_thickness is not None:
        said.append(f"The plate names no metal here: taken as {RatedLoad.USUAL}.")
    if material.yield_range is None:
        said.append(f"The yield of {material.name} is taken as exact; nobody knows it so well.")
    if isinstance(stock, Sheet | FlatBar) and isinstance(machine, PinchMachine) and machine.nip_opening is None:
        said.append("How far the nip opens is not known: try the stock in it before anything else.")
    return tuple(said)
