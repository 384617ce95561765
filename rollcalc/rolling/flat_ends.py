"""The start and the end of a ring: what the march leaves there, and what can be done about it."""

import math
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import pairwise

import numpy as np

from rollcalc.bending.release import loaded_curvature
from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record, Shown, as_html, as_text, said, said_in_short
from rollcalc.stock.sections import Stock

from .limits.reach import check_one_piece
from .machine.kinds import Machine, PyramidMachine
from .march.march import roll_once
from .march.strip import Line, Strip
from .passes.plan import pass_settings
from .passes.schedule import Schedule
from .radius import setting_for_radius
from .setting import Setting
from .shape import span_lengths

CELLS = 40
"""Cells in the longer span of a machine that pinches: 1 mm on the bench roll. [-]"""

PYRAMID_CELLS = 25
"""The same below a top roll, where both spans are long. [-]"""

SETTLED = 3.0
"""Spans after which the curve is taken as steady; it is averaged over the next one. [-]"""

FORMER = 1.15
"""How far the ends are bent over a former before rolling, in spans. [-]"""

_FLAT = 0.1

Rolled = tuple[Strip, bool]
"""A strip after some passes, and whether it was laid over the roll in the last of them."""


class UnsettledError(ArithmeticError):
    """The curve still swings where the march ends, by ``args[0]`` of the steady curvature."""


@dataclass(frozen=True, eq=False, repr=False)
class Remedy(Record):
    """A way to deal with the ends of a ring.

    Parameters
    ----------
    name : str
        What it is called.
    leading, trailing : float
        Lengths that stay flat at both ends of the finished piece. [mm]
    kink_ratio : float
        Largest curvature that is left, over the steady one. [-]
    trim : float
        What there is still to cut off at both ends for a ring that is round within the tolerance. [mm]
    extra_length : float
        How much longer the blank is cut for it. [mm]
    words : str
        What to do, and for which seams.
    distance : array, shape (points,)
        Places along the strip, from the tip. [mm]
    curvature : array, shape (points,)
        Released curvature at these places. [1/mm]
    """

    name: str
    leading: float
    trailing: float
    kink_ratio: float
    trim: float
    extra_length: float
    words: str
    distance: Line
    curvature: Line

    SHOWS = "words, leading [mm], trailing [mm], kink_ratio [-], trim [mm], extra_length [mm]"

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"Remedy: {self.name}"


class Remedies(tuple[Remedy, ...]):
    """Ways to deal with the ends of a ring, side by side."""

    def shown(self) -> Shown:
        """Return a row for each way, and what to do."""
        head = ("way", "flat, lead end", "flat, other end", "kink", "still to trim", "blank longer by")
        rows = tuple((way.name, said(way.leading, "mm"), said(way.trailing, "mm"), f"{way.kink_ratio:.2f} times",
                      said(way.trim, "mm"), said(way.extra_length, "mm")) for way in self)
        return Shown("Ways to deal with the ends", rows, head, tuple(f"{way.name}: {way.words}" for way in self))

    def __repr__(self) -> str:
        """Return the table as lines."""
        return as_text(replace(self.shown(), notes=()))

    def _repr_html_(self) -> str:
        """Return the table, and what to do."""
        return as_html(self.shown())


@dataclass(frozen=True, eq=False, repr=False)
class FlatEnds(Record):
    """The start and the end of a ring.

    Parameters
    ----------
    leading, trailing : float
        From the tip that goes in first, and from the other end, to where the released curvature reaches a tenth of the
        steady one. [mm]
    kink_position : float
        From the tip to the largest released curvature. [mm]
    kink_ratio : float
        Largest released curvature over the steady one. [-]
    trim, trailing_trim : float
        What to cut at the tip, and at the other end, so that the rest is round within the tolerance. [mm]
    steady_radius : float
        Released radius between the ends, as marched, to mid-thickness. [mm]
    distance : array, shape (points,)
        Places along the strip, from the tip. [mm]
    curvature : array, shape (points,)
        Released curvature at these places. [1/mm]
    laid : bool
        Whether the strip was laid over the bending roll before the rolls came to their travel; otherwise the tip was
        pushed on to the roll already set.
    settings : tuple of Setting
        The passes.
    tolerance : float
        How round the rest is, in curvature. [-]

    Notes
    -----
    The strip that was marched is a little over four spans long; a ring has more of the steady curve between its ends.
    Validity: as `flat_ends`.

    Examples
    --------
    >>> list(FlatEnds.__dataclass_fields__)[:3]
    ['leading', 'trailing', 'kink_position']
    """

    leading: float
    trailing: float
    kink_position: float
    kink_ratio: float
    trim: float
    trailing_trim: float
    steady_radius: float
    distance: Line
    curvature: Line
    laid: bool
    settings: tuple[Setting, ...]
    tolerance: float

    SHOWS = ("leading [mm], trailing [mm], kink_position [mm], kink_ratio [-], trim [mm], trailing_trim [mm], "
             "steady_radius [mm]")

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        passes = "one pass" if len(self.settings) == 1 else f"{len(self.settings)} passes"
        setting = self.settings[-1]
        return (f"Ends of a ring: {said_in_short(setting.stock)}, {passes}, round within {100 * self.tolerance:g} %, "
                f"{setting.machine.in_short}")

    @cached_property
    def remedies(self) -> Remedies:
        """What can be done, each marched like the ring itself; one that the rolls cannot do is left out."""
        cut = self.trim + self.trailing_trim
        left_over = (self.distance >= self.trim) & (self.distance <= self.distance[-1] - self.trailing_trim)
        found = [Remedy("leave and trim", 0.0, 0.0, 1 + self.tolerance, 0.0, cut,
                        "Cut the blank longer by that much and trim it off after rolling: for butt and lap seams, not "
                        "for folded ones.", self.distance[left_over], self.curvature[left_over])]
        for name, march, words in _marched_remedies(self.settings):
            try:
                rolled_strip, laid = march()
                ends = read_ends(rolled_strip, laid, self.settings, self.tolerance)
            except UnsettledError as error:
                ends = read_ends(rolled_strip, laid, self.settings, error.args[0])
                words = f"{words} The curve still swings by {100 * error.args[0]:.0f} % between the ends."
            except (ArithmeticError, ValueError):
                continue
            left = ends.trim + ends.trailing_trim
            found.append(Remedy(name, ends.leading, ends.trailing, ends.kink_ratio, left, 0.0, words,
                                ends.distance, ends.curvature))
        return Remedies(found)


def flat_ends(machine: Machine, stock: Stock, material: Material, released_radius: float, *,
              schedule: Schedule | None = None, tolerance: float = 0.02) -> FlatEnds:
    """Return how a ring starts and ends: what stays flat, the kink behind it, and what to cut off.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, the piece and its metal, of one size and one yield.
    released_radius : float
        Wanted radius after release, to mid-thickness. [mm]
    schedule : Schedule or None
        The passes, from `pass_schedule` for the same radius; None for one full pass from flat.
    tolerance : float
        How far the curvature of a round end may be from the steady one. [-]

    Returns
    -------
    ends : FlatEnds
        Lengths, kink, the curvature along the strip, and the remedies.

    Raises
    ------
    InputError
        As `setting_for_radius`, if the schedule is for another radius, if the march finds no way through the rolls, or
        if the curve still swings by more than the tolerance where it ends.

    Notes
    -----
    A flat strip is marched through the rolls, a cell of feed at a time, each fibre with its history. Its tip is pushed
    on to the bending roll as that is set for the pass, and rides up on it; every pass starts at the tip again, and the
    other end leaves the front roll. Where the tip cannot ride up, and on a pyramid machine, the strip is laid over the
    roll first (`FlatEnds.laid`). A pyramid machine's march has a beam's peak of moment, with the travel that gives the
    radius then. Validity: as `setting_for_radius`; no friction at the tip, no sag.
    Source: derived in rollcalc.rolling.march.march.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, Sheet
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> ends = flat_ends(DEMO_MACHINE, Sheet(thickness=0.76, width=240), steel, 90.4)
    >>> round(ends.leading), round(ends.kink_position), round(ends.kink_ratio, 1), round(ends.trailing)
    (24, 32, 3.1, 3)
    """
    check_one_piece(machine, stock, material, released_radius)
    limit = checked_single("tolerance", tolerance, "", at_least=0.01, at_most=0.5, advice="give a share, 0.02 say")
    whole = setting_for_radius(machine, stock, material, released_radius)
    settings = (whole,) if schedule is None else _scheduled(whole, schedule)
    try:
        return read_ends(*rolled(settings), settings, limit)
    except InputError:
        raise
    except UnsettledError as error:
        raise InputError(f"tolerance is {limit:.3g}, but must be at least {error.args[0]:.2f} for this ring: its "
                         "curve still swings by that much where the march ends. Give that, and measure "
                         "the piece.") from error
    except (ArithmeticError, ValueError) as error:
        raise InputError(f"released radius is {float(released_radius):.6g} mm, but must be larger or reached in other "
                         f"passes: its ends found no way through the rolls ({error}).") from error


def rolled(settings: Sequence[Setting], *, cells: float | None = None, spans: float = SETTLED + 1.2,
           turned: Collection[int] = (), former: bool = False) -> Rolled:
    """Return a strip after some passes, and whether it was laid over the roll in the last of them."""
    usual = PYRAMID_CELLS if isinstance(settings[-1].machine, PyramidMachine) else CELLS
    failed: Exception = ArithmeticError()
    for count in (cells,) if cells else (usual, 0.8 * usual, 1.25 * usual):
        try:
            return _rolled(settings, count, spans, turned, former)
        except (ArithmeticError, ValueError) as error:  # a search that gets lost with one cell finds with another
            failed = error
    raise failed


def _rolled(settings: Sequence[Setting], cells: float, spans: float, turned: Collection[int], former: bool) -> Rolled:
    """Return a strip after some passes, marched in cells of one size."""
    settings = [_with_beam_peak(setting) for setting in settings]
    last = settings[-1]
    before, behind = map(float, span_lengths(last))
    strip = Strip(last.stock, last.material, max(before, behind) / cells,
                  spans * behind + 2 * before + max(0.0, last.machine.touch_distance - behind))
    if math.isfinite(float(settings[0].entering_radius)):
        held = loaded_curvature(last.stock, last.material, 1 / float(settings[0].entering_radius))
        strip.hold(np.arange(strip.last + 1), np.full(strip.last + 1, float(held)))
    if former:
        ends = [math.ceil(FORMER * span / strip.cell) for span in (behind, before)]
        nodes = np.r_[: ends[0], strip.last - ends[1] + 1 : strip.last + 1]
        strip.hold(nodes, np.full(len(nodes), 1 / float(last.loaded_radius)))
    laid = False
    for number, setting in enumerate(settings):
        if number in turned:
            strip.turn_round()
        laid = roll_once(setting, strip).laid
    if len(turned) % 2:
        strip.turn_round()
    return strip, laid


def _with_beam_peak(setting: Setting) -> Setting:
    """Return a setting to the same radius with a beam's peak of moment below a top roll, the only one a march knows."""
    machine = setting.machine
    if not isinstance(machine, PyramidMachine) or machine.peak == "beam":
        return setting
    return setting_for_radius(replace(machine, peak="beam"), setting.stock, setting.material, setting.released_radius,
                              entering_radius=setting.entering_radius)


def _scheduled(whole: Setting, schedule: Schedule) -> tuple[Setting, ...]:
    """Return the settings of a schedule's passes, which must end where one whole pass does."""
    radius = float(whole.released_radius)
    checked_kind("the schedule", schedule, Schedule, advice="take it from pass_schedule")
    if not schedule.passes:
        raise InputError("the schedule has no passes, but must have one at least: take it from pass_schedule.")
    if not math.isclose(schedule.released_radius, radius, rel_tol=1e-6):
        raise InputError(f"the schedule is for a radius of {schedule.released_radius:.6g} mm, but must be for the "
                         f"{radius:.6g} mm of the ring: plan the passes for that radius.")
    return _passes(whole, schedule.entering_radius, *(one.released_radius for one in schedule.passes))


def _shared(last: Setting, number: int) -> tuple[Setting, ...]:
    """Return the settings of passes that share the work and end where one pass does."""
    shared = pass_settings(last.machine, last.stock, last.material, float(last.released_radius), number)
    return _passes(last, math.inf, *np.asarray(shared.released_radius).tolist())


def _passes(job: Setting, *radii: float) -> tuple[Setting, ...]:
    """Return the settings that take the piece of a job from each radius to the next."""
    return tuple(setting_for_radius(job.machine, job.stock, job.material, after, entering_radius=before)
                 for before, after in pairwise(radii))


def _marched_remedies(settings: tuple[Setting, ...]) -> Iterator[tuple[str, Callable[[], Rolled], str]]:
    """Yield name, march and words of every remedy but the saw."""
    last, both_ends = settings[-1], 2 * SETTLED + 1.2
    again = replace(last, entering_radius=last.released_radius)
    yield ("turn end for end", partial(rolled, [*settings, again], spans=both_ends, turned=(len(settings),)),
           "Roll once more from the other end at the same setting: each end goes in last once, but the kink stays.")
    lengths = [FORMER * float(span) for span in reversed(span_lengths(last))]
    yield ("bend the ends first", partial(rolled, settings, former=True),
           f"Bend {lengths[0]:.0f} mm at the leading end and {lengths[1]:.0f} mm at the other over a former of radius "
           f"{float(last.loaded_radius) - float(last.stock.depth) / 2:.0f} mm, before rolling: for folded seams too, "
           "if the folds pass the nip.")
    number = 3 if len(settings) == 1 else 2 * len(settings)
    yield (f"{number} passes", lambda: rolled(_shared(last, number)),
           "Share the work, and start every pass at the same end.")
    yield (f"{number} passes, turned each time",
           lambda: rolled(_shared(last, number), spans=both_ends, turned=range(1, number)),
           "Share the work, and turn the piece end for end after every pass.")


def read_ends(strip: Strip, laid: bool, settings: tuple[Setting, ...], tolerance: float) -> FlatEnds:
    """Return what the curvature of a strip says about its ends."""
    distance, bend = strip.distance, strip.kept
    span = float(span_lengths(settings[-1])[1])
    since = distance - max(0.0, settings[-1].machine.touch_distance - span) * laid
    middle = (since >= SETTLED * span) & (since <= (SETTLED + 1) * span)
    steady = float(bend[middle].mean())
    if steady <= 0:
        raise InputError(f"released radius is {float(settings[-1].released_radius):.6g} mm, but must be smaller: so "
                         "gentle a curve leaves nothing to measure.")
    share = bend / steady
    swing = math.ceil(100 * float(np.abs(share[middle] - 1).max())) / 100
    if swing > tolerance:
        raise UnsettledError(swing)
    kinked = share >= 0.99 * share.max()  # flat on top where the strip lay on the inside roll
    start, end = np.flatnonzero(middle)[[0, -1]]
    cuts = [_until_round(part, tolerance) * strip.cell for part in (share[: end + 1], share[start:][::-1])]
    starts = [_first(part, _FLAT) * strip.cell for part in (share, share[::-1])]
    return FlatEnds(leading=starts[0], trailing=starts[1], kink_position=float(distance[kinked].mean()),
                    kink_ratio=float(share.max()), trim=cuts[0], trailing_trim=cuts[1], steady_radius=1 / steady,
                    distance=distance, curvature=bend, laid=laid, settings=settings, tolerance=tolerance)


def _first(share: Line, level: float) -> float:
    """Return where a line of values first reaches a level, in cells."""
    number = int(np.argmax(share >= level))
    if number == 0:
        return 0.0
    low, high = share[number - 1 : number + 1]
    return float(number - 1 + (level - low) / (high - low))


def _until_round(share: Line, tolerance: float) -> float:
    """Return how many cells to cut, so that the rest is round within a tolerance."""
    off = np.flatnonzero(np.abs(share - 1) > tolerance)
    return float(off[-1] + 1) if len(off) else 0.0
