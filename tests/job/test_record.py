"""Jobs that are kept: every digit comes back, and a file that is wrong is told of and never touched."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.drawing.core.picture import Line, Text
from rollcalc.drawing.passes.record_view import LEFT, MOST_BARS, RIGHT, pinch_picture, yield_picture
from rollcalc.job import Believed, JobRecord, PlannedTurns, Reading, class_table, load_records, save_record
from rollcalc.job.records import record_file
from rollcalc.job.records.record_file import LONGEST, LONGEST_LINE, MOST_FILES
from rollcalc.rolling.machine.writer import demo_machine_text
from rollcalc.stock import files
from rollcalc.stock.files import FileError
from tests.drawing.layout import clipped, overlaps
from tests.killed import kill_records

BODY = JobRecord(
    date="2026-11-27", part="lantern body", machine="bench roll", nip=rc.DEMO_MACHINE.nip,
    stock=rc.Sheet(thickness=0.76, width=240), metal="low-carbon steel, cold rolled", wanted_radius=90.4,
    planned=(PlannedTurns(8.875, 218.123456789), PlannedTurns(13.125, 90.4)),
    readings=(Reading(8.875, 100, 5.8), Reading(13.125, diameter=182.5, face="outside")), final_radius=91.0,
    yield_strength=Believed(230, 205, 255), pinch_force=Believed(2500, 1800, 3600),
    touch_turns=Believed(0.1, -0.1, 0.2),
    note='The left dial slips.\nMark it "0".')
BARE = JobRecord(date="2026-12-04", part="hanging ring", machine="bench roll", metal="brass", stock=rc.RoundBar(6),
                 wanted_radius=48)

positive = st.floats(1e-6, 1e9)
turns = st.floats(-1000, 1000)
characters = st.characters(exclude_categories=("Cc", "Cs"))
names = st.text(characters, max_size=100)
full_names = names.filter(str.strip)
believed = st.tuples(positive, positive, positive).map(sorted).map(lambda three: Believed(three[1], three[0], three[2]))
readings = st.one_of(
    st.builds(lambda turned, chord, share, face, end: Reading(turned, chord, share * chord, face=face, end=end), turns,
              positive, st.floats(0, 0.5), st.sampled_from(["inside", "outside", "middle"]), names),
    st.builds(Reading, turns, diameter=positive, end=names))
records = st.builds(
    JobRecord, date=st.dates().map(date.isoformat), part=full_names, machine=full_names, metal=full_names, nip=names,
    stock=st.one_of(st.builds(rc.Sheet, thickness=positive, width=positive), st.builds(rc.FlatBar, positive, positive),
                    st.builds(rc.RoundBar, positive)),
    wanted_radius=positive, final_radius=st.none() | positive,
    planned=st.lists(st.builds(PlannedTurns, turns, positive | st.just(float("inf")), names), max_size=4).map(tuple),
    readings=st.lists(readings, max_size=4).map(tuple), yield_strength=st.none() | believed,
    pinch_force=st.none() | believed, touch_turns=st.none() | believed,
    note=st.text(characters | st.sampled_from("\n\t"), max_size=1000))


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A file of two jobs, with a note of one's own in it."""
    save_record(BODY, tmp_path / "jobs.toml")
    with (tmp_path / "jobs.toml").open("a", encoding="utf-8") as opened:
        opened.write("# the ring was Anton's idea")
    save_record(BARE, tmp_path / "jobs.toml")
    return tmp_path / "jobs.toml"


def sentence(call: Callable[[], object]) -> str:
    """Return the one sentence that a call raises."""
    with pytest.raises(rc.InputError) as caught:
        call()
    said = str(caught.value)
    assert said.endswith((".", "?"))
    assert "\n" not in said
    assert len(said) <= 300
    return said


def refused(file: Path) -> str:
    """Return what is said of a file that cannot be read, by loading and by saving alike, which leaves it as it is."""
    before = file.read_bytes()
    said = sentence(lambda: load_records(file))
    assert sentence(lambda: save_record(BARE, file)) == said
    assert file.read_bytes() == before
    assert [one.name for one in file.parent.iterdir()] == [file.name]
    return said


@settings(max_examples=60)
@given(st.lists(records, min_size=1, max_size=3))
def test_every_digit_and_letter_comes_back(tmp_path_factory: pytest.TempPathFactory, jobs: list[JobRecord]) -> None:
    file = tmp_path_factory.mktemp("jobs") / "jobs.toml"
    for job in jobs:
        save_record(job, file)
    assert load_records(file) == tuple(jobs)
    assert max(map(len, file.read_text(encoding="utf-8").split("\n"))) <= LONGEST_LINE


def test_what_is_in_the_file_stays_and_a_person_may_write_in_it(file: Path) -> None:
    assert load_records(file) == (BODY, BARE)
    assert "# the ring was Anton's idea\n\n[[job]]\n" in file.read_text(encoding="utf-8")
    own = file.read_text(encoding="utf-8").replace("2026-12-04", '"2026-12-05"').replace("\n", "\r\n")
    file.write_bytes(b"\xef\xbb\xbf" + own.encode())
    save_record(BODY, file)
    assert load_records(file) == (BODY, replace(BARE, date="2026-12-05"), BODY)
    assert os.listdir(file.parent) == ["jobs.toml"]


def test_a_file_cut_anywhere_gives_whole_jobs_or_a_sentence_and_is_never_overwritten(file: Path) -> None:
    whole, jobs = file.read_bytes(), (BODY, BARE)
    complete = set()
    for length in range(len(whole)):
        file.write_bytes(whole[:length])
        try:
            found = load_records(file)
        except FileError:
            refused(file)
        else:
            assert found == jobs[: len(found)]
            complete.add(len(found))
            if len(found) == 2:
                assert whole[length:].strip() == b""
            if len(found) == 1:
                assert b"Anton" not in whole[length:] or b"final_radius_mm" not in whole[length:]
    assert complete == {0, 1, 2}


@pytest.mark.parametrize(("old", "new", "said"), [
    ("version = 1", "version = 2", ": version = 2 is newer than this rollcalc, which reads version 1: install"),
    ("version = 1", "version = 0", "key version = 0, but must be 1"),
    ("version = 1", "version = true", "key version = true, but must be 1"),
    ("version = 1", 'version = "1"', 'key version = "1", but must be 1'),
    ("version = 1", "", "key version is missing"),
    ("version = 1", "version = 1\nowner = 3", "there is no key 'owner': take it out"),
    ("version = 1", "version = 1\nversion = 1", "is not written as TOML at line 7"),
    ("thickness_mm", "thicknes_mm", "(lantern body): there is no key 'thicknes_mm': did you mean 'thickness_mm'?"),
    ("thickness_mm = 0.76\n", "", "job 1 (lantern body): key thickness_mm is missing"),
    ("width_mm = 240", "diameter_mm = 240", "job 1 (lantern body): there is no key 'diameter_mm'"),
    ("width_mm = 240", "width_mm = -240", "width is -240 mm, but must be above 0 mm"),
    ("width_mm = 240", 'width_mm = "240"', "width is '240', but must be a number in mm"),
    ('stock = "round bar"', 'stock = "wire"', "job 2 (hanging ring): key stock is 'wire'"),
    ('stock = "round bar"', "stock = [1]", "job 2 (hanging ring): key stock is [1]"),
    ('part = "lantern body"', "part = 3", "job 1: part is 3, but must be a str"),
    ("date = 2026-11-27", "date = 2026-11-31", "is not written as TOML at line 9"),
    ("date = 2026-11-27", 'date = "27.11.2026"', "date is '27.11.2026', but must be a day"),
    ("date = 2026-11-27", "date = 2026-11-27T10:00:00", "date is datetime.datetime"),
    ("wanted_radius_mm = 90.4", "wanted_radius_mm = inf", "wanted radius is inf mm"),
    ("wanted_radius_mm = 90.4", "wanted_radius_mm = true", "wanted radius is True"),
    ("chord_mm = 100, ", "", "readings, number 1: a reading has chord None"),
    ("rise_mm = 5.8", "rise_mm = 58", "readings, number 1: rise is 58 mm"),
    ("diameter_mm = 182.5", "diameter = 182.5", "readings, number 2: there is no key 'diameter'"),
    ('face = "outside"', 'face = "out"', "readings, number 2: face is 'out'"),
    ("{turns = 13.125, diameter", "{diameter", "readings, number 2: key turns is missing"),
    ("planned = [", "planned = [3,", "key planned = […], but must be a list"),
    ("low = 205", "low = 255.5", "key yield_MPa = {…}: mean is 230, but must be from 255.5 to 255"),
    ("yield_MPa = {mean = 230, low = 205, high = 255}", "yield_MPa = 230", "key yield_MPa = 230: key mean is missing"),
    ("low = 1800", "low = -1", "low end of pinch force is -1 N"),
    ('note = ""', "", "job 2 (hanging ring): key note is missing"),
    ('note = ""', "note = '" + "a" * 1001 + "'", "note has 1001 characters"),
    ('note = ""', 'note = "\\u0007"', "note has '\\x07' in it"),
    ('note = ""', "note = '" + "a" * 3000 + "'", "characters long, but must be at most 2500"),
    ('note = ""', "note = " + "[" * 2400, "is not written as TOML"),
    ('note = ""', "note = " + "9" * 2400, "note is of type int, but must be a str"),
    ("[[job]]\n", "[[jobs]]\n", "there is no key 'jobs': did you mean 'job'?"),
])
def test_a_file_edited_wrongly_names_the_place(file: Path, old: str, new: str, said: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1 if "job" not in old else -1), encoding="utf-8")
    told = refused(file)
    assert told.startswith(str(file))
    assert said in told


def test_jobs_that_are_no_tables_are_told_of_and_a_list_of_them_stays(file: Path) -> None:
    for written in ("job = 3", "job = [1]", "[job]"):
        file.write_text(f"version = 1\n{written}\n")
        assert "write [[job]] on a line of its own" in refused(file)
    file.write_text("version = 1\njob = []\n")
    assert load_records(file) == ()
    assert "in a form that none can be added to" in sentence(lambda: save_record(BODY, file))
    assert file.read_text() == "version = 1\njob = []\n"


def test_huge_files_are_refused_quickly(file: Path) -> None:
    start = time.perf_counter()
    for content in (b"#" * (LONGEST + 1), b"a." * 300_000, b"[" * 900_000, b"\xff" * 100):
        file.write_bytes(content)
        refused(file)
    assert time.perf_counter() - start < 5


def test_a_full_file_is_not_added_to(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(record_file, "LONGEST", file.stat().st_size + 10)
    before = file.read_bytes()
    assert "is full" in sentence(lambda: save_record(BODY, file))
    assert file.read_bytes() == before


def test_a_class_is_a_folder_of_files_without_the_machines(tmp_path: Path) -> None:
    assert "has no file of jobs in it" in sentence(lambda: load_records(tmp_path))
    for name, job in (("b.toml", BARE), ("a.toml", BODY)):
        save_record(job, tmp_path / name)
    (tmp_path / "machine.toml").write_text("half a mach")
    (tmp_path / "the other machine.toml").write_text(demo_machine_text())
    (tmp_path / "._a.toml").write_bytes(b"\xff")
    assert load_records(tmp_path) == (BODY, BARE)
    (tmp_path / "c.toml").write_text("version = 1\n[[job")
    assert sentence(lambda: load_records(tmp_path)).startswith(str(tmp_path / "c.toml"))
    for number in range(MOST_FILES):
        (tmp_path / f"{number}.toml").touch()
    assert f"must have {MOST_FILES} at most" in sentence(lambda: load_records(tmp_path))


def test_a_place_that_is_none_gets_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "folder.toml").mkdir()
    for path, said in ((tmp_path / "jobs", "must end in .toml"), (tmp_path / "folder.toml", "is a folder"),
                       (tmp_path / "no" / "jobs.toml", "there is no folder"), (3, "must be the path of a file"),
                       (tmp_path / f"{'a' * 300}.toml", "cannot be written")):
        assert said in sentence(lambda path=path: save_record(BODY, path))  # type: ignore[misc]
    (tmp_path / "machine.toml").write_text(demo_machine_text())
    assert "there is no key 'kind'" in refused_as_jobs(tmp_path / "machine.toml")


def refused_as_jobs(file: Path) -> str:
    """Return what is said of a file of something else, which stays as it is."""
    before = file.read_bytes()
    said = sentence(lambda: save_record(BODY, file))
    assert file.read_bytes() == before
    return said


@pytest.mark.parametrize(("wrong", "said"), [
    ({"date": "20261127"}, "date is '20261127'"), ({"date": datetime(2026, 11, 27)}, "date is datetime.datetime"),
    ({"part": " "}, "part is ' ', but must say something"), ({"part": "a\nb"}, "part has '\\n' in it"),
    ({"note": "\ud800"}, "note has '\\ud800' in it"), ({"machine": rc.DEMO_MACHINE}, "machine is "),
    ({"stock": rc.Sheet(thickness=[0.7, 0.8], width=3)}, "thickness is an array"), ({"stock": 3}, "stock is 3"),
    ({"readings": [3]}, "readings, number 1, is 3"), ({"planned": 3}, "planned is 3, but must be a tuple"),
    ({"readings": (Reading(1, 100, 5),) * 101}, "readings has more than 100 entries"),
    ({"yield_strength": 230}, "yield strength is 230, but must be what is believed of it, in MPa"),
    ({"yield_strength": Believed(0, 0, 0)}, "low end of yield strength is 0 MPa"),
    ({"final_radius": float("inf")}, "final radius is inf mm"),
])
def test_a_job_that_could_not_be_kept_is_never_made(wrong: dict[str, object], said: str) -> None:
    assert said in sentence(lambda: replace(BODY, **wrong))  # type: ignore[arg-type]


def test_a_day_and_what_has_mean_low_and_high_are_taken_as_they_are() -> None:
    class Estimate:
        mean, low, high = 230.0, 205.0, 255.0

    job = replace(BODY, date=date(2026, 11, 27), yield_strength=Estimate(), readings=list(BODY.readings))
    assert job == BODY
    assert len(repr(job)) <= 800
    assert "reading 2" in repr(job)
    assert "diameter 182.5 mm, outside" in job._repr_html_()


SAVER = "import sys; from rollcalc.job import load_records, save_record; from dataclasses import replace\n" \
        "job, = load_records(sys.argv[1])\n" \
        "for number in range(15): save_record(replace(job, part=f'{sys.argv[3]} {number}'), sys.argv[2])"


def test_savers_at_once_lose_nothing(tmp_path: Path) -> None:
    one, all_of_them = tmp_path / "one.toml", tmp_path / "class" / "jobs.toml"
    all_of_them.parent.mkdir()
    save_record(BARE, one)
    runs = [subprocess.Popen([sys.executable, "-c", SAVER, str(one), str(all_of_them), name]) for name in "ab"]
    threads = [threading.Thread(target=lambda name=name: [save_record(replace(BARE, part=f"{name} {number}"),
                                                                     all_of_them) for number in range(15)])
               for name in "cd"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [run.wait() for run in runs] == [0, 0]
    parts = [job.part for job in load_records(all_of_them)]
    assert sorted(parts) == sorted(f"{name} {number}" for name in "abcd" for number in range(15))
    for name in "abcd":
        assert [part for part in parts if part[0] == name] == [f"{name} {number}" for number in range(15)]
    assert os.listdir(all_of_them.parent) == ["jobs.toml"]


def test_who_waits_too_long_is_told_and_a_lock_left_over_holds_nobody_up(file: Path) -> None:
    with files.sole_writer(file), pytest.raises(FileError, match="is being written by another program: try again"), \
            files.sole_writer(file, patience=0.05):
        pass
    (file.parent / ".jobs.toml.lock").touch()  # its owner was killed
    save_record(BODY, file)
    assert os.listdir(file.parent) == ["jobs.toml"]


def test_killed_while_saving_nothing_is_lost() -> None:
    assert kill_records(4, seed=2) == []


# What a class's jobs say together ----------------------------------------------------------------------------------

CLASS = (replace(BODY, yield_strength=Believed(240, 230, 250), date="2026-11-29"), BODY, BARE,
         replace(BODY, machine="old roll", yield_strength=Believed(200, 190, 260),
                 pinch_force=Believed(1000, 500, 2000)),
         replace(BODY, metal="brass", pinch_force=None, yield_strength=Believed(300, 280, 330)))


def test_the_table_says_what_each_metal_and_each_machine_gave() -> None:
    table = class_table(CLASS)
    assert [(one.name, one.jobs, one.low, one.middle, one.high) for one in table.yields] == [
        ("brass", 1, 280, 300, 330), ("low-carbon steel, cold rolled", 3, 190, 230, 260)]
    assert [(one.name, one.jobs, one.low, one.middle, one.high) for one in table.pinches] == [
        ("bench roll", 2, 1800, 2500, 3600), ("old roll", 1, 500, 1000, 2000)]
    assert table.jobs == 5
    lines = repr(table).splitlines()
    assert lines[0] == "What 5 jobs found"
    assert lines[3].split()[-7:] == ["3", "190", "MPa", "230", "MPa", "260", "MPa"]
    assert table._repr_html_().count("<tr>") == 5
    assert "No job found" in repr(class_table([BARE]))
    assert "records is empty" in sentence(lambda: class_table(()))
    assert "records is 3" in sentence(lambda: class_table(3))  # type: ignore[arg-type]


def test_the_picture_shows_each_job_where_its_numbers_are_and_says_them() -> None:
    picture = yield_picture(CLASS)
    bars = [mark for mark in picture.marks if isinstance(mark, Line) and mark.role == "outline"]
    means = [mark for mark in picture.marks if isinstance(mark, Line) and mark.role == "sheet"]
    ranges = [bar.points[:, 0] for bar in bars if bar.points[0, 1] == bar.points[1, 1]]
    ticks = [mark for mark in picture.marks if isinstance(mark, Text) and mark.role == "dimension"]
    (x0, v0), (x1, v1) = ((one.at[0], float(one.words)) for one in (ticks[0], ticks[-1]))

    def value(place: float) -> float:
        return v0 + (place - x0) * (v1 - v0) / (x1 - x0)

    assert [(round(value(low)), round(value(high))) for low, high in ranges] == [
        (280, 330), (205, 255), (190, 260), (230, 250)]
    assert [round(value(mean.points[1, 0])) for mean in means] == [300, 230, 200, 240]
    assert all(LEFT <= end <= RIGHT for pair in ranges for end in pair)
    words = [mark.words for mark in picture.marks if isinstance(mark, Text)]
    assert {"brass: middle 300 MPa", "2026-11-29 lantern body", "230 (205–255)", "yield, MPa"} <= set(words)
    assert "brass, 1 job: 300 MPa, all from 280 to 330; low-carbon steel, cold rolled, 3 jobs: 230 MPa, all from 190" \
        in picture.sentence
    assert "bench roll, 2 jobs: 2500 N, all from 1800 to 3600" in pinch_picture(CLASS).sentence
    assert "none of the 1 jobs found a pinch" in sentence(lambda: pinch_picture([BARE]))


def test_every_word_has_room_and_of_many_jobs_the_newest_are_drawn() -> None:
    name = "THE WIDEST BAND OF OUR OWN " * 3
    long = replace(BODY, part=name, metal=name, machine=name)
    many = tuple(replace(one, date=f"{2000 + number}-01-01", pinch_force=Believed(4e4 + number, 10, 9.8765e4))
                 for number in range(30) for one in (BODY, long))
    for records in (CLASS, (BODY,), many, (replace(BODY, yield_strength=Believed(200, 200, 200)),)):
        for draw in (yield_picture, pinch_picture):
            picture = draw(records)
            assert overlaps(picture) == clipped(picture) == []
    assert f"The newest {MOST_BARS} of 60 are drawn." in yield_picture(many).sentence
    assert "2009-01-01" not in str([mark.words for mark in yield_picture(many).marks if isinstance(mark, Text)])
