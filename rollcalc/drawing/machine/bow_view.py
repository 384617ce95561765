"""The rolls seen from the front, bowed under the stock: drawn many times too large, with the true numbers."""

import math

import numpy as np

from rollcalc.rolling import PinchMachine, Setting, bowed_radii, roll_bow, roll_stress
from rollcalc.rolling.deflection import bearing_span
from rollcalc.stock import FlatBar, Sheet, format_length
from rollcalc.stock.labels import length_scale

from ..core.marks import strip
from ..core.picture import Line, Mark, Picture, Points, Text
from ..metal.bend_view import piece_words

ENLARGED = 100.0  # how many times too large a bow is drawn; lengths along the rolls and diameters are to scale [-]
SIZE = (660, 500)
APART = 46.0  # room between the rolls, which in truth touch the stock [mm]
LEFT_OUT = 1e4  # a radius above this is told as flat [mm]


def bow_view(setting: Setting, position: float = 0.0, units: str = "mm") -> Picture:
    """Return the three rolls from the front, drawn apart, each bowed and strained by the force of the stock on it."""
    machine, stock = setting.machine, setting.stock
    assert isinstance(machine, PinchMachine)
    assert isinstance(stock, Sheet | FlatBar)
    half, width = bearing_span(machine) / 2, float(stock.width)
    radius, top, lower = machine.bending_roll_diameter / 2, machine.upper_roll_diameter, machine.lower_roll_diameter
    low = -1.5 * APART - lower - radius - 1.4 * ENLARGED  # the bending roll's axle, clear of the lower roll's bow
    rows = (("upper", 1.0, (APART + top) / 2, setting.inside_roll_force),
            ("lower", -1.0, -(APART + lower) / 2, setting.front_roll_force),
            ("bending", -1.0, low, setting.bending_roll_force))
    marks: list[Mark] = []
    bows, stresses, along = {}, {}, np.linspace(-half, half, 61)
    for name, way, level, pressed in rows:
        force = float(np.asarray(pressed))
        bow = np.asarray(roll_bow(machine, stock, force, position=position, place=along, roll=name))
        bows[name] = float(roll_bow(machine, stock, force, position=position, roll=name))
        stresses[name] = float(roll_stress(machine, stock, force, position=position, roll=name))
        diameter = getattr(machine, f"{name}_roll_diameter")
        axle = np.column_stack([along, level + way * ENLARGED * bow])
        marks += _roll(name, axle, level, diameter, way, half)
        drawn = level + way * (ENLARGED * bows[name] + diameter / 2)
        said = f"bows {_fine(bows[name], units)}, {_stress(stresses[name])}"
        inwards = max(-0.5 * half, min(0.5 * half, position))
        marks.append(Text((inwards, drawn), said, "loaded", "middle", (0, 8 if way > 0 else -19)))
    under = low + radius + APART / 2
    marks += [Line([(position - width / 2, level), (position + width / 2, level)], "sheet") for level in (0.0, under)]
    marks += [*_pushes(position, width, 0.0, (1.0, -1.0)), *_pushes(position, width, under, (-1.0,))]
    # the window is the same for every piece
    frame = (-half - 20, low - radius - 0.95 * ENLARGED, half + 20, APART / 2 + top + 1.15 * ENLARGED)
    return Picture(_sentence(setting, position, bows, stresses, units), marks, size=SIZE,
                   alt="Front view of the rolls, their bow enlarged", frame=frame)


def _roll(name: str, axle: Points, level: float, diameter: float, way: float, half: float) -> list[Mark]:
    """Return a bowed roll, the bearings that hold it against the stock, and the straight axle it had."""
    return [
        *strip(axle, diameter, "roll"), Line([(-half, level), (half, level)], "centre"),
        *(Line([(end, level + way * diameter / 2)] * 3, "outline", closed=True,
               offset=[(0, 0), (8, way * 12), (-8, way * 12)]) for end in (-half, half)),
        Text((-half, level), f"{name} roll", "roll", "start", (14, -5))]


def _pushes(position: float, width: float, level: float, ways: tuple[float, ...]) -> list[Mark]:
    """Return small arrows from the stock to the rolls, about one for each 50 mm of width."""
    count = round(width / 50) or 1
    places = position + width * (np.arange(count) + 0.5) / count - width / 2
    return [Line([(x, level), (x, level + way * APART / 2)], "dimension", arrows="end") for x in places.tolist()
            for way in ways]


def _sentence(setting: Setting, position: float, bows: dict[str, float], stresses: dict[str, float], units: str) -> str:
    """Return the forces, what they do to the rolls, and what that does to the piece, with their true numbers."""
    machine, stock, radii = setting.machine, setting.stock, bowed_radii(setting, position)
    assert isinstance(stock, Sheet | FlatBar)
    front, bending = (float(np.asarray(force)) for force in (setting.front_roll_force, setting.bending_roll_force))
    here = float(roll_stress(machine, stock, front, position=position))
    spread = float(roll_stress(machine, Sheet(thickness=1.0, width=machine.working_width), front))
    has = {name: f"{_stress(stresses[name])} and bows {_fine(bows[name], units)}" for name in bows}
    edge, middle = float(np.asarray(radii.edge_radius)), float(np.asarray(radii.middle_radius))
    place = "at mid-roll" if not position else f"{format_length(position, units)} from mid-roll"
    larger = (f"{format_length(middle, units)}, {100 * (middle / edge - 1):.1f} % larger" if middle < LEFT_OUT
              else "flat")
    comes_out = (f"Where the tighter edge has R {format_length(edge, units)}, the middle has up to {larger}."
                 if math.isfinite(edge) else "The piece comes out flat.")
    return (
        f"{piece_words(stock, setting.material, units, yield_too=False, width_too=True)}, {place}: pinched with "
        f"{front:.0f} N, the upper front roll has {has['upper']}, the lower {has['lower']}; the "
        f"bending roll, under {bending:.0f} N, has {has['bending']}; bows are drawn {ENLARGED:.0f} times too large. "
        f"Here a force strains a roll {here / spread:.2f} times as hard as over the full width. "
        f"{comes_out}")


def _stress(stress: float) -> str:
    """Return a stress with two digits, or more before the point."""
    return f"{stress:{'.2g' if stress < 99.5 else '.0f'}} MPa"


def _fine(bow: float, units: str) -> str:
    """Return a bow with two digits."""
    scale, word = length_scale(units)
    least = 1e-4 if word == "in" else 1e-3
    return f"{bow / scale:.2g} {word}" if bow / scale >= least else f"below {least:.4g} {word}"
