"""Lengths and other quantities as a shop writes them: read, refused, and written back."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from rollcalc.stock import InputError, format_length, gauge_thickness, parse_length
from rollcalc.stock.labels import format_fraction
from rollcalc.stock.lookup import UnknownNameError
from rollcalc.stock.units import parse_quantity
from tests.strategies import not_finite

INCH = 25.4

READ = [
    ("0.8", 0.8), ("0.8 mm", 0.8), ("0.8mm", 0.8), (" .8 MM ", 0.8), ("0,8 mm", 0.8), ("0,875", 0.875), ("3 cm", 30),
    ("1.2 m", 1200), ("1.5 in", 38.1), ("1.5 inch", 38.1), ("3 inches", 76.2), ("3 in.", 76.2), ('1.5"', 38.1),
    ("1.5″", 38.1), ("1.5”", 38.1), ("1.5''", 38.1), ("1 3/16 in", 30.1625), ('1-3/16"', 30.1625),
    ("1 - 3/16 in", 30.1625),
    ('3/16"', 4.7625), ("3⁄16 in", 4.7625), ("19/16 in", 30.1625), ("½ in", 12.7), ("1½ in", 38.1), ("1 ½″", 38.1),
    ("1-½ in", 38.1), ("⅜ in", 9.525), ("1/2 mm", 0.5), ("2 ft 6 in", 762), ("2 ft", 609.6), ("2' 6\"", 762),
    ("5'-6 1/2\"", 1689.1),
    ("2′ 6½″", 774.7), ("2 feet 6 inches", 762), ("1.2e3", 1200), ("1e-1 mm", 0.1), ("0", 0), ("0 mm", 0), ("-0", 0),
    ("1000,5 mm", 1000.5),
    (3, 3), (0.76, 0.76), (0, 0), (-0.0, 0), (np.float64(2.5), 2.5), (np.int32(2), 2), (np.array(2.5), 2.5),
]

GAUGES = [
    ("22 ga steel", 22, "steel"),
    ("22 gauge stainless", 22, "stainless"),
    ("22ga. aluminum", 22, "aluminium"),
    ("20 Gage Galvanised Steel", 20, "galvanized"),
    ("16 ga brass", 16, "brass"),
]

REFUSED = [
    "", " ", "mm", "abc", "twice 30 mm", "30 mm 40", "30 mm mm", "1.2.3", "1..2", "1 250", "1_000", "0x10", "--3",
    "3 -",
    "1/0 in", "0/0", "1 5/4 in", "1 1/2 1/2 in", "1.5 1/2 in", "1/2/3 in", "nan", "inf", "-inf", "NaN mm", "1e999",
    "1e999 in",
    "3 ft 2", "2 ft 6 mm", "6 in 2 ft", "1 in 3/16", "5² mm", "٣ mm", "三 mm", "3 furlongs", "3 kg", "3 MPa", "3 %",
    "__import__('os').getcwd()", "30 if True else 40", "2*3", "2+3", "10**10", "1" * 61, "9" * 6000, "½½ in", "1/½ in",
]

NOT_TEXT = [
    None,
    True,
    np.True_,
    b"3 mm",
    1j,
    [3],
    (3, 4),
    {"mm": 3},
    Ellipsis,
    np.array([1.0, 2.0]),
    np.array([]),
    len,
]


@pytest.mark.parametrize(("text", "length"), READ, ids=repr)
def test_a_length_is_read(text, length):
    read = parse_length(text)
    assert type(read) is float
    assert read == pytest.approx(length, rel=1e-15)
    assert math.copysign(1, read) == 1


@pytest.mark.parametrize(("text", "gauge", "metal"), GAUGES)
def test_a_gauge_is_read(text, gauge, metal):
    assert parse_length(text) == gauge_thickness(gauge, metal)


@pytest.mark.parametrize("text", REFUSED)
def test_what_is_no_length_gets_one_sentence_with_examples(text):
    with pytest.raises(InputError) as caught:
        parse_length(text)
    sentence = str(caught.value)
    assert sentence.endswith('write it like "0.8 mm", "1 3/16 in", "2 ft 6 in" or "22 ga steel".')
    assert "\n" not in sentence
    assert len(sentence) < 250


@pytest.mark.parametrize("value", NOT_TEXT, ids=repr)
def test_what_is_no_text_and_no_number_gets_the_sentence(value):
    with pytest.raises(InputError, match=r"^length is .*mm.*: write it like .*\.$"):
        parse_length(value)


@given(not_finite)
def test_a_number_must_be_finite(number):
    with pytest.raises(InputError, match="length is"):
        parse_length(number)


@pytest.mark.parametrize("text", ["-3 mm", "−3 mm", "-1/2 in", "- 2 ft", -0.001, -3])
def test_a_negative_length_is_refused(text):
    with pytest.raises(InputError, match=r"^length is -.* mm, but must be at least 0 mm: write it like .*\.$"):
        parse_length(text)


@pytest.mark.parametrize("text", ["1,250", "1,250 mm", "12,500 in", "1,250.5", "2 ft 1,250 in"])
def test_a_comma_that_may_part_thousands_is_refused(text):
    with pytest.raises(InputError, match="must have one meaning"):
        parse_length(text)


def test_a_bare_fraction_needs_its_unit_where_the_default_is_metric():
    for unit in ("mm", "cm", "m"):
        with pytest.raises(InputError, match='write "3/16 in" or "3/16 mm"'):
            parse_length("3/16", unit)
    assert parse_length("3/16", "in") == pytest.approx(4.7625)
    assert parse_length("1 3/16", "inch") == pytest.approx(30.1625)


def test_a_gauge_needs_its_metal():
    with pytest.raises(InputError, match=r'a gauge must name its metal.*"22 ga steel"'):
        parse_length("22 ga")
    with pytest.raises(UnknownNameError, match="no gauge table for 'zinc'"):
        parse_length("22 ga zinc")
    with pytest.raises(InputError, match="from 3 to 28 for steel"):
        parse_length("99 ga steel")


@pytest.mark.parametrize(
    ("unit", "length"), [("mm", 2), ("cm", 20), ("m", 2000), ("in", 50.8), ("inch", 50.8), ("ft", 609.6)]
)
def test_the_default_unit_serves_text_and_numbers_without_one(unit, length):
    assert parse_length("2", unit) == parse_length(2, unit) == pytest.approx(length)
    assert parse_length("2 mm", unit) == 2


@pytest.mark.parametrize("unit", ["furlong", "", None, 3, "MPa"])
def test_an_unknown_default_unit_is_named(unit):
    with pytest.raises(UnknownNameError, match="no unit of length"):
        parse_length("2", unit)


@given(st.text(max_size=80))
@example("1e400 ft")
@example("9" * 60 + "/" + "1")
@example("ʼn ga steel")
@example("1⅟2 in")
def test_any_text_is_a_length_or_a_sentence(text):
    assert_length_or_sentence(text)


@given(st.text(alphabet="0123456789 .,/-−'\"½⅓″′einftmcgasl", max_size=20))
def test_any_text_of_a_lengths_own_letters_is_a_length_or_a_sentence(text):
    assert_length_or_sentence(text)


def assert_length_or_sentence(text):
    for read in (parse_length, lambda text: parse_quantity(text, "MPa"), lambda text: parse_quantity(text, "in")):
        try:
            number = read(text)
        except InputError as error:
            assert str(error).endswith(".")
        else:
            assert math.isfinite(number)
            assert "-" in text.replace("−", "-") or number >= 0


@given(st.floats(0, 1e12))
def test_a_plain_number_survives_being_written(length):
    assert parse_length(repr(length)) == parse_length(f"{length!r} mm") == length


@given(st.floats(0, 1e6), st.sampled_from(["mm", "inch"]), st.integers(0, 12))
def test_a_label_is_read_back_to_its_last_digit(length, units, digits):
    step = (INCH if units == "inch" else 1) * 10.0**-digits
    assert parse_length(format_length(length, units, digits)) == pytest.approx(length, abs=0.5001 * step, rel=1e-12)


@given(st.floats(0, 1e6), st.sampled_from([1, 2, 4, 8, 16, 32, 64, 128, 10, 100]))
def test_a_fraction_is_read_back_to_half_a_division(length, denominator):
    left_over = length - parse_length(format_fraction(length, denominator))
    assert abs(left_over) <= 0.5001 * INCH / denominator


@given(st.integers(0, 10_000))
def test_a_fraction_is_in_lowest_terms(sixty_fourths):
    label = format_fraction(sixty_fourths * INCH / 64)
    assert label.endswith(" in")
    assert sum(Fraction(part) for part in label.removesuffix(" in").split()) == Fraction(sixty_fourths, 64)
    assert all(str(Fraction(part)) == part for part in label.removesuffix(" in").split())


@pytest.mark.parametrize(
    ("length", "mm", "inch", "fraction"),
    [
        (0, "0.00 mm", "0.000 in", "0 in"),
        (0.76, "0.76 mm", "0.030 in", "1/32 in"),
        (30.1625, "30.2 mm", "1.19 in", "1 3/16 in"),
        (66.3, "66.3 mm", "2.61 in", "2 39/64 in"),
        (25.39, "25.4 mm", "1.000 in", "1 in"),
        (1234.56, "1234.6 mm", "48.60 in", "48 39/64 in"),
        (-30.1625, "-30.2 mm", "-1.19 in", "-1 3/16 in"),
        (-0.0001, "0.00 mm", "0.000 in", "0 in"),
    ],
)
def test_labels(length, mm, inch, fraction):
    assert (format_length(length), format_length(length, "inch"), format_fraction(length)) == (mm, inch, fraction)
    assert format_length(length, "in") == inch


@pytest.mark.parametrize("write", [format_length, format_fraction])
@pytest.mark.parametrize("value", [float("nan"), float("inf"), None, True, "30 mm", np.array([1.0, 2.0])])
def test_a_label_needs_one_finite_number(write, value):
    with pytest.raises(InputError, match=r"^length is .*mm.*: give a number in mm\.$"):
        write(value)


@pytest.mark.parametrize("bad", [-1, 13, 1.5, "2", True, float("nan")])
def test_bad_digits_and_denominators_are_refused(bad):
    with pytest.raises(InputError, match=r"^digits is .*: give a .*\.$"):
        format_length(30, digits=bad)
    with pytest.raises(InputError, match=r"^denominator is .*: give a .*\.$"):
        format_fraction(30, 0 if bad == 13 else bad)


def test_a_label_in_another_unit_is_refused():
    for units in ("furlong", None, 3, ["mm"]):
        with pytest.raises(UnknownNameError, match="no unit for a label"):
            format_length(30, units)


# One pound-force is 0.45359237 kg × 9.80665 m/s², one inch 25.4 mm, both by definition.
POUND = 0.45359237 * 9.80665

QUANTITIES = [
    ("30 mm", "mm", 30), ("2 in", "mm", 50.8), ("50.8 mm", "in", 2), ("1/2", "inch", 0.5), (30, "mm", 30), (2, "in", 2),
    ("5 %", "%", 5), ("5%", "%", 5), ("5 percent", "%", 5), ("5", "%", 5), (5, "%", 5),
    ("12.5 deg", "deg", 12.5), ("12.5°", "deg", 12.5), ("180 degrees", "rad", math.pi), ("1 rad", "deg", 180 / math.pi),
    ("-3 deg", "deg", -3), ("−3", "rad", -3), ("0,5 rad", "rad", 0.5),
    ("250 MPa", "MPa", 250), ("250 N/mm²", "MPa", 250), ("250 N/mm2", "MPa", 250), ("0.25 GPa", "MPa", 250),
    ("250mpa", "MPa", 250),
    ("1000 psi", "MPa", 1000 * POUND / INCH**2), ("36 ksi", "MPa", 36000 * POUND / INCH**2), ("36 ksi", "ksi", 36),
    (205, "GPa", 205),
    ("1500 N mm", "N mm", 1500), ("1500 N·mm", "N mm", 1500), ("1500 Nmm", "N·mm", 1500), ("1.5 Nm", "N mm", 1500),
    ("1.5 N·m", "N mm", 1500), ("36.8 kN m", "N mm", 36.8e6), ("10 lbf in", "N mm", 10 * POUND * INCH),
    ("2 lbf-ft", "N mm", 24 * POUND * INCH),
    ("2 kN", "N", 2000), ("2 lbf", "N", 2 * POUND), ("2000 N", "kN", 2),
    ("2 1/4 turns", "turns", 2.25), ("½ turn", "turns", 0.5), ("-1 1/2", "turns", -1.5), ("3", "turns", 3),
    ("0.02 1/mm", "1/mm", 0.02), ("0.02/mm", "1/mm", 0.02), ("20 1/m", "1/mm", 0.02), ("1/50 1/mm", "1/mm", 0.02),
    ("1/mm", "1/mm", 1),
    ("1.5", "", 1.5), ("-1e-3", "", -0.001), ("3/4", "", 0.75), (np.float64(1.5), "", 1.5),
]


@pytest.mark.parametrize(("text", "unit", "number"), QUANTITIES, ids=repr)
def test_a_quantity_is_read(text, unit, number):
    read = parse_quantity(text, unit)
    assert type(read) is float
    assert read == pytest.approx(number, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("twice 30 mm", "mm"), ("30 MPa", "mm"), ("30 mm", "MPa"), ("30 MPa", "N mm"), ("30 N", "N mm"),
        ("30 mm", "deg"),
        ("5 %", ""), ("1.5 x", ""), ("two", "turns"), ("", "MPa"), ("MPa", "MPa"), ("1e999 N", "N"),
        ("30 MPa 2", "MPa"), ("1/120 mm", "1/mm"),
        (None, "MPa"), (True, "N"), ([1, 2], "deg"), (np.array([1.0, 2.0]), "N mm"), (float("nan"), "%"),
        (float("inf"), "MPa"),
        ("3 * 4", ""), ("1,250 MPa", "MPa"), ("9" * 61, "N"),
    ],
    ids=repr,
)
def test_what_is_no_such_quantity_gets_one_sentence(text, unit):
    with pytest.raises(InputError, match=r"^[^\n]*must[^\n]*: [^\n]*\.$"):
        parse_quantity(text, unit)


@pytest.mark.parametrize("unit", ["furlong", None, 3, "N/m", ["mm"]])
def test_an_unknown_unit_is_named(unit):
    with pytest.raises(UnknownNameError, match="no unit"):
        parse_quantity("30", unit)


@given(
    st.floats(-1e74, 1e74),
    st.sampled_from(["MPa", "deg", "N mm", "N", "turns", "1/mm", "%", ""]),
)
def test_a_quantity_survives_being_written(number, unit):
    assert parse_quantity(f"{number!r} {unit}", unit) == parse_quantity(number, unit) == number
