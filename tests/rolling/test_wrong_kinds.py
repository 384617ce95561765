"""The wrong kind of thing, an array where one piece is meant, numbers out of this world: one sentence each."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import numpy as np
import pytest

import rollcalc as rc
from rollcalc.drawing.patterns.files import pattern_bytes
from rollcalc.layout import arc_ordinates, baseline_layout
from rollcalc.layout.bench import stepped_arc_error
from rollcalc.layout.rolling_up import partly_rolled
from rollcalc.rolling import DEMO_MACHINE as MACHINE
from rollcalc.rolling import replanned, roll_stress, taper, tolerable_turns
from rollcalc.rolling.passes.plan import pass_settings

STEEL, BODY = rc.MATERIALS["low-carbon steel, cold rolled"], rc.Sheet(thickness=0.76, width=240)
SETTING, SKIRT = rc.setting_for_radius(MACHINE, BODY, STEEL, 90), rc.frustum_pattern(220, 160, 100)
JOBS: list[Callable[..., Any]] = [
    partial(rc.check_capacity, released_radius=90), partial(rc.setting_for_radius, released_radius=90),
    partial(rc.setting_for_travel, travel=10), partial(rc.pass_schedule, released_radius=90),
    partial(pass_settings, released_radius=90, pass_count=3), partial(rc.flat_ends, released_radius=90),
    partial(taper, turns_left=11, turns_right=11), partial(tolerable_turns, released_radius=90, joint_gap=2),
    partial(rc.cone_setting, large_diameter=220, small_diameter=160),
]


def said(do: Callable[[], Any]) -> str:
    """Return the one sentence that a call is answered by."""
    with pytest.raises(rc.InputError) as caught:
        do()
    words = str(caught.value)
    assert words.endswith(".")
    assert "\n" not in words
    assert ". " not in words
    return words


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("wrong", [None, "mild steel", 5, math.nan, rc.Sheet, SKIRT, np.ones((2, 2))])
def test_a_job_names_what_is_no_machine_no_stock_and_no_metal(job: Callable[..., Any], wrong: object) -> None:
    assert said(lambda: job(wrong, BODY, STEEL)).startswith("the machine is ")
    assert re.match(r"the stock is .* but must be a ", said(lambda: job(MACHINE, wrong, STEEL)))
    assert re.match(r"the material is .* MATERIALS", said(lambda: job(MACHINE, BODY, wrong)))


@pytest.mark.parametrize("job", [job for job in JOBS[3:] if job.func is not rc.flat_ends])
@pytest.mark.parametrize(
    ("machine", "stock", "metal"),
    [(MACHINE, rc.Sheet(thickness=[0.7, 0.8], width=240), STEEL),
     (MACHINE, BODY, replace(STEEL, yield_strength=np.array([200, 210]))),
     (replace(MACHINE, pinch_force=np.array([2e3, 3e3])), BODY, STEEL)],
)
def test_arrays_are_refused_where_one_piece_is_meant(job: Callable[..., Any], machine: Any, stock: Any, metal: Any) -> (
    None
):
    """Two thicknesses would otherwise be taken for the two edges of one sheet, without a word."""
    assert "array" in said(lambda: job(machine, stock, metal))


@pytest.mark.parametrize(
    ("do", "start"),
    [
        (lambda: rc.bending_moment(BODY, "steel", 0.01), "the material is 'steel'"),
        (lambda: rc.released_radius("sheet", STEEL, 60), "the stock is 'sheet'"),
        (lambda: rc.loaded_radius(rc.Sheet(thickness=[0.7, 0.8], width=9), STEEL, [60, 70, 80]),
         "released radius and depth"),
        (lambda: rc.rolling.effort_slopes(BODY, None, 90), "the material is None"),
        (lambda: rc.rolling.effort_slopes(BODY, STEEL, 1e300), "released radius is 1e+300 mm"),
        (lambda: rc.rolling.usable_travel(None, BODY), "the machine is None"),
        (lambda: rc.rolling.limits.reach.clearance(MACHINE, 3, 1), "the stock is 3"),
        (lambda: rc.roll_bow(BODY, MACHINE, 100), "the stock is of type PinchMachine"),
        (lambda: roll_stress(MACHINE, BODY, 100, roll=[]), "roll is []"),
        (lambda: rc.crank_effort(MACHINE), "the setting is of type PinchMachine"),
        (lambda: rc.rolling.crank_force_limit(None), "the machine is None"),
        (lambda: rc.rolling.bowed_radii(SETTING, "left"), "position is 'left'"),
        (lambda: rc.rolling.grooves("left"), "the machine is 'left'"),
        (lambda: rc.grooved_machine(MACHINE, rc.RoundBar(6), 6), "the groove is 6"),
        (lambda: replanned(None, 10, 100), "the schedule is None"),
        (lambda: rc.rise_of_chord(None, 100), "radius is None"),
        (lambda: rc.radius_from_chord(1e300, 1), "chord is 1e+300 mm"),
        (lambda: rc.rolling.tolerable_skew_degrees(5e-324, 1), "released radius is 4.94066e-324 mm"),
        (lambda: rc.setting_for_radius(MACHINE, BODY, STEEL, 90, feed=np.ones(2)), "feed is array([1., 1.])"),
        (lambda: rc.cone_blank(None, 0.8), "the pattern is None"),
        (lambda: baseline_layout(None), "the pattern is None"),
        (lambda: partly_rolled(BODY, [(0, 0), (1, 1)], 0.5), "the pattern is "),
        (lambda: stepped_arc_error(3, 12), "the pattern is 3"),
        (lambda: arc_ordinates(500, 600, 10**400), "stations is more than 100000"),
        (lambda: rc.blanks_on_sheet(SKIRT.outline(), 1e9, 1e9), "sheet is 1e+09 mm by 1e+09 mm"),
        (lambda: rc.layout.rolled_up(SKIRT, 10**400), "points must be"),
        (lambda: pattern_bytes(SKIRT, np.ones(2)), "format is array([1., 1.])"),
        (lambda: rc.pass_schedule(MACHINE, BODY, STEEL, 90, least_passes=2.5), "least passes is 2.5, but must be a"),
        (lambda: pass_settings(MACHINE, BODY, STEEL, 90, 2.5), "number of passes is 2.5, but must be a whole"),
        (lambda: rc.pass_schedule(MACHINE, BODY, STEEL, 90, step_turns=1e-300), "step of the screws is 1e-300"),
        (lambda: rc.setting_for_travel(MACHINE, BODY, STEEL, np.ma.masked), "travel is masked"),
    ],
)
def test_one_sentence_names_the_argument(do: Callable[[], Any], start: str) -> None:
    assert said(do).startswith(start)


def test_a_list_of_travels_is_an_array_of_them() -> None:
    many = rc.setting_for_travel(MACHINE, BODY, STEEL, [10, 12])  # type: ignore[arg-type]
    assert np.shape(many.released_radius) == (2,)
