"""Every panel of every lesson, moved to all its corners and through its middle."""

import itertools
import math
from dataclasses import replace

import pytest

import rollcalc as rc
from rollcalc.drawing import svg_text
from rollcalc.lessons.engine.panel import Control, corners
from rollcalc.lessons.lesson04 import panels
from tests.docstrings import UNITS
from tests.panels_anywhere import makers, run
from tests.drawing.layout import clipped, overlaps

ALL = makers()


@pytest.fixture(params=ALL, ids=lambda make: make.__name__)
def panel(request):
    return request.param()


def test_every_panel_starts_with_a_picture(panel):
    assert panel.svg
    assert not panel.problem


def test_every_corner_draws_a_picture_that_can_be_read(panel):
    for corner in corners(panel):
        panel.set(**corner)
        assert panel.svg, (corner, panel.sentence)
        assert "nan" not in panel.sentence
        assert "inf" not in panel.sentence
        picture = panel._drawn(panel.values, panel.units, panel.has_units)
        assert overlaps(picture) == [], corner
        assert clipped(picture) == [], corner


def test_every_slider_can_be_dragged_end_to_end(panel):
    for control in panel._controls:
        if not isinstance(control, Control):
            continue
        for share in range(33):
            steps = round((control.high - control.low) / control.step)
            value = control.low + control.step * round(steps * share / 32)
            picture = panel._drawn({**panel.start, control.name: value}, "mm", panel.has_units)
            assert overlaps(picture) == clipped(picture) == [], (control.name, value)
            assert svg_text(picture)


OWN = {
    "narrow": replace(rc.DEMO_MACHINE, name="mine", working_width=300, bearing_span=340, groove_positions=()),
    "bare": replace(rc.DEMO_MACHINE, name="mine", crank_radius=None, rated_thickness=None, rated_material=None,
                    groove_diameters=(), groove_depths=(), groove_positions=()),
    "large": replace(rc.DEMO_MACHINE, name="mine", upper_roll_diameter=160, lower_roll_diameter=160,
                     bending_roll_diameter=160, guide_distance=190, rated_thickness=4, groove_diameters=(),
                     groove_depths=(), groove_positions=()),
    "loose": replace(rc.DEMO_MACHINE, name="mine", pinch_force=50),
    "short screws": replace(rc.DEMO_MACHINE, name="mine", max_travel=5),
    "pyramid": rc.PyramidMachine(name="mine", top_roll_diameter=80, bottom_roll_diameter=70, bottom_roll_spacing=110,
                                 screw_pitch=2, working_width=600, crank_radius=250),
}


@pytest.mark.parametrize("name", OWN)
@pytest.mark.parametrize("make", ALL, ids=lambda make: make.__name__)
def test_a_machine_of_ones_own_gets_a_picture_or_a_sentence(make, name, tmp_path, monkeypatch):
    path = tmp_path / "machine.toml"
    rc.write_machine(OWN[name], path)
    monkeypatch.setenv("ROLLCALC_MACHINE", str(path))
    panel = make()
    assert bool(panel.svg) != panel.problem
    for corner in itertools.islice(corners(panel), 0, None, 5):
        panel.set(**corner)
        assert panel.sentence.endswith(".")
        assert bool(panel.svg) != panel.problem
        assert "nan" not in panel.sentence


@pytest.mark.parametrize("make", ALL, ids=lambda make: make.__name__)
def test_a_machine_file_that_is_refused_leaves_a_panel_that_says_so_and_works_once_it_is_mended(make, tmp_path,
                                                                                                monkeypatch):
    path = tmp_path / "machine.toml"
    path.write_text('kind = "pinch"\nscrew_pitch = "oil"\n', "utf-8")
    monkeypatch.setenv("ROLLCALC_MACHINE", str(path))
    panel = make()
    asks = panel.problem
    assert bool(panel.svg) != asks
    assert not asks or "machine.toml" in panel.sentence
    path.unlink()
    rc.write_machine(rc.DEMO_MACHINE, path)
    panel.asked, panel._shown = 1, None
    panel._redraw(None)
    assert panel.svg, panel.sentence


def test_a_control_s_unit_is_one_of_ours(panel):
    for control in panel._controls:
        if isinstance(control, Control):
            assert (control.unit or "-") in UNITS


def test_the_slider_s_step_is_the_step_the_picture_uses(panel):
    sentences = {}
    for control in panel._controls:
        if isinstance(control, Control):
            moved = {**panel.start, control.name: control.start + control.step}
            sentences[control.name] = panel._drawn(moved, "mm", panel.has_units).sentence
    assert panel._still.sentence not in sentences.values()
    assert len(set(sentences.values())) == len(sentences)


def test_springback_says_what_the_library_computes():
    panel = panels.springback()
    panel.set(metal="stainless 304, annealed", thickness=1.0, yield_place=50, loaded_radius=40)
    metal = panels.metal_with_yield_at("stainless 304, annealed", 50)
    radius = rc.released_radius(rc.Sheet(thickness=1.0, width=300), metal, 40)
    assert f"opens to {radius:.1f} mm" in panel.sentence
    panel.set(units="inch")
    assert f"opens to {radius / 25.4:.2f} in" in panel.sentence


def test_a_sheet_that_never_yields_is_told_flat():
    panel = panels.springback()
    panel.set(thickness=0.4, loaded_radius=300)
    assert "springs back flat" in panel.sentence


def test_yield_places_span_the_range():
    ends = [panels.metal_with_yield_at("copper, half hard", place).first_yield for place in (0, 100)]
    assert ends == list(panels.MATERIALS["copper, half hard"].yield_range)
    assert math.isclose(panels.metal_with_yield_at("stainless 304, power law", 0).first_yield, 205)


def test_panels_show_a_picture_or_a_sentence_on_any_machine():
    assert run(count=15, seed=7, settings=2) == {}
