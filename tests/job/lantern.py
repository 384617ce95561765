"""The garden lantern's parts, and three more jobs, as plans on the bench roll."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import rollcalc as rc
from rollcalc.job import Plan

MACHINE = rc.DEMO_MACHINE
STEEL, BAR = rc.MATERIALS["low-carbon steel, cold rolled"], rc.MATERIALS["mild steel bar, hot rolled"]
ALUMINIUM, STAINLESS = rc.MATERIALS["aluminium 3003-H14"], rc.MATERIALS["stainless 304, annealed"]
BODY, COLLAR, SKIRT = (rc.Sheet(thickness=thick, width=wide) for thick, wide in ((0.76, 240), (0.6, 40), (0.8, 105)))
BAND, HANGER = rc.FlatBar(thickness=3, width=25), rc.RoundBar(6)

CYLINDERS: dict[str, Callable[..., Plan]] = {
    "body": partial(rc.plan_cylinder, MACHINE, BODY, STEEL, inside_diameter=180, seam=rc.GroovedSeam(6)),
    "collar": partial(rc.plan_cylinder, MACHINE, COLLAR, STAINLESS, inside_diameter=75, seam=rc.LapSeam(10)),
}
RINGS: dict[str, Callable[..., Plan]] = {
    "band": partial(rc.plan_ring, MACHINE, BAND, BAR, outside_diameter=190),
    "hanging ring": partial(rc.plan_ring, MACHINE, HANGER, BAR, inside_diameter=90),
    "ring of 150": partial(rc.plan_ring, MACHINE, HANGER, BAR, inside_diameter=150),
    "aluminium bar": partial(rc.plan_ring, MACHINE, BAND, ALUMINIUM, inside_diameter=200),
}
CONES: dict[str, Callable[..., Plan]] = {
    "skirt": partial(rc.plan_cone, MACHINE, SKIRT, ALUMINIUM, large_diameter=220, small_diameter=160, height=100),
    "slight cone": partial(rc.plan_cone, MACHINE, SKIRT, ALUMINIUM, large_diameter=180, small_diameter=160, height=100),
}
ROOF: Callable[..., Plan] = partial(rc.plan_cone, MACHINE, SKIRT, ALUMINIUM, large_diameter=220, small_diameter=60,
                                    height=80)
ROLLED = CYLINDERS | RINGS
"""Plans with one radius."""

GOOD = ROLLED | CONES
"""Plans that have turns."""
