"""From flat to the wanted radius in passes: turns to dial, what the crank needs, what to measure after each."""

import math
from dataclasses import replace

import numpy as np

from rollcalc.bending.energy import plastic_work
from rollcalc.bending.release import loaded_curvature
from rollcalc.bending.release import released_radius as released_radius_of
from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError, checked_single, plain
from rollcalc.stock.sections import Stock

from ..effort import crank_effort, crank_force_limit
from ..limits.reach import check_one_piece
from ..machine.kinds import Machine, PinchMachine
from ..measuring import rise_of_chord
from ..radius import setting_for_radius, setting_for_travel
from ..setting import Setting
from ..solver.roots import rising_root
from .schedule import Pass, Schedule
from .words import BACK, CURVED, GENTLE, crank_words, done_words, leftover_words, too_tight_words, touch_words

MOST_PASSES = 40
"""Passes after which a plan gives up. [-]"""

READING = 0.1
"""How well a rise is read with a rule: radii that differ by less are the same. [mm]"""

HELPS = 1.05
"""One more pass must lower what is asked too much of by this factor, or it is not worth its toll. [-]"""
_ROUNDING = 1e-6


def pass_settings(machine: Machine, stock: Stock, material: Material, released_radius: float, pass_count: float, *,
                  entering_radius: float = math.inf) -> Setting:
    """Return the settings of passes that share the work equally, with the last share half as large."""
    number = _count("number of passes", pass_count)
    check_one_piece(machine, stock, material, released_radius, entering_radius)
    setting_for_radius(machine, stock, material, released_radius, entering_radius=entering_radius)
    radii = _radii_for_work(stock, material, entering_radius, float(released_radius), number)
    return setting_for_radius(machine, stock, material, np.array(radii),
                              entering_radius=np.array([entering_radius, *radii[:-1]]))


def pass_schedule(machine: Machine, stock: Stock, material: Material, released_radius: float, *,
                  step_turns: float = 0.125, last_step_turns: float | None = None, crank_limit: float | None = None,
                  entering_radius: float = math.inf, least_passes: int = 3, chord: float = 100.0) -> Schedule:
    """Return the passes from flat to a wanted radius.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, which needs a crank radius; the piece and its metal, of one size and one yield.
    released_radius : float
        Wanted radius after release, to mid-thickness. [mm]
    step_turns, last_step_turns : float, and float or None
        Smallest part of a turn that can be dialled; the same in the last pass, None for as before. [turns]
    crank_limit : float or None
        Most force at the crank; None for the machine's, or else what a person keeps up. [N]
    entering_radius : float
        Radius the piece already has; infinite for flat stock. [mm]
    least_passes : int
        Fewest passes, for control; fewer where there are not as many steps to dial. [-]
    chord : float
        Straight line to measure the curve at; shortened on small rings. [mm]

    Returns
    -------
    schedule : Schedule
        Passes and notes.

    Raises
    ------
    InputError
        If the radius cannot be reached, or the rolls slip in any number of passes; the sentence says what would help.

    Notes
    -----
    Passes share out the work: as many equal shares as it takes, and a last one half as large. Stock that is curved
    already lies otherwise between the rolls, so every pass is solved with the radius it enters with. Turns are rounded
    down to whole steps, since turning back does not open a ring; the radius a pass promises is that of its whole steps.
    More passes are added while that eases the crank; where it stays above its limit the plan says so in `warnings`.
    Validity: as `setting_for_radius`; fed the same way each time.
    Source: derived in rollcalc.rolling.solver.steady_state; that a ring takes several equal passes is common practice,
    no source.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, Sheet
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> plan = pass_schedule(DEMO_MACHINE, Sheet(thickness=0.76, width=240), steel, 90.4)
    >>> [(step.turns_left, round(step.released_radius)) for step in plan.passes]
    [(8.875, 218), (11.75, 114), (13.125, 90)]
    """
    step = checked_single("step of the screws", step_turns, "turns", at_least=1e-9, at_most=10,
                          advice="give the part of a turn that you can see on the knob")
    finer = step if last_step_turns is None else checked_single(
        "last step of the screws", last_step_turns, "turns", at_least=1e-9, at_most=step,
        advice="give the part of a turn that you can see on the knob when you look closer")
    limit = crank_force_limit(machine) if crank_limit is None else checked_single(
        "crank limit", crank_limit, "N", above=0, advice="give the most force at the crank")
    number = _count("least passes", least_passes)
    straight = checked_single("chord", chord, "mm", above=0, advice="give the straight line across the curve")
    check_one_piece(machine, stock, material, released_radius, entering_radius)
    whole = setting_for_radius(machine, stock, material, released_radius, entering_radius=entering_radius)
    crank_effort(whole)  # refuses a machine without a crank
    base = Schedule(machine, stock, material, float(released_radius), step, limit, float(entering_radius), (), (),
                    last_step_turns=finer)
    return _planned(base, number, min(straight, float(math.floor(1.2 * released_radius))), 0.0)


def replanned(schedule: Schedule, turns: float, measured_radius: float) -> Schedule:
    """Return the rest of a plan, after what was measured at one setting.

    Parameters
    ----------
    schedule : Schedule
        The plan so far.
    turns : float
        Turns of both screws at the pass that was measured. [turns]
    measured_radius : float
        Radius that came out, to mid-thickness. [mm]

    Returns
    -------
    schedule : Schedule
        The passes that are left, in turns as they are on the knobs; none where the piece is done, or too tight.

    Raises
    ------
    InputError
        As `pass_schedule`, or if one step of the screws goes beyond what is left.

    Notes
    -----
    The difference between the turns that were dialled and those the model wants for the measured radius is taken
    as a shift of touch, the same for the passes to come. As many passes follow as were left, but two at least: one to
    see whether the correction is right. Radii whose rises differ by less than `READING` count as alike; a piece that is
    too tight gets its own remedy. Validity: shifts small against the turns; steady pinch.
    Source: common practice, no source.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, Sheet
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> plan = pass_schedule(DEMO_MACHINE, Sheet(thickness=0.76, width=240), steel, 90.4)
    >>> [step.turns_left for step in replanned(plan, turns=10.25, measured_radius=120).passes]
    [11.375, 11.875]
    """
    checked_kind("the schedule", schedule, Schedule, advice="take it from pass_schedule")
    dialled = checked_single("turns", turns, "turns", above=0, advice="count them from touch")
    measured = checked_single("measured radius", measured_radius, "mm", above=0, advice="measure chord and rise")
    wanted, chord = schedule.released_radius, schedule.passes[0].chord if schedule.passes else 100.0
    if _reads_alike(measured, wanted, min(chord, 1.2 * wanted)):
        return replace(schedule, passes=(), notes=(done_words(READING),), entering_radius=measured)
    if measured < wanted:
        return replace(schedule, passes=(), notes=(too_tight_words(measured, wanted),), entering_radius=measured)
    before = [one for one in schedule.passes if one.turns_left < dialled - _ROUNDING]
    entered = before[-1].released_radius if before else schedule.entering_radius
    reached = setting_for_radius(schedule.machine, schedule.stock, schedule.material, measured,
                                 entering_radius=max(entered, measured))
    shift = dialled - float(reached.turns)
    base = replace(schedule, entering_radius=measured, passes=(), notes=())
    rest = _planned(base, max(2, len(schedule.passes) - len(before) - 1), chord, shift)
    return replace(rest, notes=(touch_words(shift), *rest.notes))


def _count(name: str, number: float) -> int:
    """Return a whole number of passes, or raise the sentence about it."""
    count = checked_single(name, number, "", at_least=1, at_most=MOST_PASSES, advice="give a count")
    if count != int(count):
        raise InputError(f"{name} is {count:.6g}, but must be a whole number: give a count.")
    return int(count)


def _reads_alike(measured: float, wanted: float, chord: float) -> bool:
    """Return whether a rule at this chord could not tell the two radii apart."""
    rises = np.asarray(rise_of_chord(np.array([max(measured, chord / 2), wanted]), chord))
    return bool(2 * measured > chord and abs(rises[0] - rises[1]) <= READING)


def _planned(base: Schedule, fewest: int, chord: float, shift: float) -> Schedule:
    """Return the plan with passes and notes, on knobs that read ``shift`` turns more than the rolls have moved."""
    settings = _settings_within(base, fewest, shift)
    passes = tuple(_pass(one, chord, shift) for one in settings)
    last = passes[-1]
    notes = [leftover_words(last.turns_left, base.last_step, last.released_radius, base.released_radius,
                            _one_step_more(settings[-1], base.last_step)),
             GENTLE, BACK, *([] if isinstance(base.machine, PinchMachine) else [CURVED])]
    warnings = tuple(crank_words(number, one.crank_force, one.crank_force_least, base.crank_limit)
                     for number, one in enumerate(passes, 1) if one.crank_force > base.crank_limit * (1 + _ROUNDING))
    return replace(base, passes=passes, notes=tuple(notes), warnings=warnings)


def _one_step_more(last: Setting, step_turns: float) -> float:
    """Return the radius after one more pass with the screws a step further; infinite where there is none."""
    machine, entering = last.machine, float(last.released_radius)
    try:
        return float(setting_for_travel(machine, last.stock, last.material, float(last.travel) + step_turns *
                                        machine.screw_pitch, entering_radius=entering).released_radius)
    except InputError:
        return math.inf


def _settings_within(base: Schedule, fewest: int, shift: float) -> list[Setting]:
    """Return the settings of the fewest passes that keep within crank and grip, or as near as passes can help. Without
    grip no plan works, so there one is refused; a crank that stays hard is only warned of.
    """
    best: list[Setting] = []
    least, holds, number = math.inf, False, fewest
    while number <= MOST_PASSES:
        settings = _settings(base, number, shift)
        if not settings:
            raise InputError(f"step of the screws is {base.step_turns:g} turns, but must be smaller: one step of the "
                             "screws goes beyond the wanted radius.")
        slips, excess = _excess(settings, base.crank_limit)
        grips = slips <= 1
        eases = excess <= 1 or excess < least / HELPS
        if not best or (eases if grips == holds else grips):  # grip first, then an easier crank
            best, least, holds = settings, excess, grips
        elif grips:
            break  # one more pass hardly helps
        if excess <= 1 or len(settings) < number - 1:  # within, or whole steps leave no room for more passes
            break
        number += max(1, int(number * (min(excess, 2.0) - 1) / 2))  # far from it: several at once
    if not holds:
        worst = max(map(crank_effort, best), key=lambda effort: float(effort.pull) / float(effort.grip))
        raise InputError(f"drive force is {worst.pull:.3g} N with what the idle rolls drag, but must be at most "
                         f"{worst.grip:.3g} N, or the rolls slip, even in {len(best)} passes: degrease the rolls, "
                         "pinch harder where they pinch, take smaller steps of the screws, or take the stock narrower "
                         "or thinner.")
    return best


def _settings(base: Schedule, number: int, shift: float) -> list[Setting]:
    """Return the settings of a number of passes, each at whole steps of the knobs and tighter than the one before."""
    found: list[Setting] = []
    entering = base.entering_radius
    radii = _radii_for_work(base.stock, base.material, entering, base.released_radius, number)
    for radius, step in zip(radii, [base.step_turns] * (number - 1) + [base.last_step], strict=True):
        wanted = setting_for_radius(base.machine, base.stock, base.material, min(radius, entering),
                                    entering_radius=entering)
        turns = math.floor((float(wanted.turns) + shift) / step + _ROUNDING) * step - shift
        if turns <= 0:
            continue
        setting = setting_for_travel(base.machine, base.stock, base.material, turns * base.machine.screw_pitch,
                                     entering_radius=entering)
        if float(setting.released_radius) < entering * (1 - _ROUNDING):
            found.append(setting)
            entering = float(setting.released_radius)
    return found


def _radii_for_work(stock: Stock, metal: Material, start: float, end: float, number: int) -> list[float]:
    """Return the released radii after passes that take equal shares of the work, and a last one half as large."""
    shares = np.array([(place + 1) / (number - 0.5) for place in range(number - 1)] + [1.0])
    low, high = np.asarray(loaded_curvature(stock, metal, np.array([1 / start, 1 / end]))).tolist()
    done, total = np.asarray(plastic_work(stock, metal, np.array([low, high]))).tolist()
    works = done + shares * (total - done)
    loaded = rising_root(lambda curvature: plastic_work(stock, metal, curvature) - works, np.full(shares.shape, low),
                         np.full(shares.shape, high))
    radii = np.asarray(released_radius_of(stock, metal, plain(1 / loaded))).tolist()
    return [*radii[:-1], end]


def _excess(settings: list[Setting], limit: float) -> tuple[float, float]:
    """Return pull over grip in the worst pass, and that or crank over limit, which is larger; 1 where within."""
    efforts = [crank_effort(setting) for setting in settings]
    slips = max(float(effort.pull) / float(effort.grip) for effort in efforts)
    crank = max(float(effort.crank_force) / limit for effort in efforts)
    slips, crank = (1.0 if share <= 1 + _ROUNDING else share for share in (slips, crank))
    toll = min(float(effort.crank_force) - float(effort.crank_force_least) for effort in efforts)
    return slips, max(slips, crank) if toll < limit else slips  # no number of passes lowers what friction alone asks


def _pass(setting: Setting, chord: float, shift: float) -> Pass:
    """Return one pass as a person reads it, on knobs that read ``shift`` turns more than the rolls have moved."""
    effort = crank_effort(setting)
    turns, radius = round(float(setting.turns) + shift, 9), float(setting.released_radius)
    return Pass(turns, turns, radius, float(effort.crank_force), float(effort.crank_force_least),
                float(effort.drive_force), float(effort.pull), float(effort.grip), chord,
                float(rise_of_chord(radius, chord)))
