"""What a picture is made of: roles, marks, and what a notebook is given to show."""

import base64
import math
import re
from html import unescape

import numpy as np
import pytest

from rollcalc.drawing import ROLES, Picture, svg_text
from rollcalc.drawing.core.picture import Axes, Line, Text

SHEET = Line([(0, 0), (100, 0)], "sheet")


def luminance(colour: str) -> float:
    """Return the relative luminance of WCAG 2."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))


@pytest.mark.parametrize("name", sorted(set(ROLES) - {"grid"}))
def test_every_role_stands_out_from_white(name: str) -> None:
    assert 1.05 / (luminance(ROLES[name].colour) + 0.05) >= 4.5


def test_colour_is_never_the_only_cue() -> None:
    """Two roles differ in whole px of width, in dashes, in filling or in hatching; the thin helpers may share."""
    roles = [role for name, role in ROLES.items() if name not in ("guide", "grid", "dimension")]
    looks = [(round(role.width), role.dash, role.fill > 0, role.hatch > 0) for role in roles]
    assert len(set(looks)) == len(looks)


def test_the_notebook_gets_a_figure_and_the_sentence_and_nothing_else() -> None:
    picture = Picture("Rolled to R < 90 mm & let go.", [SHEET], alt='The "sheet"')
    bundle = picture._repr_mimebundle_()
    assert set(bundle) == {"text/html", "text/plain"}
    assert bundle["text/plain"] == "Rolled to R < 90 mm & let go."
    found = re.fullmatch(
        r'<figure><img alt="([^"]*)" src="data:image/svg\+xml;base64,([A-Za-z0-9+/=]+)">'
        r"<figcaption>([^<]*)</figcaption></figure>",
        bundle["text/html"],
    )
    assert found
    assert unescape(found[1]) == 'The "sheet"'
    assert base64.b64decode(found[2]).decode() == svg_text(picture)
    assert unescape(found[3]) == picture.sentence


@pytest.mark.parametrize(
    "points", [[(0, 0)], [(0, 0, 0), (1, 1, 1)], [0, 1], [(0, math.nan), (1, 1)], [(0, 0), (math.inf, 1)]]
)
def test_a_line_that_is_no_line_is_refused(points: list[object]) -> None:
    with pytest.raises(ValueError, match="two or more finite points"):
        Line(points, "sheet")  # type: ignore[arg-type]


def test_unknown_words_are_refused_with_the_known_ones() -> None:
    with pytest.raises(ValueError, match=r"no role 'shet'; the roles are sheet, roll"):
        Line([(0, 0), (1, 1)], "shet")
    with pytest.raises(ValueError, match="no role"):
        Text((0, 0), "x", "blue")
    with pytest.raises(ValueError, match="anchor"):
        Text((0, 0), "x", anchor="left")
    with pytest.raises(ValueError, match="finite place"):
        Text((math.nan, 0), "x")
    with pytest.raises(ValueError, match="arrows"):
        Line([(0, 0), (1, 1)], "sheet", arrows="yes")
    with pytest.raises(ValueError, match="offset"):
        Line([(0, 0), (1, 1)], "sheet", offset=[(0, 0), (1, 1), (2, 2)])


@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [
        ({"sentence": ""}, "sentence"),
        ({"alt": ""}, "alt"),
        ({"marks": ()}, "at least one mark"),
        ({"frame": (0, 0, 0, 9)}, "frame"),
        ({"frame": (0, 0, math.nan, 9)}, "frame"),
        ({"frame": (0, 0, 9, 9), "axes": Axes("x, mm", "y, mm")}, "frame"),
    ],
)
def test_a_picture_without_its_parts_is_refused(arguments: dict[str, object], complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        Picture(**{"sentence": "A sheet.", "marks": (SHEET,), "alt": "Sheet", **arguments})  # type: ignore[arg-type]


@pytest.mark.parametrize("limits", [(1, 0), (0, 0), (0, math.inf)])
def test_an_axis_needs_a_range(limits: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="from a lower to a higher"):
        Axes("x", "y", y_range=limits)
