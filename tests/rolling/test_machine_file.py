"""Machine files: what is read, what is found, and what is said about a file that is wrong."""

from __future__ import annotations

import math
import os
import re
import subprocess
import sys
from dataclasses import MISSING, fields, replace
from pathlib import Path

import pytest

from rollcalc.drawing.machine.machine_view import machine_note
from rollcalc.rolling import setting_for_travel
from rollcalc.rolling.machine.file import KINDS, load_machine, machine_from_table, machine_path, machine_source
from rollcalc.rolling.machine.keys import MACHINE_KEYS, read_value, toml_value
from rollcalc.rolling.machine.kinds import DEMO_MACHINE, USUAL_PINCH
from rollcalc.rolling.machine.writer import demo_machine_text
from rollcalc.stock import MATERIALS, Sheet
from rollcalc.stock.quantities import InputError

PINCH = {
    "kind": "pinch", "units": "mm", "name": "ours", "upper_roll_diameter": 50, "lower_roll_diameter": 50,
    "bending_roll_diameter": 50, "guide_distance": 60, "guide_angle_degrees": 110, "screw_pitch": 1.5,
    "working_width": 760, "nip_slack": 0.02, "nip_opening": 3, "max_travel": 35, "rated_thickness": 0.76,
    "rated_material": "steel", "groove_diameters": [5, 6, 8], "groove_depths": [2.5, 3, 4],
    "groove_positions": [345, 357, 370], "grooved_rolls": "lower, bending", "crank_radius": 250, "gear_ratio": 1,
    "bearing_span": 820,
    "journal_diameter": 24, "roll_modulus": 205000, "bearing_friction": 0.1, "grip_friction": 0.1, "crank_limit": 100,
}
PYRAMID = {
    "kind": "pyramid", "units": "mm", "name": "ours", "peak": "beam", "top_roll_diameter": 200,
    "bottom_roll_diameter": 170, "bottom_roll_spacing": 240,
    "screw_pitch": 6, "working_width": 1500, "max_travel": 35, "rated_thickness": 6,
    "rated_material": "steel", "crank_radius": 300, "gear_ratio": 12, "bearing_span": 1600,
    "journal_diameter": 60, "roll_modulus": 205000, "bearing_friction": 0.1, "grip_friction": 0.1, "crank_limit": 100,
}
TABLES = {"pinch": PINCH, "pyramid": PYRAMID}
LISTS = {name for name, key in MACHINE_KEYS.items() if key.kind_of_value == "lengths"}


@pytest.fixture(autouse=True)
def without_the_class_s_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    """Look for files as a learner's own computer does; the other tests ask for the demo machine, see conftest.py."""
    monkeypatch.delenv("ROLLCALC_MACHINE")


def text_of(table: dict[str, object]) -> str:
    """Return a table as a file without notes."""
    return "".join(f"{key} = {toml_value(value)}\n" for key, value in table.items())


def written(folder: Path, table: dict[str, object]) -> Path:
    """Return a machine file in a folder."""
    file = folder / "machine.toml"
    file.write_text(text_of(table), encoding="utf-8")
    return file


def sentence(file: object) -> str:
    """Return the one sentence that loading a file raises."""
    with pytest.raises(InputError) as caught:
        load_machine(file)  # type: ignore[arg-type]
    said = str(caught.value)
    assert said.endswith((".", "?"))
    assert "\n" not in said
    return said


@pytest.mark.parametrize("kind", TABLES)
def test_every_key_of_the_file_is_an_argument_of_the_machine_and_back(kind: str, tmp_path: Path) -> None:
    arguments = {field.name for field in fields(KINDS[kind])}
    assert arguments <= MACHINE_KEYS.keys()
    assert {key for key in TABLES[kind] if key not in ("kind", "units")} | {
        "pinch_force",
        "roll_stress_limit",
        "not_measured",
    } >= arguments
    machine = load_machine(written(tmp_path, TABLES[kind]))
    assert type(machine) is KINDS[kind]
    for name in arguments & TABLES[kind].keys():
        expected = TABLES[kind][name]
        assert getattr(machine, name) == (tuple(expected) if isinstance(expected, list) else expected)


def test_no_key_belongs_to_no_machine() -> None:
    assert MACHINE_KEYS.keys() == {field.name for kind in KINDS.values() for field in fields(kind)}
    assert all(key.how.endswith(".") and key.name == name for name, key in MACHINE_KEYS.items())


@pytest.mark.parametrize("kind", TABLES)
def test_an_inch_file_is_the_mm_file(kind: str, tmp_path: Path) -> None:
    metric = machine_from_table(TABLES[kind])
    inches = dict(TABLES[kind], units="inch")
    for key, value in TABLES[kind].items():
        if MACHINE_KEYS.get(key) and MACHINE_KEYS[key].kind_of_value == "length":
            inches[key] = value / 25.4
        elif key in LISTS:
            inches[key] = [one / 25.4 for one in value]
    imperial = load_machine(written(tmp_path, inches))
    for field in fields(metric):
        one, other = getattr(metric, field.name), getattr(imperial, field.name)
        assert one == (other if isinstance(other, str | None) else pytest.approx(other, rel=1e-9, abs=0)), field.name


@pytest.mark.parametrize(
    ("key", "value", "meaning"),
    [
        ("upper_roll_diameter", "1 3/16 in", 30.1625), ("upper_roll_diameter", "5 cm", 50.0),
        ("screw_pitch", "1/20 in", 1.27), ("rated_thickness", "22 ga steel", pytest.approx(0.76, abs=0.01)),
        ("guide_angle_degrees", f"{math.pi / 2} rad", pytest.approx(90)), ("pinch_force", "3 kN", 3000.0),
        ("groove_diameters", ["1/4 in", 6], (6.35, 6.0)), ("gear_ratio", "1,5", 1.5),
    ],
)
def test_text_may_have_its_own_unit(key: str, value: object, meaning: object) -> None:
    table = {name: PINCH[name] for name in PINCH if not (key == "pinch_force" and name == "nip_slack")}
    assert getattr(machine_from_table({**table, key: value}), key) == meaning


def test_in_an_inch_file_bare_fractions_are_inches() -> None:
    assert read_value("screw_pitch", "1/16", "inch") == 25.4 / 16
    with pytest.raises(InputError, match="a fraction must have its unit"):
        read_value("screw_pitch", "1/16", "mm")


# What is said about a wrong file ------------------------------------------------------------------------------------

NUMBERS = [(kind, key) for kind, table in TABLES.items() for key in table
           if key in MACHINE_KEYS and MACHINE_KEYS[key].kind_of_value != "text"]


@pytest.mark.parametrize(("kind", "key"), NUMBERS)
@pytest.mark.parametrize("bad", [-1, "abc", True, math.nan, math.inf, "1,250", {"a": 1}])
def test_a_wrong_value_is_told_with_file_key_value_and_range(kind: str, key: str, bad: object, tmp_path: Path) -> None:
    spoilt = [bad] if key in LISTS else bad
    written_value = "{a = 1}" if bad == {"a": 1} else toml_value(bad)
    text = text_of({**TABLES[kind], key: 0}).replace(
        f"{key} = 0\n", f"{key} = [{written_value}]\n" if key in LISTS else f"{key} = {written_value}\n"
    )
    file = tmp_path / "machine.toml"
    file.write_text(text)
    said = sentence(file)
    value = toml_value([{"a": 1}] if isinstance(spoilt, list) and bad == {"a": 1} else spoilt)
    assert said.startswith(f"{file}, key {key} = {value}: ")
    assert "must " in said or "may mean" in said


@pytest.mark.parametrize(("kind", "key"), NUMBERS)
def test_zero_is_told_too_where_it_makes_no_sense(kind: str, key: str, tmp_path: Path) -> None:
    file = written(tmp_path, {**TABLES[kind], key: [0] if key in LISTS else 0})
    if key == "nip_slack":
        assert load_machine(file).nip_slack == 0
    else:
        said = sentence(file)
        assert said.startswith(f"{file}, key {key} = {'[0]' if key in LISTS else 0}: ")
        assert "must be a" in said


@pytest.mark.parametrize("kind", TABLES)
@pytest.mark.parametrize("key", ["name", "rated_material"])
@pytest.mark.parametrize("bad", [5, "", "  ", ["a"]])
def test_text_must_be_text(kind: str, key: str, bad: object, tmp_path: Path) -> None:
    said = sentence(written(tmp_path, {**TABLES[kind], key: bad}))
    assert said.startswith(f"{tmp_path / 'machine.toml'}, key {key} = {toml_value(bad)}: this must be text")


@pytest.mark.parametrize("kind", TABLES)
def test_a_missing_key_is_named_with_a_line_to_write(kind: str, tmp_path: Path) -> None:
    for field in fields(KINDS[kind]):
        table = {key: value for key, value in TABLES[kind].items() if key != field.name}
        if field.default is not MISSING:
            assert getattr(machine_from_table(table), field.name) == field.default
            continue
        said = sentence(written(tmp_path, table))
        assert f", key {field.name} is missing, but a {kind} machine needs it: write a line like " in said
        line = said.partition("write a line like ")[2].removesuffix(".")
        (tmp_path / "machine.toml").write_text(text_of(table) + line)
        load_machine(tmp_path / "machine.toml")


@pytest.mark.parametrize(
    ("key", "near"),
    [
        ("uper_roll_diamter", "upper_roll_diameter"),
        ("pitch", "screw_pitch"),
        ("Screw_Pitch", "screw_pitch"),
        ("guide_angle", "guide_angle_degrees"),
    ],
)
def test_a_misspelled_key_gets_a_near_match(key: str, near: str, tmp_path: Path) -> None:
    said = sentence(written(tmp_path, {**PINCH, key: 7}))
    assert said.startswith(f"{tmp_path / 'machine.toml'}, key {key} = 7: there is no key '{key}': did you mean ")
    assert f"'{near}'" in said


def test_a_key_that_is_like_no_other_gets_the_list(tmp_path: Path) -> None:
    said = sentence(written(tmp_path, {**PYRAMID, "zzz": 7}))
    assert all(repr(field.name) in said for field in fields(KINDS["pyramid"]))


def test_a_key_of_the_other_machine_is_told_as_such(tmp_path: Path) -> None:
    said = sentence(written(tmp_path, {**PYRAMID, "guide_distance": 60}))
    assert ', key guide_distance belongs to a pinch machine, but kind is "pyramid": ' in said


@pytest.mark.parametrize("key", ["kind", "units"])
@pytest.mark.parametrize("bad", ["cm", 5, None, ["mm"], "PINCH"])
def test_kind_and_units_must_be_said(key: str, bad: object, tmp_path: Path) -> None:
    table = {name: value for name, value in PINCH.items() if name != key}
    said = sentence(written(tmp_path, table if bad is None else {**table, key: bad}))
    allowed = {"kind": '"pinch" or "pyramid"', "units": '"mm" or "inch"'}[key]
    told = f"key {key} is missing" if bad is None else f"key {key} = {toml_value(bad)}"
    assert f", {told}, but must be {allowed}: " in said


def test_slack_and_pinch_together_are_told_without_a_key(tmp_path: Path) -> None:
    file = written(tmp_path, {**PINCH, "pinch_force": 3000})
    assert sentence(file).startswith(f"{file}: the machine has both nip_slack [mm] and pinch_force [N]")


@pytest.mark.parametrize(
    ("text", "place"),
    [("upper_roll_diameter = 1 3/16 in", "line 1, column"), ("a = 1\na = 2", ""), ("a = " + "[" * 400, ""),
     ("x", "end of document"), ('name = "ours', "")],
)
def test_what_is_not_toml_is_told_with_its_place(text: str, place: str, tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    file.write_text(text)
    said = sentence(file)
    assert said.startswith(f"{file} is not written as TOML")
    assert place in said


# Files that cannot be read, and files that are found ----------------------------------------------------------------


def test_files_that_cannot_be_read_are_told(tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    assert sentence(file) == f"there is no file {file}: look at its path again."
    assert sentence(tmp_path).startswith(f"{tmp_path} is a folder, but a file is needed")
    file.write_bytes("name = 'Straße'".encode("latin-1"))
    assert sentence(file).startswith(f"{file} is not UTF-8 text")
    file.write_bytes(text_of(PINCH).encode("utf-16"))
    assert sentence(file).startswith(f"{file} is not UTF-8 text")
    file.write_text("# " + 200_000 * "x")
    assert sentence(file).startswith(f"{file} is longer than")
    file.unlink()
    file.symlink_to(tmp_path / "nowhere")
    assert sentence(file).startswith("there is no file")


@pytest.mark.parametrize("bad", ["", 5, b"machine.toml", [], "a\0b", "~no-such-person-here/machine.toml"])
def test_a_path_must_be_one(bad: object) -> None:
    assert sentence(bad).startswith(f"the path is {bad!r}, but must be the path of a file")


def test_a_file_that_may_not_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = written(tmp_path, PINCH)

    def refused(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("builtins.open", refused)
    assert sentence(file) == f"{file} cannot be read (Permission denied): give a file you may read."


def test_a_byte_order_mark_and_windows_lines_are_read(tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    file.write_bytes(b"\xef\xbb\xbf" + text_of(PINCH).replace("\n", "\r\n").encode())
    assert load_machine(file).name == "ours"


def test_the_nearest_file_upward_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    inner = tmp_path / "lessons" / "assignments"
    inner.mkdir(parents=True)
    monkeypatch.chdir(inner)
    outer_file = written(tmp_path, {**PINCH, "name": "outer"})
    assert load_machine().name == "outer"
    assert machine_path() == outer_file
    assert machine_source().startswith(f"The machine is outer, from {outer_file}. It has a nip 0.02 mm wider")
    inner_file = written(inner, {key: value for key, value in PYRAMID.items() if key != "name"})
    assert machine_path() == inner_file
    assert machine_source().startswith(f"The machine is the one you measured, from {inner_file}.")
    assert load_machine(outer_file).name == "outer"
    inner_file.unlink()
    inner_file.mkdir()
    assert sentence(None).startswith(f"{inner_file} is a folder")


def test_without_a_file_it_is_the_demo_machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    if machine_path() is not None:
        pytest.skip("a folder above the temporary one has a machine file")
    assert load_machine() is DEMO_MACHINE
    assert "invented" in machine_source()
    assert "no machine.toml" in machine_source()


def test_a_class_may_name_its_machine_or_ask_for_the_demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    written(tmp_path, {**PINCH, "name": "beside the lessons"})
    (tmp_path / "class").mkdir()
    file = written(tmp_path / "class", {**PINCH, "name": "of the class"})
    monkeypatch.setenv("ROLLCALC_MACHINE", str(file))
    assert load_machine().name == "of the class"
    assert machine_source() == f"The machine is of the class, from {file}. It has a nip 0.02 mm wider than the stock."
    assert load_machine("machine.toml").name == "beside the lessons"
    monkeypatch.setenv("ROLLCALC_MACHINE", "demo")
    assert load_machine() is DEMO_MACHINE
    assert machine_source().endswith("as ROLLCALC_MACHINE is demo.")
    monkeypatch.setenv("ROLLCALC_MACHINE", "")
    assert load_machine().name == "beside the lessons"


def test_a_current_folder_that_is_gone_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def gone() -> str:
        raise FileNotFoundError

    monkeypatch.setattr(os, "getcwd", gone)
    assert sentence(None).startswith("the current folder no longer exists")


def test_reading_needs_only_the_standard_library(tmp_path: Path) -> None:
    (tmp_path / "machine.toml").write_text(demo_machine_text(), encoding="utf-8")
    command = (
        "import sys; import rollcalc.rolling.machine.file as f, rollcalc.rolling.machine.writer as w\n"
        "print(*sorted({'tomllib', 'tomlkit', 'tempfile'} & set(sys.modules)))\n"
        "f.load_machine(); w.write_machine(f.load_machine(), 'other.toml')\n"
        "print('tomlkit' in sys.modules, f.load_machine().name)"
    )
    done = subprocess.run([sys.executable, "-c", command], capture_output=True, text=True, check=True, cwd=tmp_path,
                          env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)})
    loaded, then = done.stdout.splitlines()
    assert not {"tomllib", "tomlkit", "tempfile"} & set(loaded.split())
    assert then == f"False {DEMO_MACHINE.name}"


def test_a_file_without_a_nip_is_pressed_as_usual_and_says_so(tmp_path: Path) -> None:
    bare = {key: value for key, value in PINCH.items() if key != "nip_slack"}
    file = written(tmp_path, bare)
    assert load_machine(file).pinch_force == USUAL_PINCH == DEMO_MACHINE.pinch_force
    assert "names neither nip_slack nor pinch_force, so a pinch of 2500 N is taken" in machine_source(file)
    perfect = written(tmp_path, {**bare, "nip_slack": 0})
    assert load_machine(perfect).nip_is_perfect
    assert machine_source(perfect).endswith("It has a perfect nip, a teaching ideal.")
    pressed = written(tmp_path, {**bare, "pinch_force": "3 kN"})
    assert load_machine(pressed).pinch_force == 3000
    assert machine_source(pressed).endswith("It has a pinch of 3000 N.")


def test_what_was_not_measured_is_marked_and_changes_no_number(tmp_path: Path) -> None:
    table = {**PINCH, "name": "ours", "not_measured": ["guide_angle_degrees", "gear_ratio"]}
    machine, measured = load_machine(written(tmp_path, table)), machine_from_table({**PINCH, "name": "ours"})
    assert machine.not_measured == ("guide_angle_degrees", "gear_ratio")
    assert machine.assumed == "guide angle 110 deg, gear ratio 1"
    said = " Assumed, not measured: guide angle 110 deg, gear ratio 1."
    assert machine_note(machine) == machine_note(measured) + said
    assert machine_source(tmp_path / "machine.toml").endswith(machine.assumed_note)
    assert re.search(r"guide angle degrees +110 deg, assumed\n", repr(machine))
    assert re.search(r"gear ratio +1, assumed\n", repr(machine))
    assert "gear ratio" not in repr(measured)
    assert replace(machine, not_measured=()) == measured != machine
    sheet, steel = Sheet(thickness=0.76, width=240), MATERIALS["low-carbon steel, cold rolled"]
    assert setting_for_travel(machine, sheet, steel, 12).released_radius == setting_for_travel(
        measured, sheet, steel, 12).released_radius


def test_a_pinch_that_no_file_names_is_one_that_was_not_measured(tmp_path: Path) -> None:
    bare = {key: value for key, value in PINCH.items() if key != "nip_slack"}
    assert machine_from_table(bare).not_measured == ("pinch_force",)
    assert machine_from_table({**bare, "not_measured": ["gear_ratio"]}).not_measured == ("gear_ratio", "pinch_force")
    assert machine_from_table({**bare, "pinch_force": 2500}).not_measured == ()


@pytest.mark.parametrize(("bad", "complaint"), [
    (5, "this must be a list of keys"), (["gear_ratio", 5], "must be a list of the names of fields"),
    (["gear_ratios"], "must name fields of this machine: there is no field 'gear_ratios': did you mean 'gear_ratio'"),
    (["name"], "must name fields of this machine"), (["top_roll_diameter"], "must name fields of this machine"),
    (["gear_ratio", "gear_ratio"], "names gear_ratio twice"),
])
def test_a_wrong_list_of_what_was_not_measured_is_told(bad: object, complaint: str, tmp_path: Path) -> None:
    said = sentence(written(tmp_path, {**PINCH, "not_measured": bad}))
    assert said.startswith(f"{tmp_path / 'machine.toml'}, key not_measured = {toml_value(bad)}: ")
    assert complaint in said


@pytest.mark.parametrize(("table", "start"), [
    ({**PINCH, "guide_distance": 5}, "guide_distance = 5"),
    ({**PYRAMID, "bottom_roll_spacing": 100}, "bottom_roll_spacing = 100"),
    ({**PINCH, "max_travel": 0.01}, "max_travel = 0.01"), ({**PYRAMID, "max_travel": 0.01}, "max_travel = 0.01"),
])
def test_a_machine_that_cannot_turn_or_bend_is_refused_by_its_key(tmp_path: Path, table: dict[str, object],
                                                                  start: str) -> None:
    said = sentence(written(tmp_path, table))
    assert start in said
    assert len(said) < 400


def test_a_line_that_is_far_too_long_is_refused_at_once(tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    file.write_text("a" + ".b" * 40_000 + " = 1\n")
    assert "line 1 is" in sentence(file)
