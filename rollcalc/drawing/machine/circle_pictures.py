"""The circle rule explained: its triangle, its graph of turns, and how far from it the sheet comes out."""

import math

import numpy as np

from rollcalc.bending import released_radius
from rollcalc.rolling import Machine, PinchMachine, circle_radius, circle_travel, radius_for_travel, usable_travel
from rollcalc.rolling.limits.reach import check_travel
from rollcalc.stock import InputError, Material, Stock, format_length
from rollcalc.stock.labels import length_scale

from ..core.marks import circle
from ..core.page import signed
from ..core.picture import Axes, Line, Mark, Picture, Text, pair
from .circle_view import circle_sheet
from .machine_view import SIZE, machine_name, machine_note, rolls, view_frame

RINGS_HIGH = 400  # how high the largest of three rings is drawn, at least [px]


def triangle_picture(machine: PinchMachine, stock: Stock, travel: float) -> Picture:
    """Return the right-angled triangle between nip, bending roll and the centre of the circle."""
    radius, thickness = float(circle_radius(machine, stock, travel)), float(stock.depth)
    roll = pair(machine.bending_roll_centre(thickness, travel))
    x, y = roll
    centre, corner, reach = (0.0, radius), (0.0, y), radius + machine.bending_roll_diameter / 2 + thickness / 2
    marks = (
        *rolls(machine, thickness, travel), *circle_sheet(machine, thickness, travel, radius),
        Line([centre, corner, roll], "released", closed=True),
        Text(centre, "centre of the circle", "outline", "middle", (0, 8)),
        Text((0.0, 0.62 * radius), "R − y", "released", "end", (-8, 0)),
        Text((x / 2, y), "x", "released", "middle", (0, -18)),
        Text((x / 2, (radius + y) / 2), "R + c", "released", "start", (8, 4)))
    return Picture(
        f"At {format_length(travel)} of travel the bending roll's centre lies x = {x:.1f} mm behind the nip and "
        f"{-y:.1f} mm below the sheet line (y = {signed(y, 1)} mm). With R = {radius:.1f} mm the triangle closes: "
        f"{x:.1f}² + {radius - y:.1f}² = {reach:.1f}².",
        marks, size=SIZE, alt="Side view of the rolls with the triangle behind the formula", frame=view_frame(machine))


def turns_picture(machine: Machine, stock: Stock, radius: float, units: str = "mm") -> Picture:
    """Return the graph of the circle's radius against turns of the screws, with one circle looked up in it."""
    travel = float(circle_travel(machine, stock, radius))
    check_travel(machine, stock, travel, "ask for a larger circle")
    scale, unit = length_scale(units)
    inside, most = machine.inside_roll_diameter / 2 + float(stock.depth) / 2, most_travel(machine, stock)
    high = 16.0 * float(circle_radius(machine, stock, most))
    around = "upper" if isinstance(machine, PinchMachine) else "top"
    turns, shown, said = travel / machine.screw_pitch, radius / scale, f"R {format_length(radius, units)}"
    moved = np.linspace(float(circle_travel(machine, stock, 1.3 * high)), most, 160)
    end, top = 1.06 * most / machine.screw_pitch, 1.04 * high / scale
    side, offset = ("start", (10, -18)) if shown > 0.9 * top else ("end", (-4, 10)) if turns > 0.8 * end else (
        "start", (10, 10))  # beside its place on the curve, where there is room
    further, more = travel + machine.screw_pitch, "There is no room for one more turn."
    if further <= most:
        less = format_length(radius - float(circle_radius(machine, stock, further)), units)
        more = f"One more turn takes {less} off the radius."
    marks: list[Mark] = [
        Line(np.column_stack([moved / machine.screw_pitch, np.asarray(circle_radius(machine, stock, moved)) / scale]),
             "loaded"),
        Line([(0, inside / scale), (end, inside / scale)], "roll"),
        Text((0.0, inside / scale), f"around the {around} roll itself", "roll", "start", (8, 6)),
        Line([(0, shown), (turns, shown), (turns, 0)], "hidden", arrows="end"),
        Text((turns, shown), said, "outline", side, offset)]
    return Picture(
        f"A circle of {format_length(radius, units)} takes {turns:.2f} turns of the screws "
        f"({format_length(travel, units)} of travel) on {machine_name(machine)}. {more}"
        f"{machine.with_perfect_nip().assumed_note}",
        marks, Axes("turns of the screws", f"radius of the circle, {unit}", (0, end), (0, top)),
        alt="Graph of the circle's radius against turns")


def rings_picture(machine: Machine, stock: Stock, material: Material, travel: float) -> Picture:
    """Return three rings: the circle through the rolls, that circle sprung back, and what the sheet becomes."""
    drawn = float(circle_radius(machine, stock, travel))
    real = float(radius_for_travel(machine, stock, material, travel))
    opened = float(released_radius(stock, material, drawn)) if math.isfinite(drawn) else math.inf
    if not math.isfinite(opened + real):
        raise InputError(f"travel is {travel:.6g} mm, but must be larger: there the piece springs back flat.")
    rings = ((drawn, "centre", "outline", "circle through the rolls"), (real, "released", "released", "what comes out"),
             (opened, "hidden", "outline", "that circle, sprung back"))
    marks: list[Mark] = []
    low, px = math.inf, RINGS_HIGH / (2 * max(radius for radius, *_ in rings))
    for radius, line, words, what in sorted(rings, reverse=True):
        marks += circle((0, radius), radius, line, points=180)
        low = min(2 * radius * px - 23, low - 21)  # below its own top, and below the words above it
        marks.append(Text((0, 2 * radius), f"{what}: R {format_length(radius)}", words, "middle",
                          (0, round(low - 2 * radius * px))))
    return Picture(
        f"At {format_length(travel)} of travel the circle through the rolls has a radius of "
        f"{format_length(drawn)}; sprung back, that circle would be {format_length(opened)}. The sheet "
        f"itself is computed to come out at {format_length(real)}: {_compared(real, drawn)} the one, "
        f"{_compared(real, opened)} the other. {machine_note(machine)}",
        marks, size=(640, 480), alt="Three rings: two that the circle promises, and the one that comes out")


def most_travel(machine: Machine, stock: Stock) -> float:
    """Return the travel at which the rolls meet, the screws end, or the tightest circle that fits is reached."""
    inside = machine.inside_roll_diameter / 2 + float(stock.depth) / 2
    try:
        tightest = float(circle_travel(machine, stock, inside))
    except InputError:
        tightest = machine.guide_distance if isinstance(machine, PinchMachine) else machine.bottom_roll_spacing / 2
    return min(tightest, float(usable_travel(machine, stock))) * (1 - 1e-9)


def _compared(radius: float, other: float) -> str:
    """Return how much larger or smaller one radius is than another, in words."""
    share = round(100 * (radius / other - 1))
    return f"{abs(share)} % {'larger' if share > 0 else 'smaller'} than" if share else "as large as"
