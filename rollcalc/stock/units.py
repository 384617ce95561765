"""Numbers as a shop writes them, read with their unit.

Inside the library everything is mm, N, MPa, N·mm and rad; this is the door in, and `labels` the door
out. Text is taken apart by patterns, never evaluated.
"""

import math
import re
import unicodedata
from typing import Any, NamedTuple

from .gauges import MM_PER_INCH, gauge_thickness
from .lookup import unknown_name
from .quantities import InputError, checked_single, shown

NEWTONS_PER_POUND = 4.4482216152605
"""One pound-force; exact by the definitions of the pound and standard gravity. [N]"""

_PSI = NEWTONS_PER_POUND / MM_PER_INCH**2  # [MPa]
_DEGREE = math.pi / 180  # [rad]

_INCH, _FOOT = (127, 5), (1524, 5)  # 25.4 as a ratio of whole numbers, so that 1.5 in is 38.1 mm to the last digit
_LENGTHS = {
    "mm": (1, 1), "cm": (10, 1), "m": (1000, 1), "in": _INCH, "inch": _INCH, "inches": _INCH, '"': _INCH,
    "ft": _FOOT, "foot": _FOOT, "feet": _FOOT, "'": _FOOT,
}
"""Unit of length -> so many mm are so many of it."""

_LENGTH_ADVICE = 'write it like "0.8 mm", "1 3/16 in", "2 ft 6 in" or "22 ga steel"'


class _Dimension(NamedTuple):
    """What a kind of quantity is called, an example of it, and the size of each unit it may be written in."""

    name: str
    example: str
    units: dict[str, float]


_DIMENSIONS = (
    _Dimension("angle", "12.5 deg", {"rad": 1.0, "deg": _DEGREE, "°": _DEGREE, "degree": _DEGREE, "degrees": _DEGREE}),
    _Dimension("stress", "250 MPa", {"mpa": 1.0, "n/mm2": 1.0, "gpa": 1000.0, "psi": _PSI, "ksi": 1000 * _PSI}),
    _Dimension("moment", "1500 N mm", {"nmm": 1.0, "nm": 1e3, "knm": 1e6, "lbfin": NEWTONS_PER_POUND * MM_PER_INCH,
                                       "lbin": NEWTONS_PER_POUND * MM_PER_INCH,
                                       "lbfft": NEWTONS_PER_POUND * MM_PER_INCH * 12}),
    _Dimension("force", "1500 N", {"n": 1.0, "kn": 1000.0, "lbf": NEWTONS_PER_POUND}),
    _Dimension("curvature", "0.01 1/mm", {"1/mm": 1.0, "/mm": 1.0, "1/m": 1e-3, "/m": 1e-3,
                                          "1/in": 1 / MM_PER_INCH, "/in": 1 / MM_PER_INCH}),
    _Dimension("share", "5 %", {"%": 1.0, "percent": 1.0}),
    _Dimension("turns of the screw", "2 1/4 turns", {"turns": 1.0, "turn": 1.0}),
    _Dimension("number", "1.5", {"": 1.0}),
)

_SPELLED = {f"{word}{end}": short for word, short in (
    ("millimetre", "mm"), ("millimeter", "mm"), ("centimetre", "cm"), ("centimeter", "cm"), ("metre", "m"),
    ("meter", "m"), ("newton", "n"), ("kilonewton", "kn"), ("pound", "lbf"), ("lb", "lbf"), ("poundforce", "lbf"),
    ("megapascal", "mpa"), ("gigapascal", "gpa"), ("radian", "rad"), ("newtonmillimetre", "nmm"),
    ("newtonmillimeter", "nmm"), ("newtonmetre", "nm"), ("newtonmeter", "nm"), ("percent", "%"), ("turn", "turns"),
    ("revolution", "turns"), ("inche", "in"), ("inch", "in"),
) for end in ("", "s")}
"""Unit spelled out -> how it is written in short."""

_NUMBER = r"(?:(?:(\d+)(?: ?- ?| ))?(\d+) ?/ ?(\d+)|(\d+(?:[.,]\d+)?|[.,]\d+)(e[+-]?\d+)?)"
"""A fraction or mixed number (whole, top, bottom), or a decimal number (digits, exponent)."""

_FEET_INCHES = r"(.+?(?:ft|foot|feet|'))(?: ?- ?| ?)(\d.*(?:in|inch|inches|\"))"
_GAUGE = r"(\d+) ?(?:gauge|gage|ga)\b\.? ?(.*)"


def parse_length(text: str | float, default_unit: str = "mm") -> float:
    """Return a length written the way a shop writes it.

    Parameters
    ----------
    text : str or float
        The length; a number, or text without a unit, is in ``default_unit``. [default_unit]
    default_unit : str
        "mm", "cm", "m", "in" or "ft".

    Returns
    -------
    length : float
        Zero or more. [mm]

    Notes
    -----
    Reads mm, cm, m, inches (in, ″) and feet (ft, ′), decimals, fractions and mixed numbers ("1 3/16",
    "1-3/16", "1½"), feet and inches together, and gauges of a named metal. A comma is a decimal comma, so
    "1,250" is refused: it may mean 1250 or 1.25. A bare fraction is refused unless the default unit is inches
    or feet. Validity: lengths of zero and more.
    Source: the inch is 25.4 mm by definition; gauges as in `gauge_thickness`.

    Examples
    --------
    >>> parse_length("0,8")
    0.8
    >>> round(parse_length("1 3/16 in"), 4)
    30.1625
    >>> round(parse_length("22 ga steel"), 2)
    0.76
    >>> parse_length("twice 30 mm")
    Traceback (most recent call last):
        ...
    rollcalc.stock.quantities.InputError: length is 'twice 30 mm', but must be a length of zero or more: write it \
like "0.8 mm", "1 3/16 in", "2 ft 6 in" or "22 ga steel".
    """
    unit = _clean_unit(default_unit)
    if unit not in _LENGTHS:
        raise unknown_name("unit of length", default_unit, ("mm", "cm", "m", "in", "ft"))
    length = _read_length(text, unit) if isinstance(text, str) else (
        _millimetres(checked_single("length", text, unit, at_least=0, advice=_LENGTH_ADVICE), unit))
    return abs(checked_single("length", length, "mm", at_least=0, advice=_LENGTH_ADVICE))  # abs: no minus zero


def parse_quantity(text: str | float, unit: str) -> float:
    """Return a quantity written with or without its unit, which may be any of its kind: "36 ksi" is read for MPa.

    Lengths as in `parse_length`, the rest may be negative.
    """
    if _clean_unit(unit) in _LENGTHS:
        millimetres, units = _LENGTHS[_clean_unit(unit)]
        return parse_length(text, unit) * units / millimetres
    dimension, size = _dimension_of(unit)
    advice = f'write it like "{dimension.example}"'
    if not isinstance(text, str):
        return checked_single(dimension.name, text, unit, advice=advice)
    read = _read_number(_clean(text))
    if read is None or _clean_unit(read.unit or unit) not in dimension.units:
        wanted = f"in {unit} or a unit like it" if unit else "without a unit"
        raise InputError(f"{dimension.name} is {shown(text)}, but must be one number {wanted}: {advice}.")
    number = read.value * (dimension.units[_clean_unit(read.unit)] / size if read.unit else 1.0)
    return checked_single(dimension.name, number, unit, advice=advice)


class _Reading(NamedTuple):
    """A number taken from text, whether it was a fraction, and what stood after it."""

    value: float
    is_fraction: bool
    unit: str


def _read_length(text: str, default_unit: str) -> float:
    """Return a length [mm] from text; it may still be negative or infinite."""
    cleaned = _clean(text)
    gauge = re.fullmatch(_GAUGE, cleaned, re.ASCII)
    if gauge and not gauge[2]:
        raise InputError(f"length is {shown(text)}, but a gauge must name its metal, as each metal has its own: "
                         'write it like "22 ga steel".')
    if gauge:
        return gauge_thickness(int(gauge[1]), gauge[2])
    both = re.fullmatch(_FEET_INCHES, cleaned, re.ASCII)
    readings = [_read_number(part) for part in (both.groups() if both else [cleaned])]
    length = 0.0
    for reading in readings:
        if reading is None or _clean_unit(reading.unit or default_unit) not in _LENGTHS:
            raise InputError(f"length is {shown(text)}, but must be a length of zero or more: {_LENGTH_ADVICE}.")
        if reading.is_fraction and not reading.unit and default_unit in ("mm", "cm", "m"):
            raise InputError(f"length is {shown(text)}, but a fraction must have its unit, as it may be in inches: "
                             f'write "{cleaned} in" or "{cleaned} mm".')
        length += _millimetres(reading.value, reading.unit or default_unit)
    return length


def _millimetres(number: float, unit: str) -> float:
    """Return a length in mm."""
    millimetres, units = _LENGTHS[_clean_unit(unit)]
    return number * millimetres / units


def _read_number(cleaned: str) -> _Reading | None:
    """Return the number that cleaned text starts with, or None where there is none."""
    sign, unsigned = (-1.0, cleaned[1:].lstrip()) if cleaned.startswith("-") else (1.0, cleaned)
    match = re.match(_NUMBER, unsigned, re.ASCII)
    if match is None:
        return None
    whole, top, bottom, digits, exponent = match.groups()
    rest = unsigned[match.end() :].strip()
    if digits is not None:
        _refuse_thousands(digits)
        return _Reading(sign * float(digits.replace(",", ".") + (exponent or "")), False, rest)
    if int(bottom) == 0 or (whole is not None and int(top) >= int(bottom)):
        return None
    return _Reading(sign * (int(whole or 0) * int(bottom) + int(top)) / int(bottom), True, rest)


def _refuse_thousands(digits: str) -> None:
    """Refuse a comma that may part thousands or decimals."""
    before, comma, after = digits.partition(",")
    if comma and len(after) == 3 and before.strip("0"):
        raise InputError(f"{digits} may mean {before}{after} or {before}.{after}, but a number must have one meaning: "
                         "write a decimal point, or leave the comma out.")


def _clean(text: str) -> str:
    """Return text in small letters with single spaces, plain primes and dashes, and fractions like ½ as 1/2."""
    if len(text) > 60:
        raise InputError(f"the entry is {len(text)} characters long, but must be at most 60: {_LENGTH_ADVICE}.")
    return " ".join("".join(map(_plain_character, text.lower())).replace("''", '"').split())


def _plain_character(character: str) -> str:
    """Return a character as an old keyboard would have it."""
    if unicodedata.decomposition(character).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKC", character).replace("⁄", "/")
    return {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'", "−": "-", "–": "-", "⁄": "/", "∕": "/"}.get(
        character, character)


def _clean_unit(unit: Any) -> str:
    """Return a unit without the marks that people write in different ways, or a word of no table if it is no text."""
    if not isinstance(unit, str):
        return "not text"
    cleaned = re.sub(r"[\s·⋅*^.-]", "", unit.lower().replace("²", "2"))
    return _SPELLED.get(cleaned, cleaned)


def _dimension_of(unit: Any) -> tuple[_Dimension, float]:
    """Return the kind of quantity a unit measures, and the unit's size."""
    key = _clean_unit(unit)
    for dimension in _DIMENSIONS:
        if key in dimension.units:
            return dimension, dimension.units[key]
    raise unknown_name("unit", unit, ("mm", "in", "deg", "rad", "MPa", "ksi", "N mm", "N", "lbf", "1/mm", "%", "turns"))
