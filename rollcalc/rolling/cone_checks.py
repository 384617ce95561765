"""When a cone is slight: what straight rolls can make of it, each limit with its reason."""

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.stock.quantities import FloatLike, plain

from .limits.check import LAST_WORD, Check, fixed_check
from .limits.reach import usable_travel
from .machine.kinds import Machine
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
    """A cone as the rolls meet it."""

    # diameters of the ends, to mid-thickness [mm]
    large: float
    small: float
    slant: float  # length of the wall from end to end [mm]
    thickness: float  # thickness of the wall [mm]

    @property
    def half_angle(self) -> float:
        """How far the wall leans from the axis. [rad]"""
        return math.asin((self.large - self.small) / 2 / self.slant)

    def radii(self, share: FloatLike) -> FloatLike:
        """Return the radius of the bend at a share of the way from the small end to the large end. [mm]"""
        return plain((self.small + (self.large - self.small) * np.asarray(share)) / 2 / math.cos(self.half_angle))


def cone_checks(machine: Machine, ends: Setting, shape: ConeShape, deviation: FloatLike,
                most_travel: float) -> tuple[Check, ...]:
    r"""Return the checks of a cone. On the flat pattern the small end lies at :math:`\rho = d / (2 \sin\alpha)` from
    the point, so that the cone's lines turn by the length of the span over that.
    """
    lean = math.sin(shape.half_angle)
    fan = np.degrees(np.asarray(span_lengths(ends)[1]) * 2 * lean / np.array([shape.small, shape.large])).max()
    hole = shape.small - shape.thickness * math.cos(shape.half_angle)
    return (
        fixed_check("even curve", 100 * float(np.abs(deviation).max()), 100 * STRIP_SHARE, "%",
                    "a strip of the wall strays from the cone", "make it gentler, or another way"),
        fixed_check("feed", 100 * (1 - shape.small / shape.large), 100 * SLIP_SHARE, "%",
                    "of their way the rolls must slip under the small end", "make it gentler, or another way"),
        fixed_check("fan", float(fan), FAN_DEGREES, "deg",
                    "the cone's lines turn between nip and bending roll", "make it gentler, or another way"),
        fixed_check("small end", machine.inside_roll_diameter, hole, "mm",
                    "the inside roll, against the hole that slides off it", "make it another way"),
        fixed_check("travel", most_travel, float(np.min(usable_travel(machine, ends.stock))), "mm",
                    "at the end of the rolls, against where rolls meet or screws stop",
                    "lay the small end nearer to that end"),
    )


def cone_verdict(checks: tuple[Check, ...]) -> str:
    """Return what the checks of a cone say together. Says what was checked, never that nothing can happen."""
    failed = {check.name for check in checks if check.exceeded}
    slips = any(check.name == "feed" and check.demand for check in checks)
    shape = "a gentle cone" if slips else "a cylinder"
    words = f"{shape}, as far as checked"
    if failed & {"even curve", "feed", "fan"}:
        words = "not a gentle cone: make it another way"
    elif failed:
        words = f"{shape}, but beyond these rolls as it lies"
    return f"{words}. {LAST_WORD}"


def cone_cautions(travel_left: float, travel_right: float) -> tuple[str, ...]:
    """Return what no check of a cone can see."""
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
