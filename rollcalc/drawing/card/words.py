"""What a card says in words: its title, what was assumed, and lengths in the units that were asked for."""

from __future__ import annotations

import re

from rollcalc.job import Plan
from rollcalc.layout import CylinderBlank
from rollcalc.rolling import DEMO_MACHINE, PinchMachine, load_machine, machine_source
from rollcalc.stock import InputError, RoundBar, format_length

from ..machine.machine_view import machine_name

_LENGTHS = re.compile(r"((?:\d[\d.]*(?:, | of | to | × | and ))*)(\d[\d.]*) mm\b(?!²)")


def in_units(words: str, units: str) -> str:
    """Return words with every length in mm in the units that were asked for."""
    if units == "mm":
        return words

    def turned(found: re.Match[str]) -> str:
        """Return the numbers before a unit, and the last one with its new unit."""
        before = re.sub(r"\d[\d.]*", lambda number: format_length(float(number[0].rstrip(".")), units)[:-3], found[1])
        return before + format_length(float(found[2]), units)

    return _LENGTHS.sub(turned, words)


def length(size: float, units: str) -> str:
    """Return a length as a label shows it, without noughts that say nothing."""
    number, unit = format_length(size, units).split()
    return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {unit}"


def title_words(plan: Plan, units: str) -> str:
    """Return what is made, with its sizes."""
    blank = plan.blank
    if isinstance(blank, CylinderBlank):
        inside = f"{length(blank.inside_diameter, units)} inside"
        high = f", {length(blank.width, units)} high" if plan.job.startswith("cylinder") else ""
        return f"{plan.job.partition(',')[0].capitalize()}, {inside}{high}"
    ends = [length(end, units) for end in (blank.pattern.large_diameter, blank.pattern.small_diameter)]
    return f"Cone, {ends[0]} to {ends[1]} at mid-thickness, {length(blank.pattern.height, units)} high"


def piece_words(plan: Plan, units: str) -> str:
    """Return the stock and the metal."""
    stock = plan.stock
    depth = length(float(stock.depth), units)
    size = f"round bar {depth}" if isinstance(stock, RoundBar) else (
        f"{stock.caption.partition(' ')[0] if stock.plane_strain else 'flat bar'} {depth} × "
        f"{length(float(stock.width), units)}")
    return f"{size[0].upper()}{size[1:]}, {plan.material.name}"


def assumed_words(plan: Plan, units: str) -> tuple[str, ...]:
    """Return what the numbers stand on that nobody has measured."""
    machine, metal = plan.machine, plan.material
    said = [f"Machine: {machine_name(machine)}. {source_words(plan)}{machine.assumed_note}"]
    if isinstance(machine, PinchMachine):
        nip = f"{machine.nip[0].upper()}{machine.nip[1:]}"
        said.append(f"{nip}: nobody knows it of your hands, and wide sheet feels it most.")
    low_high = "" if metal.yield_range is None else f", sold with {metal.yield_range[0]:g} to {metal.yield_range[1]:g}"
    said.append(f"Yield {float(metal.first_yield):.3g} MPa{low_high}; thickness as named; turns from touch, the same "
                "edge first.")
    return tuple(in_units(words, units) for words in said)


def source_words(plan: Plan) -> str:
    """Return where the machine's sizes come from."""
    if plan.machine == DEMO_MACHINE:
        return "Every number of it is invented: measure your own."
    try:
        if plan.machine == load_machine():
            taken = " (an invented value)" if "an invented value" in machine_source() else ""
            return f"Its sizes are those of the machine file{f', its pinch is not in it{taken}' if taken else ''}."
    except InputError:
        pass
    return "Its sizes were given with the plan, not by the machine file."
