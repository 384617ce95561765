"""A plan of passes, as it is written down."""

from dataclasses import dataclass

from rollcalc.stock.materials import Material
from rollcalc.stock.record import Record, Shown, said, said_in_short
from rollcalc.stock.sections import Stock

from ..machine.kinds import Machine


@dataclass(frozen=True, eq=False, repr=False)
class Pass(Record):
    """One feed through the rolls.

    Parameters
    ----------
    turns_left, turns_right : float
        Turns of both screws from touch, counted on the knobs. [turns]
    released_radius : float
        Radius to expect after this pass, to mid-thickness; infinite where no set remains. [mm]
    crank_force, crank_force_least, drive_force, pull, grip : float
        As in `Effort`, with the friction of greased bearings. [N]
    chord, rise : float
        Straight line across the curve to measure at, and height over it to expect, at mid-thickness. [mm]
    """

    turns_left: float
    turns_right: float
    released_radius: float
    crank_force: float
    crank_force_least: float
    drive_force: float
    pull: float
    grip: float
    chord: float
    rise: float

    SHOWS = ("turns_left [turns], turns_right [turns], released_radius [mm], crank_force [N], pull [N], grip [N], "
             "chord [mm], rise [mm]")
    caption = "One pass"


@dataclass(frozen=True, eq=False, repr=False)
class Schedule(Record):
    """A plan of passes.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, the piece and its metal.
    released_radius : float
        Wanted radius after release, to mid-thickness. [mm]
    step_turns, last_step_turns : float, and float or None
        Smallest part of a turn that is dialled; in the last pass, None for the same. [turns]
    crank_limit : float
        Most force at the crank that the plan was given. [N]
    entering_radius : float
        Radius the piece has at the start; infinite for flat stock. [mm]
    passes : tuple of Pass
        The passes, the first one first.
    notes, warnings : tuple of str
        What to know besides; what the plan asks too much of, and what helps, though the turns stand all the same.
    """

    machine: Machine
    stock: Stock
    material: Material
    released_radius: float
    step_turns: float
    crank_limit: float
    entering_radius: float
    passes: tuple[Pass, ...]
    notes: tuple[str, ...]
    warnings: tuple[str, ...] = ()
    last_step_turns: float | None = None

    @property
    def last_step(self) -> float:
        """Smallest part of a turn that is dialled in the last pass. [turns]"""
        return self.step_turns if self.last_step_turns is None else self.last_step_turns

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        job = ", ".join(map(said_in_short, (self.stock, self.material)))
        return f"Passes for a radius of {self.released_radius:.4g} mm: {job}, {self.machine.in_short}"

    def shown(self) -> Shown:
        """Return a row for each pass."""
        alike = all(one.turns_left == one.turns_right for one in self.passes)
        screws = ("turns",) if alike else ("turns left", "turns right")
        rows = tuple(
            (f"{number}", *(f"{getattr(one, screw):g}" for screw in ("turns_left", "turns_right")[: len(screws)]),
             said(one.released_radius, "mm"), said(one.rise, "mm"), said(one.chord, "mm"), f"{one.crank_force:.0f} N")
            for number, one in enumerate(self.passes, start=1))
        if not rows:
            return Shown(self.caption, (), notes=self.warnings + self.notes + self.machine.assumed_notes)
        head = ("pass", *screws, "expect radius", "rise", "over a chord of", "crank")
        return Shown(self.caption, rows, head, self.warnings + self.notes + self.machine.assumed_notes)
