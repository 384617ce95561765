"""The measuring tool itself: it must find what is wrong, and only that."""

import pytest

from rollcalc.drawing import Picture
from rollcalc.drawing.core.picture import Axes, Line, Text
from tests.drawing.layout import clipped, overlaps

FRAME = (0.0, 0.0, 560.0, 320.0)  # one unit of the drawing is one px of a 640 × 400 page


def words(*texts: Text) -> Picture:
    return Picture("Words.", texts, alt="Words", frame=FRAME)


def test_words_on_top_of_each_other_are_found() -> None:
    picture = words(Text((100, 100), "released"), Text((130, 104), "loaded"), Text((100, 200), "sheet"))
    assert overlaps(picture) == [("released", "loaded")]


@pytest.mark.parametrize(
    "second", [Text((100, 120), "loaded"), Text((190, 100), "loaded"), Text((90, 100), "loaded", anchor="end")]
)
def test_words_beside_each_other_are_fine(second: Text) -> None:
    assert overlaps(words(Text((100, 100), "released"), second)) == []


def test_turned_words_are_measured_as_turned() -> None:
    level = Text((100, 100), "a long label beside the line")
    assert overlaps(words(level, Text((200, 60), "upright", angle=90)))
    assert not overlaps(words(level, Text((95, 60), "upright", angle=90)))
    assert not overlaps(words(Text((100, 100), "slanted label", angle=45), Text((150, 110), "level")))


def test_words_beyond_the_page_are_found() -> None:
    inside, beyond = Text((0, 0), "inside"), Text((570, 100), "beyond the edge")
    assert clipped(words(inside, beyond)) == ["beyond the edge"]
    assert clipped(words(Text((-35, 0), "out on the left", anchor="end"))) == ["out on the left"]
    assert clipped(words(Text((10, -35), "standing"), Text((10, 300), "rising out of the page", angle=90))) == [
        "rising out of the page"
    ]


@pytest.mark.parametrize("reach", [1e-6, 0.37, 1.0, 99.0, 2.4e4, 9.9e8])
def test_tick_labels_have_room_at_every_magnitude(reach: float) -> None:
    line = Line([(-reach, -reach), (reach, reach)], "loaded")
    picture = Picture("A line.", [line], Axes("radius, mm", "moment, N mm per mm of width"), alt="Graph")
    assert overlaps(picture) == []
    assert clipped(picture) == []
