"""The panel without a browser: what it refuses at once, what it says, and that no old picture survives."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rollcalc.drawing import Picture
from rollcalc.drawing.core.picture import Line
from rollcalc.lessons.engine.panel import MM_PER_INCH, RUN_NOTE, Choice, Control, Panel, corners
from rollcalc.stock.quantities import InputError

RADIUS = Control("radius", "Wanted radius", "mm", 40, 240, 5, 90)
STRENGTH = Control("strength", "Yield strength", "MPa", 100, 400, 10, 250)
METAL = Choice("metal", "Metal", ("steel", "copper"), "steel")


def bend_picture(radius: float, strength: float, metal: str, units: str) -> Picture:
    """Return a picture of nothing much, that refuses one corner and breaks at one place."""
    if radius < 45 and metal == "copper":
        raise InputError("wanted radius is tighter than the upper roll: ask for more.")
    if radius == 100:
        raise ZeroDivisionError("division by zero")
    shown = f"{radius:.1f} mm" if units == "mm" else f"{radius / MM_PER_INCH:.3f} in"
    return Picture(
        f"R {shown}, {strength:g} MPa, {metal}.",
        [Line([(0, 0), (radius, 0)], "sheet")],
        alt="Sheet",
        frame=(0, 0, 250, 9),
    )


def bend_panel() -> Panel:
    return Panel(bend_picture, RADIUS, STRENGTH, METAL)


def browser_sends(panel: Panel, **state: Any) -> None:
    """Hand the panel a message as the browser would."""
    panel.set_state(state)


def test_a_panel_starts_with_its_picture() -> None:
    panel = bend_panel()
    assert panel.sentence == "R 90.0 mm, 250 MPa, steel."
    assert panel.values == {"radius": 90, "strength": 250, "metal": "steel"}
    assert panel.svg.startswith("<svg")
    assert not panel.problem


def test_a_panel_whose_start_is_refused_says_why_and_goes_on() -> None:
    panel = Panel(bend_picture, Control("radius", "Wanted radius", "mm", 40, 240, 5, 40), STRENGTH,
                  Choice("metal", "Metal", ("steel", "copper"), "copper"))
    assert panel.sentence == "wanted radius is tighter than the upper roll: ask for more."
    assert panel.problem
    assert panel.svg == ""
    data, _ = panel._repr_mimebundle_()
    assert data["text/plain"] == panel.sentence
    assert data["text/html"].startswith(f"<p>{panel.sentence} ")
    panel.set(radius=50)
    assert panel.svg.startswith("<svg")
    assert not panel.problem


def test_every_control_reaches_the_picture() -> None:
    panel = bend_panel()
    for change, sentence in (
        ({"radius": 200}, "R 200.0 mm, 250 MPa, steel."),
        ({"strength": 110}, "R 200.0 mm, 110 MPa, steel."),
        ({"metal": "copper"}, "R 200.0 mm, 110 MPa, copper."),
        ({"units": "inch"}, "R 7.874 in, 110 MPa, copper."),
    ):
        before = panel.svg, panel.sentence
        panel.set(**change)
        assert panel.sentence == sentence
        assert panel.sentence != before[1]
    assert panel.svg != bend_panel().svg


def test_the_browser_is_answered_once_for_each_change() -> None:
    calls = []

    def counted_picture(radius: float) -> Picture:
        calls.append(radius)
        return bend_picture(radius, 250, "steel", "mm")

    panel = Panel(counted_picture, RADIUS)
    browser_sends(panel, values={"radius": 60})
    browser_sends(panel, values={"radius": 65})
    assert calls == [90, 60, 65]
    assert panel.sentence.startswith("R 65.0 mm")


def test_picture_and_sentence_travel_in_one_message(monkeypatch: pytest.MonkeyPatch) -> None:
    panel, sent = bend_panel(), []
    monkeypatch.setattr(panel, "send_state", lambda key=(): sent.append({key} if isinstance(key, str) else set(key)))
    browser_sends(panel, values={**panel.values, "radius": 60})
    assert [keys & {"svg", "sentence"} for keys in sent if "svg" in keys] == [{"svg", "sentence"}]


@pytest.mark.parametrize(("typed", "units", "radius"), [
    ("90", "mm", 90), ("65,3", "mm", 65.3), ("60 1/2", "mm", 60.5), ("2 1/2 in", "mm", 63.5), (" 65 mm ", "inch", 65),
    ("3 1/2", "inch", 88.9),
])
def test_a_number_is_typed_as_an_exercise_takes_it(typed: str, units: str, radius: float) -> None:
    panel = bend_panel()
    browser_sends(panel, units=units)
    browser_sends(panel, values={**panel.values, "radius": typed})
    assert not panel.problem
    assert panel.values["radius"] == pytest.approx(radius)  # the slider follows


def test_every_request_is_answered_by_its_number() -> None:
    """The browser takes a picture without it for an old one."""
    panel = bend_panel()
    for number, radius in enumerate((60, 60, "no number", 70), start=1):
        browser_sends(panel, values={**panel.values, "radius": radius}, asked=number)
        assert panel.answered == number
    assert "R 70.0 mm" in panel.sentence


@pytest.mark.parametrize("junk", [None, "", "abc", "1e999", "90 N", True, [], {}, [90], math.nan, math.inf, -math.inf,
                                  10**400])
def test_what_is_no_number_is_told_so_and_the_picture_goes(junk: object) -> None:
    panel = bend_panel()
    browser_sends(panel, values={**panel.values, "radius": junk})
    allowed = "at least 40 mm and at most 240 mm"
    assert panel.sentence == (
        f"Wanted radius is not a number, but must be {allowed}: move the slider or type another number."
    )
    assert panel.problem
    assert panel.svg == ""
    browser_sends(panel, values={**panel.values, "radius": 95})
    assert panel.sentence == "R 95.0 mm, 250 MPa, steel."
    assert not panel.problem


@pytest.mark.parametrize(("value", "shown"), [(39.99, "39.99"), (240.01, "240.01"), (-90, "-90"), (1e9, "1e+09")])
def test_out_of_range_names_label_value_unit_and_range(value: float, shown: str) -> None:
    panel = bend_panel()
    browser_sends(panel, values={**panel.values, "radius": value})
    assert panel.sentence.startswith(f"Wanted radius is {shown} mm, but must be at least 40 mm and at most 240 mm: ")
    assert panel.svg == ""


def test_out_of_range_speaks_inches_when_inches_are_shown() -> None:
    panel = bend_panel()
    browser_sends(panel, units="inch", values={**panel.values, "radius": 20 * MM_PER_INCH})
    assert panel.sentence.startswith("Wanted radius is 20 in, but must be at least 1.58 in and at most 9.44 in: ")
    browser_sends(panel, values={**panel.values, "radius": 90, "strength": 5})
    assert panel.sentence.startswith("Yield strength is 5 MPa, but must be at least 100 MPa and at most 400 MPa: ")


@pytest.mark.parametrize(
    "values", [{}, {"radius": 90}, {"radius": 90, "strength": 250, "metal": "tin"}, {"metal": ["steel"]}]
)
def test_missing_and_unknown_values_are_told_too(values: dict[str, Any]) -> None:
    panel = bend_panel()
    browser_sends(panel, values=values)
    assert panel.problem
    assert panel.svg == ""
    assert panel.sentence.endswith(".")


def test_unknown_units_are_told_too() -> None:
    panel = bend_panel()
    browser_sends(panel, units="furlong")
    assert panel.sentence == "Lengths are shown in 'furlong', but must be in mm or inch: choose again."
    assert panel.svg == ""


def test_the_library_s_own_sentence_is_shown() -> None:
    panel = bend_panel()
    panel.set(radius=40, metal="copper")
    assert panel.sentence == "wanted radius is tighter than the upper roll: ask for more."
    assert (panel.problem, panel.svg) == (True, "")
    panel.set(metal="steel")
    assert (panel.problem, panel.svg != "") == (False, True)


def test_a_mistake_in_the_picture_is_shown_to_the_learner_and_raised_in_tests() -> None:
    panel = bend_panel()
    browser_sends(panel, values={**panel.values, "radius": 100})
    assert panel.sentence == "Something went wrong in the picture: ZeroDivisionError: division by zero"
    assert (panel.problem, panel.svg) == (True, "")
    panel.set(radius=90)
    with pytest.raises(ZeroDivisionError):
        panel.set(radius=100)


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=5,
)


@given(radius=JUNK, strength=JUNK, metal=JUNK, units=st.text(max_size=5) | st.sampled_from(["mm", "inch"]))
def test_whatever_the_browser_sends_there_is_a_sentence_and_never_a_stale_picture(
    radius: Any, strength: Any, metal: Any, units: str
) -> None:
    panel = Panel(bend_picture, RADIUS, STRENGTH, METAL)
    browser_sends(panel, values={"radius": radius, "strength": strength, "metal": metal}, units=units)
    assert panel.sentence
    assert panel.problem == (panel.svg == "")
    if not panel.problem:
        assert panel.sentence.startswith("R ")


def test_the_still_and_the_sentence_travel_with_the_panel() -> None:
    panel = bend_panel()
    start = panel.sentence
    panel.set(radius=200)
    data, _ = panel._repr_mimebundle_()
    assert set(data) == {"application/vnd.jupyter.widget-view+json", "text/html", "text/plain"}
    assert data["text/plain"] == start
    assert data["text/html"].startswith('<figure><img alt="Sheet" src="data:image/svg+xml;base64,')
    assert data["text/html"].endswith(f"<figcaption>{start} {RUN_NOTE}</figcaption></figure>")


def test_corners_are_all_ends_of_all_controls() -> None:
    panel = bend_panel()
    found = list(corners(panel))
    assert len(found) == 2 * 2 * 2 * 2
    assert {corner["radius"] for corner in found} == {40, 240}
    assert {corner["units"] for corner in found} == {"mm", "inch"}
    for corner in found:
        panel.set(**corner)
        assert panel.sentence


def test_only_a_function_that_speaks_units_gets_the_switch() -> None:
    assert bend_panel().has_units
    panel = Panel(lambda radius: bend_picture(radius, 250, "steel", "mm"), RADIUS)
    assert not panel.has_units
    assert list(corners(panel)) == [{"radius": 40}, {"radius": 240}]


@pytest.mark.parametrize(
    ("controls", "complaint"),
    [
        ((RADIUS, STRENGTH), "no control for metal"),
        ((RADIUS, STRENGTH, METAL, Control("thicknes", "Thickness", "mm", 1, 2, 1, 1)), "no parameter thicknes"),
        (
            (Control("radus", "Radius", "mm", 1, 2, 1, 1), STRENGTH, METAL),
            "no control for radius and no parameter radus",
        ),
        ((RADIUS, STRENGTH, METAL, Choice("units", "Units", ("mm", "inch"), "mm")), "no parameter units"),
        ((RADIUS, RADIUS, STRENGTH, METAL), "different names"),
        ((), "1 to 4 controls"),
        ((RADIUS, STRENGTH, METAL, *(Control(n, n, "", 1, 2, 1, 1) for n in "ab")), "1 to 4 controls"),
    ],
)
def test_controls_that_do_not_fit_the_function_are_refused_at_once(controls: Any, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        Panel(bend_picture, *controls)


@pytest.mark.parametrize(
    ("numbers", "complaint"),
    [
        ((40, 40, 5, 40), "low < high"),
        ((240, 40, 5, 90), "low < high"),
        ((40, 240, 0, 90), "step above 0"),
        ((40, math.inf, 5, 90), "low < high"),
        ((40, 240, 5, 92), "start 92 is not on the steps"),
        ((40, 240, 5, 245), "start 245 is not on the steps"),
        ((40, 242, 5, 90), "high 242 is not on the steps"),
        ((40, 240, 5, math.nan), "start nan"),
    ],
)
def test_a_control_that_makes_no_sense_is_refused_at_once(numbers: Any, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        Control("radius", "Wanted radius", "mm", *numbers)


@pytest.mark.parametrize(
    ("options", "start"), [(("steel",), "steel"), (("steel", "steel"), "steel"), (("steel", "copper"), "tin")]
)
def test_a_choice_that_makes_no_sense_is_refused_at_once(options: tuple[str, ...], start: str) -> None:
    with pytest.raises(ValueError, match="two or more different options"):
        Choice("metal", "Metal", options, start)


def test_a_panel_that_breaks_at_its_start_is_refused_at_once() -> None:
    broken = Control("radius", "Wanted radius", "mm", 40, 240, 5, 100)
    with pytest.raises(ZeroDivisionError):
        Panel(bend_picture, broken, STRENGTH, METAL)


def test_set_knows_its_controls() -> None:
    with pytest.raises(ValueError, match="no control radus; it has radius, strength, metal"):
        bend_panel().set(radus=90)


@given(
    low=st.floats(0.1, 500).map(lambda x: round(x, 2)),
    step=st.sampled_from([0.01, 0.02, 0.05, 0.1, 0.5, 1, 5, 10]),
    steps=st.integers(10, 500),
)
def test_every_inch_that_may_be_typed_is_allowed(low: float, step: float, steps: int) -> None:
    """The shown inch range lies inside the mm range, and its decimals tell two slider places apart."""
    control = Control("length", "Length", "mm", low, low + steps * step, step, low)
    inch = control.scale("inch")
    for shown in (inch.low, inch.high):
        typed = float(f"{shown:.{inch.decimals}f}")
        assert control.read(typed * MM_PER_INCH, "inch") == pytest.approx(typed * MM_PER_INCH)
    places = [f"{(low + n * step) / MM_PER_INCH:.{inch.decimals}f}" for n in range(steps)]
    assert len(set(places)) == len(places)


def test_decimals_come_from_the_step() -> None:
    assert [Control("x", "X", "mm", 0, 10, step, 0).scale("mm").decimals for step in (1, 0.5, 0.02)] == [0, 1, 2]
    assert [Control("x", "X", "mm", 0, 10, step, 0).scale("inch").decimals for step in (10, 1, 0.1, 0.05)] == [
        2,
        2,
        3,
        3,
    ]
    assert STRENGTH.scale("inch") == STRENGTH.scale("mm")
