"""The machines: how big the rolls are, where they stand, and how they move.

Side view of a pinch machine: origin in the nip at the sheet's mid-thickness, x in the feed
direction, y up towards the upper roll. Side view of a pyramid machine: origin at mid-thickness
where the top roll touches the flat sheet. Travel is counted from touch.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from rollcalc.stock.kinds import checked_kind, checked_word
from rollcalc.stock.quantities import FloatLike, InputError, plain, shown

from .base import CheckedMachine

Place = tuple[FloatLike, FloatLike]
"""x and y in the side view. [mm]"""

USUAL_PINCH = 2500.0
"""Pinch force of the bench roll, and of a machine file that names none: invented, in the middle of the 1 to 6 kN
that screws turned snug by hand may give (our own estimate). [N]"""

HAND_PINCH = (1000.0, 6000.0)
"""Ends of what screws turned snug by hand may give (our own estimate). [N]"""

RollPair = tuple[Place, tuple[float, float], float]
"""Vector between two rolls' centres at touch [mm], its change per travel [-], and where they touch [mm]."""


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class PinchMachine(CheckedMachine):
    """A machine whose two front rolls pinch the sheet and whose rear roll bends it.

    Parameters
    ----------
    upper_roll_diameter, lower_roll_diameter, bending_roll_diameter : float
        Diameters of the driven front rolls, and of the rear roll that sets the curve. [mm]
    guide_distance, screw_pitch, working_width : float
        How far behind the nip the bending roll's centre is when it touches the flat sheet, travel for one turn of the
        screws, and length of the rolls that can bend. [mm]
    guide_angle_degrees : float
        Direction in which the bending roll rises: 90 is straight up, more leans back towards the nip. [deg]
    nip_slack : float or array, shape (...)
        How much wider than the stock the nip is set; 0 is a perfect nip. [mm]
    pinch_force : float or array, shape (...), or None
        Force with which the lower roll presses the stock against the upper, instead of a slack. [N]
    nip_opening, max_travel, rated_thickness : float or None
        Thickest stock the nip lets in; travel at which the screws or the frame stop; thickness on the machine's plate,
        over the working width. [mm]
    groove_diameters, groove_depths, groove_positions : tuple of float
        Bars that the grooves at the ends of the rolls take; how deep each groove is, half its bar where none is given;
        from the middle of the rolls to each groove. [mm]
    crank_radius, bearing_span, journal_diameter : float or None
        From the axle of the crank to its grip; from bearing to bearing along a roll, the working width where it is not
        given; diameter of a roll where it turns in its bearings, half the roll's where it is not given. [mm]
    gear_ratio, bearing_friction, grip_friction : float
        Turns of the crank for one turn of the front rolls; friction in the bearings, and between rolls and stock. [-]
    crank_limit : float or None
        Most force the people who crank should need; what a person keeps up where it is not given. [N]
    roll_modulus, roll_stress_limit : float
        Elastic modulus of the rolls, and bending stress that their steel takes turn after turn. [MPa]
    grooved_rolls, rated_material, name : str
        Which rolls have the grooves, "upper", "lower" and "bending", with commas between; the metal on the machine's
        plate, a name in `MATERIALS`, or None; what the machine is called.
    not_measured : tuple of str
        Names of fields whose values are assumed; it changes no number, and every answer says so.

    Raises
    ------
    InputError
        If a number is out of range, or both a nip slack and a pinch force are given.

    Notes
    -----
    Rolls that would overlap are refused at the setting, not here. A perfect nip is a teaching ideal:
    a set-up has a slack or a pinch force. Validity: straight parallel rolls in a stiff frame.
    Source: side view in the module's first lines; geometry.

    Examples
    --------
    >>> machine = PinchMachine(upper_roll_diameter=50, lower_roll_diameter=50, bending_roll_diameter=50,
    ...                        guide_distance=60, guide_angle_degrees=110, screw_pitch=1.5, working_width=760)
    >>> [round(place, 2) for place in machine.bending_roll_centre(thickness=0.76, travel=10)]
    [56.58, -15.98]
    """

    upper_roll_diameter: float
    lower_roll_diameter: float
    bending_roll_diameter: float
    guide_distance: float
    guide_angle_degrees: float
    nip_slack: FloatLike = 0.0
    pinch_force: FloatLike | None = None
    nip_opening: float | None = None
    groove_diameters: tuple[float, ...] = ()
    groove_depths: tuple[float, ...] = ()
    groove_positions: tuple[float, ...] = ()
    grooved_rolls: str = "lower, bending"

    DRIVEN = (0, 1)
    IDLE = 2
    ROLLS: ClassVar[dict[str, int]] = {"bending": 2, "upper": 1, "lower": 0}
    ROLL_WORDS = ("lower front roll", "upper front roll", "bending roll")
    ROLL_FIELDS = ("lower_roll_diameter", "upper_roll_diameter", "bending_roll_diameter")
    bends_plate = False

    def __post_init__(self) -> None:
        super().__post_init__()
        words = self.grooved_rolls if isinstance(self.grooved_rolls, str) else ""
        named = [word.strip() for word in words.split(",")]
        if not self.ROLLS.keys() >= set(named) or len(set(named)) < len(named):
            raise InputError(f"grooved rolls is {shown(self.grooved_rolls)}, but must be text that names some of "
                             "upper, lower and bending, each once, with commas between.")
        if self.pinch_force is not None and np.any(self.nip_slack):
            raise InputError("the machine has both nip_slack [mm] and pinch_force [N], but must have at most one: "
                             "a nip that presses has no slack, so leave one out.")

    @property
    def nip_is_perfect(self) -> bool:
        """Whether the nip grips in one line: no slack, and no force that would have to hold the moment."""
        return self.pinch_force is None and not np.any(self.nip_slack)

    @property
    def nip(self) -> str:
        """What the nip is, in words that stand beside every number it made."""
        if self.nip_is_perfect:
            return "a perfect nip, a teaching ideal"
        return (f"a nip {_span(self.nip_slack)} mm wider than the stock" if self.pinch_force is None
                else f"a pinch of {_span(self.pinch_force)} N")

    def with_perfect_nip(self) -> PinchMachine:
        """Return the same machine with a perfect nip."""
        return replace(self, nip_slack=0.0, pinch_force=None)

    @property
    def touch_distance(self) -> float:
        """How far behind the inside roll the bending roll touches flat stock. [mm]"""
        return self.guide_distance

    def upper_roll_centre(self, thickness: FloatLike) -> Place:
        """Return x and y of the upper roll's centre. [mm]"""
        return 0.0, plain(self.upper_roll_diameter / 2 + np.asarray(thickness) / 2)

    def lower_roll_centre(self, thickness: FloatLike) -> Place:
        """Return x and y of the lower roll's centre. [mm]"""
        return 0.0, plain(-self.lower_roll_diameter / 2 - np.asarray(thickness) / 2 - self.nip_slack)

    def bending_roll_centre(self, thickness: FloatLike, travel: FloatLike) -> Place:
        """Return x and y of the bending roll's centre at a travel. [mm]"""
        right, up = self.guide_direction
        touch = -self.bending_roll_diameter / 2 - np.asarray(thickness) / 2
        return plain(self.guide_distance + np.asarray(travel) * right), plain(touch + np.asarray(travel) * up)

    @property
    def guide_direction(self) -> tuple[float, float]:
        """Unit vector along which the bending roll rises. [-]"""
        angle = math.radians(self.guide_angle_degrees)
        return math.cos(angle), math.sin(angle)

    def roll_pairs(self, thickness: FloatLike) -> tuple[RollPair, ...]:
        """Return the pairs of rolls that may meet: vector between centres, its change per travel, reach. [mm]"""
        right, up = self.bending_roll_centre(thickness, 0.0)
        fronts = ((self.upper_roll_centre(thickness), self.upper_roll_diameter),
                  (self.lower_roll_centre(thickness), self.lower_roll_diameter))
        return tuple(((right - x, up - y), self.guide_direction, (diameter + self.bending_roll_diameter) / 2)
                     for (x, y), diameter in fronts)


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class PyramidMachine(CheckedMachine):
    """A machine whose top roll presses the sheet down between two bottom rolls.

    Parameters
    ----------
    top_roll_diameter, bottom_roll_diameter, bottom_roll_spacing : float
        Diameters of the roll that comes down and of the two that the sheet lies on; from axle to axle of those. [mm]
    peak : str
        What takes the peak of moment below the top roll: a "plate", which has its thickness, or the thin "beam" of the
        textbooks, for teaching and for checks.
    screw_pitch, working_width, max_travel, rated_thickness, crank_radius, bearing_span, journal_diameter : float
        As for `PinchMachine`. [mm]
    gear_ratio, bearing_friction, grip_friction : float
        As for `PinchMachine`. [-]
    roll_modulus, roll_stress_limit : float
        As for `PinchMachine`. [MPa]
    crank_limit : float or None
        As for `PinchMachine`. [N]
    rated_material, name : str
        As for `PinchMachine`.
    not_measured : tuple of str
        As for `PinchMachine`.

    Notes
    -----
    Travel is the drop of the top roll from where it touches the flat sheet. A thin beam bends below that roll in a
    peak half a millimetre wide. A plate does not: the roll's force P, pressed in at the surface, spreads its two
    halves with P/π half a thickness t from the middle, and so bends it by P t/2π less. The released radius is then
    within 1.5 % of continuum finite elements of 4 to 12 mm plate, where the beam's is 0.5 to 6.8 % too small. Rolls
    that would overlap are refused at the setting, not here. Validity: straight parallel rolls in a stiff frame.
    Source: side view in the module's first lines; geometry. Peak: C. A. Carus Wilson with G. G. Stokes, Phil. Mag. 32
    (1891) 481; S. Timoshenko and J. N. Goodier, *Theory of Elasticity*, bending of a beam by a concentrated load (both
    from memory).

    Examples
    --------
    >>> machine = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240,
    ...                          screw_pitch=6, working_width=1500)
    >>> machine.top_roll_centre(thickness=6, travel=10)
    (0.0, 93.0)
    """

    top_roll_diameter: float
    bottom_roll_diameter: float
    bottom_roll_spacing: float
    peak: str = "plate"

    DRIVEN = (0, 2)
    IDLE = 1
    ROLLS: ClassVar[dict[str, int]] = {"bottom": 0, "top": 1, "bending": 2, "upper": 1, "lower": 0}
    ROLL_WORDS = ("bottom roll in front", "top roll", "bottom roll behind")
    ROLL_FIELDS = ("bottom_roll_diameter", "top_roll_diameter", "bottom_roll_diameter")
    nip_opening = pinch_force = None
    nip_slack, nip_is_perfect = 0.0, False

    def __post_init__(self) -> None:
        super().__post_init__()
        checked_word("peak", self.peak, ("plate", "beam"), advice="leave it out for a real plate")

    @property
    def bends_plate(self) -> bool:
        """Whether a plate takes the peak of moment below the top roll."""
        return self.peak == "plate"

    def with_perfect_nip(self) -> PyramidMachine:
        """Return the machine itself, which has no nip."""
        return self

    @property
    def touch_distance(self) -> float:
        """How far behind the inside roll a bottom roll touches flat stock. [mm]"""
        return self.bottom_roll_spacing / 2

    @property
    def guide_direction(self) -> tuple[float, float]:
        """Unit vector along which the bottom rolls rise, seen from the top roll. [-]"""
        return 0.0, 1.0

    def top_roll_centre(self, thickness: FloatLike, travel: FloatLike) -> Place:
        """Return x and y of the top roll's centre at a travel. [mm]"""
        return 0.0, plain(self.top_roll_diameter / 2 + np.asarray(thickness) / 2 - travel)

    def bottom_roll_centre(self, thickness: FloatLike) -> Place:
        """Return x and y of the centre of the bottom roll that the sheet leaves over; the other mirrors it. [mm]"""
        return self.touch_distance, plain(-self.bottom_roll_diameter / 2 - np.asarray(thickness) / 2)

    def roll_pairs(self, thickness: FloatLike) -> tuple[RollPair, ...]:
        """Return the pairs of rolls that may meet: vector between centres, its change per travel, reach. [mm]"""
        side, bottom = self.bottom_roll_centre(thickness)
        apart = (self.top_roll_diameter + self.bottom_roll_diameter) / 2
        to_top = (side, bottom - self.top_roll_centre(thickness, 0.0)[1])
        return (to_top, (0.0, 1.0), apart), ((2 * side, 0.0), (0.0, 0.0), self.bottom_roll_diameter)


Machine = PinchMachine | PyramidMachine
"""Anything that curves stock between three rolls."""


def checked_machine(machine: Machine) -> Machine:
    """Return the machine, or raise the sentence that says what machines there are."""
    checked_kind("the machine", machine, (PinchMachine, PyramidMachine), advice="describe yours, or take DEMO_MACHINE")
    return machine


def _span(values: FloatLike) -> str:
    """Return a number, or the smallest and the largest of many."""
    low, high = float(np.min(values)), float(np.max(values))
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


DEMO_MACHINE = PinchMachine(
    name="the bench roll (invented for these lessons)",
    upper_roll_diameter=50, lower_roll_diameter=50, bending_roll_diameter=50,
    guide_distance=60, guide_angle_degrees=110, screw_pitch=1.5, working_width=760, pinch_force=USUAL_PINCH,
    rated_thickness=0.76, rated_material="low-carbon steel, cold rolled",
    groove_diameters=(5, 6, 8), groove_depths=(2.5, 3, 4), groove_positions=(345, 357, 370),
    crank_radius=250, bearing_span=820, journal_diameter=24,
)
"""The lantern class's machine. Every number of it is invented: measure your own."""
