"""Run the lessons from top to bottom and write them back so that a diff shows only meaning.

    python tests/normalise_notebooks.py                      all lessons
    python tests/normalise_notebooks.py notebooks/04*.ipynb  some of them
    python tests/normalise_notebooks.py --check              change nothing, only report what would change

What is written: outputs of one clean run, counts 1 to n, cells named by their place, one kernel name
for everybody. What is dropped: times, widget state, the random names of live widgets (a panel keeps
the still and the sentence that it carries), the version of Python that ran it.
"""

from __future__ import annotations

import argparse
import copy
import difflib
import os
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from nbformat import NotebookNode

FOLDER = Path(__file__).resolve().parents[1] / "notebooks"
KERNELSPEC = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
LANGUAGE_INFO = {"name": "python"}
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
KEPT_CELL_METADATA = ("jupyter", "tags")
PICTURE = re.compile(r"(data:image/svg\+xml;base64,)[A-Za-z0-9+/=]+")
"""The part of a figure that may differ in a last digit between processors; the caption may not."""


def lessons() -> list[Path]:
    """Return every committed notebook."""
    return sorted(path for path in FOLDER.rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts)


def executed(notebook: NotebookNode, folder: Path) -> NotebookNode:
    """Return the notebook as one run from top to bottom, in its folder, leaves it."""
    run = copy.deepcopy(notebook)
    for cell in run.cells:
        if cell.cell_type == "code":
            cell.update(outputs=[], execution_count=None)
    NotebookClient(run, kernel_name=KERNELSPEC["name"], timeout=300, store_widget_state=False,
                   record_timing=False, resources={"metadata": {"path": str(folder)}}).execute()
    return run


def clean(notebook: NotebookNode) -> NotebookNode:
    """Return the notebook without anything that changes from run to run or from desk to desk."""
    tidy = nbformat.from_dict({"cells": [_clean_cell(place, cell) for place, cell in enumerate(notebook.cells)],
                               "metadata": {"kernelspec": KERNELSPEC, "language_info": LANGUAGE_INFO},
                               "nbformat": 4, "nbformat_minor": 5})
    nbformat.validate(tidy)
    return tidy


def as_text(notebook: NotebookNode) -> str:
    """Return the notebook as its file holds it."""
    return nbformat.writes(notebook, indent=1, sort_keys=True, ensure_ascii=False).rstrip() + "\n"


def difference(name: str, old: str, new: str) -> str:
    """Return what changed, pictures left out; empty where nothing did."""
    sides = [PICTURE.sub(r"\1…", text).splitlines() for text in (old, new)]
    return "\n".join(difflib.unified_diff(*sides, f"{name}, as it is", f"{name}, after a clean run", lineterm=""))


def _clean_cell(place: int, cell: NotebookNode) -> dict[str, object]:
    """Return a cell with a name from its place and only the metadata that mean something."""
    tidy: dict[str, object] = {
        "cell_type": cell.cell_type,
        "id": f"cell-{place:02}",
        "metadata": {key: cell.metadata[key] for key in KEPT_CELL_METADATA if cell.metadata.get(key)},
        "source": cell.source.strip("\n"),
    }
    if cell.cell_type == "code":
        tidy |= {"execution_count": cell.execution_count, "outputs": list(_clean_outputs(cell.outputs))}
    if cell.get("attachments"):
        tidy["attachments"] = cell.attachments
    return tidy


def _clean_outputs(outputs: list[NotebookNode]) -> Iterator[NotebookNode]:
    """Yield the outputs with neighbouring streams joined, and without live widgets and metadata."""
    joined: list[NotebookNode] = []
    for output in copy.deepcopy(outputs):
        if output.output_type == "stream" and joined and joined[-1].get("name") == output.name:
            joined[-1].text += output.text
        else:
            joined.append(output)
    for output in joined:
        if "data" in output:
            output.metadata = NotebookNode()
            output.data.pop(WIDGET_VIEW, None)
        if output.output_type == "error":
            output.traceback = [f"{output.ename}: {output.evalue}"]  # The rest is paths of one desk.
        yield output


def main(arguments: list[str] | None = None) -> int:
    """Normalise the notebooks named, or report how they differ; return 1 where one differs or does not run."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("files", nargs="*", type=Path, help="notebooks; all of them when none is named")
    parser.add_argument("--check", action="store_true", help="change nothing, only report")
    asked = parser.parse_args(arguments)
    for missing in (path for path in asked.files if not path.is_file()):
        parser.error(f"there is no notebook {missing}")
    os.environ["JUPYTER_PREFER_ENV_PATH"] = "1"  # The kernel of this environment, not of the user's desk,
    os.environ["ROLLCALC_MACHINE"] = "demo"  # and the lessons' own machine, not one that lies in a machine.toml.
    different = 0
    for path in asked.files or lessons():
        old = path.read_text("utf-8")
        try:
            new = as_text(clean(executed(nbformat.reads(old, as_version=4), path.resolve().parent)))
        except CellExecutionError as stop:
            print(f"{path.name}: a cell stopped the run, nothing written\n{stop}")
            return 1
        report = difference(path.name, old, new)
        different += bool(report)
        if asked.check:
            print(report or f"{path.name}: as a clean run leaves it")
        elif old != new:
            path.write_text(new, "utf-8", newline="\n")
            print(f"{path.name}: written")
    return int(asked.check and different > 0)


if __name__ == "__main__":
    sys.exit(main())
