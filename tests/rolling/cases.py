"""Machines, stock and radii for the tests: what a workshop has, and what it has not."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from hypothesis import assume
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.rolling import DEMO_MACHINE, Machine, PinchMachine, PyramidMachine, Setting, setting_for_radius

PERFECT = DEMO_MACHINE.with_perfect_nip()
SLACK = dataclasses.replace(PERFECT, nip_slack=0.03)
PRESSED = dataclasses.replace(DEMO_MACHINE, pinch_force=5000)
PYRAMID = PyramidMachine(top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6,
                         working_width=2000, peak="beam")
"""A thin beam below its top roll, which other solvers of the same mechanics can be held against."""
STEEL = rc.Material("steel", 205_000, 0.3, 210, hardening_modulus=2000)
SWIFT = rc.Material("swift", 193_000, 0.3, swift=rc.Swift(1270, 0.0139, 0.345))
THIN, THICK = rc.Sheet(thickness=0.76, width=240), rc.Sheet(thickness=6, width=1000)
KINDS = {
    "perfect": (PERFECT, THIN),
    "slack": (SLACK, THIN),
    "pressed": (PRESSED, THIN),
    "pyramid": (PYRAMID, THICK),
}


@st.composite
def pinch_machines(draw: st.DrawFn, nips: tuple[str, ...] = ("perfect", "slack", "pressed")) -> PinchMachine:
    """Draw a pinch machine that could be built."""
    upper = draw(st.floats(20, 300))
    lower, bending = (upper * draw(st.floats(0.6, 1.6)) for _ in range(2))
    nip = draw(st.sampled_from(nips))
    return PinchMachine(
        upper_roll_diameter=upper, lower_roll_diameter=lower, bending_roll_diameter=bending,
        guide_distance=(lower + bending) / 2 * draw(st.floats(1.02, 2.0)), guide_angle_degrees=draw(st.floats(70, 130)),
        screw_pitch=draw(st.floats(0.5, 8)), working_width=4000,
        nip_slack=upper * draw(st.floats(1e-5, 3e-3)) if nip == "slack" else 0.0,
        pinch_force=10 ** draw(st.floats(3, 6)) if nip == "pressed" else None,
    )


@st.composite
def pyramid_machines(draw: st.DrawFn, peaks: tuple[str, ...] = ("plate", "beam")) -> PyramidMachine:
    """Draw a pyramid machine that could be built."""
    bottom = draw(st.floats(30, 400))
    return PyramidMachine(
        top_roll_diameter=bottom * draw(st.floats(0.7, 2.0)), bottom_roll_diameter=bottom,
        bottom_roll_spacing=bottom * draw(st.floats(1.05, 3.0)), screw_pitch=6, working_width=4000,
        peak=draw(st.sampled_from(peaks)),
    )


machines = st.one_of(pinch_machines(), pyramid_machines())
beam_machines = st.one_of(pinch_machines(), pyramid_machines(("beam",)))
line_materials = st.builds(
    lambda strain, hardening, ratio: rc.Material("line", 200_000, ratio, 200_000 * strain, 200_000 * hardening),
    st.floats(4e-4, 4e-3), st.floats(0.0, 0.05), st.floats(0.0, 0.4),
)


@st.composite
def settings(draw: st.DrawFn, machines: st.SearchStrategy[Machine] = machines,
             materials: st.SearchStrategy[rc.Material] = line_materials) -> Setting:
    """Draw a setting that can be reached: loaded radius, feed and entering radius are drawn, too."""
    machine, material = draw(machines), draw(materials)
    depth = machine.inside_roll_diameter / draw(st.floats(15, 150))
    stock = draw(st.sampled_from([rc.Sheet, rc.FlatBar]))(thickness=depth, width=draw(st.floats(10, 2000)))
    tightest, flattest = 2 / (machine.inside_roll_diameter + depth), rc.bending.yield_curvature(stock, material)
    assume(flattest * 1.02 < tightest)
    share = draw(st.floats(0.01, 0.99))
    released = rc.released_curvature(stock, material, flattest * (tightest / flattest) ** share)
    entering = math.inf if draw(st.booleans()) else 1 / (released * draw(st.floats(0.05, 0.98)))
    assume(entering < 1e6 or math.isinf(entering))
    try:
        return setting_for_radius(machine, stock, material, 1 / released, entering_radius=entering,
                                  feed=draw(st.sampled_from(["forward", "return"])))
    except rc.InputError:
        assume(False)
        raise


def roll_centres(setting: Setting) -> tuple[np.ndarray, np.ndarray, np.ndarray, tuple[float, float, float]]:
    """Return the centres of inside, front and bending roll, and their radii with half the thickness."""
    machine, depth, travel = setting.machine, setting.stock.depth, setting.travel
    if isinstance(machine, PyramidMachine):
        x, y = machine.bottom_roll_centre(depth)
        centres = (machine.top_roll_centre(depth, travel), (-x, y), (x, y))
        diameters = (machine.top_roll_diameter, machine.bottom_roll_diameter, machine.bottom_roll_diameter)
    else:
        centres = (machine.upper_roll_centre(depth), machine.lower_roll_centre(depth),
                   machine.bending_roll_centre(depth, travel))
        diameters = (machine.upper_roll_diameter, machine.lower_roll_diameter, machine.bending_roll_diameter)
    return *map(np.array, centres), tuple(diameter / 2 + depth / 2 for diameter in diameters)


def is_perfect(machine: Machine) -> bool:
    """Return whether the machine has a perfect nip."""
    return isinstance(machine, PinchMachine) and machine.pinch_force is None and machine.nip_slack == 0
