"""The machine with the words of the trade, for whoever meets it for the first time."""

import numpy as np

from rollcalc.rolling import Machine, PyramidMachine, circle_radius, usable_travel
from rollcalc.stock import InputError, Sheet

from ..core.dimensions import leader
from ..core.picture import Line, Mark, Picture, Text, pair
from .circle_view import circle_sheet
from .machine_view import SIZE, machine_name, px_per_mm, roll_places, rolls, view_frame


def machine_picture(machine: Machine) -> Picture:
    """Return the machine seen from its crank side, with the names of its parts and a sheet by the circle rule."""
    stock = Sheet(thickness=machine.inside_roll_diameter / 60, width=machine.working_width)
    travel = _shown_travel(machine, stock)
    thickness, radius = float(stock.depth), float(circle_radius(machine, stock, travel))
    left, bottom, _, _ = view_frame(machine)
    name, marks = machine_name(machine), [
        *_guide(machine, thickness), *rolls(machine, thickness, travel),
        *circle_sheet(machine, thickness, travel, radius)[::2]]
    if isinstance(machine, PyramidMachine):
        said = "The sheet lies on the two bottom rolls; the top roll comes down along its guide and bends it."
    else:
        said = (f"Upper and lower roll grip the sheet in the nip ({machine.nip}) and feed it; the bending roll rises "
                "along its guide and pushes the sheet up.")
        marks += [*leader((0.0, 0.0), "nip", (-machine.upper_roll_diameter / 2 * px_per_mm(machine) - 30, 30)),
                  Text((left, 0.0), "sheet, fed in here", "sheet", "start", (0, -20))]
    marks.append(Text((left, bottom), "seen from the crank side", "outline", "start", (0, -20)))
    return Picture(f"{name[0].upper()}{name[1:]}, true to scale. {said}", marks, size=SIZE,
                   alt="Side view of the machine, with the names of its parts", frame=view_frame(machine))


def _shown_travel(machine: Machine, stock: Sheet) -> float:
    """Return a travel that shows a good bend: a third of what there is, or less. [mm]"""
    most = min(float(usable_travel(machine, stock)), machine.inside_roll_diameter)
    for share in (0.36, 0.2, 0.1, 0.03):
        try:
            circle_radius(machine, stock, share * most)
        except InputError:
            continue
        if most > 0:
            return share * most
    raise InputError("the rolls of this machine have no room to move: measure diameters and distances again.")


def _guide(machine: Machine, thickness: float) -> tuple[Mark, ...]:
    """Return the line along which the roll that moves is guided, with its name at the end that is clear."""
    (_, at, diameter), (_, further, _) = (roll_places(machine, thickness, travel)[-1] for travel in (0.0, 1.0))
    way = np.subtract(further, at) * diameter / 2
    start, stop = pair(tuple(np.add(at, -1.15 * way))), pair(tuple(np.add(at, 2.1 * way)))
    aside = (26, 6) if isinstance(machine, PyramidMachine) else (26, -6)
    return (Line([start, stop], "centre", arrows="end"), *leader(start, "guide", aside))
