"""Where to put the screws next, from what is believed, and when to stop."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rollcalc.rolling import usable_travel
from rollcalc.rolling.passes.words import BACK, too_tight_words
from rollcalc.stock.record import Record, Shown, said
from rollcalc.stock.sections import Stock

from .belief import TOUCH_ERROR, Belief, Grid
from .outlook import outlook
from .reading import Band, Measured

NEAR = 0.02
"""A radius is as wanted within this share of it. [-]"""

STEPS = (1 / 8, 1 / 16)
"""Parts of a turn that a person reads off a knob, and with a second look. [turns]"""

MOST_PASSES = 4
"""Passes after which a ring should be done: each one marks the metal and takes time. [-]"""

LATER = (0.0, 0.8, 0.93)
"""Chance that a ring which is still too large comes right in the passes that are left: from simulated jobs. [-]"""

REGRET = 1.5
"""How much worse than a ring that stays too large is one that is too tight: it cannot be rolled open. [-]"""

TOLLS = 0.01, 0.2
"""Gain in chance below which one more pass is not worth it: up to `MOST_PASSES`, and beyond. [-]"""

ALIKE = 0.003
"""Places of the screws that differ by less in what they are worth are alike; an eighth is easier to read. [-]"""


@dataclass(frozen=True, eq=False, repr=False)
class NextPass(Record):
    """What to do next with a piece.

    Parameters
    ----------
    turns : float or None
        Turns of both screws from touch, as counted on the knobs; None where there is nothing more to roll. [turns]
    released_radius : Band
        Radius to expect after it, or of the piece as it is where there is nothing more to roll, to mid-thickness. [mm]
    chance : float
        Believed chance that this radius is within 2 % of the wanted one. [-]
    finished : bool
        Whether one more pass is not worth it.
    reachable : bool
        Whether some travel is likely to give the wanted radius.
    notes : tuple of str
        What to know besides.
    """

    turns: float | None
    released_radius: Band
    chance: float
    finished: bool
    reachable: bool
    notes: tuple[str, ...]

    def shown(self) -> Shown:
        """Return what to dial and to expect."""
        band = self.released_radius
        rows = (("turns", said(self.turns, "turns") or "none"), ("radius to expect", said(band.mean, "mm")),
                ("between", f"{said(band.low)} and {said(band.high, 'mm')}"), ("within 2 %", said(self.chance, "%")))
        return Shown(self.caption, rows, notes=self.notes)

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        if self.turns is not None:
            return "Next pass"
        return "Nothing more to roll" if self.finished else "No next pass as things are"


def next_pass(belief: Belief, stock: Stock, wanted: float, last: Measured | None, entering_radius: float) -> NextPass:
    """Return where to put the screws next, or why not."""
    look = outlook(belief, stock, None if last else entering_radius)
    present = look.present()
    done, dialled = (0, 0.0) if last is None else (last.pass_number, last.turns)
    turns = _places(belief, stock, wanted, dialled)
    near = np.array([1 / wanted / (1 + NEAR), 1 / wanted / (1 - NEAR)])
    reached, tight = look.chances(near, turns)
    inside = reached - tight
    later = LATER[min(max(MOST_PASSES - done - 1, 0), len(LATER) - 1)]
    worth = inside + later * (1 - reached) - REGRET * tight - TOLLS[done >= MOST_PASSES]
    worth[0] = inside[0] - REGRET * tight[0]
    best, chance = int(np.argmax(worth)), float(inside[0])
    if tight[0] > 0.5:
        return NextPass(None, present, chance, True, True, (too_tight_words(present.mean, wanted), BACK))
    reach = unreachable_words(belief, stock, wanted, present.mean)
    if reach and chance < 0.5:
        return NextPass(None, present, chance, False, False, (reach,))
    if best == 0:
        return NextPass(None, present, chance, True, True, finished_words(chance))
    alike = [place for place in range(1, len(worth)) if worth[place] > worth[best] - ALIKE]
    best = max(alike, key=lambda place: (turns[place - 1] % STEPS[0] == 0, worth[place]))
    dial = float(turns[best - 1])
    return NextPass(dial, look.expected(dial, wanted), float(inside[best]), False, True, ())


def _places(belief: Belief, stock: Stock, wanted: float, dialled: float) -> Grid:
    """Return the sixteenths of a turn beyond where the screws are, as far as any combination may need."""
    pitch, step = belief.machine.screw_pitch, STEPS[-1]
    needed = belief.travels(stock, np.array([wanted * (1 - NEAR)]), math.inf)
    finite = float(np.max(needed, initial=0.0, where=np.isfinite(needed))) + TOUCH_ERROR + pitch
    most = min(finite, float(usable_travel(belief.machine, stock)))
    return step * np.arange(math.floor(dialled / step + 1e-9) + 1.0, math.floor(most / pitch / step) + 1)


def finished_words(inside: float) -> tuple[str, ...]:
    """Return that one more pass is not worth it."""
    sure = min(inside, 0.99)  # a hundred would be more than anyone knows
    return (f"Leave it: it is within {NEAR:.0%} with a believed chance of {sure:.0%}, and one more step is not worth "
            "its risk. Coming nearer needs a better reading: a longer chord, or the diameter.",)


def unreachable_words(belief: Belief, stock: Stock, wanted: float, entering_radius: float) -> str:
    """Return the sentence about a radius that no travel is likely to give; nothing where one is."""
    travels = belief.travels(stock, np.array([wanted]), entering_radius)
    most = float(usable_travel(belief.machine, stock))
    weights = belief.weights
    held = np.isfinite(travels)
    if float(np.sum(weights * (travels + belief.touches <= most))) >= 0.5:
        return ""
    if float(np.sum(weights * held)) >= 0.5:
        return (f"No travel gives {wanted:.4g} mm: the screws or the rolls stop at {most:.4g} mm of travel, and it "
                "needs more: ask for a larger radius, or take another machine.")
    if belief.pinches is not None and np.any(held[:, -1] | held[:, 0]):
        pinch = belief.band(1)
        return (f"No travel gives {wanted:.4g} mm at the believed pinch of {pinch.mean:.0f} N ({pinch.low:.0f} to "
                f"{pinch.high:.0f}): pinch harder, the same on both sides, and start a new estimate.")
    return (f"No travel gives {wanted:.4g} mm: the rolls cannot hold the curve it needs. Ask for a larger radius, or "
            "take another machine.")
