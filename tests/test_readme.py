"""The README tells the truth: its pictures, its numbers, its table of lessons.

python tests/test_readme.py     draws the pictures again; that of the card needs pdftoppm (poppler-utils)
"""

import re
import subprocess
import tempfile
from pathlib import Path
from typing import Any

import pytest

import rollcalc as rc
from rollcalc.drawing import svg_text
from rollcalc.drawing.metal.bend_view import side_view
from rollcalc.job.plans.words import turns_words

TOP = Path(__file__).resolve().parents[1]
PICTURE = TOP / "notebooks" / "pictures" / "springback.svg"
CARD = PICTURE.with_name("setup-card.png")
README = (TOP / "README.md").read_text("utf-8")
STEEL = rc.MATERIALS["low-carbon steel, cold rolled"]


def drawn() -> str:
    """Return the README's picture as the library draws it."""
    return svg_text(side_view(rc.Sheet(thickness=0.76, width=300), STEEL, 60))


def ran(blocks: int) -> dict[str, Any]:
    """Return the names after running the first blocks of Python in the README."""
    names: dict[str, Any] = {}
    for code in re.findall(r"```python\n(.*?)```", README, re.DOTALL)[:blocks]:
        exec(compile(code, "README.md", "exec"), names)
    return names


def draw_card() -> None:
    """Draw the README's card: sixteen greys are enough."""
    from PIL import Image

    sheet = rc.Sheet(thickness=rc.gauge_thickness(22, "steel"), width=240)
    plan = rc.plan_cylinder(rc.DEMO_MACHINE, sheet, STEEL, inside_diameter=180, seam=rc.GroovedSeam(6))
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder) / "card.pdf"
        plan.card(page)
        subprocess.run(["pdftoppm", "-png", "-singlefile", "-r", "96", page, page.with_suffix("")], check=True)
        Image.open(page.with_suffix(".png")).convert("L").quantize(16).save(CARD, optimize=True)


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
    assert ran(1)["body"].thickness == body.thickness


def test_the_card_is_made_by_the_lines_above_it_and_its_picture_says_what_is_on_it(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    plan = ran(2)["plan"]
    assert (tmp_path / "lantern-body.pdf").read_bytes().startswith(b"%PDF")
    told = re.search(r"!\[(Setup card[^]]*)]", README)[1]
    assert f"{plan.blank.length:.1f} by {plan.blank.width:.0f} mm" in told
    first, second, third = (turns_words(one.turns_left) for one in plan.passes)
    assert f"three passes of {first}, {second} and {third} turns" in told
    assert CARD.read_bytes().startswith(b"\x89PNG")
    assert CARD.stat().st_size <= 120_000


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
    draw_card()
