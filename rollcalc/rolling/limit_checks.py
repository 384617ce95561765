"""The limits one by one: strength of the machine and of the person, reach of the rolls, quality of the result."""

from __future__ import annotations

import numpy as np

from rollcalc.bending.first_yield import plastic_moment, yield_curvature
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.sections import RoundBar, Sheet, Stock

from .bowed_radii import BowedRadii
from .checks import Check
from .effort import Effort, crank_force_limit
from .grooves import grooves
from .limits import usable_travel
from .machines import Machine, PinchMachine
from .rated_load import RatedLoad
from .roll_bow import bearing_span, unit_moment
from .setting import Setting

BOW_SHARE = 0.02
"""Difference of radius across the stock that is called out: our own choice, what a chord of 100 mm can show. [-]"""


def strength_checks(machine: Machine, setting: Setting, rated: RatedLoad | None, effort: Effort, harder: FloatLike,
                    position: FloatLike) -> tuple[Check, ...]:  # fmt: skip
    """Return the checks of what the machine and the person can bear.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    setting : Setting
        The setting in a perfect nip.
    rated : RatedLoad or None
        What the plate's own sheet asks for.
    effort : Effort
        What the crank asks for.
    harder : float or array, shape (...)
        Highest yield sold under the metal's name over the nominal one. [-]
    position : float or array, shape (...)
        From the middle of the rolls to the middle of the stock. [mm]

    Returns
    -------
    checks : tuple of Check
        Bending moment, bending-roll force, roll bending, crank force, grip, as far as they are known.

    Raises
    ------
    None
        The callers have checked the numbers.

    Notes
    -----
    Demands of the hardest metal are in proportion to its yield. Validity: as `check_capacity`.

    Source: beam theory; the crank's limit as `crank_force_limit`.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> from rollcalc.rolling.capacity import check_capacity
    >>> from rollcalc.stock import MATERIALS
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> [check.name for check in check_capacity(DEMO_MACHINE, Sheet(0.76, 240), steel, 90).checks[:3]]
    ['bending moment', 'bending-roll force', 'roll bending']
    """
    checks: list[Check] = []
    reached = np.isfinite(setting.travel)
    if rated is not None:
        moment = np.asarray(plastic_moment(setting.stock, setting.material)) / 1000
        force = np.where(reached, setting.bending_roll_force, np.inf)
        arm, full = _arm(machine, setting.stock, position), _arm(machine, Sheet(1.0, machine.working_width), 0.0)
        section = np.pi * _bending_diameter(machine) ** 3 / 32
        rows = (
            ("bending moment", moment, rated.moment / 1000, "N m",
             "to bend it right through, against the rated sheet over the full width",
             "take it thinner, narrower or softer, or use a heavier machine"),
            ("bending-roll force", force, rated.force, "N",
             "from the stock on the roll, against the rated sheet in its smallest ring",
             "take it thinner, narrower or softer, or ask for a larger radius"),
            ("roll bending", force * arm / section, rated.force * np.asarray(full) / section, "MPa",
             "stress in the bending roll, against the rated sheet in its smallest ring",
             "move it towards an end of the rolls, or take it thinner or softer"),
        )  # fmt: skip
        checks += [Check(name, plain(demand), limit, unit, asks, advice, plain(demand * harder))
                   for name, demand, limit, unit, asks, advice in rows]  # fmt: skip
    if machine.crank_radius is not None:
        more = np.asarray(effort.crank_force_least) * (np.asarray(harder) - 1)
        checks.append(Check(
            "crank force", plain(np.where(reached, effort.crank_force, np.inf)), crank_force_limit(machine), "N",
            "in one pass with greased bearings, not what you will feel, against what one person keeps up",
            "take more passes, grease the bearings, never a longer crank", plain(effort.crank_force + more), 1,
        ))  # fmt: skip
    drive = np.where(reached, setting.drive_force, np.inf)
    checks.append(Check(
        "grip", plain(drive), effort.grip, "N",
        "to draw the stock through in one pass, against what friction passes on",
        "take more passes, or degrease the rolls and pinch harder", plain(drive * harder), 1,
    ))  # fmt: skip
    return tuple(checks)


def reach_checks(machine: Machine, setting: Setting) -> tuple[Check, ...]:
    """Return the checks of what goes in, how far the rolls reach, and what comes off.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    setting : Setting
        The setting, with the travel its own nip asks for.

    Returns
    -------
    checks : tuple of Check
        Width, nip opening, groove, smallest ring, travel, ring off, as far as they apply.

    Raises
    ------
    None
        The callers have checked the numbers.

    Notes
    -----
    Validity: as `check_capacity`.

    Source: geometry; the ring is taken off over the released end of the inside roll (common practice, no source).

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> from rollcalc.rolling.capacity import check_capacity
    >>> from rollcalc.stock import MATERIALS
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> [check.name for check in check_capacity(DEMO_MACHINE, Sheet(0.76, 240), steel, 90).checks[5:9]]
    ['width', 'smallest ring', 'travel', 'ring off']
    """
    stock, released = setting.stock, np.asarray(setting.released_radius)
    inside = machine.inside_roll_diameter / 2
    width = stock.depth if isinstance(stock, RoundBar) else stock.width
    rows: list[tuple[str, FloatLike, FloatLike, str, str]] = []
    rows.append(("width", width, machine.working_width, "the stock along the rolls", "cut it, or turn it"))
    opening = machine.nip_opening if isinstance(machine, PinchMachine) else None
    if opening is not None and not (isinstance(stock, RoundBar) and grooves(machine)):
        rows.append(("nip opening", stock.depth, opening, "the stock in the nip", "take thinner stock"))
    if isinstance(stock, RoundBar) and grooves(machine):
        rows.append(("groove", stock.diameter, grooves(machine)[-1].diameter, _groove_words(machine, stock),
                     "take a thinner bar"))  # fmt: skip
    rows += [
        ("smallest ring", plain(inside + np.asarray(stock.depth) / 2), setting.loaded_radius,
         "tightest curve round the inside roll, against the radius that must be held", "ask for a larger radius"),
        ("travel", setting.travel, usable_travel(machine, stock), "this job, against what rolls and screws leave",
         "ask for a larger radius"),
        ("ring off", 2 * inside, plain(2 * released - stock.depth),
         "the inside roll, against the hole of the closed ring that slides off over it",
         "leave the ring open"),
    ]  # fmt: skip
    return tuple(Check(name, demand, limit, "mm", asks, advice, demand) for name, demand, limit, asks, advice in rows)


def result_checks(setting: Setting, bowed: BowedRadii, material: Material) -> tuple[Check, ...]:
    """Return the checks that do not decide, but say how the result suffers.

    Parameters
    ----------
    setting : Setting
        The setting.
    bowed : BowedRadii
        What the bow of the rolls does.
    material : Material
        The metal.

    Returns
    -------
    checks : tuple of Check
        Roll bow and largest ring.

    Raises
    ------
    None
        The callers have checked the numbers.

    Notes
    -----
    A ring is too large to count on where metal as hard as it may be would spring back flat. Validity: as
    `check_capacity`.

    Source: as `bowed_radii`; `BOW_SHARE` is our own choice.

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> from rollcalc.rolling.capacity import check_capacity
    >>> from rollcalc.stock import MATERIALS
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> check_capacity(DEMO_MACHINE, Sheet(0.76, 240), steel, 90).checks[-1].name
    'largest ring'
    """
    edge = np.asarray(setting.released_radius)
    wider = np.where(np.isfinite(setting.travel), np.maximum(1 - edge / np.asarray(bowed.middle_radius), 0.0), np.inf)
    hardest = material if material.yield_range is None else material.with_yield(material.yield_range[1])
    flat = plain(1 / np.asarray(yield_curvature(setting.stock, hardest)))
    return (
        Check("roll bow", plain(100 * wider), 100 * BOW_SHARE, "%",
              "how much flatter the middle of the stock may come out than its edges",
              "expect it, check the middle with a template, and even it out with a narrow pass", plain(100 * wider), 0),
        Check("largest ring", setting.loaded_radius, flat, "mm",
              "radius that must be held, against the one from which hard metal springs back flat",
              "expect no repeatable radius, and go by trial", setting.loaded_radius, 0),
    )  # fmt: skip


def _groove_words(machine: Machine, stock: RoundBar) -> str:
    """Return the start of the groove's sentence, which says the groove that fits."""
    cut = grooves(machine)
    if np.ndim(stock.diameter):
        return "the bar against the largest groove"
    fits = [groove.diameter for groove in cut if groove.takes(float(stock.diameter))]
    listed = ", ".join(f"{groove.diameter:g}" for groove in cut)
    return (f"lay it in the groove for {fits[0]:g} mm; the bar against the largest groove" if fits
            else f"none of the grooves for {listed} mm fits; the bar against the largest")  # fmt: skip


def _arm(machine: Machine, stock: Stock, position: FloatLike) -> FloatLike:
    """Return the largest moment in a roll over its force; stock that sticks out is cut to the rolls. [mm]"""
    span = bearing_span(machine)
    width = np.minimum(np.asarray(stock.depth) / 10 if isinstance(stock, RoundBar) else stock.width, span)
    middle = span / 2 + np.clip(position, (width - span) / 2, (span - width) / 2)
    return unit_moment((plain(middle - width / 2), plain(middle + width / 2)), span)


def _bending_diameter(machine: Machine) -> float:
    """Return the diameter of the roll that bends."""
    return machine.bending_roll_diameter if isinstance(machine, PinchMachine) else machine.bottom_roll_diameter
