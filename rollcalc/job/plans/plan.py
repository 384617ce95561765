"""Plans: from machine, piece and size to verdict, blank and passes, for a cylinder, a cone and a ring of bar."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from rollcalc.layout import ButtSeam, Seam, cone_blank, cylinder_blank, frustum_pattern, mid_thickness_frustum
from rollcalc.rolling import Capacity, ConeSetting, Machine, Schedule, check_capacity, cone_setting, setting_for_radius
from rollcalc.rolling.limits.check import Check
from rollcalc.rolling.machine.grooves import machine_for
from rollcalc.rolling.machine.kinds import checked_machine
from rollcalc.rolling.solver.batches import checked_single_case
from rollcalc.stock.kinds import checked_kind, checked_word
from rollcalc.stock.materials import Material, checked_material
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.sections import FlatBar, RoundBar, Sheet, Stock

from .check_radius import CheckRadius, checked_chord
from .cone_passes import ConePasses, cone_edges, cone_passes, on_line, screws
from .nearest import LOOSE, cone_stopped, nearest_cone, nearest_ring, nearest_words, stops
from .passes import Numbers, ring_schedule, yield_band
from .planned import Plan, PlannedPass
from .ring_blank import ring_blank
from .words import correction_words


CORRECTION = 0.02
"""Share of the radius that one correction takes off: what a chord tells, and what the first spring of a curved piece
leaves to be seen. [-]"""

BY_PASS = ("crank force", "crank for a short time", "grip", "roll bending")
"""Checks of one whole pass, which the passes of a plan look at each for itself, and the one that only compares."""


def plan_cylinder(machine: Machine, sheet: Sheet, material: Material, *, inside_diameter: float | None = None,
                  outside_diameter: float | None = None, mean_diameter: float | None = None,
                  seam: Seam = ButtSeam(), trim: float = 0.0, face: str = "inside",  # noqa: B008
                  chord: float | None = None) -> Plan:
    """Return the plan of a cylinder.

    Parameters
    ----------
    machine, sheet, material : Machine, Sheet and Material
        The machine; the sheet, its width the height of the cylinder; and its metal.
    inside_diameter, outside_diameter, mean_diameter : float or None
        Size of the finished cylinder; give exactly one. [mm]
    seam : ButtSeam, LapSeam or GroovedSeam
        How the ends are joined.
    trim : float
        Length cut off again after rolling, both ends together. [mm]
    face : str
        Where the curve is measured: "inside", "middle" or "outside".
    chord : float or None
        Straight line to measure across; None for a round figure that suits the ring. [mm]

    Returns
    -------
    plan : Plan
        Verdict, blank, passes, notes; its `card` writes a page for the machine.

    Raises
    ------
    InputError
        If a number makes no sense; what the machine cannot do is a verdict and no error.

    Notes
    -----
    Checks are those of `check_capacity`, the blank that of `cylinder_blank`, the passes those of `pass_schedule`, in
    eighths of a turn and sixteenths for the last. No turns are given where grip, travel, groove, bending moment or roll
    stress is passed, or anything else that counts as beyond the rating but an open ring. Validity: as those.
    Source: as those.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, GroovedSeam
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> plan = plan_cylinder(DEMO_MACHINE, Sheet(thickness=0.76, width=240), steel, inside_diameter=180,
    ...                      seam=GroovedSeam(6))
    >>> plan.verdict, round(plan.blank.length, 1)
    ("within the machine's rating", 587.4)
    >>> [(one.turns_left, round(one.rise, 1)) for one in plan.passes]
    [(8.875, 5.8), (11.75, 11.6), (13.125, 15.1)]
    """
    checked_kind("the sheet", sheet, Sheet, advice="plan a bar with plan_ring")
    _checked_piece(machine, sheet, material)
    blank = cylinder_blank(sheet, inside_diameter=inside_diameter, outside_diameter=outside_diameter,
                           mean_diameter=mean_diameter, seam=seam, trim=trim)
    job = f"cylinder, {blank.inside_diameter:.6g} mm inside, {blank.width:.6g} mm high"
    return _ring_plan(job, machine, sheet, material, blank, face, chord)


def plan_ring(machine: Machine, bar: FlatBar | RoundBar, material: Material, *, inside_diameter: float | None = None,
              outside_diameter: float | None = None, mean_diameter: float | None = None,
              seam: Seam = ButtSeam(), trim: float = 0.0, face: str = "inside",  # noqa: B008
              chord: float | None = None) -> Plan:
    """Return the plan of a ring of flat or round bar.

    Parameters
    ----------
    machine, bar, material : Machine, FlatBar or RoundBar, and Material
        The machine; the bar, a flat one flat on the rolls and a round one in its groove; and its metal.
    inside_diameter, outside_diameter, mean_diameter : float or None
        Size of the finished ring; give exactly one. [mm]
    seam : ButtSeam or LapSeam
        How the ends are joined.
    trim : float
        Length cut off again after rolling, both ends together. [mm]
    face : str
        Where the curve is measured: "inside", "middle" or "outside".
    chord : float or None
        Straight line to measure across; None for a round figure that suits the ring. [mm]

    Returns
    -------
    plan : Plan
        As `plan_cylinder`; its blank is as thick and as wide as the bar.

    Raises
    ------
    InputError
        As `plan_cylinder`.

    Notes
    -----
    As `plan_cylinder`; which groove takes a round bar says `groove_for`. Validity: as `plan_cylinder`, the bar not
    twisted.
    Source: as `plan_cylinder`.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS
    >>> plan = plan_ring(DEMO_MACHINE, RoundBar(6), MATERIALS["mild steel bar, hot rolled"], inside_diameter=90)
    >>> round(plan.blank.length, 1), [one.turns_left for one in plan.passes]
    (301.6, [10.0, 14.375, 16.3125])
    """
    checked_kind("the bar", bar, (FlatBar, RoundBar), advice="plan a sheet with plan_cylinder")
    _checked_piece(machine, bar, material)
    blank = ring_blank(bar, seam, inside_diameter=inside_diameter, outside_diameter=outside_diameter,
                       mean_diameter=mean_diameter, trim=trim)
    return _ring_plan(f"ring, {blank.inside_diameter:.6g} mm inside", machine, bar, material, blank, face, chord)


def plan_cone(machine: Machine, sheet: Sheet, material: Material, *, large_diameter: float | None = None,
              small_diameter: float | None = None, large_inside_diameter: float | None = None,
              large_outside_diameter: float | None = None, small_inside_diameter: float | None = None,
              small_outside_diameter: float | None = None, height: float, seam: Seam = ButtSeam(),  # noqa: B008
              position: float = 0.0, small_end: str = "right", face: str = "inside",
              chord: float | None = None) -> Plan:
    """Return the plan of a cone with its point cut off.

    Parameters
    ----------
    machine, sheet, material : Machine, Sheet and Material
        The machine; the sheet, whose width is replaced by the slant; and its metal.
    large_diameter, small_diameter : float or None
        Diameters of the ends, to mid-thickness. [mm]
    large_inside_diameter, large_outside_diameter, small_inside_diameter, small_outside_diameter : float or None
        The same as measured on a face; give one size for each end, both to mid-thickness or both on a face. [mm]
    height : float
        Distance between the measured edges, along the axis. [mm]
    seam : ButtSeam, LapSeam or GroovedSeam
        How the edges are joined.
    position : float
        From the middle of the rolls to the middle of the sheet; left is negative. [mm]
    small_end : str
        "left" or "right": where along the rolls the small end lies.
    face : str
        Where the curve is measured: "inside", "middle" or "outside".
    chord : float or None
        Straight line to measure across; None for a round figure that suits both ends. [mm]

    Returns
    -------
    plan : Plan
        As `plan_cylinder`; turns differ from screw to screw, and every pass has two radii to check, at the large end
        and at the small end, both square to the wall.

    Raises
    ------
    InputError
        If a number makes no sense; what the machine cannot do is a verdict and no error.

    Notes
    -----
    Whether straight rolls make the cone says `cone_setting`. In each pass both ends take the same share of their work,
    and the bending roll is tilted for the two radii that leaves, each end entering with its radius of the pass before.
    Validity: as `cone_setting`; the small end held back.
    Source: as `cone_setting` and `pass_schedule`.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS
    >>> plan = plan_cone(DEMO_MACHINE, Sheet(thickness=0.8, width=105), MATERIALS["aluminium 3003-H14"],
    ...                  large_diameter=220, small_diameter=160, height=100)
    >>> [(one.turns_left, one.turns_right) for one in plan.passes][-1], [round(end.rise, 1) for end in
    ...                                                                  plan.passes[-1].checks]
    ((5.8125, 20.375), [11.4, 16.6])
    """
    checked_kind("the sheet", sheet, Sheet, advice="a bar makes no cone")
    _checked_piece(machine, sheet, material)
    thickness = float(sheet.thickness)
    faces = {"large_inside_diameter": large_inside_diameter, "large_outside_diameter": large_outside_diameter,
             "small_inside_diameter": small_inside_diameter, "small_outside_diameter": small_outside_diameter}
    pattern = _pattern(thickness, height, large_diameter, small_diameter, faces)
    blank = cone_blank(pattern, thickness, seam)
    wall = Sheet(thickness=thickness, width=pattern.slant)
    small = pattern.small_diameter / 2 / math.cos(pattern.half_angle)  # radius of the bend there, square to the wall
    room = max((machine.working_width - pattern.slant) / 2, 0.0)
    place = checked_single("position", position, "mm", at_least=-room, at_most=room,
                           advice="lay the sheet between the ends of the rolls")
    checked_word("small end", small_end, ("left", "right"), advice="say where it lies")
    capacity = check_capacity(machine, wall, material, small, position=place)
    straight = checked_chord(chord, face, small, thickness)
    stopped, cone, found, warnings = _tried_cone(machine, wall, material, capacity, pattern, (place, small_end))
    nearest: tuple[str, ...] = ()
    passes: tuple[PlannedPass, ...] = ()
    corrections: tuple[str, ...] = ()
    if found is None:
        nearest = (nearest_words(nearest_cone(machine, wall, material, pattern.large_diameter, pattern.small_diameter,
                                              pattern.height, (place, small_end))), *_other_ways(cone))
    else:
        passes = _passes(machine, wall, material, found, (face, straight), ("large end", "small end"))
        corrections = _corrections(machine, wall, material, found, cone_edges(wall, place, small_end), screws(machine))
    job = (f"cone, {pattern.large_diameter:.6g} to {pattern.small_diameter:.6g} mm at mid-thickness, "
           f"{pattern.height:.6g} mm high")
    return Plan(job, machine, wall, material, small, face, straight, capacity, blank, passes, None, cone, stopped,
                nearest, warnings, corrections)


def _ring_plan(job: str, machine: Machine, stock: Stock, material: Material, blank: Any, face: str,
               chord: float | None) -> Plan:
    """Return the plan of a cylinder or a ring whose blank is laid out."""
    radius = blank.mean_radius
    met = _met(machine, stock)
    capacity = check_capacity(met, stock, material, radius)
    straight = checked_chord(chord, face, radius, blank.thickness)
    stopped = _stops(capacity.checks)
    nearest: tuple[str, ...] = ()
    schedule: Schedule | None = None
    passes: tuple[PlannedPass, ...] = ()
    if not stopped:
        try:
            schedule = ring_schedule(met, stock, material, radius, straight)
        except InputError as refused:
            stopped = (f"Not on this machine: {refused}",)
    corrections: tuple[str, ...] = ()
    warnings = _warnings(capacity, schedule)
    if schedule is None:
        nearest = (nearest_words(nearest_ring(machine, stock, material, blank.inside_diameter)),)
    else:
        turns = np.array([[one.turns_left, one.turns_right] for one in schedule.passes])
        found = ConePasses(turns, turns[:, :1] * machine.screw_pitch,
                           np.array([[one.released_radius] for one in schedule.passes]),
                           np.array([[one.crank_force_least, one.crank_force] for one in schedule.passes]), 0.0)
        passes = _passes(met, stock, material, found, (face, straight), ("",))
        corrections = _corrections(met, stock, material, found, np.zeros(1), np.zeros(2))
    return Plan(job, machine, stock, material, radius, face, straight, capacity, blank, passes, schedule, None, stopped,
                nearest, warnings, corrections)


def _checked_piece(machine: Machine, stock: Stock, material: Material) -> None:
    """Refuse what is no machine or metal, and arrays where one piece is meant."""
    checked_machine(machine)
    checked_single_case(machine, stock, checked_material(material))


def _met(machine: Machine, stock: Stock) -> Machine:
    """Return the machine as the stock meets it, in a groove where one takes it."""
    try:
        return machine_for(machine, stock)
    except InputError:  # no groove takes the bar, which is a check and no error
        return machine


def _pattern(thickness: float, height: float, large: float | None, small: float | None, faces: dict[str, Any]) -> Any:
    """Return the pattern of a cone from the sizes that were given."""
    if all(size is None for size in faces.values()):
        for name, size in (("large", large), ("small", small)):
            checked_single(f"{name} diameter", size, "mm", above=0,
                           advice="give it to mid-thickness, or measure both ends on a face")
        return frustum_pattern(large, small, height)  # type: ignore[arg-type]
    if large is not None or small is not None:
        raise InputError("diameters of the cone are given both to mid-thickness and on a face, but must be all of one "
                         "sort: measure both ends alike.")
    pattern = mid_thickness_frustum(thickness, height, **faces)
    checked_single("small diameter", pattern.small_diameter, "mm", above=0, advice="a point cannot be rolled")
    return pattern


def _tried_cone(machine: Machine, wall: Sheet, material: Material, capacity: Capacity, pattern: Any,
                placed: tuple[float, str]) -> tuple[tuple[str, ...], ConeSetting | None, ConePasses | None,
                                                    tuple[str, ...]]:
    """Return why a cone is stopped, its setting, its passes where it is not, and what speaks against it."""
    stopped, warnings = _stops(capacity.checks), _warnings(capacity, None)
    try:
        cone = cone_setting(machine, wall, material, pattern.large_diameter, pattern.small_diameter,
                            position=placed[0], small_end=placed[1])
    except InputError as refused:
        return stopped or (f"Not on this machine: {refused}",), None, None, warnings
    stopped = (*stopped, *_stops(cone.checks))
    warnings = (*map(_sentence, (check for check in cone.checks if check.name in LOOSE and check.exceeded)), *warnings)
    if stopped:
        return stopped, cone, None, warnings
    try:
        found, warning = cone_passes(machine, wall, material, cone, *placed)
    except InputError as refused:
        return (f"Not on this machine: {refused}",), cone, None, warnings
    return (), cone, found, (*((warning,) if warning else ()), *warnings)


def _stops(checks: Sequence[Check]) -> tuple[str, ...]:
    """Return why no turns are given, a sentence for each check; grip has the last word over all passes together."""
    return tuple(f"Not on this machine: {check.message}" for check in checks if check.name != "grip" and stops(check))


def _warnings(capacity: Capacity, schedule: Schedule | None) -> tuple[str, ...]:
    """Return what speaks against a job though its turns are given; crank and grip are those of its passes."""
    passed = [check for check in capacity.checks
              if np.any(check.exceeded) and not np.any(stops(check)) and check.name not in BY_PASS]
    return (*(schedule.warnings if schedule else ()), *map(_sentence, passed), *capacity.unchecked, *capacity.cautions)


def _sentence(check: Check) -> str:
    """Return what a check says, as a sentence of its own."""
    return check.message[0].upper() + check.message[1:]


def _passes(machine: Machine, stock: Stock, material: Material, found: ConePasses, measured: tuple[str, float],
            places: tuple[str, ...]) -> tuple[PlannedPass, ...]:
    """Return passes as a person reads them, with the band of the yield range at each place."""
    face, chord = measured
    known, depth, passes = machine.crank_radius is not None, float(stock.depth), []
    bands = yield_band(machine, stock, material, found.travels)
    for number, (turns, radii) in enumerate(zip(found.turns.tolist(), found.radii.tolist(), strict=True)):
        checks = []
        for place, (name, radius) in enumerate(zip(places, radii, strict=True)):
            reach = [radius, *bands[number, :, place].tolist()]
            checks.append(CheckRadius(name, face, depth, radius, min(reach), max(reach),
                                      float(found.travels[number, place]), chord))
        crank = float(found.crank_forces[number, 1]) if known else None
        passes.append(PlannedPass(turns[0], turns[1], tuple(checks), crank))
    return tuple(passes)


def _corrections(machine: Machine, stock: Stock, material: Material, found: ConePasses, places: Numbers,
                 screws: Numbers) -> tuple[str, ...]:
    """Return what to do where a radius is too large after the last pass: at one place, or at the two of a cone."""
    radii = found.radii[-1]
    try:
        wanted = setting_for_radius(machine, stock, material, (1 - CORRECTION) * radii, entering_radius=radii)
    except InputError as refused:
        return (f"Still too large after the last pass: {refused}",)
    gains = np.asarray(wanted.travel) - found.travels[-1]
    if len(places) == 1:
        return (correction_words("Still too large", np.repeat(gains, 2) / machine.screw_pitch, CORRECTION),)
    cases = (("Both ends still too large", gains), ("Only the large end still too large", gains * (1, 0)),
             ("Only the small end still too large", gains * (0, 1)))
    return tuple(correction_words(what, on_line(places, raised, screws) / machine.screw_pitch, CORRECTION)
                 for what, raised in cases)


def _other_ways(cone: ConeSetting | None) -> tuple[str, ...]:
    """Return other ways to make a cone that is not for straight rolls."""
    return ("Cut it by this pattern all the same, and make it another way:", *cone.alternatives) if (
        cone and cone_stopped(cone)) else ()
