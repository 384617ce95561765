"""The job panel knows no other truth than plan and estimate; every number that lesson 13 says is worked out again."""

from __future__ import annotations

import json
import os
from dataclasses import replace
from html import escape
from pathlib import Path
from typing import Any

import nbformat
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rollcalc as rc
from rollcalc.drawing.card.files import card_bytes
from rollcalc.drawing.passes.belief_view import belief_view
from rollcalc.job.learning.belief import PINCHES, TOUCH_ERROR
from rollcalc.job.plans.words import turns_words
from rollcalc.lessons.engine.save_pattern import BROWSER, HERE
from rollcalc.lessons.lesson13.form import FORMS, asked, in_other_units
from rollcalc.lessons.lesson13.job_panel import FORM_NOTE, WAITING, JobPanel
from rollcalc.stock.units import parse_length
from tests.drawing.layout import clipped, overlaps

MACHINE, STEEL = rc.DEMO_MACHINE, rc.MATERIALS["low-carbon steel, cold rolled"]
BAR_STEEL, ALUMINIUM = rc.MATERIALS["mild steel bar, hot rolled"], rc.MATERIALS["aluminium 3003-H14"]
BODY = rc.Sheet(thickness=0.76, width=240)
PLANS = {
    "cylinder of sheet": lambda: rc.plan_cylinder(MACHINE, BODY, STEEL, inside_diameter=180, seam=rc.GroovedSeam(6)),
    "ring of round bar": lambda: rc.plan_ring(MACHINE, rc.RoundBar(6), BAR_STEEL, inside_diameter=90),
    "ring of flat bar": lambda: rc.plan_ring(MACHINE, rc.FlatBar(3, 25), BAR_STEEL, inside_diameter=184),
    "cone of sheet": lambda: rc.plan_cone(MACHINE, rc.Sheet(thickness=0.8, width=1), ALUMINIUM, large_diameter=220,
                                          small_diameter=160, height=100),
}
NONSENSE = ("", "   ", "abc", "-3", "1e999", "nan", "inf", "1/0", "3 apples", "1,250", "9" * 400, "<b>6</b>",
            "__import__('os')", "٣", "12 ft 90 in x", "\x00", "0 mm")

BOOK = nbformat.read(Path(__file__).parents[2] / "notebooks" / "13_plan_a_job.ipynb", 4)
PROSE = " ".join(" ".join(cell.source.split()) for cell in BOOK.cells if cell.cell_type == "markdown")
PRINTED = "\n".join(output.get("text") or output["data"]["text/plain"]
                    for cell in BOOK.cells for output in cell.get("outputs", []))
AFTER = rc.estimate(MACHINE, STEEL).updated(BODY, turns=8.875, chord=100, rise=5.2)
NEXT, WANTED = AFTER.next_pass(BODY, 90.38), 90.38
THEN = AFTER.updated(BODY, turns=NEXT.turns, chord=100, rise=14.6).next_pass(BODY, WANTED)


def middle(rise: float, thickness: float = 0.76) -> float:
    """Return the radius to mid-thickness of a rise inside over 100 mm. [mm]"""
    return rc.radius_from_chord(100, rise) + thickness / 2


def listed(plan: rc.job.Plan, side: str = "turns_left") -> list[str]:
    """Return the turns of every pass as a knob shows them."""
    return [turns_words(getattr(one, side)) for one in plan.passes]


BODY_PLAN = PLANS["cylinder of sheet"]()
RING = rc.plan_ring(MACHINE, rc.RoundBar(6), BAR_STEEL, inside_diameter=150)
BAR = rc.plan_ring(MACHINE, rc.FlatBar(3, 25), rc.MATERIALS["aluminium 6061-T6"], inside_diameter=200)
CONE = rc.plan_cone(MACHINE, rc.Sheet(thickness=0.8, width=1), ALUMINIUM, large_diameter=180, small_diameter=160,
                    height=100)
SAID = [
    (f"a rise of {BODY_PLAN.passes[0].rise:.1f} mm over a chord of {BODY_PLAN.chord:g} mm", "workshop, plan"),
    (f"has {STEEL.yield_range[0]:.0f} to {STEEL.yield_range[1]:.0f} MPa", "yield range"),
    (f"{PINCHES[0]:.0f} to {PINCHES[1]:.0f} N (lesson 05). And **touch**: to {TOUCH_ERROR:g} mm", "pinch and touch"),
    (f"from {AFTER.yield_strength.low:.0f} to {AFTER.yield_strength.high:.0f} MPa still", "yield after"),
    (f"a radius between {NEXT.released_radius.low:.0f} and {NEXT.released_radius.high:.0f} mm", "next radius"),
    (f"100²/(8 × 5.2) + 5.2/2 = {middle(5.2, 0):.1f} mm inside, and half the thickness makes {middle(5.2):.1f} mm",
     "by hand"),
    (f"uncertain here, but only {rc.rolling.radius_error_from_chord(100, 15.1, 0.2):.1f} mm at 15.1", "error later"),
    (f"that {rc.rolling.radius_error_from_chord(100, 5.2, 0.2):.1f} mm uncertain", "error now"),
    (f"1. Yes: {turns_words(NEXT.turns)} turns", "panel 1"),
    (f"It came out at R {middle(14.6):.1f} mm: {turns_words(THEN.turns)} turns next", "panel 2"),
    ("The ring: {}, {} and {} turns, in the groove for 6 mm".format(*listed(RING)), "ring"),
    ("The bar: {}, {} and {} turns".format(*listed(BAR)), "bar"),
    (f"the left screw ends at {listed(CONE)[-1]} turns, the right one at {listed(CONE, 'turns_right')[-1]}", "cone"),
    (f"= {middle(11.2, 0):.1f} mm. Half of 3 mm further out lies the middle: **{middle(11.2, 3):.1f} mm**", "13.2"),
    (f"= {middle(16.1, 0):.1f} mm, so {middle(16.1):.1f} mm to the middle. Wanted are 90.38 mm: it is "
     f"**{100 * (1 - middle(16.1) / WANTED):.1f} %** too tight", "13.3"),
    (f"**{RING.passes[-1].turns_left:.3f} turns**, which is {listed(RING)[-1]} on the knobs", "13.1"),
]


@pytest.mark.parametrize(("words", "where"), SAID, ids=[where for _, where in SAID])
def test_the_lesson_says_what_the_library_computes(words, where):
    assert words in PROSE, where


def test_the_lesson_prints_what_the_library_gives():
    assert (BODY_PLAN.passes[0].turns_left, NEXT.turns) == (8.875, 13.1875)  # written ⅞ and ³⁄₁₆ in the text
    assert "13³⁄₁₆ turns, for" in PROSE
    assert "The plan says 8⅞ turns for the first pass" in PROSE
    for shown in (BODY_PLAN, NEXT, PLANS["cone of sheet"](), belief_view(AFTER, rc.estimate(MACHINE, STEEL))):
        assert getattr(shown, "sentence", repr(shown)) in PRINTED
    roof = rc.plan_cone(MACHINE, rc.Sheet(thickness=0.8, width=1), ALUMINIUM, large_diameter=220, small_diameter=60,
                        height=80)
    assert f"roof: not on this machine. {roof.nearest[0]}" in PRINTED


def test_one_reading_narrows_the_pinch_only_and_the_next_turns_well():
    start = rc.estimate(MACHINE, STEEL)
    left = {name: (getattr(AFTER, name).high - getattr(AFTER, name).low)
            / (getattr(start, name).high - getattr(start, name).low)
            for name in ("yield_strength", "pinch_force", "touch_turns")}
    assert left["pinch_force"] < 0.7 < 0.95 < min(left["yield_strength"], left["touch_turns"])
    band = NEXT.released_radius
    assert (band.high - band.low) / band.mean < 0.04
    strip = start.updated(rc.Sheet(thickness=0.76, width=40), turns=8.875, chord=100, rise=8.0)
    pinch, yields = strip.pinch_force, strip.yield_strength
    assert (pinch.high - pinch.low) > 0.9 * (start.pinch_force.high - start.pinch_force.low)
    assert (yields.high - yields.low) < 0.7 * (start.yield_strength.high - start.yield_strength.low)


def test_what_the_lesson_tries_in_the_panel_happens(panel):
    panel.set(readings=[{"rise": "5.2"}, {"rise": "14.6"}])
    assert f"{turns_words(THEN.turns)} turns" in panel.page["sentence"]
    panel.set(readings=[{"rise": "5.2"}, {"rise": "16.1"}])
    assert "Too tight" in panel.page["sentence"]
    panel.set(thickness="1.5", readings=[])
    assert "Nearest that passes" in panel.page["verdict"]
    assert panel.page["rows"] == []


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of the notebook."""
    monkeypatch.chdir(tmp_path)
    for name in ("BINDER_SERVICE_HOST", "JUPYTERHUB_USER"):
        monkeypatch.delenv(name, raising=False)
    return tmp_path


@pytest.fixture
def panel() -> JobPanel:
    return JobPanel()


def press(panel: JobPanel, **wanted: Any) -> tuple[dict[str, Any], list[bytes] | None]:
    """Press a button as the browser would, and return what comes back."""
    sent: list[Any] = []
    panel.send = lambda content, buffers=None: sent.append((content, buffers))
    start = {"format": "pdf", "name": "card", "place": HERE, "paper": "A4", "replace": False}
    panel._handle_custom_msg({**start, **wanted}, [])
    (answer,) = sent
    assert panel.said == answer[0]["sentence"]
    assert answer[0]["sentence"].endswith(".")
    return answer


def said_well(sentence: str) -> bool:
    """Return whether a sentence may stand before a learner."""
    return sentence.endswith((".", "?")) and len(sentence) <= 300 and "went wrong" not in sentence and "nan" not in (
        sentence.lower().replace("'nan'", ""))


@pytest.mark.parametrize("piece", FORMS)
def test_the_form_starts_with_a_part_of_the_lantern_and_gives_the_library_s_plan(piece, panel):
    panel.set(piece=piece)
    plan = PLANS[piece]()
    assert panel.plan == plan
    assert panel.page["problem"] == ""
    cells = [row["cells"] for row in panel.page["rows"]]
    for one, row in zip(plan.passes, cells, strict=True):
        wanted = (turns_words(one.turns_left), turns_words(one.turns_right))[: 2 if plan.cone else 1]
        assert tuple(row[1:1 + len(wanted)]) == wanted
        assert len(row) == len(panel.page["head"])
    assert plan.verdict.capitalize() in panel.page["verdict"].replace("&#x27;", "'")
    for check in (*plan.capacity.checks, *(plan.cone.checks if plan.cone else ())):
        assert all(part in panel.page["checks"] for part in check.row[1:]), check.name
    assert panel.page["learns"] == (plan.cone is None)
    assert ("not worked out for a cone" in panel.page["learnt"]) == (plan.cone is not None)


@pytest.mark.parametrize(("typed", "plan"), [
    ({"diameter": "7 1/2 in", "thickness": "22 ga steel", "seam": "butt", "gap": "1,5"},
     lambda: rc.plan_cylinder(MACHINE, rc.Sheet(thickness=rc.gauge_thickness(22, "steel"), width=240), STEEL,
                              inside_diameter=190.5, seam=rc.ButtSeam(1.5))),
    ({"diameter": "200", "across": "outside", "seam": "riveted lap", "lap": "16", "rivet": "4", "trim": "20",
      "face": "outside", "chord": "80", "metal": "copper, soft"},
     lambda: rc.plan_cylinder(MACHINE, BODY, rc.MATERIALS["copper, soft"], outside_diameter=200, trim=20,
                              seam=rc.LapSeam(16, 4), face="outside", chord=80)),
    ({"piece": "cone of sheet", "large": "180", "small": "160", "across": "inside", "small_end": "left",
      "seam": "lap"},
     lambda: rc.plan_cone(MACHINE, rc.Sheet(thickness=0.8, width=1), ALUMINIUM, large_inside_diameter=180,
                          small_inside_diameter=160, height=100, small_end="left", seam=rc.LapSeam(8))),
])
def test_what_is_typed_and_chosen_reaches_the_plan(typed, plan, panel):
    panel.set(**typed)
    assert panel.page["faults"] == {}
    assert panel.plan == plan()


def test_the_other_units_are_the_same_plan_and_back_it_is_as_it_was_typed(panel):
    panel.set(diameter="180,50", chord="90 mm", readings=[{"rise": "5,20"}])
    before, page = (panel.values, panel.readings), panel.page
    panel.set(units="inch")
    assert float(panel.values[panel.piece]["diameter"]) == pytest.approx(180.5 / 25.4, rel=1e-3)
    assert panel.values[panel.piece]["chord"] == "90 mm"
    assert "in" in panel.page["measure"]
    assert "mm" not in panel.page["measure"] + panel.page["verdict"] + panel.page["checks"] + panel.page["wrong"]
    assert panel.page["rows"][1]["cells"][1] == page["rows"][1]["cells"][1]  # the same next turns
    panel.set(units="mm")
    assert (panel.values, panel.readings, panel.page) == (*before, page)


@given(st.one_of(st.sampled_from(["6", "6,5", "2 1/2", "3/16 in", "1 in", "x", "", "0.76"]), st.text(max_size=12)))
@settings(max_examples=60, deadline=None)
def test_a_bare_number_in_other_units_is_the_same_length(text):
    other = in_other_units(text, "inch")
    if other != text:
        assert parse_length(other, "in") == pytest.approx(parse_length(f"{text} mm"), rel=1e-3)


@pytest.mark.parametrize("piece", FORMS)
def test_nonsense_in_any_field_is_answered_by_a_sentence_and_stays_there(piece, panel):
    for field in FORMS[piece]:
        panel.set(piece=piece, seam=field.seams[0] if field.seams else "butt")
        for text in NONSENSE:
            panel.set(**{field.name: text})
            page = panel.page
            assert panel.values[piece][field.name] == text
            if (field.empty and not text.strip()) or (field.zero and text == "0 mm"):
                assert page["problem"] == ""
            else:
                assert said_well(page["problem"]), page["problem"]
                assert page["faults"].get(field.name, page["problem"]) == page["problem"]
                assert (page["verdict"], page["rows"], panel.plan) == ("", [], None)
        panel.set(**{field.name: field.start})
    panel.set(seam=next(field.start for field in FORMS[piece] if field.name == "seam"))
    assert panel.plan == PLANS[piece]()


@pytest.mark.parametrize(("typed", "words"), [
    ({"width": "900"}, "900"), ({"lap": "3", "seam": "riveted lap"}, "rivet"), ({"chord": "500"}, "chord"),
    ({"thickness": "400"}, "thick"), ({"fold": "400"}, ""),
    ({"piece": "cone of sheet", "large": "100"}, ""), ({"piece": "cone of sheet", "height": "100000"}, ""),
    ({"piece": "ring of round bar", "diameter": "1e70"}, "")])
def test_what_does_not_fit_together_gets_a_sentence_or_a_verdict(typed, words, panel):
    panel.set(**typed)
    assert said_well(panel.page["sentence"])
    assert words in panel.page["problem"] + panel.page["verdict"]


@given(st.data())
@settings(max_examples=40, deadline=None)
def test_any_sizes_give_a_plan_or_a_sentence(data):
    panel = JobPanel()
    piece = data.draw(st.sampled_from(list(FORMS)))
    sizes = st.floats(0.05, 3000).map(lambda size: f"{size:.3g}")
    values = {field.name: data.draw(st.sampled_from(field.options) if field.options else sizes)
              for field in asked(piece, {"seam": "butt"}) if field.name not in ("seam", "chord")}
    panel.set(piece=piece, seam="butt", **values, readings=[{"rise": data.draw(sizes)}])
    assert said_well(panel.page["sentence"]), (values, panel.page["sentence"])
    assert all(said_well(one) for one in panel.page["reading_faults"].values())
    assert (panel.plan is None) == bool(panel.page["problem"])
    json.dumps(panel.page, allow_nan=False)


def test_readings_give_the_next_turns_of_the_estimate(panel):
    plan, known = PLANS["cylinder of sheet"](), rc.estimate(MACHINE, STEEL)
    turns, rows = plan.passes[0].turns_left, list[dict[str, str]]()
    for number, rise in enumerate(("5.2", "13,9")):
        dialled = panel.page["rows"][number]["cells"][1]
        rows = [*rows, {"rise": rise}]
        panel.set(readings=rows)
        rows = panel.readings[panel.piece]
        assert (rows[number]["turns"], rows[number]["chord"]) == (dialled, "100")  # filled in, and there to be changed
        assert turns_words(turns) == dialled
        known = known.updated(BODY, turns=turns, chord=100, rise=float(rise.replace(",", ".")))
        following = known.next_pass(BODY, plan.released_radius)
        assert panel.page["rows"][number + 1]["cells"][1] == turns_words(following.turns)
        assert f"Next: {turns_words(following.turns)} turns" in panel.page["learnt"]
        assert f"{following.chance:.0%}" in panel.page["learnt"]
        turns = following.turns
        assert belief_view(known, rc.estimate(MACHINE, STEEL)).sentence == panel.page["caption"]
        assert panel.page["svg"].startswith("<svg")
    panel.set(diameter="170")  # another ring of the same sheet: what was learnt of it stands
    smaller = rc.plan_cylinder(MACHINE, BODY, STEEL, inside_diameter=170, seam=rc.GroovedSeam(6))
    assert panel.page["rows"][2]["cells"][1] == turns_words(known.next_pass(BODY, smaller.released_radius).turns)


def test_the_turns_and_the_face_that_were_really_used_count(panel):
    panel.set(face="outside", readings=[{"rise": "5.2", "turns": "9 1/2", "chord": "110"}])
    known = rc.estimate(MACHINE, STEEL).updated(BODY, turns=9.5, chord=110, rise=5.2, face="outside")
    assert panel.page["rows"][1]["cells"][1] == turns_words(known.next_pass(BODY, 90.38).turns)
    assert f"R {rc.radius_from_chord(110, 5.2) - 0.38:.1f} mm" in panel.page["rows"][0]["cells"][-1]


def test_too_tight_gets_the_remedy_and_no_turns(panel):
    panel.set(readings=[{"rise": "5.2"}, {"rise": "16.1"}])
    page = panel.page
    assert len(page["rows"]) == 2
    assert "Too tight" in page["sentence"]
    for words in ("Open it by hand", "roll it back", "nobody can say", "does not open a ring"):
        assert words in page["learnt"]
    assert "Next:" not in page["learnt"]
    assert "86.1 mm" in page["rows"][1]["cells"][-1]


def test_finished_is_said_and_asks_for_no_more(panel):
    panel.set(readings=[{"rise": "5.2"}, {"rise": "15.1"}])
    assert "Finished" in panel.page["sentence"]
    assert len(panel.page["rows"]) == 2


def test_readings_that_contradict_are_named(panel):
    panel.set(readings=[{"rise": "5.2"}, {"rise": "25"}])
    assert "Measure again" in panel.page["sentence"]
    assert "does not agree with the other" in panel.page["learnt"]
    assert "Too tight" in panel.page["learnt"]


@pytest.mark.parametrize(("rows", "place", "words"), [
    ([{"rise": "x"}], "0.rise", "Pass 1: the rise is 'x'"), ([{"rise": "-2"}], "0.rise", "must be a length"),
    ([{"rise": "90"}], "0.rise", "decimal point"), ([{"rise": "5", "turns": "often"}], "0.turns", "8 7/8"),
    ([{"rise": "5", "turns": "0"}], "0.turns", "above zero"), ([{"rise": "5", "chord": "0"}], "0.chord", "above zero"),
    ([{"rise": "5.2"}, {"rise": "9", "turns": "8"}], "1.turns", "fewer than the pass before"),
    ([{"rise": "5.2"}, {"rise": "9" * 300}], "1.rise", "no number")])
def test_nonsense_in_a_reading_is_answered_beside_a_plan_that_stays(rows, place, words, panel):
    panel.set(readings=rows)
    assert words in panel.page["reading_faults"][place]
    assert said_well(panel.page["reading_faults"][place])
    assert panel.plan is not None
    number, name = place.split(".")
    assert panel.readings[panel.piece][int(number)][name] == rows[int(number)][name]
    assert panel.page["rows"][int(number)]["input"]


def test_readings_of_another_piece_are_not_used_but_kept(panel):
    panel.set(readings=[{"rise": "5.2"}])
    rows = panel.readings
    panel.set(thickness="0.8")
    assert "sheet 0.76 × 240 mm" in panel.page["reading_faults"]["0.rise"]
    assert panel.page["learnt"] == ""
    panel.set(thickness="0.76")
    assert panel.page["reading_faults"] == {}
    assert panel.readings == rows
    panel.set(piece="ring of round bar")
    assert panel.readings[panel.piece] == []  # every piece has its own


def test_a_verdict_against_it_shows_why_and_gives_no_turns(panel):
    panel.set(piece="cone of sheet", large="220", small="60", height="80")
    page = panel.page
    assert "Not on this machine" in page["verdict"]
    assert "Nearest that passes" in page["verdict"]
    assert (page["rows"], page["learns"]) == ([], False)
    assert "% over" in page["checks"]
    answer, _ = press(panel)
    assert not answer["problem"]  # the card of a job that is refused says so


def test_the_machine_is_the_learner_s_and_is_named(own_machine, panel):
    own_machine(replace(MACHINE, name="my rolls", pinch_force=4000))
    panel.set(height="100")
    assert "my rolls" in panel.page["machine"]
    assert panel.plan == rc.plan_cylinder(replace(MACHINE, name="my rolls", pinch_force=4000), BODY, STEEL,
                                          inside_diameter=180, seam=rc.GroovedSeam(6))


def test_a_machine_without_a_pinch_to_learn_works_too(own_machine):
    own_machine(rc.PyramidMachine(name="mine", top_roll_diameter=80, bottom_roll_diameter=70, bottom_roll_spacing=110,
                                  screw_pitch=2, working_width=600, crank_radius=250))
    panel = JobPanel()
    panel.set(diameter="300", readings=[{"rise": "2"}])
    assert panel.plan is not None
    assert "went wrong" not in panel.page["sentence"]
    assert "pinch" not in panel.page["caption"]


def test_a_machine_file_that_is_refused_is_a_sentence_and_comes_right_again(panel, monkeypatch, folder):
    (folder / "machine.toml").write_text("screw_pitch = sideways")
    monkeypatch.setenv("ROLLCALC_MACHINE", str(folder / "machine.toml"))
    panel.set(readings=[{"rise": "5.2"}])
    assert "machine.toml" in panel.page["problem"]
    assert said_well(panel.page["problem"])
    assert JobPanel().page["problem"] == panel.page["problem"]
    assert "machine.toml" in JobPanel()._repr_mimebundle_()[0]["text/plain"]
    monkeypatch.setenv("ROLLCALC_MACHINE", "demo")
    panel.set()
    assert panel.page["problem"] == ""
    assert "Next" in panel.page["learnt"]


@pytest.mark.parametrize("format", ["pdf", "html"])
def test_the_card_is_written_when_asked_and_never_over_another(format, panel, folder):
    panel.set(units="inch")
    assert os.listdir(folder) == []
    answer, content = press(panel, format=format, paper="Letter")
    assert (content, answer["problem"]) == (None, False)
    assert (folder / f"card.{format}").read_bytes() == card_bytes(panel.plan, format, "Letter", "inch")
    panel.set(diameter="8")
    again, _ = press(panel, format=format)
    assert again["problem"]
    assert "tick “Replace a file of that name”" in again["sentence"]
    replaced, _ = press(panel, format=format, replace=True)
    assert not replaced["problem"]
    assert (folder / f"card.{format}").read_bytes() == card_bytes(panel.plan, format, "A4", "inch")


def test_the_card_goes_through_the_browser_where_there_is_no_disk(panel, folder, monkeypatch):
    answer, content = press(panel, place=BROWSER, name="body.pdf")
    assert content == [card_bytes(panel.plan, "pdf")]
    assert answer["file"] == "body.pdf"
    assert os.listdir(folder) == []
    monkeypatch.setenv("JUPYTERHUB_USER", "somebody")
    assert JobPanel().place == BROWSER


@pytest.mark.parametrize("wanted", [{"format": "exe"}, {"name": ""}, {"name": "no/folder/card"}, {"paper": "A99"}])
def test_a_card_that_cannot_be_written_gets_a_sentence(wanted, panel, folder):
    answer, content = press(panel, **wanted)
    assert (answer["problem"], content) == (True, None)
    assert os.listdir(folder) == []
    panel.set(thickness="x")
    answer, _ = press(panel)
    assert "There is no plan to write" in answer["sentence"]


def test_what_the_browser_may_send_is_never_a_traceback(panel):
    for trait, value in (("piece", "boat"), ("units", "ells"), ("values", {}), ("values", {"cylinder of sheet": None}),
                         ("readings", {"cylinder of sheet": [None, 3, {"rise": 5}]}), ("readings", {})):
        start = getattr(panel, trait)
        setattr(panel, trait, value)
        panel.asked += 1
        assert said_well(panel.page["sentence"]), (trait, value, panel.page["sentence"])
        setattr(panel, trait, start)
    assert panel.page["problem"] == ""


def test_where_it_cannot_run_the_plan_is_shown(panel):
    data, _ = panel._repr_mimebundle_()
    plan = PLANS["cylinder of sheet"]()
    assert data["text/plain"] == repr(plan)
    assert FORM_NOTE in data["text/html"]
    assert escape(plan.caption) in data["text/html"]
    assert panel.said == WAITING


@pytest.mark.parametrize("rises", [(), (5.2,), (5.2, 14.0), (3.0,), (8.5,)])
def test_the_picture_of_what_is_believed_can_be_read(rises):
    start = known = rc.estimate(MACHINE, STEEL)
    for turns, rise in zip((8.875, 12.5), rises, strict=False):
        known = known.updated(BODY, turns=turns, chord=100, rise=rise)
    picture = belief_view(known, start)
    assert overlaps(picture) == clipped(picture) == []
    for band in (known.yield_strength, known.pinch_force):
        assert f"{band.low:.0f} to {band.high:.0f}" in picture.sentence
