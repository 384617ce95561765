"""Blanks, neutral axes, cones and allowances against worked numbers that others have published.

Old trade books and government manuals, all in the public domain in the United States, unless a line says otherwise.
"seen" means that the number was read in the source; everything that follows from it is computed here. Inches are
kept as they were printed: every formula of layout is the same in any unit of length.
"""

from __future__ import annotations

import math

import pytest

from rollcalc.layout import (
    GroovedSeam,
    bend_length,
    cylinder_blank,
    frustum_pattern,
    neutral_axis_factor,
    oblique_frustum_pattern,
    wired_edge_allowance,
)
from rollcalc.layout.bench import stepped_arc_error
from rollcalc.stock import Sheet

FOOT = 12.0


# ---- Cylinders


def test_plate_by_its_mean_diameter() -> None:
    # A public training page (TAFE NSW toolbox 905), "mean diameter": 10 mm plate, outside 650, mean 640,
    # length 640 × 3.1416 = 2010.624, cut 2011 mm. [seen]
    blank = cylinder_blank(Sheet(thickness=10, width=1000), outside_diameter=650)
    assert blank.mean_diameter == 640
    assert blank.length == pytest.approx(640 * 3.1416, abs=0.01)
    assert round(blank.length) == 2011


def test_iron_hoop_by_its_mean_diameter() -> None:
    # An old engineer's pocket book (Google Books mzoDAAAAQAAJ, RA1-PA55): hoop of 16.5 in outside diameter, less
    # 0.875 in thickness, mean 15.625 in, "opposite to which" stands 4 feet 1 inch. [seen, to the inch]
    hoop = cylinder_blank(Sheet(thickness=0.875, width=2), outside_diameter=16.5)
    assert hoop.mean_diameter == 15.625
    assert hoop.length == pytest.approx(49.09, abs=0.005)  # 15.625 π [derived]
    assert round(hoop.length) == 4 * FOOT + 1
    # At 8.4 thicknesses the table for bends in dies gives a quarter of an inch less: too small for whole inches.
    table = cylinder_blank(Sheet(thickness=0.875, width=2), outside_diameter=16.5, rule="table")
    assert 0.2 < hoop.length - table.length < 0.3
    assert round(table.length) == 4 * FOOT + 1


@pytest.mark.parametrize("thickness", [0.0625, 0.25, 0.5])
def test_add_the_thickness_inside_and_take_it_off_outside(thickness: float) -> None:
    # Cyclopedia of Drawing, 1906: for heavy metal add 3.1416 times the thickness for a shell measured inside,
    # and subtract the thickness from the diameter for one measured outside. [seen, for 48 in]
    inside, outside = (
        cylinder_blank(Sheet(thickness=thickness, width=100), **{f"{face}_diameter": 48}) for face in ("inside",
                                                                                                       "outside")
    )
    assert inside.length == pytest.approx(48 * math.pi + 3.1416 * thickness, abs=1e-4)
    assert outside.length == pytest.approx((48 - thickness) * math.pi)


# ---- The neutral axis

# Machinery's Handbook, 31st edition, p. 1421, equations 32-34: coefficients of thickness for 90 degrees. [seen]
SOFT, HALF_HARD, HARD = (coefficient / (math.pi / 2) for coefficient in (0.55, 0.64, 0.71))


def test_worked_bend_of_a_handbook() -> None:
    # Same page, worked example, Fig. 13: soft steel 1/8 in; 180 degrees on 3/8 in: 1.338; 60 degrees on 5/8 in: 0.707;
    # straight 3.5; together 5.545 in. [seen]
    turn = bend_length(0.375, 0.125, math.pi, HALF_HARD)
    slight = bend_length(0.625, 0.125, math.pi / 3, HALF_HARD)
    assert turn == pytest.approx(1.338, abs=0.0005)
    assert slight == pytest.approx(0.707, abs=0.0015)  # the book's 1.57 for π/2 costs a thousandth
    assert turn + slight + 3.5 == pytest.approx(5.545, abs=0.0015)


def test_factors_of_a_handbook() -> None:
    assert [round(factor, 3) for factor in (SOFT, HALF_HARD, HARD)] == [0.350, 0.407, 0.452]
    assert bend_length(10, 2, math.pi / 2, HARD) == pytest.approx(0.71 * 2 + 1.57 * 10, abs=0.01)


def test_bend_allowance_of_a_navy_manual() -> None:
    # U.S. Navy, Aviation Structural Mechanic, ch. 13: (0.0173 R + 0.0078 T) for each degree. [seen]
    factor = 0.0078 / math.radians(1)
    assert factor == pytest.approx(0.4469, abs=0.0001)
    for degrees in (1, 45, 90, 180):
        book = (0.0173 * 0.25 + 0.0078 * 0.064) * degrees
        assert bend_length(0.25, 0.064, math.radians(degrees), factor) == pytest.approx(book, rel=0.01)


@pytest.mark.parametrize(
    ("ratio", "factor"),
    [(1, 0.350), (2, 0.375), (3, 0.398), (4, 0.415), (5, 0.428), (6, 0.440), (8, 0.459), (10, 0.470), (12, 0.480),
     (16, 0.500), (100, 0.500)],
)
def test_table_of_a_designer_s_handbook(ratio: float, factor: float) -> None:
    # Table of K against R/S, reproduced on a public page (gibkij.ru); Anuryev's handbook, from memory. [seen]
    assert neutral_axis_factor(ratio * 1.5, 1.5, rule="table") == pytest.approx(factor, abs=1e-12)


@pytest.mark.parametrize(
    ("ratio", "factor"),
    [(0.5, 0.2497), (1, 0.3250), (1.5, 0.3690), (2, 0.4003), (3, 0.4443), (4, 0.4755), (5, 0.4997), (6, 0.5)],
)
def test_formula_of_a_standard(ratio: float, factor: float) -> None:
    # DIN 6935: k/2 with k = 0.65 + 0.5 log10(r/s), from memory; the numbers are derived from it.
    assert neutral_axis_factor(ratio * 2, 2, rule="DIN 6935") == pytest.approx(factor, abs=0.0005)


def test_a_second_table_is_as_far_from_ours_as_tables_are_from_each_other() -> None:
    # An encyclopedia's generic factors for medium metal: 0.38 to one thickness, 0.43 to three, 0.50 beyond. [seen]
    for ratio, factor in ((1.0, 0.38), (2.9, 0.43), (20.0, 0.50)):
        assert neutral_axis_factor(ratio, 1.0, rule="table") == pytest.approx(factor, abs=0.05)


# ---- Right cones and frustums: patterns


def test_a_flaring_vessel() -> None:
    # The Builder-Mechanic's book of tin work (chestofbooks.com, "How to strike the side of a flaring vessel"): top 12,
    # bottom 9, depth of side 8 in: the difference is to the depth as the small diameter to the radius, 24 in. [seen]
    assert frustum_pattern(12, 9, slant=8).inner_radius == pytest.approx(24, rel=1e-12)


@pytest.mark.parametrize(("times", "degrees"), [(6, 60), (12, 30), (24, 15)])
def test_cones_that_cut_a_circle_without_waste(times: float, degrees: float) -> None:
    # Same book, "Rule for striking out a cone or frustum": a slant of 6 radii of the base gives 60 degrees, and a
    # circle is wholly cut into cones at 60, 30 and 15. [seen]
    cone = frustum_pattern(2, 0, slant=times)
    assert math.degrees(cone.sector_angle) == pytest.approx(degrees, rel=1e-12)


def test_stepping_a_cover_with_half_its_diameter() -> None:
    # Same book, "How to describe bevel covers": dividers set to half the diameter are stepped six times on the arc of
    # the pattern. [seen] The chord of a sixth is the radius: the cover comes out 4.5 % short at most.
    cover = frustum_pattern(10, 0, height=1)
    step = 10 * math.sin(math.pi / 6)
    assert step == pytest.approx(10 / 2)
    assert -0.046 < 6 / (2 * math.pi) - 1 <= stepped_arc_error(cover, 6) < 0


def test_sample_problem_of_a_drafting_book() -> None:
    # Longfield, Sheet Metal Drafting, 1921, p. 128 (Wikisource): bases 6 and 3 in, altitude 3 in: slant from legs of
    # 1 1/2 and 3 in. [seen] The rest follows.
    funnel = frustum_pattern(6, 3, height=3)
    assert funnel.slant == pytest.approx(math.hypot(1.5, 3), rel=1e-12)
    assert (funnel.outer_radius, funnel.inner_radius) == pytest.approx((6.70820, 3.35410), abs=5e-6)
    assert math.degrees(funnel.sector_angle) == pytest.approx(160.9969, abs=5e-5)
    assert funnel.area == pytest.approx(47.4175, abs=1e-4)


def test_cone_and_sector_of_a_drafting_book() -> None:
    # Same book, p. 82: cone of base 5 in and slant 12 in: circumference 15.7080; sector of arc 14, radius 7: 49. [seen]
    cone = frustum_pattern(5, 0, slant=12)
    assert cone.arc() == pytest.approx(15.7080, abs=5e-5)
    assert cone.area == pytest.approx(15.7080 * 6, abs=5e-4)
    assert math.degrees(cone.sector_angle) == pytest.approx(75, rel=1e-12)
    sector = frustum_pattern(14 / math.pi, 0, slant=7)
    assert (sector.arc(), sector.area) == pytest.approx((14, 49), rel=1e-12)


def test_flower_holder_of_a_drafting_book() -> None:
    # Same book, Problem 19 (chapter V): base of four inches, altitude seven. [seen] The pattern's radius is the slant.
    holder = frustum_pattern(4, 0, height=7)
    assert holder.outer_radius == holder.slant == pytest.approx(math.sqrt(53), rel=1e-12)
    assert math.degrees(holder.sector_angle) == pytest.approx(360 * 2 / math.sqrt(53), rel=1e-12)


def test_cone_with_a_square_point() -> None:
    # A public page on a blacksmith's mathematics (anvilfire.com): a 90 degree point takes 0.7071 × 360 = 254.6. [seen]
    assert round(math.degrees(frustum_pattern(2, 0, height=1).sector_angle), 1) == 254.6


def test_general_rule_and_chords() -> None:
    # mathforum.org, Dr. Math 65796: radii R s/(R − r) and r s/(R − r), angle 360 (R − r)/s; chord and height of the
    # arcs by the segment of a circle; the ends of the small chord stand s cos(θ/2) from those of the large one. [seen]
    large, small, slant = 72.0, 60.0, 40.0
    tank = frustum_pattern(2 * large, 2 * small, slant=slant)
    assert tank.outer_radius == pytest.approx(large * slant / (large - small), rel=1e-12)
    assert tank.inner_radius == pytest.approx(small * slant / (large - small), rel=1e-12)
    assert math.degrees(tank.sector_angle) == pytest.approx(360 * (large - small) / slant, rel=1e-12)
    for end, radius in (("large", tank.outer_radius), ("small", tank.inner_radius)):
        assert tank.chord(end) == pytest.approx(2 * radius * math.sin(tank.sector_angle / 2), rel=1e-12)
        assert tank.rise(end) == pytest.approx(radius * (1 - math.cos(tank.sector_angle / 2)), rel=1e-12)
    low, high = tank.at([tank.arc() / 2] * 2, [0, slant])
    assert high[1] - low[1] == pytest.approx(slant * math.cos(tank.sector_angle / 2))


# ---- Right cones and frustums: areas


@pytest.mark.parametrize(
    ("large", "small", "slant", "whole", "answer"),
    [
        # Davies, Practical Geometry and Mensuration (Google Books ud82AAAAMAAJ, p. 174), "the surface of the frustum
        # of a cone": the entire surface has both ends with it; half the last side is printed as 6,25. [seen]
        (6, 4, 16, True, 292.1688),
        (8, 4, 20, True, 439.824),
        (30 / math.pi, 10 / math.pi, 20, False, 400),
        (8.4 / math.pi, 6 / math.pi, 12.5, False, 90),
    ],
)
def test_surfaces_of_a_book_on_mensuration(
    large: float, small: float, slant: float, whole: bool, answer: float
) -> None:
    ends = math.pi / 4 * (large**2 + small**2) if whole else 0
    assert frustum_pattern(large, small, slant=slant).area + ends == pytest.approx(answer, rel=5e-6)


@pytest.mark.parametrize(
    ("large", "small", "height", "slant", "answer"),
    [
        # A Victorian school book (Google Books 4mlaAAAAcAAJ, p. 76), curve surfaces in feet, with 22/7 for π. [seen]
        (19 + 2 / 12, 0, 21.0, None, 695),
        (8.25, 5 + 4 / 12, None, 10.5, 224),
        (26 + 8 / 12, 15 + 4 / 12, 23.75, None, 1611),
    ],
)
def test_surfaces_of_a_school_book(
    large: float, small: float, height: float | None, slant: float | None, answer: float
) -> None:
    area = frustum_pattern(large, small, height, slant).area
    assert abs(area * 22 / 7 / math.pi - answer) <= 1.0  # whole feet were seen, their fractions not


# ---- Off-centre cones


def test_triangulation_with_eight_parts() -> None:
    # Longfield, Sheet Metal Drafting, 1921, p. 187: the base of a scalene cone is divided into eight parts; each
    # element is the long side of a right triangle on its length in plan and the altitude. [method seen, no numbers]
    cone = oblique_frustum_pattern(4, 0, height=5, offset=1, segments=8)
    for i in range(9):
        angle = 2 * math.pi * i / 8
        plan = math.hypot(2 * math.cos(angle) - 1, 2 * math.sin(angle))
        assert cone.true_lengths[i] == pytest.approx(math.hypot(plan, 5), rel=1e-12)
    # p. 204: in a frustum the first and last elements are true lengths in the side view.
    frustum = oblique_frustum_pattern(6, 3, height=4, offset=0.5, segments=8)
    assert frustum.true_lengths[[0, 4]] == pytest.approx([math.hypot(1, 4), math.hypot(2, 4)], rel=1e-12)


# ---- Seams and edges


def test_lock_seam_takes_three_widths_and_a_little() -> None:
    # A public workshop page (tallships.ca, lock seams): four layers in the joint, so three widths and a smidgen. [seen]
    for width in (4.0, 6.0, 10.0):
        little = GroovedSeam(width).allowance(thickness=0.5) - 3 * width
        assert 0 < little < 0.3 * width


def test_wired_edges_of_two_manuals() -> None:
    # U.S. Navy, Steelworker, vol. 2, edges: 2 1/2 diameters; 1/8 in wire, 5/16 in. [seen]
    assert wired_edge_allowance(1 / 8) == 5 / 16
    # Atkins, Practical Sheet and Plate Metal Work, allowance for wiring: 2 × 1/4 + 4 × 1/16 = 3/4 in. [seen]
    assert wired_edge_allowance(1 / 4, thickness=1 / 16) == 3 / 4
