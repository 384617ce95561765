"""Gauge tables, whole, against the rules they were made by and against a printed column of millimetres."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rollcalc.stock import InputError, gauge_thickness, nearest_gauge
from rollcalc.stock.lookup import UnknownNameError, data_text, table_rows

MM_PER_INCH = 25.4
RANGES = {"steel": (3, 28), "stainless": (3, 30), "galvanized": (8, 28), "aluminium": (3, 36)}
EVERY_GAUGE = [(metal, gauge) for metal, (low, high) in RANGES.items() for gauge in range(low, high + 1)]

# 15 U.S.C. 206 by its own rule (seen): 160 oz per square foot at 3 gauge, and then steps of so many ounces.
OUNCE_STEPS = ((14, 10), (16, 5), (20, 4), (26, 2), (31, 1))

# Machinery's Handbook, 31st ed., table 20, p. 1453, the mm column, gauges 10 to 28 (10 to 23 seen, the rest from
# memory; aluminium from 23 by the formula).
PRINTED_MM = {
    "steel": (3.416, 3.038, 2.657, 2.278, 1.897, 1.709, 1.519, 1.367, 1.214, 1.062,
              0.912, 0.836, 0.759, 0.683, 0.607, 0.531, 0.455, 0.417, 0.378),
    "stainless": (3.572, 3.175, 2.778, 2.381, 1.984, 1.785, 1.587, 1.429, 1.270, 1.111,
                  0.952, 0.873, 0.793, 0.715, 0.635, 0.556, 0.476, 0.437, 0.397),
    "aluminium": (2.588, 2.304, 2.052, 1.829, 1.628, 1.450, 1.290, 1.150, 1.024, 0.912,
                  0.813, 0.724, 0.643, 0.574, 0.511, 0.455, 0.404, 0.361, 0.320),
}


def statute_ounces(gauge: int) -> int:
    """Return ounces per square foot of the U.S. Standard Gauge."""
    ounces, at = 160, 3
    for last, step in OUNCE_STEPS:
        ounces -= step * (min(gauge, last) - at)
        at = min(gauge, last)
    return ounces


def inches(metal: str, gauge: int) -> float:
    return gauge_thickness(gauge, metal) / MM_PER_INCH


def test_the_ounce_rule_gives_the_statute_weights_that_were_seen():
    assert [statute_ounces(g) for g in (3, 4, 10, 14, 15, 16, 17, 20, 21, 22)] == [
        160,
        150,
        90,
        50,
        45,
        40,
        36,
        24,
        22,
        20,
    ]


@pytest.mark.parametrize("gauge", range(3, 29))
def test_steel_is_weight_over_41_82(gauge):
    # Manufacturers' Standard: 41.82 lb per square foot and inch (seen: 10 gauge = 5.625 lb = 0.1345 in).
    pounds = statute_ounces(gauge) / 16
    assert inches("steel", gauge) == pytest.approx(pounds / 41.82, abs=0.6e-4)  # four decimals printed


@pytest.mark.parametrize("gauge", range(3, 31))
def test_stainless_is_ounces_over_640(gauge):
    assert inches("stainless", gauge) == pytest.approx(statute_ounces(gauge) / 640, abs=1e-9)  # fractions, exact


@pytest.mark.parametrize("gauge", range(8, 29))
def test_galvanized_is_weight_with_zinc_over_41_82(gauge):
    # 2.5 oz of zinc per square foot: 1.156 lb at 24 gauge, Longfield, Sheet Metal Drafting, 1921, p. 102.
    pounds = (statute_ounces(gauge) + 2.5) / 16
    assert inches("galvanized", gauge) == pytest.approx(pounds / 41.82, abs=0.6e-4)


def test_galvanized_24_gauge_has_longfields_weight():
    assert (statute_ounces(24) + 2.5) / 16 == pytest.approx(1.156, abs=0.0005)


@pytest.mark.parametrize("gauge", range(3, 37))
def test_aluminium_is_the_wire_gauge_formula(gauge):
    # ASTM B258-02: 0.005 in × 92^((36 − n)/39), to 0.0001 in.
    assert inches("aluminium", gauge) == pytest.approx(0.005 * 92 ** ((36 - gauge) / 39), abs=0.51e-4)


@pytest.mark.parametrize("metal", PRINTED_MM)
def test_the_handbooks_mm_column_agrees(metal):
    ours = [inches(metal, gauge) for gauge in range(10, 29)]
    printed = [mm / MM_PER_INCH for mm in PRINTED_MM[metal]]
    assert ours == pytest.approx(printed, abs=1.01e-4)  # both columns are rounded


def test_the_print_slips_are_mended_and_said():
    assert inches("steel", 10) == pytest.approx(0.1345)
    assert inches("stainless", 21) == pytest.approx(0.034375)
    assert inches("stainless", 5) == pytest.approx(0.21875)
    sources = data_text("sheet_gauges.csv")
    assert all(slip in sources for slip in ("0.1395", "0.0244", "0.2118"))


def test_every_gauge_is_there_once_and_marked():
    rows = table_rows("sheet_gauges.csv")
    assert [(row["metal"], int(row["gauge"])) for row in rows] == EVERY_GAUGE
    assert {row["mark"] for row in rows} == {"seen", "corrected", "derived", "memory"}


@pytest.mark.parametrize("metal", RANGES)
def test_a_higher_gauge_is_thinner(metal):
    low, high = RANGES[metal]
    assert (np.diff([gauge_thickness(gauge, metal) for gauge in range(low, high + 1)]) < 0).all()


def test_metals_that_share_a_table_and_other_spellings():
    assert len({gauge_thickness(20, metal) for metal in ("aluminium", "aluminum", "brass", "copper", " Copper ")}) == 1
    assert gauge_thickness(20, "galvanised") == gauge_thickness(20, "galvanized steel")
    assert gauge_thickness(np.int64(20), "Stainless Steel") == gauge_thickness(20, "stainless")


@pytest.mark.parametrize(
    "gauge", [2, 29, -20, 0, 20.0, 20.5, True, "20", None, float("nan"), 10**30, [20], np.array([20])]
)
def test_a_gauge_that_is_none_gets_the_range(gauge):
    with pytest.raises(InputError, match=r"^gauge is .*must be a whole number from 3 to 28 for steel: measure .*\.$"):
        gauge_thickness(gauge, "steel")


@pytest.mark.parametrize("metal", ["zinc", "", None, 3, ["steel"], "stainles"])
@pytest.mark.parametrize("ask", [gauge_thickness, nearest_gauge])
def test_a_metal_without_a_table_gets_the_names(ask, metal):
    with pytest.raises(UnknownNameError, match=r"^there is no gauge table for .*'stainless'"):
        ask(20, metal)


@pytest.mark.parametrize(("metal", "gauge"), EVERY_GAUGE)
def test_nearest_gauge_finds_each_gauge_again(metal, gauge):
    thickness = gauge_thickness(gauge, metal)
    assert nearest_gauge(thickness, metal) == nearest_gauge(thickness * 1.004, metal) == (gauge, thickness)


@given(st.floats(0.4, 6), st.sampled_from(["steel", "stainless", "brass"]))
def test_nearest_gauge_is_nearest(thickness, metal):
    gauge, nominal = nearest_gauge(thickness, metal)
    low, high = RANGES.get(metal, RANGES["aluminium"])
    others = [gauge_thickness(other, metal) for other in range(low, high + 1)]
    assert nominal == gauge_thickness(gauge, metal)
    assert abs(nominal - thickness) == min(abs(other - thickness) for other in others)


@pytest.mark.parametrize(
    "thickness", [0, -1, 0.3, 7, 50, float("nan"), float("inf"), None, "0.8", True, np.array([0.8, 1.0])]
)
def test_nearest_gauge_names_none_outside_the_table(thickness):
    with pytest.raises(InputError, match=r"^thickness is .*mm.*: outside the table .*\.$"):
        nearest_gauge(thickness, "steel")
