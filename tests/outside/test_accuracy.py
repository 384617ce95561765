"""The accuracy page is what the library computes today, and it keeps what it promises in words."""

import re
from dataclasses import replace

import pytest

import rollcalc as rc
from tests.outside import accuracy


@pytest.fixture(scope="module")
def kept() -> str:
    return accuracy.PAGE.read_text("utf-8")


def test_the_page_is_current(kept):
    assert accuracy.page() == kept, "write it again: python -m tests.outside.accuracy"


def test_its_bounds_are_the_ones_promised(kept):
    bounds = re.findall(r"below 1e(-?\d+) \|", kept)
    assert len(bounds) == len(accuracy.settings())
    assert all(int(bound) <= -7 for bound in bounds)
    rule = dict(re.findall(r"\| up to (\d\.\d) rad [^|]*\| (\d+\.\d) % \|", kept))
    assert all(float(error) <= 1.0 for angle, error in rule.items() if float(angle) <= 0.9)
    assert {"0.2", "0.9"} <= set(rule)


def test_the_marched_strip_keeps_to_the_steady_one(kept):
    errors = re.findall(r"\| (\d\.\d\d) % \| (\d\.\d\d) % \|", kept)
    assert len(errors) == sum(len(cases) for _, cases, _ in accuracy.marches())
    assert max(float(fine) for _, fine in errors) <= 0.25
    assert max(abs(float(coarse) - float(fine)) for coarse, fine in errors) <= 0.1


def test_a_share_is_rounded_up():
    assert accuracy.percent(0.00301) == "0.4 %"
    assert accuracy.percent(-0.003) == "0.3 %"
    assert accuracy.decade(3e-9) == "below 1e-8"
    assert accuracy.decade(0.0) == accuracy.decade(1e-15) == "below 1e-9"


@pytest.mark.parametrize("name", ["perfect nip, R 90", "nip 0.02 mm wider than the sheet, R 300"])
def test_the_check_is_not_blind(name):
    """The solver is told other places of the rolls than the library solved for, and must find another radius."""
    setting = accuracy.settings()[name]
    moved = replace(setting, travel=setting.travel + 0.1)  # everything else, the first guess too, is as before
    found = accuracy.by_collocation(moved)
    assert abs(found / setting.released_radius - 1) > 5e-3
    wanted = rc.radius_for_travel(setting.machine, setting.stock, setting.material, moved.travel)
    assert found == pytest.approx(wanted, rel=1e-8)
