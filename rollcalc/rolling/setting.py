"""A setting of the machine: where the rolls stand, what they do to the stock, and with what force."""

from dataclasses import dataclass

import numpy as np

from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.record import Record, said_in_short
from rollcalc.stock.sections import Stock

from .machine.kinds import Machine


@dataclass(frozen=True, eq=False, repr=False)
class Setting(Record):
    """A setting of the machine, and what it does to the stock.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, the piece and its metal.
    travel : float or array, shape (...)
        Travel of the roll that moves, from touch. [mm]
    released_radius : float or array, shape (...)
        Radius after release, to mid-thickness; infinite where no set remains. [mm]
    loaded_radius : float or array, shape (...)
        Radius at the inside roll; infinite where the rolls do not reach flat stock. [mm]
    contact_angle, front_angle, tilt : float or array, shape (...)
        Slopes of the sheet: between the inside and the bending roll; between the front and the inside roll, 0 in a
        perfect nip; and at the inside roll, in the side view. [rad]
    bending_roll_force : float or array, shape (...)
        Force between stock and bending roll (pyramid: the bottom roll behind), whole width. [N]
    front_roll_force : float or array, shape (...)
        Force between stock and lower front roll (pyramid: the bottom roll in front), whole width; infinite in
        a perfect nip, whose contacts have no distance to carry the moment with. [N]
    drive_force : float or array, shape (...)
        Force along the sheet that the driven rolls must supply, whole width. [N]
    entering_radius : float or array, shape (...)
        Radius the stock has when it enters; infinite for flat stock. [mm]
    feed : str
        "forward", or "return" for cranking back.
    """

    machine: Machine
    stock: Stock
    material: Material
    travel: FloatLike
    released_radius: FloatLike
    loaded_radius: FloatLike
    contact_angle: FloatLike
    front_angle: FloatLike
    tilt: FloatLike
    bending_roll_force: FloatLike
    front_roll_force: FloatLike
    drive_force: FloatLike
    entering_radius: FloatLike
    feed: str

    SHOWS = ("turns [turns], travel [mm], released_radius [mm], loaded_radius [mm], contact_angle [rad], tilt [rad], "
             "bending_roll_force [N], front_roll_force [N], drive_force [N]")

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        job = ", ".join(map(said_in_short, (self.stock, self.material)))
        return f"Setting: {job}, {self.machine.in_short}"

    @property
    def turns(self) -> FloatLike:
        """Turns of the screws from touch. [turns]"""
        return self.travel / self.machine.screw_pitch

    @property
    def roll_forces(self) -> tuple[FloatLike, FloatLike, FloatLike]:
        """Forces on front, inside and bending roll. [N]"""
        return self.front_roll_force, self.inside_roll_force, self.bending_roll_force

    @property
    def inside_roll_force(self) -> FloatLike:
        """Force between stock and upper front roll or top roll, whole width; infinite in a perfect nip. [N]"""
        front, bending = np.asarray(self.front_roll_force), np.asarray(self.bending_roll_force)
        return plain(front * np.cos(self.front_angle) + bending * np.cos(self.contact_angle))
