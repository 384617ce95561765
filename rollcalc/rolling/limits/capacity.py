"""May the machine roll it? Every limit is a check of its own, with a reason."""

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rollcalc.bending.release import checked_radius
from rollcalc.bending.width import width_caution
from rollcalc.stock.materials import Material, checked_material
from rollcalc.stock.quantities import FloatLike, InputError, checked, plain
from rollcalc.stock.record import Record, Shown
from rollcalc.stock.sections import RoundBar, Stock

from ..bowed_radii import bowed_radii
from ..deflection import stock_position
from ..effort import effort_of
from ..machine.grooves import bar_cautions, machine_for, plain_machine
from ..machine.kinds import Machine, PinchMachine, checked_machine
from ..radius import setting_and_state
from ..setting import Setting
from ..solver.batches import common_shape
from .check import LAST_WORD, Check, named_check, standing
from .checks import crank_checks, fit_checks, load_checks, reach_checks, result_checks, strength_checks
from .rated_load import RatedLoad


@dataclass(frozen=True, eq=False, repr=False)
class Capacity(Record):
    """Whether a machine may roll a piece, with the reasons.

    Parameters
    ----------
    verdict : str or array of str
        "within the machine's rating", "close to the machine's rating" or "beyond the machine's rating", then who has
        the last word. [-]
    checks : tuple of Check
        Every limit that was looked at.
    unchecked, cautions : tuple of str
        What could not be looked at, and what to measure for it; what no check can see.
    setting : Setting
        The setting the checks are for, which `setting_for_radius` gives where the rolls reach it; where they do not,
        or no groove takes the bar, its travel is infinite.
    """

    verdict: str | NDArray[np.str_]
    checks: tuple[Check, ...]
    unchecked: tuple[str, ...]
    cautions: tuple[str, ...]
    setting: Setting

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return self.verdict if isinstance(self.verdict, str) else f"{np.size(self.verdict)} verdicts"

    def shown(self) -> Shown:
        """Return the verdict, each check with its bar, and what no check can see."""
        rows, machine = tuple(check.row for check in self.checks), self.setting.machine
        return Shown(self.caption, rows, ("check", "demand", "limit", "share"), (*self.unchecked, *self.cautions,
                     f"Machine: {machine.in_short}.", *machine.assumed_notes),
                     tuple(check.share for check in self.checks))

    def __getitem__(self, name: str) -> Check:
        """Return the check of that name."""
        return named_check(self.checks, name)

    @property
    def word(self) -> str | NDArray[np.str_]:
        """The verdict alone: "within", "close to" or "beyond the machine's rating". [-]"""
        return standing(self.checks, complete=not self.unchecked)

    @property
    def binding(self) -> Check:
        """The check that decides: the furthest beyond its limit, or else the nearest to it."""
        return max((check for check in self.checks if check.counts), key=_severity)

    def __str__(self) -> str:
        """Return the verdict and every sentence, one a line."""
        messages = (check.message for check in self.checks)
        return "\n".join([str(self.verdict), *messages, *self.unchecked, *self.cautions])


def check_capacity(machine: Machine, stock: Stock, material: Material, released_radius: FloatLike, *,
                   position: FloatLike | None = None) -> Capacity:
    """Return whether the machine may roll this piece to this radius, and why.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, the piece and its metal.
    released_radius, position : float or array, broadcastable with the stock's and material's numbers
        Wanted radius after release, to mid-thickness; from the middle of the rolls to the middle of the stock, None for
        the middle, and for a bar where its groove is. [mm]

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
    The plate's promise is the full plastic moment of the rated sheet over the full width, M = σ′wt²/4, nominal yield
    against nominal yield. Forces are those of the setting itself, in the machine's own nip; they are compared with
    those of the rated sheet in its smallest ring, and the stress of the roll that works hardest is held against what
    its steel takes. Validity: as `setting_for_radius`; one pass, so a limit of crank or grip may be met by more passes;
    the frame is not looked at.
    Source: the plate's promise, common practice, no source; every limit's own source stands with its check.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS
    >>> bar = MATERIALS["mild steel bar, hot rolled"]
    >>> check_capacity(DEMO_MACHINE, RoundBar(10), bar, 60).word
    "beyond the machine's rating"
    """
    checked_machine(machine)
    checked_material(material)
    wanted = checked_radius(stock, "released radius", released_radius)
    try:
        met, fits = machine_for(machine, stock), True
    except InputError:  # no groove takes the round bar
        met, fits = machine, False
    place = checked("position", stock_position(met, position), "mm", advice="count it from the middle of the rolls")
    shape = common_shape(machine, stock, material, wanted, place)
    setting, _ = setting_and_state(met, stock, material, wanted, shape)
    setting = _where_reached(setting, np.isfinite(setting.travel) & fits)
    machine = plain_machine(machine)
    rated = RatedLoad.of(machine, wanted)
    checks = (*strength_checks(machine, stock, material, rated), *fit_checks(machine, stock))
    if fits:
        bowed = bowed_radii(*_on_the_rolls(setting, place))
        checks += (*load_checks(machine, setting, rated, place), *crank_checks(machine, setting, effort_of(setting)),
                   *reach_checks(setting), *result_checks(setting, bowed, material))
    unchecked = _unchecked(machine, stock)
    word = standing(checks, complete=not unchecked)
    verdict = f"{word}. {LAST_WORD}" if isinstance(word, str) else np.strings.add(word, f". {LAST_WORD}")
    cautions = (*bar_cautions(stock), *_cautions(machine, stock, material), *_width_cautions(setting))
    return Capacity(verdict, checks, unchecked, cautions, setting)


def _severity(check: Check) -> tuple[float, float]:
    """Return how far a check drives the verdict, and how near it is to its limit, in its worst case."""
    step = np.minimum(check.exceeded, check.counts)
    with np.errstate(divide="ignore", invalid="ignore"):  # no groove at all; no end of the travel
        near = np.asarray(check.hard_demand if np.max(step) == 1 else check.demand) / check.limit
    return float(np.max(step)), float(np.max(np.where(np.isfinite(near), near, 1.0)))  # out of reach: others say why


def _where_reached(setting: Setting, reached: NDArray[np.bool_]) -> Setting:
    """Return a setting with an infinite travel and no forces where the rolls do not hold the curve."""
    elsewhere = dict.fromkeys(("contact_angle", "front_angle", "tilt", "bending_roll_force", "drive_force"), 0.0)
    elsewhere |= {"travel": np.inf, "front_roll_force": np.inf}
    only: Any = {name: plain(np.where(reached, getattr(setting, name), value)) for name, value in elsewhere.items()}
    return setting if np.all(reached) else replace(setting, **only)


def _on_the_rolls(setting: Setting, place: FloatLike) -> tuple[Setting, FloatLike]:
    """Return the setting and the place, with the stock cut and moved so far that it lies on the rolls."""
    stock, most = setting.stock, setting.machine.working_width
    width = 0.0 if isinstance(stock, RoundBar) else plain(np.minimum(stock.width, most))
    if not isinstance(stock, RoundBar):
        setting = replace(setting, stock=replace(stock, width=width))
    room = (most - np.asarray(width)) / 2
    return setting, plain(np.clip(place, -room, room))


def _unchecked(machine: Machine, stock: Stock) -> tuple[str, ...]:
    """Return what cannot be looked at."""
    missing = {
        "the machine has no rated_thickness [mm], so nothing is known of its strength: read the plate.":
            machine.rated_thickness is None,
        "the force at the crank, as the machine has no crank_radius [mm]: measure it.": machine.crank_radius is None,
        "stress and bow of the front rolls, and the grip, in a perfect nip, a teaching ideal: give the machine a "
        "pinch_force [N].": machine.nip_is_perfect,
    }
    return tuple(f"Not checked: {what}" for what, lacks in missing.items() if lacks)


def _width_cautions(setting: Setting) -> tuple[str, ...]:
    """Return which way a narrow sheet or a wide flat bar will be off, asked for one piece at a time."""
    stock, radius = setting.stock, setting.loaded_radius
    many = any(np.ndim(size) for size in (radius, stock.depth, getattr(stock, "width", 0.0)))
    said = "" if many or not math.isfinite(radius) else width_caution(stock, setting.material, float(radius))
    return (said,) if said else ()


def _cautions(machine: Machine, stock: Stock, material: Material) -> tuple[str, ...]:
    """Return what no check can see."""
    said = ["The frame, the screws and the gears are not looked at."]
    if machine.rated_material is None and machine.rated_thickness is not None:
        said.append(f"The plate names no metal here: taken as {RatedLoad.USUAL}.")
    if material.yield_range is None:
        said.append(f"The yield of {material.name} is taken as exact; nobody knows it so well.")
    if isinstance(machine, PinchMachine) and machine.nip_opening is None and not isinstance(stock, RoundBar):
        said.append("How far the nip opens is not known: try the stock in it before anything else.")
    return tuple(said)
