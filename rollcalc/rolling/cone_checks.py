"""When a cone is slight: what straight rolls can make of it, each limit with its reason."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.stock.quantities import FloatLike, plain

from .checks import LAST_WORD, Check
from .limits import usable_travel
from .machines import Machine
from .setting import Setting
from .shape import span_lengths

STRIP_SHARE = 0.05
"""Most that a strip's radius may stray: our own choice, what a rawhide mallet evens out over a former. [-]"""

SLIP_SHARE = 1 / 3
"""Most of their way that the rolls may slip under the small end: our own choice; beyond it they mark the sheet and win
against the hand that holds it back. The small end is then two thirds of the large one. [-]"""

FAN_DEGREES = 15.0
"""Most that the cone's lines may turn between nip and bending roll: our own choice; a bend that much askew has 7 % less
curvature (cos² of the angle, Euler), and the sheet twists. [deg]"""

ALTERNATIVES = (
    "segments: cut the cone lengthwise into two or more pieces, roll each, and join them (common practice, no source).",
    "bumping: mark the lines that run to the point, and bend along them one after another, a little each, over a rod "
    "or between former and press (common practice, no source).",
    "spinning or raising over a stake, for a small cone of soft metal (common practice, no source).",
)
"""Other ways to make a cone."""


@dataclass(frozen=True)
class ConeShape:
    """A cone as the rolls meet it.

    Parameters
    ----------
    large, small : float
        Diameters of the ends, to mid-thickness. [mm]
    slant : float
        Length of the wall from end to end. [mm]
    thickness : float
        Thickness of the wall. [mm]

    Notes
    -----
    Validity: a wall longer than half the difference of the diameters.

    Source: geometry.

    Examples
    --------
    >>> round(math.degrees(ConeShape(large=220, small=160, slant=104.4, thickness=0.8).half_angle), 1)
    16.7
    """

    large: float
    small: float
    slant: float
    thickness: float

    @property
    def half_angle(self) -> float:
        """How far the wall leans from the axis. [rad]"""
        return math.asin((self.large - self.small) / 2 / self.slant)

    def radii(self, share: FloatLike) -> FloatLike:
        """Return the radius of the bend at a share of the way from the small end to the large end. [mm]"""
        return plain((self.small + (self.large - self.small) * np.asarray(share)) / 2 / math.cos(self.half_angle))


def cone_checks(machine: Machine, ends: Setting, shape: ConeShape, deviation: FloatLike,
                most_travel: float) -> tuple[Check, ...]:  # fmt: skip
    r"""Return the checks of a cone.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    ends : Setting
        The settings for the bends of the small end and of the large end.
    shape : ConeShape
        The cone.
    deviation : array, shape (n,)
        How far the strips' radii stray from the cone's. [-]
    most_travel : float
        Largest travel anywhere along the rolls. [mm]

    Returns
    -------
    checks : tuple of Check
        Even curve, feed, fan: what makes a cone slight. Small end, travel: what the rolls leave room for.

    Notes
    -----
    On the flat pattern the small end lies at :math:`\rho = d / (2 \sin\alpha)` from the point, so that the cone's lines
    turn by the length of the span over that. Validity: as `cone_setting`.

    Source: geometry; the limits are our own choice, see `STRIP_SHARE`, `SLIP_SHARE` and `FAN_DEGREES`.

    Examples
    --------
    >>> from rollcalc.rolling.cone import cone_setting
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> from rollcalc.stock import MATERIALS, Sheet
    >>> roof = cone_setting(DEMO_MACHINE, Sheet(0.76, 113.1), MATERIALS["low-carbon steel, cold rolled"], 220, 60)
    >>> [check.name for check in roof.checks if check.passed]
    ['even curve', 'feed', 'fan', 'travel']
    """
    lean = math.sin(shape.half_angle)
    fan = np.degrees(np.asarray(span_lengths(ends)[1]) * 2 * lean / np.array([shape.small, shape.large])).max()
    hole = shape.small - shape.thickness * math.cos(shape.half_angle)
    rows = (
        ("even curve", 100 * float(np.abs(deviation).max()), 100 * STRIP_SHARE, "%",
         "a strip of the wall strays from the cone", "make it gentler, or another way"),
        ("feed", 100 * (1 - shape.small / shape.large), 100 * SLIP_SHARE, "%",
         "of their way the rolls must slip under the small end", "make it gentler, or another way"),
        ("fan", float(fan), FAN_DEGREES, "deg",
         "the cone's lines turn between nip and bending roll", "make it gentler, or another way"),
        ("small end", machine.inside_roll_diameter, hole, "mm",
         "the inside roll, against the hole that slides off it", "make it another way"),
        ("travel", most_travel, float(np.min(usable_travel(machine, ends.stock))), "mm",
         "at the end of the rolls, against where rolls meet or screws stop", "lay the small end nearer to that end"),
    )  # fmt: skip
    return tuple(Check(name, demand, limit, unit, asks, advice, demand)
                 for name, demand, limit, unit, asks, advice in rows)  # fmt: skip


def cone_verdict(checks: tuple[Check, ...]) -> str:
    """Return what the checks of a cone say together.

    Parameters
    ----------
    checks : tuple of Check
        The checks of a cone.

    Returns
    -------
    verdict : str
        Slight, not slight, or beyond these rolls, with who has the last word.

    Notes
    -----
    Says what was checked, never that nothing can happen. Validity: as `cone_setting`.

    Examples
    --------
    >>> cone_verdict(())
    'a cylinder, as far as checked; plate and instructor win; stop if you struggle'
    """
    failed = {check.name for check in checks if check.passed}
    slips = any(check.name == "feed" and check.demand for check in checks)
    shape = "a slight cone" if slips else "a cylinder"
    words = f"{shape}, as far as checked"
    if failed & {"even curve", "feed", "fan"}:
        words = "not a slight cone: make it another way"
    elif failed:
        words = f"{shape}, but beyond these rolls as it lies"
    return f"{words}; {LAST_WORD}"


def cone_cautions(travel_left: float, travel_right: float) -> tuple[str, ...]:
    """Return what no check of a cone can see.

    Parameters
    ----------
    travel_left, travel_right : float
        Travel at each screw, from touch. [mm]

    Returns
    -------
    cautions : tuple of str
        How to feed it, and what the machine must allow.

    Notes
    -----
    Validity: common practice, no source.

    Source: common practice, no source.

    Examples
    --------
    >>> cone_cautions(7.5, 7.5)
    ()
    """
    if travel_left == travel_right:
        return ()
    said = [
        "Hold the small end back from beside the rolls, with a stop or a bar and never with fingers near the nip.",
        "Not every machine lets its bending roll tilt: turn the screws by hand only, and stop where they bind.",
    ]
    for side, travel in (("left", travel_left), ("right", travel_right)):
        if travel < 0:
            said.append(f"The {side} screw stands {-travel:.1f} mm lower than at touch: see that it can go so low.")
    return tuple(said)
