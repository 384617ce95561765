"""The problems of lesson 09, the cone on the machine."""

import math

import rollcalc as rc

from ..engine.problem import Problem, Slip


def _bend(large: float, small: float, height: float) -> float:
    """Return the bend at the small end, square to the wall. [mm]"""
    return small / 2 / math.cos(rc.frustum_pattern(large, small, height).half_angle)


PROBLEMS = (
    Problem("09.1",
        "A shade is {large} mm and {small} mm across its ends, to mid-thickness, and {height} mm high. To which radius "
        "must the rolls bend its small end? Answer to 0.2 mm.",
        {"large": 220, "small": 180, "height": 60}, _bend, "mm", 0.2, slips=(
            Slip(lambda large, small, height: small / 2,
                 "this is the cone's own radius; the bend is square to its wall."),
            Slip(lambda large, small, height: small / 2 * math.cos(rc.frustum_pattern(large, small, height).half_angle),
                 "divide by the cosine: a leaning wall is flatter, so its radius is larger."),
            Slip(lambda large, small, height: _bend(large, small, height) * large / small, "this is the large end."),
            Slip(lambda large, small, height: small / 2 / math.cos(math.atan2(large - small, height)),
                 "the wall leans by half the difference of the diameters, not by all of it."))),
    Problem("09.2",
        "Pinched with 2500 N, the edges of a wall {wall} mm long need {large_turns} turns at the large end and "
        "{small_turns} turns at the small end. The screws are {span} mm apart. How many turns must they differ? "
        "Answer to 0.2 turns.",
        {"large_turns": 12.13, "small_turns": 13.98, "wall": 104.4, "span": 820},
        lambda large_turns, small_turns, wall, span: (small_turns - large_turns) * span / wall, "turns", 0.2, slips=(
            Slip(lambda large_turns, small_turns, wall, span: small_turns - large_turns,
                 "this is the difference between the wall's edges; the screws stand much further apart."),
            Slip(lambda large_turns, small_turns, wall, span: (small_turns - large_turns) * wall / span,
                 "the other way round: the screws are further apart than the wall is long, so they differ more."))),
    Problem("09.3",
        "A funnel is {large} mm and {small} mm across its ends. How much too tight do straight rolls make it half way "
        "up the wall, by the rule of thumb? Answer to 0.3 %.",
        {"large": 240, "small": 120}, lambda large, small: 100 * float(rc.cone_waist(large, small)), "%", 0.3, slips=(
            Slip(lambda large, small: 100 * (large - small) / (large + small),
                 "difference over sum is right; now square it."),
            Slip(lambda large, small: 100 * ((large - small) / large) ** 2,
                 "divide by the sum of the two, not by the larger."))),
)
