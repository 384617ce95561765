"""The sheet's line between the rolls, with its curvature and moment."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rollcalc.bending.law import fibre_law
from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import FloatLike, InputError, checked_single, plain
from rollcalc.stock.record import Record
from rollcalc.stock.sections import gauss_points

from .machine.kinds import PinchMachine
from .setting import Setting
from .solver.contact import PEAK
from .solver.span import LevelledSpan, Piece, Span
from .solver.steady_state import previous_curvature, spans

Line = NDArray[np.float64]


@dataclass(frozen=True, eq=False, repr=False)
class SpanShape(Record):
    """The sheet's mid-thickness line from the front to the bending contact, in the machine's side view.

    Parameters
    ----------
    x, y : array, shape (..., points)
        Places, in the order of the feed. [mm]
    slope : array, shape (..., points)
        Slope of the line. [rad]
    curvature : array, shape (..., points)
        Curvature under load. [1/mm]
    moment : array, shape (..., points)
        Bending moment over the whole width. [N mm]
    """

    x: Line
    y: Line
    slope: Line
    curvature: Line
    moment: Line

    SHOWS = "x [mm], y [mm], slope [rad], curvature [1/mm], moment [N mm]"
    caption = "Shape of the stock between the rolls"


def span_shape(setting: Setting, points: int = 24) -> SpanShape:
    """Return the line of the sheet between the rolls.

    Parameters
    ----------
    setting : Setting
        A setting, in which the rolls press on the stock.
    points : int
        Points on each span, 2 to 10 000. [-]

    Returns
    -------
    shape : SpanShape
        From nip to bending contact where the nip is perfect; else from the front contact over the inside
        contact to the bending contact.

    Raises
    ------
    InputError
        If points is not a whole number from 2 to 10 000, or no roll presses.

    Notes
    -----
    With F the roll's force and u the slope still to go to it, a point with moment M lies M/F from the contact along the
    roll's tangent, and across it by η(M) = ∫ tan u dM / F from 0 to M. Validity: as `setting_for_radius`.
    Source: derived in rollcalc.rolling.solver.span; compared with scipy's solve_bvp in the tests.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Material, Sheet, setting_for_radius
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> ideal = DEMO_MACHINE.with_perfect_nip()
    >>> shape = span_shape(setting_for_radius(ideal, Sheet(thickness=0.76, width=300), steel, 90), points=3)
    >>> [round(1 / curvature) for curvature in shape.curvature.tolist()]
    [63, 74, 90]
    """
    checked_kind("the setting", setting, Setting, advice="take it from setting_for_radius")
    number = checked_single("points", points, "", at_least=2, at_most=10_000, advice="give a whole number")
    if number != int(number):
        raise InputError(f"points is {number:g}, but must be whole: give a number from 2 to 10000.")
    if not np.all(np.asarray(setting.bending_roll_force) > 0):
        raise InputError("bending roll force is 0 N, but must be above 0 N: the rolls do not bend the stock at this "
                         "travel, so there is no span to draw.")
    front, bending, moment = _spans_of(setting)
    lines = [] if front is None else [_line(setting, front, setting.front_angle, moment, int(number), -1.0)]
    lines.append(_line(setting, bending, setting.contact_angle, moment, int(number), 1.0))
    if len(lines) == 2:  # the inside contact belongs to both: keep it once
        lines[0] = tuple(part[::-1][:-1] for part in lines[0])
    return SpanShape(*(np.moveaxis(np.concatenate(parts), 0, -1) for parts in zip(*lines, strict=True)))


def span_lengths(setting: Setting) -> tuple[FloatLike, FloatLike]:
    """Return how long the stock is between the rolls, before and behind the inside roll: s = x S ∫ dm/√(1 − S²ρ²) with
    the letters of rollcalc.rolling.solver.span.
    """
    front, bending, _ = _spans_of(setting)
    before = np.zeros(np.shape(setting.travel)) if front is None else front.length(np.sin(setting.front_angle))
    return plain(before), plain(bending.length(np.sin(setting.contact_angle)))


def _spans_of(setting: Setting) -> tuple[Span | LevelledSpan | None, Span | LevelledSpan, Line]:
    """Return front and bending span of a setting, and the moment at the inside roll."""
    stock, material, law = setting.stock, setting.material, fibre_law(setting.stock, setting.material)
    loaded, released = 1 / np.asarray(setting.loaded_radius), 1 / np.asarray(setting.released_radius)
    previous = previous_curvature(stock, material, 1 / np.asarray(setting.entering_radius))
    front, bending = spans(setting.machine, stock, law, loaded, released, previous, setting.feed)
    moment = np.asarray(law.modulus * stock.second_moment * (loaded - released))
    if setting.machine.bends_plate and front is not None:
        share = PEAK * np.asarray(stock.depth) * setting.inside_roll_force / moment
        return LevelledSpan(front, loaded, share), LevelledSpan(bending, loaded, share), moment * (1 + share)
    return front, bending, moment


def _line(setting: Setting, span: Span | LevelledSpan, angle: object, moment: Line, points: int,
          side: float) -> tuple[Line, ...]:
    """Return places, slope, curvature and moment along a span from its inside contact outwards, points first. ``side``
    is 1 behind the inside roll and −1 before it, where the same curve is seen in a mirror.
    """
    theta = np.asarray(angle)
    sine = np.sin(theta)
    share, curvature, bend, across = _walk(span, sine, points)
    along = share * span.lever * sine  # from the outer contact inwards, shape (points, ...)
    right = (along[-1] - along) * np.cos(theta) + (across[-1] - across) * np.sin(theta)
    up = (along[-1] - along) * np.sin(theta) - (across[-1] - across) * np.cos(theta)
    inside = setting.machine.inside_roll_diameter / 2 + np.asarray(setting.stock.depth) / 2
    tilt_sine, tilt_cosine = np.sin(setting.tilt), np.cos(setting.tilt)
    drop = 0.0 if isinstance(setting.machine, PinchMachine) else np.asarray(setting.travel)
    x = inside * tilt_sine + side * right * tilt_cosine - up * tilt_sine
    y = inside * (1 - tilt_cosine) - drop + side * right * tilt_sine + up * tilt_cosine
    slope = setting.tilt + side * (theta - bend)
    return tuple(np.broadcast_to(part, x.shape)[::-1] for part in (x, y, slope, curvature, share * moment))


def _walk(span: Span | LevelledSpan, sine: Line, points: int) -> tuple[Line, ...]:
    """Return m, curvature, slope u and η at points from the outer contact inwards, points first."""
    number = len(span.pieces)
    if points <= number:  # each piece needs both of its ends: walk with more points and keep the first and the last
        kept = np.linspace(0, number, points).round().astype(int)
        return tuple(part[kept] for part in _walk(span, sine, number + 1))
    counts = [(points - 1) // number + (place < (points - 1) % number) + 1 for place in range(number)]  # share ends
    found: list[tuple[Line, ...]] = []
    reached: Line | float = 0.0
    for piece, count in zip(span.pieces, counts, strict=True):
        ends = np.linspace(0.0, 1.0, count).reshape((count,) + (1,) * sine.ndim)
        at = piece(ends)
        rises = _rises(piece, sine, ends)
        across = reached + span.lever * sine * np.concatenate([np.zeros_like(rises[:1]), np.cumsum(rises, axis=0)])
        reached = across[-1]
        parts = (at.moment, at.curvature, np.arcsin(np.minimum(sine * at.energy, sine)), across)
        found.append(tuple(np.broadcast_to(part, across.shape)[len(found) and 1 :] for part in parts))
    return tuple(np.concatenate(parts) for parts in zip(*found, strict=True))


def _rises(piece: Piece, sine: Line, ends: Line) -> Line:
    """Return ∫ tan u dm between neighbouring ends of equal steps along a piece."""
    place, weight = (np.reshape(column, (-1,) + (1,) * ends.ndim) for column in zip(*gauss_points(12), strict=True))
    width = 1 / (len(ends) - 1)
    step = piece(ends[:-1] + place * width)  # shape (Gauss points, points − 1, ...)
    lifted: Line = np.asarray(sine * step.energy)
    return np.asarray((lifted / np.sqrt(1 - lifted**2) * step.change * weight).sum(axis=0) * width)
