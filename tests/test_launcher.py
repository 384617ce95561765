"""The command ``rollcalc``: what it lays out in the learner's folder, and what it says when it cannot."""

from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import rollcalc as rc
from rollcalc import launcher
from rollcalc.rolling.machine.file import load_machine
from tests.killed import kill_launches, kill_writes

LESSON = "04_see_springback.ipynb"


@pytest.fixture
def source(tmp_path):
    """A small set of lessons, with a picture and a hidden folder that must stay behind."""
    lessons = {launcher.FIRST_LESSON: "first", LESSON: "springback", "pictures/rolls.svg": "<svg/>",
               ".ipynb_checkpoints/draft.ipynb": "draft"}
    for name, text in lessons.items():
        place = tmp_path / "source" / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text)
    return tmp_path / "source"


@pytest.fixture
def folder(tmp_path):
    """A folder of the learner's own that does not exist yet."""
    return tmp_path / "classes" / "mine"


def delivered(source, folder):
    """Return the names the launcher reports as new, kept and newer."""
    delivery = launcher.delivered_lessons(source, folder)
    return delivery.new, delivery.kept, delivery.newer


def test_a_new_folder_gets_every_lesson_and_nothing_hidden(source, folder):
    names = [launcher.FIRST_LESSON, LESSON, "pictures/rolls.svg"]
    assert delivered(source, folder) == ([*names, "machine.toml"], [], [])
    found = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    assert found == sorted([*names, "machine.toml", launcher.RECORD])
    assert (folder / LESSON).read_text() == "springback"


def test_the_copies_can_be_written_to_even_where_the_originals_cannot(source, folder):
    (source / LESSON).chmod(0o444)
    delivered(source, folder)
    assert (folder / LESSON).stat().st_mode & 0o200


def test_what_the_learner_wrote_is_never_overwritten(source, folder):
    delivered(source, folder)
    (folder / LESSON).write_text("my notes")
    assert delivered(source, folder) == ([], [launcher.FIRST_LESSON, LESSON, "pictures/rolls.svg"], [])
    assert (folder / LESSON).read_text() == "my notes"


def test_a_machine_file_comes_with_the_lessons_and_stays_the_learners_own(source, folder):
    delivered(source, folder)
    assert load_machine(folder / "machine.toml").name == rc.DEMO_MACHINE.name
    (folder / "machine.toml").write_text("mine")
    delivery = launcher.delivered_lessons(source, folder)
    assert "machine.toml" not in delivery.new + delivery.kept + delivery.newer
    assert (folder / "machine.toml").read_text() == "mine"


def test_a_deleted_lesson_comes_back(source, folder):
    delivered(source, folder)
    (folder / LESSON).unlink()
    assert delivered(source, folder)[0] == [LESSON]


@pytest.mark.parametrize("mine", ["springback", "my notes"], ids=["untouched", "worked in"])
def test_a_newer_lesson_is_announced_and_mine_is_kept(source, folder, mine):
    delivered(source, folder)
    (folder / LESSON).write_text(mine)
    (source / LESSON).write_text("springback, second edition")
    delivery = launcher.delivered_lessons(source, folder)
    assert delivery.newer == [LESSON]
    assert (folder / LESSON).read_text() == mine
    assert any(LESSON in sentence and "yours was kept" in sentence for sentence in delivery.sentences(folder))


def test_a_file_of_the_learners_own_under_a_lessons_name_is_kept(source, folder):
    folder.mkdir(parents=True)
    (folder / LESSON).write_text("something else")
    assert delivered(source, folder) == ([launcher.FIRST_LESSON, "pictures/rolls.svg", "machine.toml"], [], [LESSON])
    assert (folder / LESSON).read_text() == "something else"


@pytest.mark.parametrize("record", ["", "[1, 2]", "{", '{"x": 1}'])
def test_a_spoilt_record_is_no_reason_to_stop(source, folder, record):
    delivered(source, folder)
    (folder / launcher.RECORD).write_text(record)
    assert delivered(source, folder) == ([], [launcher.FIRST_LESSON, LESSON, "pictures/rolls.svg"], [])


def test_a_half_file_is_brought_anew_and_an_edited_one_never(source, folder):
    delivered(source, folder)
    for half in ("", "spring"):
        (folder / LESSON).write_text(half)
        assert delivered(source, folder)[0] == [LESSON]
        assert (folder / LESSON).read_text() == "springback"
    (folder / LESSON).write_text("springtime")
    assert delivered(source, folder)[0] == []
    assert (folder / LESSON).read_text() == "springtime"


def test_an_unchanged_record_is_not_written_again(source, folder):
    delivered(source, folder)
    before = (folder / launcher.RECORD).stat().st_ino
    delivered(source, folder)
    assert (folder / launcher.RECORD).stat().st_ino == before


def test_two_launches_at_once_both_work(source, folder, monkeypatch):
    placed = launcher.place_whole

    def late(target, content, overwrite=False):
        if not overwrite and not target.exists():
            target.write_bytes(content)  # the other launch was quicker
        placed(target, content, overwrite)

    monkeypatch.setattr(launcher, "place_whole", late)
    assert len(delivered(source, folder)[0]) == 4
    monkeypatch.undo()
    assert delivered(source, folder) == ([], [launcher.FIRST_LESSON, LESSON, "pictures/rolls.svg"], [])


def test_killed_at_any_moment_nothing_is_half_or_lost():
    assert kill_launches(6, seed=2) == []
    assert kill_writes(6, seed=2) == []


def test_an_original_comes_back_beside_ones_own(source, folder):
    delivered(source, folder)
    (folder / LESSON).write_text("my notes")
    assert launcher.fresh_lesson("04", folder, source) == (
        f"{LESSON} is the original again. Yours is kept as 04_see_springback (mine 1).ipynb.")
    assert (folder / LESSON).read_text() == "springback"
    (folder / LESSON).write_text("more notes")
    assert launcher.fresh_lesson(4, folder, source).endswith("(mine 2).ipynb.")
    assert (folder / "04_see_springback (mine 1).ipynb").read_text() == "my notes"
    assert (folder / "04_see_springback (mine 2).ipynb").read_text() == "more notes"
    assert delivered(source, folder)[2] == []
    for wrong in ("77", "", "x" * 500, "../04"):
        with pytest.raises(launcher.LaunchError, match="There is no lesson"):
            launcher.fresh_lesson(wrong, folder, source)


def test_a_full_disk_gets_a_sentence(source, folder, monkeypatch):
    def full(*_arguments, **_more):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(launcher, "place_whole", full)
    with pytest.raises(launcher.LaunchError, match="make room on the disk"):
        launcher.delivered_lessons(source, folder)


@pytest.mark.parametrize("kind", ["nowhere", "round"])
def test_a_link_that_leads_to_no_folder_gets_a_sentence(tmp_path, kind):
    link = tmp_path / "link"
    link.symlink_to(link if kind == "round" else tmp_path / "gone")
    assert refused(link).endswith("choose another folder.") or refused(link).endswith("choose another.")


def test_a_terminal_that_knows_only_ascii_shows_every_sentence(tmp_path):
    taken = tmp_path / "blöd"
    taken.write_text("")
    command = [sys.executable, "-m", "rollcalc", "--no-browser", str(taken)]
    done = subprocess.run(command, capture_output=True, text=True, env=os.environ | {"PYTHONIOENCODING": "ascii"})
    assert done.returncode == 2
    assert "bl\\xf6d is a file" in done.stderr
    assert "Traceback" not in done.stderr


def refused(*words):
    """Return the launcher's sentence about words it cannot work with, run as a learner runs it."""
    command = [sys.executable, "-m", "rollcalc", "--no-browser", *map(str, words)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    return done.stderr.strip()


def test_a_file_is_not_a_folder(tmp_path):
    (tmp_path / "notes.txt").write_text("")
    sentence = refused(tmp_path / "notes.txt")
    assert "notes.txt is a file, but a folder is needed" in sentence
    assert "is needed" not in refused(tmp_path / "notes.txt" / "below")


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="needs a place where nobody may write")
def test_a_folder_nobody_may_write_in(tmp_path):
    assert "choose a folder you may write in" in refused("/proc/self/my-lessons")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_the_learner_may_not_write_in(tmp_path):
    tmp_path.chmod(0o500)
    assert "choose a folder you may write in" in refused(tmp_path)


def test_the_originals_are_not_a_learners_folder():
    assert "holds the originals" in refused(launcher.lesson_source())
    assert "holds the originals" in refused(launcher.lesson_source() / "mine")


def test_without_the_lessons_extra_one_sentence_says_what_to_install(monkeypatch, capsys, tmp_path):
    monkeypatch.setattr(launcher, "find_spec", lambda name: None)
    assert launcher.main([str(tmp_path / "mine")]) == 2
    assert 'pip install ".[lessons]"' in capsys.readouterr().err
    assert not (tmp_path / "mine").exists()


def test_help_names_the_folder_and_the_browser(capsys):
    with pytest.raises(SystemExit) as left:
        launcher.main(["--help"])
    assert left.value.code == 0
    said = capsys.readouterr().out
    assert "my-lessons" in said
    assert "--no-browser" in said


def test_jupyterlab_is_told_the_folder_the_first_lesson_and_this_environments_kernel(monkeypatch, tmp_path):
    told = {}

    class Lab:
        @staticmethod
        def launch_instance(options):
            told.update(options=options, path=os.environ["JUPYTER_PATH"], config=os.environ["JUPYTER_CONFIG_PATH"])

    monkeypatch.setenv("JUPYTER_PATH", "/elsewhere")
    monkeypatch.delenv("JUPYTER_CONFIG_PATH", raising=False)
    monkeypatch.setattr("jupyterlab.labapp.LabApp", Lab)
    assert launcher.open_lessons(tmp_path, browser=False) == 0
    assert f"--ServerApp.root_dir={tmp_path}" in told["options"]
    assert f"--LabApp.default_url=/lab/tree/{launcher.FIRST_LESSON}" in told["options"]
    assert "--no-browser" in told["options"]
    assert ("--allow-root" in told["options"]) == (hasattr(os, "geteuid") and os.geteuid() == 0)
    assert told["path"].split(os.pathsep) == [str(Path(sys.prefix) / "share" / "jupyter"), "/elsewhere"]
    settings = json.loads((Path(told["config"]) / "labconfig" / "default_setting_overrides.json").read_text())
    assert settings["@jupyterlab/apputils-extension:notification"]["fetchNews"] == "false"


def test_this_environments_kernel_wins_over_others_of_its_name(tmp_path):
    """Two other kernels called python3 are known, one to the learner and one to the whole computer."""
    places = {"JUPYTER_DATA_DIR": tmp_path / "user", "JUPYTER_PATH": tmp_path / "computer"}
    for place in places.values():
        kernel = place / "kernels" / "python3" / "kernel.json"
        kernel.parent.mkdir(parents=True)
        kernel.write_text(json.dumps({"argv": ["false"], "display_name": "wrong", "language": "python"}))
    code = (
        "import sys, jupyterlab.labapp as lab; from rollcalc import launcher; from pathlib import Path\n"
        "from jupyter_client.kernelspec import KernelSpecManager as Known\n"
        "lab.LabApp.launch_instance = lambda options: print(*Known().get_kernel_spec('python3').argv)\n"
        "launcher.open_lessons(Path('x'), browser=False)\n"
    )
    env = {**os.environ, **{name: str(place) for name, place in places.items()}}
    said = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True).stdout
    assert said.split()[1:3] == ["-m", "ipykernel_launcher"]
