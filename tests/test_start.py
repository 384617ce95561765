"""The README's command: what it makes, when it leaves all as it is, and what it says when it cannot."""

from __future__ import annotations

import ast
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
NEWER_THAN_PYTHON_2 = (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr, ast.Nonlocal, ast.AsyncFunctionDef, ast.Match)


@pytest.fixture
def clone(tmp_path):
    """What of a clone the command reads, in a folder with a space in its name."""
    clone = tmp_path / "my clone"
    for name in ("binder/start.py", "binder/constraints.txt", "pyproject.toml"):
        (clone / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(TOP / name, clone / name)
    return clone


@pytest.fixture
def start(clone):
    """The command as a module; making and filling an environment is only noted down."""
    spec = importlib.util.spec_from_file_location("start", clone / "binder" / "start.py")
    start = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(start)
    start.done = []

    def make_venv():
        start.done.append("venv")
        shutil.rmtree(start.VENV, ignore_errors=True)
        python = Path(start.PYTHON)
        python.parent.mkdir(parents=True)
        python.symlink_to(sys.executable)

    start.make_venv = make_venv
    start.install = lambda extras: start.done.append("+".join(extras))
    return start


def done(start, extras):
    """Return what the command does to have the extras."""
    start.done.clear()
    start.prepare(extras)
    return list(start.done)


def test_the_second_start_does_nothing(start):
    assert done(start, ["lessons"]) == ["venv", "lessons"]
    assert done(start, ["lessons"]) == []


def test_the_tests_add_to_the_lessons_and_hold_them(start):
    done(start, ["lessons"])
    assert done(start, ["lessons", "test"]) == ["lessons+test"]
    assert done(start, ["lessons"]) == []


@pytest.mark.parametrize("name", ["binder/constraints.txt", "pyproject.toml"])
def test_changed_needs_make_the_environment_anew(start, clone, name):
    done(start, ["lessons"])
    with open(clone / name, "a") as file:
        file.write("\n# changed\n")
    assert done(start, ["lessons"]) == ["venv", "lessons"]


def test_another_python_or_place_makes_the_environment_anew(start, monkeypatch):
    done(start, ["lessons"])
    with monkeypatch.context() as patch:
        patch.setattr(sys, "version", "3.99.0")
        assert done(start, ["lessons"]) == ["venv", "lessons"]
    start.TOP = os.path.join(start.TOP, "moved")
    assert done(start, ["lessons"]) == ["venv", "lessons"]


def test_a_python_that_no_longer_starts_is_replaced(start):
    done(start, ["lessons"])
    Path(start.PYTHON).unlink()
    Path(start.PYTHON).symlink_to("/nowhere/python")
    assert done(start, ["lessons"]) == ["venv", "lessons"]


def test_an_interrupted_start_is_begun_again(start):
    def interrupted(extras):
        raise KeyboardInterrupt

    start.install, install = interrupted, start.install
    with pytest.raises(KeyboardInterrupt):
        start.prepare(["lessons"])
    start.install = install
    assert done(start, ["lessons"]) == ["venv", "lessons"]


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ([], ["-m", "rollcalc", "MY-LESSONS"]),
        (["--no-browser"], ["-m", "rollcalc", "MY-LESSONS", "--no-browser"]),
        (["tuesday"], ["-m", "rollcalc", "tuesday"]),
        (["test", "-k", "sheet"], ["-m", "pytest", "-k", "sheet"]),
    ],
)
def test_words_are_passed_on(start, words, expected):
    commands = []
    start.prepare = lambda extras: None
    start.call = lambda command, **options: commands.append(command) or 7
    assert start.main(words) == 7
    expected = [start.PYTHON, *(os.path.join(start.TOP, "my-lessons") if word.isupper() else word for word in expected)]
    assert commands == [expected]


def test_an_old_python_can_read_it():
    source = (TOP / "binder" / "start.py").read_bytes()
    tree = ast.parse(source.decode("ascii"))
    assert not [node for node in ast.walk(tree) if isinstance(node, NEWER_THAN_PYTHON_2)]
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    assert not [node for node in functions if node.returns or node.args.kwonlyargs or node.args.posonlyargs]
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.arg) and node.annotation]


def said(clone, before="", retries=0, **env):
    """Return the exit code and what the command says, run in the clone with nothing fetched from anywhere."""
    run = "runpy.run_path('binder/start.py', run_name='__main__')"
    code = f"import runpy, sys; sys.argv = ['binder/start.py']; {before}\n{run}"
    nowhere = {"PIP_CONFIG_FILE": os.devnull, "PIP_INDEX_URL": "http://127.0.0.1:9/", "PIP_RETRIES": str(retries)}
    kept = {name: value for name, value in os.environ.items() if not name.startswith("PIP_")}
    env = {**kept, **nowhere, **env}
    done = subprocess.run([sys.executable, "-c", code], cwd=clone, env=env, capture_output=True, text=True)
    return done.returncode, done.stderr


@pytest.mark.parametrize("version", [(2, 7, 18), (3, 6, 15), (3, 10, 13)])
def test_an_old_python_says_so_in_one_sentence(clone, version):
    code, sentence = said(clone, f"sys.version_info = {version}")
    assert code == 1
    assert sentence.count("\n") == 1
    assert f"this is Python {version[0]}.{version[1]}" in sentence
    assert not (clone / ".venv").exists()


def test_a_missing_venv_package_is_named(clone, tmp_path):
    (tmp_path / "ensurepip.py").write_text("raise ImportError")
    code, sentence = said(clone, PYTHONPATH=str(tmp_path))
    assert code == 1
    assert sentence.count("\n") == 1
    assert f"sudo apt install python{sys.version_info[0]}.{sys.version_info[1]}-venv" in sentence


@pytest.mark.parametrize("retries", [0, 1])
def test_no_network_is_said_in_one_sentence_and_the_next_start_begins_again(clone, retries):
    code, sentence = said(clone, retries=retries)
    assert code == 1
    assert sentence.count("\n") == 1
    assert "connect this computer to the internet" in sentence
    assert not (clone / ".venv" / "ready").exists()


@pytest.mark.skipif(os.name == "nt", reason="the folder is closed the POSIX way")
def test_a_place_where_no_environment_can_be_made(clone):
    (clone / ".venv").symlink_to("/proc/self/nowhere")
    code, sentence = said(clone)
    assert code == 1
    assert sentence.count("\n") == 1
    assert "cannot hold the environment" in sentence


def test_binder_installs_the_lessons_on_a_python_that_they_support(tmp_path):
    beside = os.path.dirname(sys.executable)
    repo2docker = shutil.which("jupyter-repo2docker", path=beside + os.pathsep + os.environ["PATH"])
    if not repo2docker:
        pytest.skip("jupyter-repo2docker is not installed")
    for name in ("binder/requirements.txt", "binder/runtime.txt", "pyproject.toml"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        shutil.copy(TOP / name, tmp_path / name)
    command = [repo2docker, "--no-build", "--debug", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert "Building conda environment for python=3.12" in done.stderr
    assert 'pip install --no-cache-dir -r "binder/requirements.txt"' in done.stdout
    wanted = (TOP / "binder" / "requirements.txt").read_text().split()
    assert wanted == [".[lessons]", "-c", "constraints.txt"]
    assert (TOP / "binder" / wanted[-1]).is_file(), "the path after -c is read from the folder of the requirements"
