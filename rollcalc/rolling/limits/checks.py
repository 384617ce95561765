"""The limits one by one: strength of the machine and of the person, reach of the rolls, quality of the result."""


import numpy as np
from numpy.typing import NDArray

from rollcalc.bending.first_yield import plastic_moment, yield_curvature
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.sections import RoundBar, Sheet, Stock

from ..bowed_radii import BowedRadii
from ..deflection import Ends, pressed_width, unit_bow, unit_moment
from ..effort import SHORT_TIME_CEILING, Effort, crank_force_limit
from ..machine.grooves import grooves, width_along
from ..machine.kinds import Machine, PinchMachine
from ..setting import Setting
from .check import Check, fixed_check
from .rated_load import RatedLoad
from .reach import usable_travel

BOW_SHARE = 0.02
"""Difference of radius across the stock that is called out: our own choice, what a chord of 100 mm can show. [-]"""

FRONT_BOW_SHARE = 1e-3
"""Bow of a front roll over the length between its bearings that is called out. Shafts are kept to a third of it (from
memory), and rolls that pinch cannot be: our own choice. [-]"""


def strength_checks(machine: Machine, stock: Stock, material: Material, rated: RatedLoad | None) -> tuple[Check, ...]:
    """Return the check of strength that needs no setting: the bending moment, compared with the plate."""
    if rated is None:
        return ()
    moment = np.asarray(plastic_moment(stock, material)) / 1000
    return (Check("bending moment", plain(moment), rated.moment / 1000, "N m",
                  "full plastic, against the rated sheet over the full width",
                  "take it thinner, narrower or softer, or use a heavier machine", plain(moment * _harder(material))),)


def load_checks(machine: Machine, setting: Setting, rated: RatedLoad | None, position: FloatLike) -> tuple[Check, ...]:
    """Return the checks of the forces on the rolls, and of the stress and the bow they make; the hardest-working roll
    decides. ``machine`` is the one on the plate, ``setting.machine`` the one the stock meets. Metal as hard as it may
    be takes more force to bend, and the pinch stays as it is.
    """
    stock, met, harder = setting.stock, setting.machine, _harder(setting.material)
    reached = np.isfinite(setting.travel)
    front, inside, bending = (np.where(reached, force, np.inf) for force in setting.roll_forces)
    more = np.where(reached, bending, 0.0) * (harder - 1)
    hardest, name = _hardest(met, stock, position, (front, inside, bending))
    hard, _ = _hardest(met, stock, position, (front, inside + more, bending + more))
    checks = []
    if rated is not None:
        full = Sheet(thickness=1.0, width=machine.working_width)
        plate, _ = _hardest(machine, full, 0.0, (rated.front, rated.inside, rated.bending))
        checks += [
            Check("bending-roll force", plain(bending), rated.bending, "N",
                  "how hard the stock presses on it, against the rated sheet in its smallest ring",
                  "take it thinner, narrower or softer, or ask for a larger radius", plain(bending * harder)),
            Check("roll bending", hardest, plate, "MPa",
                  f"a comparison with the plate, not a limit: stress in the {name}, against the hardest-working roll "
                  "under the rated sheet in its smallest ring",
                  "to spare the rolls, pinch less, or lay it nearer an end of them", hard, 0),
        ]
    checks.append(Check("roll stress", hardest, machine.roll_stress_limit, "MPa",
                        f"in the {name}, which works hardest, against what the steel of the rolls takes",
                        "pinch less, move it towards an end of the rolls, or take it narrower or softer", hard))
    if isinstance(met, PinchMachine) and not met.nip_is_perfect:
        bow = np.maximum(_bow(met, stock, position, front, "lower"), _bow(met, stock, position, inside, "upper"))
        checks.append(fixed_check("front-roll bow", plain(bow), FRONT_BOW_SHARE * machine.between_bearings, "mm",
                                  "under the pinch, against a thousandth of the length between its bearings",
                                  "pinch less, or lay it towards an end of the rolls", 1))
    return tuple(checks)


def crank_checks(machine: Machine, setting: Setting, effort: Effort) -> tuple[Check, ...]:
    """Return the checks of the crank and of the grip, for the whole curve in one pass; more passes may help."""
    reached, harder = np.isfinite(setting.travel), _harder(setting.material)
    pull, grip = np.where(reached, effort.pull, np.inf), plain(np.where(reached, effort.grip, 0.0))
    more = np.where(reached, setting.drive_force, 0.0) * (harder - 1)
    checks = []
    if machine.crank_radius is not None:
        crank = np.where(reached, effort.crank_force, np.inf)
        hard = plain(crank + np.asarray(effort.crank_force_least) * (harder - 1))
        own = machine.crank_limit is not None
        whose = "the most that this machine's crank should need" if own else "what one person keeps up"
        checks.append(Check("crank force", plain(crank), crank_force_limit(machine), "N",
                            f"in one pass with greased bearings, not what you will feel, against {whose}",
                            "take more passes, grease the bearings, never a longer crank", hard, 1 if own else 0))
        if not own:
            checks.append(Check("crank for a short time", plain(crank), SHORT_TIME_CEILING, "N",
                                "the same, against what one person can do for a short time",
                                "take more passes, grease the bearings, take it narrower or thinner", hard, 1))
    checks.append(Check("grip", plain(pull), grip, "N",
                        "the pull that one pass takes, against what the driven rolls pull before they slip",
                        "take more passes, or degrease the rolls and pinch harder", plain(pull + more), 1))
    return tuple(checks)


def fit_checks(machine: Machine, stock: Stock) -> tuple[Check, ...]:
    """Return the checks of what goes in: width, nip opening, groove."""
    checks = [fixed_check("width", width_along(stock), machine.working_width, "mm", "the stock along the rolls",
                          "cut it, or turn it")]
    if isinstance(stock, RoundBar):
        checks.append(_groove_check(machine, stock))
    elif machine.nip_opening is not None:
        checks.append(fixed_check("nip opening", stock.depth, machine.nip_opening, "mm", "the stock in the nip",
                                  "take thinner stock"))
    return tuple(checks)


def reach_checks(setting: Setting) -> tuple[Check, ...]:
    """Return the checks of how far the rolls reach, and whether a ring comes off the inside roll's released end."""
    stock, machine = setting.stock, setting.machine
    inside, larger = machine.inside_roll_diameter / 2, "ask for a larger radius"
    hole = plain(2 * np.asarray(setting.released_radius) - stock.depth)
    return (
        fixed_check("smallest ring", plain(inside + np.asarray(stock.depth) / 2), setting.loaded_radius, "mm",
                    "tightest curve round the inside roll, against the radius that must be held", larger),
        fixed_check("travel", setting.travel, usable_travel(machine, stock), "mm",
                    "what this job takes, against what rolls and screws leave", larger),
        fixed_check("ring off", 2 * inside, hole, "mm",
                    "the inside roll, against the hole of the closed ring that slides off over it",
                    "leave the ring open"),
    )


def result_checks(setting: Setting, bowed: BowedRadii, material: Material) -> tuple[Check, ...]:
    """Return the checks that do not decide, but say how the result suffers: roll bow and largest ring. A ring is too
    large to count on where metal as hard as it may be would spring back flat.
    """
    edge = np.asarray(setting.released_radius)
    wider = np.where(np.isfinite(setting.travel), np.maximum(1 - edge / np.asarray(bowed.middle_radius), 0.0), np.inf)
    hardest = material if material.yield_range is None else material.with_yield(material.yield_range[1])
    flat = plain(1 / np.asarray(yield_curvature(setting.stock, hardest)))
    return (
        fixed_check("roll bow", plain(100 * wider), 100 * BOW_SHARE, "%",
                    "how much flatter the middle may come out than the edges, against what a template shows",
                    "expect it, check the middle with a template, and even it out with a narrow pass", 0),
        fixed_check("largest ring", setting.loaded_radius, flat, "mm",
                    "radius that must be held, against the one from which hard metal springs back flat",
                    "expect no repeatable radius, and go by trial", 0),
    )


def _groove_check(machine: Machine, bar: RoundBar) -> Check:
    """Return the check of the groove: the bar against the largest, or its thickness against how deep it sinks in."""
    cut = grooves(machine)
    if not cut:
        return fixed_check("groove", bar.diameter, 0.0, "mm", "the bar, which must lie in a groove, and there is none",
                           "take a machine with a groove for it")
    fits = [groove.diameter for groove in cut if groove.takes(float(bar.diameter))]
    listed = ", ".join(f"{groove.diameter:g}" for groove in cut)
    if not fits and bar.diameter < cut[-1].diameter:
        least = min(groove.front_depth for groove in cut if bar.diameter <= groove.diameter)
        return fixed_check("groove", least, bar.diameter, "mm",
                           f"none of the grooves for {listed} mm fits: the front rolls meet before they grip the "
                           "bar; how near they come, against the bar", "take a thicker bar")
    words = (f"lay it in the groove for {fits[0]:g} mm; the bar against the largest groove" if fits
             else f"none of the grooves for {listed} mm fits; the bar against the largest")
    return fixed_check("groove", bar.diameter, cut[-1].diameter, "mm", words,
                       "take a thinner bar, or a machine with a groove for it")


def _harder(material: Material) -> NDArray[np.float64]:
    """Return the highest yield sold under the metal's name over the nominal one; demands grow in proportion. [-]"""
    highest = 0.0 if material.yield_range is None else material.yield_range[1]
    return np.asarray(np.maximum(highest / np.asarray(material.first_yield), 1.0))


def _hardest(machine: Machine, stock: Stock, position: FloatLike, forces: tuple[FloatLike, ...]) -> (
        tuple[FloatLike, str]):
    """Return the largest bending stress in the three rolls [MPa], in a bar's groove, and which roll has it; a perfect
    nip strains none of the front rolls.
    """
    arm = np.asarray(unit_moment(*_on_rolls(machine, stock, position)))
    known = [0.0 if machine.nip_is_perfect and place < 2 else force for place, force in enumerate(forces)]
    all_three = np.stack(np.broadcast_arrays(*(force * arm * 32 / (np.pi * size**3) for force, size in
                                               zip(known, machine.roll_diameters, strict=True))))
    name = machine.ROLL_WORDS[int(np.argmax(all_three))] if all_three.ndim == 1 else "roll that works hardest"
    return plain(all_three.max(axis=0)), name


def _bow(machine: PinchMachine, stock: Stock, position: FloatLike, force: FloatLike, roll: str) -> FloatLike:
    """Return how far a front roll bows under the middle of the stock. [mm]"""
    (begin, end), span = _on_rolls(machine, stock, position)
    stiffness = machine.roll_modulus * np.pi * machine.body_diameter(roll) ** 4 / 64
    return plain(np.asarray(force) * unit_bow((np.asarray(begin) + end) / 2, (begin, end), span) / stiffness)


def _on_rolls(machine: Machine, stock: Stock, position: FloatLike) -> tuple[Ends, float]:
    """Return where the stock begins and ends, cut to the rolls where it sticks out, and how long they are. [mm]"""
    span = machine.between_bearings
    width = np.minimum(pressed_width(stock), span)
    middle = span / 2 + np.clip(position, (width - span) / 2, (span - width) / 2)
    return (plain(middle - width / 2), plain(middle + width / 2)), span
