"""The README tells the truth: its picture, its numbers, its table of lessons.

python tests/test_readme.py     draws the picture again
"""

import re
from pathlib import Path

import pytest

import rollcalc as rc
from rollcalc.drawing import svg_text
from rollcalc.drawing.metal.bend_view import side_view

TOP = Path(__file__).resolve().parents[1]
PICTURE = TOP / "notebooks" / "pictures" / "springback.svg"
README = (TOP / "README.md").read_text("utf-8")
STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]


def drawn() -> str:
    """Return the README's picture as the library draws it."""
    return svg_text(side_view(rc.Sheet(thickness=0.76, width=300), STEEL, 60))


def numbers(svg: str) -> list[float]:
    """Return every number of an SVG text."""
    return [float(number) for number in re.findall(r"-?\d+\.?\d*", svg)]


def test_the_picture_is_the_one_the_library_draws():
    kept = PICTURE.read_text("utf-8")
    assert re.sub(r"-?\d+\.?\d*", "#", kept) == re.sub(r"-?\d+\.?\d*", "#", drawn())
    assert numbers(kept) == pytest.approx(numbers(drawn()), abs=0.11)  # a last digit may differ between processors


def test_the_example_gives_the_numbers_it_says():
    body = rc.Sheet(thickness=rc.gauge_thickness(22, "steel"), width=240)
    assert f"hold this radius: {rc.loaded_radius(body, STEEL, released_radius=90.4):.1f} mm" in README
    code = re.search(r"```python\n(.*?)```", README, re.DOTALL)[1]
    names: dict[str, object] = {}
    exec(compile(code, "README.md", "exec"), names)
    assert names["body"].thickness == body.thickness


def test_the_caption_says_what_the_library_computes():
    opens = rc.released_radius(rc.Sheet(thickness=0.76, width=300), STEEL, 60)
    assert f"opens to about {opens:.0f} mm" in " ".join(README.split())


def test_the_table_of_lessons_says_which_are_ready():
    rows = dict(re.findall(r"^\| (\d\d)[^|]*\|[^|]*\| (ready|planned) \|$", README, re.MULTILINE))
    there = {path.name[:2] for path in (TOP / "notebooks").glob("[0-9][0-9]_*.ipynb")}
    assert {number for number, state in rows.items() if state == "ready"} == there


def test_every_file_it_links_to_is_there():
    for link in re.findall(r"\]\(([^)#:]+)\)", README):
        assert (TOP / link).exists(), link


def test_the_map_in_lesson_00_says_the_same():
    door = (TOP / "notebooks" / "00_start_here.ipynb").read_text("utf-8")
    ready = set(re.findall(r"\| \[?(\d\d)[^|]*\|[^|]*\| yes \|", door))
    assert ready == {path.name[:2] for path in (TOP / "notebooks").glob("[0-9][0-9]_*.ipynb")}


if __name__ == "__main__":
    PICTURE.write_text(drawn(), "utf-8")
