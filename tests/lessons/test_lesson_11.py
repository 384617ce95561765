"""Lesson 11: its numbers in words, and the form that turns readings into a machine file."""

from __future__ import annotations

import math
import os
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import nbformat
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.drawing.machine.measure_view import ROLL_READINGS, measure_view
from rollcalc.lessons.lesson11 import derivations as told
from rollcalc.lessons.lesson11.fields import ACROSS, AROUND, FIELDS, GAUGE, KIND_WORDS, MARKS, NO_METAL, PINCH, PYRAMID
from rollcalc.lessons.lesson11.measure import WAITING, MeasureMachine, written
from rollcalc.lessons.lesson11.typed import errors_of, label_words, start_values, typed_machine
from rollcalc.rolling.machine.keys import MACHINE_KEYS
from rollcalc.rolling.reading_errors import USUAL_ERRORS
from tests.drawing.layout import clipped, overlaps
from tests.panels_anywhere import makers

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "11_measure_your_machine.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "\n".join(output.get("text") or output.get("data", {}).get("text/plain", "")
                    for cell in BOOK.cells for output in cell.get("outputs", []))
STEEL, BODY = rc.MATERIALS["low-carbon steel, cold rolled"], rc.Sheet(thickness=0.76, width=240)
MACHINE = rc.DEMO_MACHINE
ERRORS = rc.rolling.reading_errors(MACHINE, BODY, STEEL, 90.38)
GENTLE = rc.rolling.reading_errors(MACHINE, BODY, STEEL, 200)
HARD = rc.rolling.reading_errors(replace(MACHINE, pinch_force=6000), BODY, STEEL, 90.38)
PYRAMID_MACHINE = rc.PyramidMachine(name="plate rolls", top_roll_diameter=200, bottom_roll_diameter=170,
                                    bottom_roll_spacing=240, screw_pitch=6, working_width=1500, gear_ratio=12)
READINGS = {"kind": PINCH, "name": "ours", "rolls_by": AROUND, "upper_roll_diameter": "205,1",
            "lower_roll_diameter": "8 1/8 in", "bending_roll_diameter": "204", "guide_distance": "3 1/16 in",
            "angle_by": MARKS, "marks_back": "9", "marks_up": "31", "counted_turns": "12", "moved_by": "19.1",
            "working_width": "24 in", "crank_radius": "250", "crank_turns": "30", "rated_thickness": "22 ga steel",
            "rated_material": STEEL.name, "groove_diameters": "1/4 in; 8", "pinch_force": "3 kN"}
"""A machine as one types it, everything measured."""
MEASURED = rc.PinchMachine(
    name="ours", upper_roll_diameter=205.1 / math.pi, lower_roll_diameter=8.125 * 25.4 / math.pi,
    bending_roll_diameter=204 / math.pi, guide_distance=3.0625 * 25.4,
    guide_angle_degrees=90 + math.degrees(math.atan(9 / 31)), screw_pitch=19.1 / 12, working_width=609.6,
    crank_radius=250, gear_ratio=3, rated_thickness=rc.gauge_thickness(22, "steel"), rated_material=STEEL.name,
    groove_diameters=(6.35, 8), pinch_force=3000)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of the notebook."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def typed(**values: str) -> dict[str, str]:
    """Return a form with some fields filled in."""
    return {**start_values(None), **values}


def press(form: MeasureMachine, message: Any = None) -> tuple[dict[str, Any], list[bytes] | None]:
    """Press the button as the browser would, and return what comes back."""
    sent: list[Any] = []
    form.send = lambda content, buffers=None: sent.append((content, buffers))
    form._handle_custom_msg({"place": "disk"} if message is None else message, [])
    (answer,) = sent
    assert form.said == answer[0]["sentence"]
    assert answer[0]["sentence"].endswith(".")
    return answer


def alike(one: rc.Machine, other: rc.Machine) -> bool:
    """Whether two machines are the same but for rounding."""
    if type(one) is not type(other):
        return False
    rounded = {name for name, value in vars(one).items() if isinstance(value, float) or name.startswith("groove_")}
    return all(value == (pytest.approx(vars(other)[name], rel=1e-12) if name in rounded else vars(other)[name])
               for name, value in vars(one).items())


# From what is typed to a file -----------------------------------------------------------------------------------------


def test_what_is_typed_is_the_machine_in_the_file(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("ROLLCALC_MACHINE")
    form = MeasureMachine()
    form.set(**READINGS)
    assert alike(form.machine, MEASURED)
    assert form.sentence == ("The lessons can work with this machine. Every number that a radius hangs on is measured.")
    answer, content = press(form)
    assert (answer["problem"], content) == (False, None)
    assert answer["sentence"].startswith(f"Written: {folder / 'machine.toml'}. Run a lesson's panels again")
    assert rc.load_machine() == rc.load_machine(folder / "machine.toml") == form.machine
    again = MeasureMachine()  # the form starts with the machine that was written
    assert alike(again.machine, form.machine)
    assert press(again)[0]["sentence"].endswith("says all this already.")
    assert os.listdir(folder) == ["machine.toml"]


def test_a_field_that_is_left_empty_is_marked_in_form_file_and_answers(folder: Path) -> None:
    form = MeasureMachine()
    form.set(upper_roll_diameter="65", guide_distance="78", name="half", crank_radius="250")
    machine = form.machine
    assert machine.not_measured == ("lower_roll_diameter", "bending_roll_diameter", "guide_angle_degrees",
                                    "screw_pitch", "working_width", "gear_ratio", "pinch_force")
    assert machine.bending_roll_diameter == machine.lower_roll_diameter == 65  # rolls are mostly alike
    assert form.notes["lower_roll_diameter"] == "Empty: 65.00 mm is taken, and marked as assumed."
    assert form.notes["moved_by"] == "Empty: screw pitch 1.50 mm is taken, and marked as assumed."
    assert form.notes["rated_thickness"].startswith("Empty: left out")
    assert form.sentence.endswith(machine.assumed_note)
    press(form)
    table = tomllib.loads((folder / "machine.toml").read_text("utf-8"))
    assert tuple(table["not_measured"]) == machine.not_measured
    assert "rated_thickness" not in table
    loaded = rc.load_machine(folder / "machine.toml")
    assert loaded == machine
    for answer in (rc.setting_for_radius(loaded, BODY, STEEL, 150), rc.pass_schedule(loaded, BODY, STEEL, 150)):
        assert "half, a pinch of 2500 N, partly assumed" in answer.caption
    assert machine.assumed_note.strip() in rc.check_capacity(loaded, BODY, STEEL, 150)._repr_html_()
    form.set(lower_roll_diameter="65")  # measured later, though it is the same
    assert "lower_roll_diameter" not in form.machine.not_measured


def test_an_empty_form_is_the_course_s_proportions_and_says_that_nothing_is_measured() -> None:
    for kind in KIND_WORDS:
        found = typed_machine(typed(kind=kind))
        assert set(USUAL_ERRORS) & vars(found.machine).keys() <= set(found.machine.not_measured)
    pinch = typed_machine(typed()).machine
    assert all(getattr(pinch, name) == getattr(MACHINE, name) for name in USUAL_ERRORS.keys() & vars(pinch).keys())


@pytest.mark.parametrize("own", [MACHINE, PYRAMID_MACHINE, replace(MACHINE, pinch_force=None, nip_slack=0.03),
                                 replace(MEASURED, not_measured=("guide_angle_degrees", "journal_diameter"),
                                         journal_diameter=30, groove_positions=(200, 220), bearing_span=700)],
                         ids=["demo", "pyramid", "slack", "half measured"])
def test_a_machine_of_ones_own_comes_through_the_form_unchanged(own: rc.Machine) -> None:
    assert alike(typed_machine(start_values(own), own=own).machine, own)


def test_other_grooves_do_not_keep_the_old_ones_depths() -> None:
    values = {**start_values(MACHINE), "groove_diameters": "5; 6"}
    assert typed_machine(values, own=MACHINE).machine.groove_depths == ()


@settings(max_examples=40)
@given(st.floats(20, 200), st.floats(1.05, 3), st.floats(70, 130), st.floats(0.5, 8), st.sampled_from(["mm", "inch"]),
       st.booleans())
def test_any_readings_come_back(roll: float, apart: float, angle: float, pitch: float, units: str,
                                around: bool) -> None:
    scale = 25.4 if units == "inch" else 1.0
    size = f"{roll * (math.pi if around else 1) / scale:.12f}"
    found = typed_machine(typed(
        rolls_by=AROUND if around else ACROSS, upper_roll_diameter=size, lower_roll_diameter=size,
        bending_roll_diameter=size, guide_distance=f"{apart * roll / scale:.12f}", guide_angle_degrees=f"{angle:.12f}",
        counted_turns="10", moved_by=f"{10 * pitch / scale:.12f}"), units)
    if found.machine is None:
        assert found.problem.startswith("Guide distance is ")  # the rolls meet, or cannot rise
    else:
        read = found.machine
        assert [read.upper_roll_diameter, read.guide_distance, read.guide_angle_degrees, read.screw_pitch] == (
            pytest.approx([roll, apart * roll, angle, pitch], rel=1e-9))


# What cannot be -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("values", "field", "complaint"), [
    ({"guide_distance": "oil"}, "guide_distance", "Guide distance: length is 'oil mm', but must be"),
    ({"guide_distance": "1,250"}, "guide_distance", "Guide distance: 1,250 may mean 1250 or 1.25"),
    ({"upper_roll_diameter": "0"}, "upper_roll_diameter", "Upper roll: it is 0 mm, but must be above 0 mm"),
    ({"pinch_force": "hard"}, "pinch_force", "Pinch force: force is 'hard'"),
    ({"counted_turns": "10"}, "moved_by", "The roll has moved by: this is empty, but “Turns of a screw"),
    ({"angle_by": MARKS, "marks_up": "30"}, "marks_back", "Back, towards the front rolls: this is empty"),
    ({"guide_distance": "5"}, "", "Guide distance is 5 mm, but must be larger"),
    ({"guide_angle_degrees": "200"}, "", "Guide angle is 200 deg, but must be at least 1 deg and at most 179 deg"),
    ({"kind": PYRAMID, "bottom_roll_spacing": "100"}, "", "Bottom roll spacing is 100 mm, but must be above"),
    ({"groove_diameters": "5, 6"}, "groove_diameters", "Bars the grooves are for: length is"),
])
def test_a_reading_that_cannot_be_gets_the_library_s_sentence_and_no_file(
        values: dict[str, str], field: str, complaint: str, folder: Path) -> None:
    form = MeasureMachine()
    form.set(**values)
    said = form.problems[field] if field else form.sentence
    assert said.replace(" mm'", "'").startswith(complaint.replace(" mm'", "'"))
    assert said.endswith(".")
    assert len(said) < 400
    assert form.problem
    assert form.svg  # one must still see what to measure
    assert form.errors == ""
    answer, _ = press(form)
    assert answer["problem"]
    assert answer["sentence"] == f"Nothing is written. {form.sentence}"
    assert os.listdir(folder) == []
    form.set(**start_values(None))
    assert (form.problem, form.problems) == (False, {})


JUNK = st.none() | st.booleans() | st.integers() | st.text(max_size=6) | st.lists(st.integers(), max_size=2)
WORDS = st.sampled_from(["", "0", "-1", "1e9", "65,3", "2 1/2", "nan", "1/0", "½", "3 kN", "a" * 90, "<b>", "−5"])


@settings(max_examples=30)
@given(st.dictionaries(st.sampled_from([field.name for field in FIELDS]), WORDS | JUNK
                       | st.sampled_from([option for field in FIELDS for option in field.options])),
       st.sampled_from(["mm", "inch", "ell"]), st.sampled_from(["", "nothing", *(field.name for field in FIELDS)]))
def test_whatever_is_typed_there_is_a_machine_or_a_sentence(values: Any, units: str, focus: str) -> None:
    form = MeasureMachine()
    form.set(**values, units=units, focus=focus)
    assert form.sentence.endswith(".")
    assert (form.machine is None) == form.problem
    assert "Something went wrong" not in form.sentence
    assert press(form, {"place": "browser"})[0]["problem"] == form.problem


@settings(max_examples=10)
@given(JUNK)
def test_whatever_the_browser_sends_there_is_a_sentence(message: Any) -> None:
    form = MeasureMachine()
    form.set(guide_distance="oil")
    assert press(form, message)[0]["problem"]


# The file -------------------------------------------------------------------------------------------------------------


def test_nothing_is_written_before_the_button_and_an_old_file_is_kept(folder: Path) -> None:
    form = MeasureMachine()
    form.set(**READINGS)
    data, _ = form._repr_mimebundle_()
    assert data["text/plain"] == MeasureMachine().sentence
    assert "Nothing is written before" in data["text/html"]
    assert (form.said, os.listdir(folder)) == (WAITING, [])
    for number, old in enumerate((b"# mine, half written", b"\xff\xfe no text"), start=1):
        (folder / "machine.toml").write_bytes(old)
        said = press(form)[0]["sentence"]
        assert f"The file that was there is kept as machine (before {number}).toml." in said
        assert "Panels do not read it yet, as ROLLCALC_MACHINE is demo." in said
        assert (folder / f"machine (before {number}).toml").read_bytes() == old
        assert alike(rc.load_machine(folder / "machine.toml"), MEASURED)


def test_a_place_that_takes_no_file_is_told_and_the_old_file_stays(folder: Path) -> None:
    (folder / "machine.toml").mkdir()
    assert "is there and cannot be read" in press(MeasureMachine())[0]["sentence"]
    with pytest.raises(rc.InputError, match="there is no folder"):
        written(MACHINE, folder / "none" / "machine.toml")


def test_where_there_is_no_disk_the_browser_gets_the_file(folder: Path) -> None:
    form = MeasureMachine()
    form.set(**READINGS)
    answer, content = press(form, {"place": "browser"})
    assert not answer["problem"]
    (folder / "got.toml").write_bytes(content[0])
    assert alike(rc.load_machine(folder / "got.toml"), MEASURED)


def test_a_file_that_cannot_be_read_leaves_an_empty_form_that_says_so(folder: Path,
                                                                      monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "machine.toml").write_text('kind = "pinch"\nscrew_pitch = "oil"\n', "utf-8")
    monkeypatch.delenv("ROLLCALC_MACHINE")
    form = MeasureMachine()
    assert "machine.toml" in form.said
    assert form.said.endswith(f"The form starts empty. {WAITING}")
    assert not form.problem


# The drawing and the errors -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("machine", [MACHINE, PYRAMID_MACHINE, MEASURED, replace(MACHINE, guide_angle_degrees=80)],
                         ids=["bench roll", "pyramid", "measured", "leans away"])
def test_every_field_with_a_number_draws_its_own_dimension(machine: rc.Machine) -> None:
    kind, plain = ("pinch" if isinstance(machine, rc.PinchMachine) else "pyramid"), measure_view(machine)
    for field in FIELDS:
        if field.options or field.name == "name" or field.kind not in ("", kind):
            continue
        for around in (False, True) if field.name in ROLL_READINGS else (False,):
            words = label_words(field, machine, "65.3", "mm")
            picture = measure_view(machine, field.name, words, around=around)
            assert overlaps(picture) == clipped(picture) == [], field.name
            drawn = [mark for mark in picture.marks if getattr(mark, "words", "") == words]
            assert len(drawn) == 1, field.name
            heavy = [mark for mark in picture.marks if mark.role == "outline" and not hasattr(mark, "words")]
            assert len(heavy) > len([mark for mark in plain.marks if mark.role == "outline" and not hasattr(
                mark, "words")]), field.name


def test_the_form_draws_the_field_in_hand_with_what_was_typed() -> None:
    form = MeasureMachine()
    before = form.svg
    form.set(focus="guide_distance", guide_distance="65,3")
    assert "guide distance: 65,3 mm" in form.svg != before
    form.set(focus="lower_roll_diameter")
    assert "lower roll: 50.00 mm, assumed" in form.svg
    form.set(focus="working_width", units="inch")
    assert "seen from the front" in form.svg


@pytest.mark.parametrize("machine", [MACHINE, PYRAMID_MACHINE, MEASURED], ids=["bench roll", "pyramid", "measured"])
def test_the_table_of_errors_is_finite_differences_of_the_solver(machine: rc.Machine) -> None:
    found = errors_of(machine)
    assert {error.reading for error in found.errors} == (
        USUAL_ERRORS.keys() & vars(machine).keys() | ({"pinch_force"} if machine.pinch_force else set()))
    meant = rc.setting_for_radius(machine, found.stock, found.material, found.released_radius)
    for error in found.errors:
        true = replace(machine, **{error.reading: getattr(machine, error.reading) + error.error})
        comes = rc.setting_for_travel(true, found.stock, found.material, meant.turns * true.screw_pitch)
        assert error.released_radius == comes.released_radius
        assert error.change == pytest.approx(comes.released_radius / found.released_radius - 1, abs=1e-12)
        assert error.reading not in ROLL_READINGS or abs(error.change) < 0.01
    assert [error.value + error.error for error in found.errors if error.reading == "pinch_force"] in ([], [1000, 6000])


def test_the_form_shows_that_table_in_its_units() -> None:
    form = MeasureMachine()
    assert "".join(f">{cell}<" for cell in errors_of(form.machine).shown().rows[3][4:5]) in form.errors
    form.set(units="inch")
    assert " in<" in form.errors


def test_every_key_the_form_asks_is_one_of_the_file() -> None:
    worked_out = {"kind", "rolls_by", "angle_by", "marks_back", "marks_up", "counted_turns", "moved_by", "crank_turns"}
    assert {field.name for field in FIELDS} - worked_out <= MACHINE_KEYS.keys()
    assert all(field.how for field in FIELDS if not field.options)
    assert (start_values(None)["angle_by"], start_values(None)["rated_material"]) == (GAUGE, NO_METAL)


@pytest.mark.parametrize("make", makers(), ids=lambda make: make.__name__)
def test_every_panel_that_speaks_of_a_machine_names_it_and_what_of_it_is_assumed(make: Any, own_machine: Any) -> None:
    own_machine(replace(MACHINE, name="our roller", not_measured=("guide_angle_degrees",)))
    speaks = make.__name__ not in {"springback", "release", "layers", "push", "blank", "cone", "rolling_up", "feeding",
                                    "reading"}
    sentence = make().sentence
    assert ("our roller" in sentence) == speaks
    assert ("Assumed, not measured: guide angle 110 deg." in sentence) == speaks


# The lesson -----------------------------------------------------------------------------------------------------------


def change(errors: rc.rolling.ReadingErrors, reading: str) -> str:
    """Return a change in percent as the lesson writes it."""
    return errors[reading].in_percent.replace("-", "−")


CIRCLE = (rc.circle_radius(replace(MACHINE, guide_distance=61), BODY, ERRORS.turns * 1.5)
          / rc.circle_radius(MACHINE, BODY, ERRORS.turns * 1.5) - 1)
LIGHT, TIGHT = (error.released_radius for error in ERRORS.errors if error.reading == "pinch_force")
TOUCH = [abs(rc.radius_for_travel(MACHINE, BODY, STEEL, (ERRORS.turns + half) * 1.5) / 90.38 - 1)
         for half in (0.5, -0.5)]
TIGHTER = rc.radius_for_travel(replace(MACHINE, guide_distance=59), BODY, STEEL, ERRORS.turns * 1.5)
SAID = [
    (f"The ring comes out at R {ERRORS['guide_distance'].released_radius:.1f}", "workshop"),
    (f"one millimetre is {100 / 60:.1f} % of it", "guess"),
    (f"after 157.1 mm: divided by π, {157.1 / math.pi:.1f} mm", "tape"),
    (f"tangent is 12/33, and that is {math.degrees(math.atan(12 / 33)):.1f}°", "marks"),
    (f"twice {100 / 60:.1f} %, which is {100 * ((61 / 60) ** 2 - 1):.1f} %. The circle through the rolls grows by "
     f"{100 * CIRCLE:.1f} %", "circle"),
    (f"comes out at R {ERRORS['guide_distance'].released_radius:.1f}, and that is "
     f"{100 * ERRORS['guide_distance'].change:.1f} % more", "ring"),
    (f"needs a sharp line: {ERRORS['guide_distance'].for_one_percent:.1f} mm", "closely"),
    (f"in place of 2500 makes R {LIGHT:.1f}, and 6000 N makes R {TIGHT:.1f}", "pinch"),
    (f"guide distance first, {change(ERRORS, 'guide_distance')} for 1 mm. Then the screw pitch, "
     f"{change(ERRORS, 'screw_pitch')} for 0.02 mm", "panel, 1"),
    (f"The guide distance, to {change(GENTLE, 'guide_distance')}, and the pinch", "panel, 2"),
    (f"the guide distance to {change(HARD, 'guide_distance')}", "panel, 3"),
    (f"Half a turn of doubt there is {100 * TOUCH[0]:.0f} to {100 * TOUCH[1]:.0f} % of the radius", "touch"),
    (f"{0.2 / 12:.3f} mm for one", "solution 11.1"),
    (f"9/31 = {9 / 31:.3f}, which is {math.degrees(math.atan(9 / 31)):.1f}°", "solution 11.2"),
    (f"{ERRORS.turns:.3f} * 1.5)` gives **{TIGHTER:.1f} mm**, {100 * (1 - TIGHTER / 90.38):.1f} % too tight",
     "solution 11.3"),
    (f"{100 / 60:.1f} %, is {100 * ERRORS['guide_distance'].change:.1f} % of the radius", "last section"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words: str, where: str) -> None:
    assert words in PROSE, where


def test_what_the_lesson_leaves_to_the_eye_holds() -> None:
    assert max(TOUCH) > max(abs(error.change) for error in ERRORS.errors if error.reading != "pinch_force")
    assert 2.7 < 1 + GENTLE["pinch_force"].change < 3
    assert abs(GENTLE["guide_angle_degrees"].change) < abs(ERRORS["guide_angle_degrees"].change)
    assert repr(ERRORS) in PRINTED
    assert ERRORS["pinch_force"].released_radius == pytest.approx(LIGHT)
    with pytest.raises(rc.InputError, match="there is no reading 'touch'"):
        ERRORS["touch"]


@pytest.mark.parametrize("turns", [4.0, 9.0])
def test_the_derived_slopes_are_the_library_s(turns: float) -> None:
    upright, step = replace(MACHINE, guide_angle_degrees=90), 1e-6

    def circle(machine: rc.PinchMachine) -> float:
        return math.log(rc.circle_radius(machine, BODY, turns * machine.screw_pitch))

    given_values = {told.circle: rc.circle_radius(upright, BODY, turns * 1.5), told.roll: 25.38, told.turns: turns,
                    told.pitch: 1.5}
    for name, line in (("guide_distance", 3), ("screw_pitch", 4)):
        more, less = (circle(replace(upright, **{name: getattr(upright, name) * (1 + way)})) for way in (step, -step))
        slope = told.what_a_reading_does().steps[line].equation.rhs.subs(given_values)
        assert (more - less) / 2 / step == pytest.approx(float(slope), rel=1e-6)
