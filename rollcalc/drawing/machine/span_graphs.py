"""Graphs of the sheet between the rolls: curvature along it, radius against turns, and what a pinch does."""

import math
from dataclasses import replace

import numpy as np

from rollcalc.bending import released_radius as radius_let_go
from rollcalc.rolling import (PinchMachine, circle_radius, circle_travel, radius_for_travel, setting_for_radius,
                              span_shape, two_thirds_radius)
from rollcalc.stock import FlatBar, Material, Sheet, Stock, format_length
from rollcalc.stock.labels import length_scale

from ..core.picture import Axes, Line, Mark, Picture, Points, Text
from ..metal.bend_view import piece_words
from .machine_view import machine_note

WEAKEST, STRONGEST = 1000.0, 10_000.0  # pinch forces between which the graph is drawn [N]
HIGHEST = 2.6  # end of the axis of radii, in wanted radii [-]


def along_picture(machine: PinchMachine, stock: Stock, material: Material, released_radius: float) -> Picture:
    """Return the curvature along the sheet from the nip to the bending roll, and the circle's."""
    setting = setting_for_radius(machine, stock, material, released_radius)
    shape = span_shape(setting, points=40)
    inside = int(np.argmax(shape.moment))
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(shape.x), np.diff(shape.y)))])
    along = along - along[inside]
    bent = 1000 * shape.curvature  # 1/m from here on
    stays, most = 1000 / released_radius, float(bent[inside])
    circle = 1000 / float(circle_radius(machine, stock, setting.travel))
    end, level = float(along[-1]), 0.5 * float(along[-1])
    middle = float(np.interp(level, along, bent))
    marks: list[Mark] = [
        Line([(0, stays), (end, stays)], "released"), Line([(0, circle), (end, circle)], "loaded"),
        Line(np.column_stack([along, bent]), "sheet"),
        Line([(level, stays), (level, middle)], "dimension", arrows="both"),
        Text((level, (stays + middle) / 2), "moment / stiffness", "dimension", "start", (8, -10)),
        Text((0, most), "nip", "sheet", "start", (6, 8)),
        Text((end, circle), "circle through the rolls", "loaded", "end", (-4, 8)),
        Text((0, stays), "what stays", "released", "start", (6, -18)),
        Text((end, stays), "bending roll", "sheet", "end", (-4, -18))]
    share = 100 * (circle - stays) / (most - stays)
    moment = float(shape.moment[inside])
    over = f"Over {float(stock.width):.0f} mm of width the" if isinstance(stock, Sheet) else "The"
    return Picture(
        f"{over} bending moment falls from {moment / 1000:.1f} N m in the nip to nothing at the bending roll, "
        f"{end:.0f} mm of sheet further, in a nearly straight line. The curvature falls with it: from R "
        f"{setting.loaded_radius:.1f} mm to R {released_radius:.1f} mm. The circle holds {share:.0f} % of what "
        f"springs back. {machine_note(machine)}",
        marks, Axes("length of sheet behind the nip, mm", "curvature, 1/m", (0, end),
                    (stays - 0.25 * (most - stays), most + 0.15 * (most - stays))),
        alt="Graph of curvature along the sheet between the rolls")


def rules_picture(machine: PinchMachine, stock: Stock, material: Material, *, turns: float) -> Picture:
    """Return released radius against turns of the screws: circle, the same sprung back, two-thirds rule, full span."""
    top = 300.0
    first, last = (float(circle_travel(machine, stock, radius)) / machine.screw_pitch
                   for radius in (2 * top, 1.4 * machine.inside_roll_diameter / 2))
    wound = np.append(np.linspace(first, last, 70), turns)
    travel = wound * machine.screw_pitch
    circle = np.asarray(circle_radius(machine, stock, travel))
    curves = {
        "circle": circle,
        "circle, sprung back": np.asarray(radius_let_go(stock, material, circle)),
        "two-thirds rule": np.asarray(two_thirds_radius(machine, stock, material, travel)),
        "full span": np.asarray(radius_for_travel(machine, stock, material, travel))}
    at = {name: float(radius[-1]) for name, radius in curves.items()}
    marks: list[Mark] = [Line([(turns, 0), (turns, at["circle, sprung back"])], "dimension")]
    for name, role, share, reach in (("full span", "sheet", 0.54, 50), ("two-thirds rule", "released", 0.67, 50),
                                     ("circle, sprung back", "hidden", 0.8, 50), ("circle", "loaded", 0.93, -20)):
        curve = np.column_stack([wound, curves[name]])[:-1]
        curve = curve[curve[:, 1] < 1.2 * top]
        marks += [Line(curve, role), *_named(name, role, curve, share * top, reach)]
    return Picture(
        f"At {turns:.2f} turns the circle through the rolls has a radius of {at['circle']:.1f} mm. With springback "
        f"added it promises {at['circle, sprung back']:.1f} mm. The two-thirds rule says "
        f"{at['two-thirds rule']:.1f} mm and the full span {at['full span']:.1f} mm. {machine_note(machine)}",
        marks, Axes("turns of the screws", "radius, mm", (0, last), (0, top)), size=(640, 420),
        alt="Graph of radius against turns of the screws")


def pinch_picture(machine: PinchMachine, stock: Sheet | FlatBar, material: Material, wanted_radius: float,
                  pinch_force: float, units: str = "mm") -> Picture:
    """Return what the pinch, in N, does to the radius at the travel that would be right for a perfect nip."""
    perfect = machine.with_perfect_nip()
    setting = setting_for_radius(perfect, stock, material, wanted_radius)
    force = np.append(np.geomspace(WEAKEST, STRONGEST, 25), pinch_force)
    pressed = replace(perfect, pinch_force=force)
    radius = np.asarray(radius_for_travel(pressed, stock, material, np.full(force.shape, setting.travel)))
    radius = np.minimum(radius, 100 * wanted_radius)
    scale, word = length_scale(units)
    now = float(radius[-1])
    top = max(HIGHEST * wanted_radius, 1.15 * min(now, 10 * wanted_radius)) / scale
    at, level, flat = min(now / scale, top), wanted_radius / scale, now >= 100 * wanted_radius
    curve = np.column_stack([force, radius / scale])[:-1]
    low = curve[curve[:, 1] < 1.02 * top]
    marks: list[Mark] = [
        Line([(0, level), (STRONGEST, level)], "guide"),
        *([Line(low, "released")] if len(low) > 1 else []),
        Text((STRONGEST, level), "perfect nip, a teaching ideal", "guide", "end", (-4, -18)),
        *([Line([(0, at), (pinch_force, at)], "dimension")] if pinch_force > 0 else []),
        Line([(pinch_force, 0), (pinch_force, at)], "dimension", arrows="end"),
        Text((0, at), "flat" if flat else format_length(now, units), "released", "start",
             (10, 8 if at < 0.9 * top else -18))]
    does = (f"A pinch of {pinch_force:.0f} N cannot hold the moment: next to no curve stays." if flat else
            f"A pinch of {pinch_force:.0f} N makes it {format_length(now, units)}: "
            f"{100 * (now / wanted_radius - 1):.0f} % larger.")
    return Picture(
        f"{piece_words(stock, material, units, yield_too=False, width_too=True)}: the screws stand right for a "
        f"radius of {format_length(wanted_radius, units)} in a perfect nip. {does}",
        marks, Axes("pinch force, N", f"radius after letting go, {word}", (0, STRONGEST), (0, top)),
        alt="Graph of radius against the pinch force")


def _named(name: str, role: str, curve: Points, height: float, reach: float) -> tuple[Mark, ...]:
    """Return the name of a falling curve, with a level leader to it at a height."""
    at = (float(np.interp(height, curve[::-1, 1], curve[::-1, 0])), height)
    line = Line([at, at], "dimension", arrows="start", offset=[(0.0, 5.0), (reach, 5.0)])
    return line, Text(at, name, role, "start" if reach > 0 else "end", (reach + math.copysign(4, reach), 0.0))
