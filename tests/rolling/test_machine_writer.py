"""Writing machine files: what is written is read back, notes are kept, and nothing is lost by surprise."""

from __future__ import annotations

import builtins
import contextlib
import math
import os
import sys
import tempfile
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rollcalc.rolling.machine import file as file_module
from rollcalc.rolling.machine.file import KINDS, load_machine
from rollcalc.rolling.machine.keys import MACHINE_KEYS, toml_value
from rollcalc.rolling.machine.kinds import DEMO_MACHINE, Machine, PinchMachine, PyramidMachine
from rollcalc.rolling.machine.writer import demo_machine_text, machine_text, write_machine
from rollcalc.stock.files import FileError
from rollcalc.stock.quantities import InputError

sizes = st.floats(1e-3, 1e5)
words = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=30).filter(str.strip)
common = {
    "screw_pitch": sizes, "working_width": sizes, "max_travel": st.none() | sizes,
    "rated_thickness": st.none() | sizes, "rated_material": st.none() | words, "crank_radius": st.none() | sizes,
    "gear_ratio": sizes, "name": st.just("") | words,
    "not_measured": st.lists(st.sampled_from(["screw_pitch", "working_width", "gear_ratio", "crank_radius"]),
                             unique=True).map(tuple),
}
@pytest.fixture(autouse=True)
def any_sizes(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is written and read back here may have rolls that stand in each other."""
    monkeypatch.setattr(file_module, "check_room", lambda machine: None)


pinch_machines = st.builds(
    lambda pinched, **numbers: PinchMachine(**numbers, **pinched),
    pinched=st.fixed_dictionaries({"nip_slack": st.just(0.0) | st.floats(1e-9, 2)})
    | st.fixed_dictionaries({"pinch_force": sizes}),
    upper_roll_diameter=sizes, lower_roll_diameter=sizes, bending_roll_diameter=sizes, guide_distance=sizes,
    guide_angle_degrees=st.floats(1, 179), nip_opening=st.none() | sizes,
    groove_diameters=st.lists(sizes, max_size=4).map(tuple), **common,
)
pyramid_machines = st.builds(
    PyramidMachine, top_roll_diameter=sizes, bottom_roll_diameter=sizes, bottom_roll_spacing=sizes, **common
)
machines = pinch_machines | pyramid_machines

MINE = """\
# Bought second-hand in spring.
units = "inch"   # the maker's
kind = "pinch"

upper_roll_diameter = "1 3/16 in"   # new roll
"lower_roll_diameter" = 1.1875
bending_roll_diameter = 30.1625e0
guide_distance = [1] # nonsense, measured by Tom
guide_angle_degrees = 110
# Counted on Tuesday.
screw_pitch = "1/16"
working_width = 30
#pinch_force = 700 # lbf? ask Tom
groove_diameters = [
  0.25, # worn
  0.375,
]
# The end.
"""


def values(machine: Machine) -> dict[str, Any]:
    """Return every field of a machine."""
    return {field.name: getattr(machine, field.name) for field in fields(machine)}


def same(one: Machine, other: Machine, tolerance: float = 0.0) -> bool:
    """Whether two machines are alike in every field, numbers within a relative tolerance."""
    if type(one) is not type(other):
        return False
    return all(alike(value, values(other)[name], tolerance) for name, value in values(one).items())


def alike(one: Any, other: Any, tolerance: float) -> bool:
    """Whether two values are alike, numbers within a relative tolerance."""
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=tolerance)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(alike, one, other, [tolerance] * len(one)))
    return bool(one == other)


@contextlib.contextmanager
def folder() -> Any:
    """Give a folder of its own to each example of a property."""
    with tempfile.TemporaryDirectory() as name:
        yield Path(name)


@given(machines)
def test_what_is_written_is_read_back_to_the_last_digit(machine: Machine) -> None:
    with folder() as place:
        write_machine(machine, place / "machine.toml")
        assert same(load_machine(place / "machine.toml"), machine)
        assert os.listdir(place) == ["machine.toml"]


@settings(max_examples=30)
@given(machines, machines, st.sampled_from(["mm", "inch"]))
def test_a_file_can_be_changed_to_any_other_machine(before: Machine, after: Machine, units: str) -> None:
    with folder() as place:
        file = place / "machine.toml"
        file.write_bytes(machine_text(before).replace('units = "mm"', f'units = "{units}"').encode())
        notes = [line for line in file.read_text("utf-8").split("\n") if line.startswith("# ") and " = " not in line]
        write_machine(after, file, overwrite=True)
        assert same(load_machine(file), after)
        assert f'units = "{units}"' in file.read_text("utf-8")
        kept = file.read_text("utf-8").split("\n")
        assert [line for line in notes if line not in kept] == []
        write_machine(before, file, overwrite=True)
        assert same(load_machine(file), before)


@settings(max_examples=30)
@given(machines)
def test_changing_nothing_changes_no_letter(machine: Machine) -> None:
    with folder() as place:
        file = place / "machine.toml"
        write_machine(machine, file)
        text = file.read_bytes()
        write_machine(load_machine(file), file, overwrite=True)
        assert file.read_bytes() == text


def test_own_notes_and_own_ways_of_writing_are_kept(tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    file.write_text(MINE)
    machine = PinchMachine(
        upper_roll_diameter=30.1625, lower_roll_diameter=30.1625, bending_roll_diameter=31.75, guide_distance=50.8,
        guide_angle_degrees=110, screw_pitch=1.5875, working_width=762, groove_diameters=(6.35, 9.525),
        pinch_force=3000, crank_radius=254,
    )
    write_machine(machine, file, overwrite=True)
    changed = (
        MINE.replace("30.1625e0", "1.25").replace("[1] #", "2 #").replace("#pinch_force = 700", "pinch_force = 3000")
    )
    assert file.read_text() == changed + (
        "\n# From the middle of the crank's shaft to the middle of the handle you hold.\ncrank_radius = 10\n"
    )
    assert same(load_machine(file), machine)
    write_machine(replace(machine, pinch_force=None, groove_diameters=()), file, overwrite=True)
    text = file.read_text()
    assert "# pinch_force = 3000 # lbf? ask Tom\n" in text
    assert "# groove_diameters = [\n#   0.25, # worn\n#   0.375,\n# ]\n" in text
    assert load_machine(file).pinch_force is None


def test_a_file_without_a_last_line_end_is_changed_too(tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    file.write_text(MINE.replace("[1]", "2") + "crank_radius = 10 # ours")
    write_machine(replace(load_machine(file), crank_radius=381, gear_ratio=2), file, overwrite=True)
    assert "crank_radius = 15 # ours\n" in file.read_text()
    assert load_machine(file).gear_ratio == 2


@pytest.mark.parametrize("listed", ["", 'not_measured = ["gear_ratio"]\n'])
def test_a_file_that_names_no_nip_stays_one_until_its_pinch_is_measured(listed: str, tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    before = MINE.replace("[1]", "2").replace("# The end.", listed + "# The end.")
    file.write_text(before)
    machine = load_machine(file)
    assert machine.not_measured[-1] == "pinch_force"
    write_machine(machine, file, overwrite=True)
    assert file.read_text() == before
    write_machine(replace(machine, not_measured=()), file, overwrite=True)
    assert load_machine(file) == replace(machine, not_measured=())


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_has_its_note_above_it(kind: str) -> None:
    machine = DEMO_MACHINE if kind == "pinch" else PyramidMachine(
        top_roll_diameter=200, bottom_roll_diameter=170, bottom_roll_spacing=240, screw_pitch=6, working_width=1500
    )
    text = machine_text(machine)
    for field in fields(KINDS[kind]):
        key = MACHINE_KEYS[field.name]
        notes, found, _ = text.partition(f"\n{key.name} = ") if f"\n{key.name} = " in text else text.partition(
            f"\n# {key.name} = {key.example}\n")
        assert found, field.name
        last_notes = " ".join(line.removeprefix("# ") for line in notes.rpartition("\n\n")[2].splitlines())
        assert last_notes == key.how
    assert max(map(len, text.splitlines())) <= 110


@pytest.mark.parametrize("name", MACHINE_KEYS)
def test_every_example_can_be_used_by_taking_its_mark_away(name: str, tmp_path: Path) -> None:
    kind = next(kind for kind in KINDS if name in {field.name for field in fields(KINDS[kind])})
    needed = {field.name for field in fields(KINDS[kind]) if field.default.__class__.__name__ == "_MISSING_TYPE"}
    lines = [f"{key} = {MACHINE_KEYS[key].example}" for key in {*needed, name}]
    (tmp_path / "machine.toml").write_text("\n".join([f'kind = "{kind}"', 'units = "mm"', *lines]))
    assert getattr(load_machine(tmp_path / "machine.toml"), name) is not None


def test_a_nip_that_presses_is_written_without_a_slack() -> None:
    text = machine_text(replace(DEMO_MACHINE, pinch_force=3000))
    assert "\npinch_force = 3000\n" in text
    assert "\n# nip_slack = 0.02\n" in text


def test_the_demo_file_says_that_it_is_invented_and_is_the_demo_machine(tmp_path: Path) -> None:
    (tmp_path / "machine.toml").write_text(demo_machine_text(), encoding="utf-8")
    assert "invented" in demo_machine_text().splitlines()[0]
    assert "outrank every number" in demo_machine_text()
    assert same(load_machine(tmp_path / "machine.toml"), DEMO_MACHINE)


# What is refused -----------------------------------------------------------------------------------------------------


def refused(machine: Any, file: Any, overwrite: bool = False) -> str:
    """Return the one sentence that writing raises."""
    with pytest.raises(InputError) as caught:
        write_machine(machine, file, overwrite=overwrite)
    said = str(caught.value)
    assert said.endswith((".", "?"))
    assert "\n" not in said
    return said


@pytest.mark.parametrize("content", [b"", b"anything", demo_machine_text().encode()])
def test_a_file_that_is_there_is_never_changed_unasked(content: bytes, tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    file.write_bytes(content)
    assert refused(DEMO_MACHINE, file) == f"{file} exists already: choose another name, or allow overwrite=True."
    assert file.read_bytes() == content
    assert os.listdir(tmp_path) == ["machine.toml"]


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("upper = = 3", " is not written as TOML at line 1 col"),
        ("a = " + "[" * 5000, " is not written as TOML"),
        ("", ", key kind is missing"),
        ('kind = "pinch"\nunits = "cm"\nscrew_pitch = 3', ', key units = "cm", but must be'),
        ('kind = "pinch"\nunits = "mm"\nscrew_pich = 3', ", key screw_pich = 3: there is no key"),
        ('kind = "pinch"\nunits = "mm"\n[rolls]\nupper = 3', ", key rolls = "),
    ],
)
def test_a_file_that_cannot_be_read_stays_as_it_is(text: str, complaint: str, tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    file.write_text(text)
    assert refused(DEMO_MACHINE, file, overwrite=True).startswith(f"{file}{complaint}")
    assert file.read_text() == text


def test_places_that_take_no_file_are_told(tmp_path: Path) -> None:
    assert refused(DEMO_MACHINE, tmp_path).startswith(f"{tmp_path} is a folder")
    assert refused(DEMO_MACHINE, tmp_path, overwrite=True).startswith(f"{tmp_path} is a folder")
    nowhere = tmp_path / "nowhere" / "machine.toml"
    assert refused(DEMO_MACHINE, nowhere).startswith(f"there is no folder {nowhere.parent}: make it first")
    assert refused(DEMO_MACHINE, 5).startswith("the path is 5, but must be the path of a file")


def test_what_is_no_single_machine_is_told(tmp_path: Path) -> None:
    file = tmp_path / "machine.toml"
    assert refused("pinch", file).startswith("the machine is 'pinch', but must be a PinchMachine or a PyramidMachine")
    slacks = replace(DEMO_MACHINE.with_perfect_nip(), nip_slack=np.array([0.01, 0.02]))
    assert refused(slacks, file).startswith("nip_slack is an array of shape (2,), but a machine file holds one number")
    assert refused(replace(DEMO_MACHINE, name="half \ud800"), file).startswith(f"{file} cannot be written")
    assert os.listdir(tmp_path) == []


def test_a_write_that_fails_half_way_leaves_all_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    file = tmp_path / "machine.toml"
    file.write_text(demo_machine_text())
    monkeypatch.setattr(os, "fsync", full)
    changed = replace(DEMO_MACHINE, screw_pitch=2)
    said = f"{file} cannot be written (No space left on device): make room on the disk, or choose another."
    assert refused(changed, file, overwrite=True) == said
    assert "No space" in refused(changed, tmp_path / "new.toml")
    assert os.listdir(tmp_path) == ["machine.toml"]
    assert file.read_text() == demo_machine_text()


def test_a_file_that_appears_meanwhile_is_not_lost(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "machine.toml"
    monkeypatch.setattr(os.path, "lexists", lambda _: False)
    file.write_text("someone else's")
    assert refused(DEMO_MACHINE, file).startswith(f"{file} exists already")
    assert file.read_text() == "someone else's"


def test_without_tomlkit_new_files_are_written_and_old_ones_stay(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usual = builtins.__import__

    def no_tomlkit(name: str, *rest: Any) -> Any:
        if name.startswith("tomlkit"):
            raise ImportError(name)
        return usual(name, *rest)

    monkeypatch.setattr(builtins, "__import__", no_tomlkit)
    file = tmp_path / "machine.toml"
    write_machine(DEMO_MACHINE, file)
    write_machine(DEMO_MACHINE, tmp_path / "new.toml", overwrite=True)
    assert refused(replace(DEMO_MACHINE, gear_ratio=2), file, overwrite=True).startswith(
        f"{file} stays as it is, because keeping its notes needs tomlkit: "
    )
    assert same(load_machine(file), DEMO_MACHINE)


@pytest.mark.skipif(sys.platform == "win32", reason="permissions and links of another kind")
def test_permissions_and_links_are_kept(tmp_path: Path) -> None:
    file, link = tmp_path / "real.toml", tmp_path / "machine.toml"
    write_machine(DEMO_MACHINE, file)
    usual = tmp_path / "usual"
    usual.touch()
    assert file.stat().st_mode == usual.stat().st_mode
    file.chmod(0o640)
    link.symlink_to(file)
    write_machine(replace(DEMO_MACHINE, screw_pitch=2), link, overwrite=True)
    assert link.is_symlink()
    assert file.stat().st_mode & 0o777 == 0o640
    assert load_machine(file).screw_pitch == 2


def test_all_text_a_file_can_hold_is_quoted(tmp_path: Path) -> None:
    import tomllib

    every = "".join(map(chr, [*range(0x300), 0x2028, 0xFEFF, 0x1F600]))
    assert tomllib.loads(f"a = {toml_value(every)}") == {"a": every}
    with pytest.raises(FileError):
        write_machine(DEMO_MACHINE, tmp_path)


@pytest.mark.parametrize("nip", [{"nip_slack": 0.0, "pinch_force": None}, {"nip_slack": 0.03, "pinch_force": None},
                                 {"pinch_force": 2500.0}, {"pinch_force": 4000.0}])
def test_every_nip_comes_back_also_from_a_file_that_is_changed(nip: dict[str, float | None], tmp_path: Path) -> None:
    machine, file = replace(DEMO_MACHINE, **nip), tmp_path / "machine.toml"
    for before in (DEMO_MACHINE, DEMO_MACHINE.with_perfect_nip()):
        write_machine(before, file, overwrite=True)
        write_machine(machine, file, overwrite=True)
        back = load_machine(file)
        assert (back.nip_slack, back.pinch_force) == (machine.nip_slack, machine.pinch_force)
    bare = "\n".join(line for line in file.read_text().splitlines() if not line.startswith(("nip_s", "pinch_f")))
    file.write_text(bare + "\n")
    write_machine(machine, file, overwrite=True)
    back = load_machine(file)
    assert (back.nip_slack, back.pinch_force) == (machine.nip_slack, machine.pinch_force)
