"""A sheet to practise on: its yield, the pinch and the touch are hidden, and every reading is a little off."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from rollcalc.rolling import PinchMachine, rise_of_chord, setting_for_travel
from rollcalc.rolling.limits.reach import check_one_piece
from rollcalc.rolling.machine.kinds import HAND_PINCH
from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError, checked_single
from rollcalc.stock.record import Record
from rollcalc.stock.sections import Sheet

from .belief import TOUCH_ERROR
from .reading import FLATTEST, KNOB_ERROR, RISE_ERROR

TENTH = 0.05
"""How far a rise that is read to a tenth of a millimetre may lie from what the eye sees. [mm]"""


@dataclass(frozen=True, eq=False, repr=False)
class HiddenTruth(Record):
    """What nobody knows at the machine.

    Parameters
    ----------
    yield_strength : float
        Yield strength of this sheet. [MPa]
    pinch_force : float
        Force of this evening's pinch. [N]
    touch_turns : float
        How many turns later than counted the roll touches. [turns]
    released_radii : tuple of float
        Radius to mid-thickness after each pass; infinite where the sheet came out flat. [mm]
    """

    yield_strength: float
    pinch_force: float
    touch_turns: float
    released_radii: tuple[float, ...]

    SHOWS = "yield_strength [MPa], pinch_force [N], touch_turns [turns], released_radius [mm]"

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return "What was hidden"

    @property
    def released_radius(self) -> float:
        """Radius to mid-thickness that the sheet has now; infinite where it is flat. [mm]"""
        return (self.released_radii or (math.inf,))[-1]


class SimulatedSheet:
    """A sheet on a machine, of which one sees only what one sees in a shop: the knobs, and a rule.

    The same seed is the same evening: the same metal, pinch and touch, also for a sheet or a strip of another size.

    Parameters
    ----------
    machine : PinchMachine
        The machine; its own pinch is not used.
    stock : Sheet
        The sheet, flat.
    material : Material
        The metal as it is sold, with a yield range.
    seed : int
        Which evening; 0 is the first. [-]

    Notes
    -----
    Yield is drawn evenly from the metal's range, the logarithm of the pinch from 1000 to 6000 N, touch to 0.4 mm either
    way; at each pass the screws stand up to 1/16 turn from what was dialled. What comes out of a pass is the solver's
    answer, entering with the radius of the pass before. Thickness is as stated, and the pinch stays for all passes:
    real evenings are less kind. Validity: as `setting_for_radius`. Source: invented; ranges are our own estimates.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, MATERIALS, Sheet
    >>> steel = MATERIALS["low-carbon steel, cold rolled"]
    >>> sheet = SimulatedSheet(DEMO_MACHINE, Sheet(thickness=0.76, width=240), steel, seed=7)
    >>> sheet.roll(turns=11.5)
    >>> 0 <= sheet.rise(chord=100) < 14
    True
    """

    def __init__(self, machine: PinchMachine, stock: Sheet, material: Material, seed: int) -> None:
        checked_kind("machine", machine, PinchMachine, advice="only these rolls pinch")
        checked_kind("stock", stock, Sheet, advice="give a sheet or a strip of it")
        check_one_piece(machine, stock, material)
        if material.yield_range is None:
            raise InputError(f"yield_range of {material.name} is not given, but must be, to draw from: give it.")
        number = checked_single("seed", seed, "", at_least=0, advice="give a whole number")
        if number != int(number):
            raise InputError(f"seed is {number:g}, but must be a whole number: give another.")
        self.stock = stock
        self._seed, self._machine = int(number), machine
        self._radii: list[float] = []
        chance = np.random.default_rng(self._seed)
        self._material = material.with_yield(chance.uniform(*material.yield_range))
        self._pinch = math.exp(chance.uniform(math.log(HAND_PINCH[0]), math.log(HAND_PINCH[1])))
        self._touch = chance.uniform(-TOUCH_ERROR, TOUCH_ERROR)

    def roll(self, turns: float) -> None:
        """Roll it through once, with both screws at some turns from touch."""
        dialled = checked_single("turns", turns, "turns", above=0, advice="count them from touch")
        knob = self._errors(len(self._radii) + 1)[0] * KNOB_ERROR
        pitch, entering = self._machine.screw_pitch, self._radii[-1] if self._radii else math.inf
        travel = max((dialled + knob) * pitch - self._touch, 0.0)
        setting = setting_for_travel(replace(self._machine, pinch_force=self._pinch, nip_slack=0.0), self.stock,
                                     self._material, travel, entering_radius=entering)
        self._radii.append(float(setting.released_radius))

    def rise(self, chord: float) -> float:
        """Return the rise over a chord on the inside, as a rule shows it: to a tenth, and up to 0.2 mm off. [mm]"""
        inside = min(self._radii[-1] if self._radii else math.inf, FLATTEST) - float(self.stock.depth) / 2
        line = checked_single("chord", chord, "mm", above=0, at_most=2 * inside, advice="take a shorter one")
        off = self._errors(len(self._radii))[1] * (RISE_ERROR - TENTH)
        return max(round(float(rise_of_chord(inside, line)) + off, 1), 0.0)

    def reveal(self) -> HiddenTruth:
        """Return what was hidden."""
        return HiddenTruth(float(self._material.first_yield), self._pinch, self._touch / self._machine.screw_pitch,
                           tuple(self._radii))

    def _errors(self, passes: int) -> list[float]:
        """Return how far knob and rule are off after some passes, as shares of how far they may be. [-]"""
        width = round(1000 * float(self.stock.width))  # another strip has errors of its own
        found: list[float] = np.random.default_rng((self._seed, width, passes)).uniform(-1, 1, 2).tolist()
        return found
