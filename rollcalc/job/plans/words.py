"""What a plan says besides its numbers: in the order of the work, each in a sentence or two."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from rollcalc.rolling import Machine, PyramidMachine
from rollcalc.rolling.machine.grooves import GroovedMachine, groove_for
from rollcalc.stock.quantities import InputError
from rollcalc.stock.sections import RoundBar, Stock

TOO_TIGHT = ("Too tight: turning the screws back does not open a ring. Open it by hand, a little at a time all round, "
             "over a round former larger than the ring, and measure.")
"""What to do with a ring that came out too tight."""

CRANK_HARD = ("Crank too hard: stop. Back both screws off alike, crank the piece out, and come again in smaller steps; "
              "grease the bearings. Never lengthen the crank.")
"""What to do where the crank does not go round easily."""

FEED = ("Feed square, the same edge first in every pass. Turn the screws only while the piece is out of the rolls or "
        "moving.")
"""How a piece goes in."""

TURN = "Rounder ends: turn the piece end for end and roll once more at the last setting; each end goes in last once."
"""What to do about the end that goes in first."""

BEFORE = ("Upper roll down by its own release, latch seated, pin in, nothing forced.",
          "Both knobs on zero, pinch snug and the same at both ends.",
          "Edges deburred, hands flat and away from the nip.",
          "No gloves, loose sleeves, rings, cords or long hair near turning rolls.",
          "One person cranks and feeds, or one gives the word.")
"""What to look at before the crank is turned."""

OFF = ("pull the pin", "slacken the pinch if needed", "swing the upper roll up", "release the ring",
       "slide it off, as its closing edge comes back at the hands", "close the machine again")
"""How a ring is taken off, in this order; common practice, no source."""

OFF_PYRAMID = ("raise the top roll clear", "open its end bearing", "slide the ring off, as its closing edge comes back "
               "at the hands", "close the machine again")
"""The same where the top roll comes out of the ring; common practice, no source."""

CAUTIONS = ("If the crank does not go round easily, stop: this outranks every number here.",
            "The rolls draw in hands: feed from the edge, flat-handed. Never force a crank or a latch.",
            "The plate on the machine, the instructor and local rules have the last word.")
"""What stands on every plan."""


def turns_words(turns: float) -> str:
    """Return turns as they are read on a knob: whole turns and a fraction."""
    nearest = Fraction(round(abs(turns) * 64), 64)
    whole, part = divmod(nearest, 1)
    words = " ".join(filter(None, (str(whole) if whole or not part else "", str(part) if part else "")))
    return f"−{words}" if turns < 0 < nearest else words


def correction_words(what: str, turns: Sequence[float] | NDArray[np.float64], share: float) -> str:
    """Return how the screws, left and right, are turned to take a share off a radius that is too large at the end."""
    steps = [round(64 * turn / 4) / 16 for turn in turns]
    ways = [f"the {side} screw {turns_words(abs(step))} turn {'further' if step > 0 else 'back'}"
            for side, step in zip(("left", "right"), steps, strict=True) if step]
    how = f"both screws {turns_words(steps[0])} turn further" if steps[0] == steps[1] else " and ".join(ways)
    return f"{what}: turn {how}, roll once more and measure; about {100 * share:g} % off that radius."


def off_words(machine: Machine) -> str:
    """Return how a finished ring comes off the machine, in order."""
    return f"Take it off in this order: {', '.join(off_steps(machine))}."


def off_steps(machine: Machine) -> tuple[str, ...]:
    """Return the steps of taking a ring off."""
    return OFF_PYRAMID if isinstance(machine, PyramidMachine) else OFF


def groove_words(machine: Machine, stock: Stock) -> str:
    """Return which groove a round bar lies in; nothing for flat stock, or where none takes it."""
    if not isinstance(stock, RoundBar):
        return ""
    try:
        groove = machine.groove if isinstance(machine, GroovedMachine) else groove_for(machine, stock)
    except InputError:
        return ""
    where = "" if groove.position is None else f", {groove.position:g} mm from the middle of the rolls"
    return f"Lay it in the groove for {groove.diameter:g} mm{where}."
