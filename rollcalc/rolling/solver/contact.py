"""Where the rolls stand for a given curve: three contacts, entry, inside and exit.

Every machine is the same three contacts. The *front* contact lies before the inside roll in the side
view (lower front roll, or left bottom roll), the *bending* contact behind it. Stock fed forward
enters over the front contact and leaves over the bending contact; fed back, the two change places.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rollcalc.stock.quantities import FloatLike

from ..machine.kinds import Machine, PinchMachine, PyramidMachine
from .roots import newton_root
from .span import STEEPEST, LevelledSpan, Span

PEAK = 1 / (2 * np.pi)
"""By how much less than a beam a plate is bent below a roll, as a share of force times thickness. A line load on the
surface of a body spreads its halves with P/π (Flamant); that force, half a thickness from the middle, bends back by
P t/2π (Wilson and Stokes, see `PyramidMachine`)."""


@dataclass(frozen=True, eq=False)
class Contacts:
    """How the sheet lies on the three rolls."""

    front_angle: FloatLike  # slope between the front and the inside contact; 0 in a perfect nip [rad]
    bending_angle: FloatLike  # slope between the inside and the bending contact [rad]
    tilt: FloatLike  # slope of the sheet at the inside contact [rad]
    travel: FloatLike  # travel of the roll that moves; infinite where the rolls cannot hold this curve [mm]
    peak: FloatLike = 0.0  # how far a beam's moment below a top roll stands above a plate's, as a share of it [-]


def contacts(machine: Machine, thickness: FloatLike, moment: FloatLike, front: Span | None, bending: Span,
             loaded: FloatLike | None = None) -> Contacts:
    """Return how the sheet lies on the rolls when these two spans meet at the inside roll. Two rolls fix the sheet
    between front and inside contact (slack or pinch force), the third is where its guide meets the far end; on a
    pyramid machine both ends are found together.
    """
    inside = np.asarray(machine.inside_roll_diameter / 2 + np.asarray(thickness) / 2)
    if isinstance(machine, PyramidMachine):
        assert front is not None, "a pyramid machine has a span on either side"
        return _pyramid_contacts(machine, thickness, inside, front, bending, loaded)
    front_angle, tilt = _nip(machine, thickness, inside, moment, front)
    return _on_guide(machine, thickness, inside, bending, front_angle, tilt)


def _arm(span: Span | LevelledSpan, angle: FloatLike, roll: FloatLike) -> tuple[FloatLike, ...]:
    """Return how far a roll's centre lies aside and risen, seen from the inside contact's frame, and their slopes.
    Risen is counted from where the roll would stand opposite the inside roll, with the flat sheet between them. A
    levelled span adds how both change with the share by which it is levelled.
    """
    sine, cosine = np.sin(angle), np.cos(angle)
    along, across, along_slope, across_slope = span.place(sine)
    aside = along * cosine + (across + roll) * sine
    risen = along * sine - across * cosine + roll * sine**2 / (1 + cosine)
    aside_slope = (along_slope * cosine + across_slope * sine) * cosine - along * sine + (across + roll) * cosine
    risen_slope = (along_slope * sine - across_slope * cosine) * cosine + along * cosine + (across + roll) * sine
    if isinstance(span, Span):
        return aside, risen, aside_slope, risen_slope
    along_share, across_share = span.place_by_share(sine, across_slope)
    return (aside, risen, aside_slope, risen_slope, along_share * cosine + across_share * sine,
            along_share * sine - across_share * cosine)


def _nip(machine: PinchMachine, thickness: FloatLike, inside: FloatLike, moment: FloatLike,
         span: Span | None) -> tuple[FloatLike, FloatLike]:
    """Return slope between the nip's two contacts and tilt of the sheet at the upper one."""
    if span is None:
        return 0.0, 0.0
    roll = machine.lower_roll_diameter / 2 + np.asarray(thickness) / 2
    apart = inside + roll
    if machine.pinch_force is None:
        angle = _slack_angle(span, roll, apart, machine.nip_slack)
    else:
        sine = moment / span.lever / machine.pinch_force
        angle = np.arcsin(np.minimum(sine, np.sin(STEEPEST)))
    aside, risen, *_ = _arm(span, angle, roll)
    return angle, np.arctan2(aside, apart - risen)


def _slack_angle(span: Span, roll: FloatLike, apart: FloatLike, slack: FloatLike) -> FloatLike:
    """Return the slope at which the front roll stands off by the slack; √(distance² − apart²) is nearly straight."""
    wanted = np.sqrt(slack * (2 * apart + np.asarray(slack)))
    some = np.where(wanted > 0, wanted, 1.0)

    def miss(angle: FloatLike) -> tuple[FloatLike, FloatLike]:
        aside, risen, aside_slope, risen_slope, *_ = _arm(span, angle, roll)
        root = np.sqrt(np.maximum(aside**2 + risen**2 - 2 * apart * risen, 1e-30))
        return root - some, (aside * aside_slope + (risen - apart) * risen_slope) / root

    return np.where(wanted > 0, newton_root(miss, STEEPEST, some / (span.lever + roll)), 0.0)


def _on_guide(machine: PinchMachine, thickness: FloatLike, inside: FloatLike, span: Span, front_angle: FloatLike,
              tilt: FloatLike) -> Contacts:
    """Return the contacts with the bending roll on its guide."""
    right, up = machine.guide_direction
    roll = machine.bending_roll_diameter / 2 + np.asarray(thickness) / 2
    apart, start = inside + roll, machine.guide_distance
    sine, cosine = np.sin(tilt), np.cos(tilt)

    def place(aside: FloatLike, risen: FloatLike) -> tuple[FloatLike, FloatLike]:
        """Return how far behind its touch place and how high above it the roll's centre is."""
        behind = aside * cosine + (apart - risen) * sine - start
        return behind, aside * sine + risen * cosine + apart * sine**2 / (1 + cosine)

    def miss(angle: FloatLike) -> tuple[FloatLike, FloatLike]:
        aside, risen, aside_slope, risen_slope, *_ = _arm(span, angle, roll)
        behind, height = place(aside, risen)
        behind_slope = aside_slope * cosine - risen_slope * sine
        height_slope = aside_slope * sine + risen_slope * cosine
        return behind * up - height * right, behind_slope * up - height_slope * right

    first = np.minimum(start / (span.lever + roll), 0.9)
    reach = np.maximum(start + 0.6 * span.lever * first**2 * right / up, start / 4)
    angle = newton_root(miss, STEEPEST, np.arcsin(np.minimum(reach / (span.lever + roll), 0.95)))
    behind, height = place(*_arm(span, angle, roll)[:2])
    lever = span.lever * np.sin(angle)  # a root at no angle is none: the tilted sheet misses the roll
    held = (np.maximum(angle, front_angle) < STEEPEST) & (np.abs(tilt) < STEEPEST) & (lever > thickness)
    return Contacts(front_angle, angle, tilt, np.where(held, behind * right + height * up, np.inf))


def _pyramid_contacts(machine: PyramidMachine, thickness: FloatLike, inside: FloatLike, front: Span, bending: Span,
                      loaded: FloatLike | None) -> Contacts:
    """Return the contacts with both bottom rolls equally far from the top roll and apart by their spacing."""
    roll = machine.bottom_roll_diameter / 2 + np.asarray(thickness) / 2
    apart, spacing = inside + roll, machine.bottom_roll_spacing
    angles = [np.arcsin(np.minimum(spacing / 2 / (span.lever + roll), 0.95)) for span in (front, bending)]
    peak: FloatLike = 0.0
    slopes: tuple[FloatLike, ...] = (0.0, 0.0)
    spans: tuple[Span | LevelledSpan, Span | LevelledSpan] = (front, bending)
    near: NDArray[np.bool_] = np.array(False)
    for _ in range(50):
        if loaded is not None:
            peak, slopes = _peak(PEAK * np.asarray(thickness), front, bending, angles, loaded)
            spans = LevelledSpan(front, loaded, peak), LevelledSpan(bending, loaded, peak)
        a, p, a_slope, p_slope, *front_share = _arm(spans[0], angles[0], roll)
        b, q, b_slope, q_slope, *bending_share = _arm(spans[1], angles[1], roll)
        uneven = b**2 + q**2 - 2 * apart * q - (a**2 + p**2 - 2 * apart * p)  # difference of squared distances
        wide = (a + b) ** 2 + (p - q) ** 2 - spacing**2
        changes: list[tuple[FloatLike, ...]] = [(a_slope, p_slope, 0.0, 0.0), (0.0, 0.0, b_slope, q_slope)]
        if loaded is not None:  # both slopes change the roll's force, and with it the peak
            shares = (*front_share, *bending_share)
            changes = [tuple(own + share * slope for own, share in zip(change, shares, strict=True))
                       for change, slope in zip(changes, slopes, strict=True)]
        (uneven_front, wide_front), (uneven_bending, wide_bending) = (
            (2 * (b * db - (apart - q) * dq + (apart - p) * dp - a * da),
             2 * ((a + b) * (da + db) + (p - q) * (dp - dq))) for da, dp, db, dq in changes)
        determinant = uneven_front * wide_bending - uneven_bending * wide_front
        steps = ((uneven * wide_bending - uneven_bending * wide) / determinant,
                 (uneven_front * wide - uneven * wide_front) / determinant)
        near = np.asarray(np.maximum(np.abs(steps[0] / angles[0]), np.abs(steps[1] / angles[1])) <= 1e-9)
        angles = [np.clip(now - step, now / 2, (now + 1.5) / 2) for now, step in zip(angles, steps, strict=True)]
        if np.all(near):
            break
    a, p, *_ = _arm(spans[0], angles[0], roll)
    b, q, *_ = _arm(spans[1], angles[1], roll)
    travel = (a * q + b * p) / spacing + apart * (p - q) ** 2 / (spacing * (spacing + a + b))
    good = near & (np.maximum(angles[0], angles[1]) < STEEPEST) & (np.asarray(peak) < 1)  # at 1 no moment is left
    return Contacts(angles[0], angles[1], np.arctan2(p - q, a + b), np.where(good, travel, np.inf), peak)


def _peak(reach: FloatLike, front: Span, bending: Span, angles: Sequence[FloatLike],
          loaded: FloatLike) -> tuple[FloatLike, tuple[FloatLike, ...]]:
    """Return the peak's share σ for these slopes, and how it changes with each of them.

    The outer rolls press with F = M₀(1/x + κσ)/sin θ, the roll between them with P = ΣF cos θ, and σM₀ = Pt/2π.
    """
    tangents = [np.tan(angle) for angle in angles]
    left = 1 - reach * loaded * (1 / tangents[0] + 1 / tangents[1])
    peak = reach * (1 / (front.lever * tangents[0]) + 1 / (bending.lever * tangents[1])) / np.where(left > 0, left, 1)
    kept = (left > 0) & (peak < 1)
    peak = np.where(kept, peak, 1.0)
    slopes = tuple(
        np.where(kept, -reach * (1 / span.lever + loaded * peak) / np.where(kept, left, 1) / np.sin(angle) ** 2, 0.0)
        for span, angle in zip((front, bending), angles, strict=True))
    return peak, slopes
