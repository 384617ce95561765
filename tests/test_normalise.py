"""The normalising command: what it keeps, what it drops, and that strict nbval agrees with what it writes."""

from __future__ import annotations

import base64
import os
import re
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from tests import normalise_notebooks as normalise

PANEL = """
import anywidget

class Panel(anywidget.AnyWidget):
    _esm = "export default { render({ el }) { el.textContent = 'live' } }"
    def _repr_mimebundle_(self, **kwargs):
        bundle = super()._repr_mimebundle_(**kwargs)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle, {})
        image = '<img alt="A ring" src="data:image/svg+xml;base64,PHN2Zy8+">'
        still = f"<figure>{image}<figcaption>R 66.3 mm</figcaption></figure>"
        return {**data, "text/html": still, "text/plain": "R 66.3 mm"}, metadata

Panel()
"""
CELLS = (
    ("markdown", "# A toy\n"),
    ("code", "print('one')\nprint('two')"),
    ("code", PANEL.strip()),
    ("code", "raise ValueError('thickness is -1 mm')"),
)


@pytest.fixture(scope="module")
def toy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A toy lesson with a print, a live panel and a deliberate error, normalised once."""
    path = tmp_path_factory.mktemp("lessons") / "90_toy.ipynb"
    cells = [new_markdown_cell(words) if kind == "markdown" else new_code_cell(words) for kind, words in CELLS]
    cells[1].update(execution_count=17, outputs=[new_output("stream", text="stale\n")])
    cells[1].metadata.update({"execution": {"iopub": "now"}, "collapsed": True, "tags": ["hide-input"]})
    cells[3].metadata.tags = ["raises-exception"]
    messy = {"kernelspec": {"name": "my-desk", "display_name": "Mine", "language": "python"},
             "language_info": {"name": "python", "version": "3.11.7"}, "widgets": {"state": {}}}
    nbformat.write(new_notebook(cells=cells, metadata=messy), path)
    assert normalise.main(["--check", str(path)]) == 1, "a messy notebook passed the check"
    assert "stale" in path.read_text("utf-8"), "--check has written"
    assert normalise.main([str(path)]) == 0
    return path


def test_only_meaning_is_left(toy: Path) -> None:
    book = nbformat.read(toy, as_version=4)
    assert book.metadata == {"kernelspec": normalise.KERNELSPEC, "language_info": {"name": "python"}}
    assert [cell.id for cell in book.cells] == ["cell-00", "cell-01", "cell-02", "cell-03"]
    assert [cell.metadata for cell in book.cells] == [{}, {"tags": ["hide-input"]}, {}, {"tags": ["raises-exception"]}]
    assert [cell.execution_count for cell in book.cells[1:]] == [1, 2, 3]
    prints, panel, error = (cell.outputs for cell in book.cells[1:])
    assert [(output.name, output.text) for output in prints] == [("stdout", "one\ntwo\n")]
    assert set(panel[0].data) == {"text/html", "text/plain"}
    assert (error[0].ename, error[0].traceback) == ("ValueError", ["ValueError: thickness is -1 mm"])


def test_the_file_is_stable(toy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = toy.read_bytes()
    assert before.endswith(b"}\n")
    assert b"\r" not in before
    assert normalise.main(["--check", str(toy)]) == 0
    assert normalise.main([str(toy)]) == 0
    assert toy.read_bytes() == before
    assert "written" not in capsys.readouterr().out


def test_a_cell_that_fails_stops_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "91_broken.ipynb"
    nbformat.write(new_notebook(cells=[new_code_cell("1 / 0")]), path)
    before = path.read_bytes()
    assert normalise.main([str(path)]) == 1
    assert "ZeroDivisionError" in capsys.readouterr().out
    assert path.read_bytes() == before


def test_neighbouring_prints_are_joined_and_other_outputs_keep_their_place() -> None:
    cell = new_code_cell(outputs=[
        new_output("stream", text="a\n"), new_output("stream", text="b\n"),
        new_output("stream", name="stderr", text="c\n"), new_output("display_data", {"text/plain": "d"}),
        new_output("stream", text="e\n"),
    ])
    tidy = normalise.clean(new_notebook(cells=[cell])).cells[0].outputs
    assert [output.get("text", "d") for output in tidy] == ["a\nb\n", "c\n", "d", "e\n"]


def test_the_report_leaves_pictures_out_but_not_captions() -> None:
    line = '<img src="data:image/svg+xml;base64,{}"><figcaption>R {} mm</figcaption>'
    assert normalise.difference("n", line.format("AAAA", 66), line.format("BBBB", 66)) == ""
    assert "R 67 mm" in normalise.difference("n", line.format("AAAA", 66), line.format("AAAA", 67))


def changed(toy: Path, name: str, mime: str, old: str, new: str) -> None:
    """Write a copy of the toy in which only the stored output of its panel is another one."""
    book = nbformat.read(toy, as_version=4)
    data = book.cells[2].outputs[0].data
    assert old in data[mime]
    data[mime] = data[mime].replace(old, new)
    (toy.parent / name).write_text(normalise.as_text(book), "utf-8")


def test_strict_nbval_reads_captions_and_not_pixels(toy: Path) -> None:
    changed(toy, "92_pixels.ipynb", "text/html", "PHN2Zy8+", base64.b64encode(b"<svg>1</svg>").decode())
    changed(toy, "93_caption.ipynb", "text/html", "R 66.3 mm", "R 66.4 mm")
    changed(toy, "94_sentence.ipynb", "text/plain", "R 66.3 mm", "R 66.4 mm")
    run = subprocess.run([sys.executable, "-m", "pytest", "--nbval", "-q", "-p", "no:cacheprovider", "-c", os.devnull,
                          f"--nbval-sanitize-with={Path(__file__).with_name('nbval-sanitize.cfg')}", str(toy.parent)],
                         capture_output=True, text=True, check=False)
    failed = set(re.findall(r"^FAILED \S*?(9\d_\w+)", run.stdout, re.MULTILINE))
    assert failed == {"93_caption", "94_sentence"}, run.stdout + run.stderr
    assert "2 failed, 10 passed" in run.stdout, run.stdout
