"""Lengths as a label shows them."""

import math
from typing import Any

from .gauges import MM_PER_INCH
from .lookup import unknown_name
from .quantities import InputError, checked_single


def format_length(length: float, units: str = "mm", digits: int | None = None) -> str:
    """Return a length as a label shows it.

    Parameters
    ----------
    length : float
        The length. [mm]
    units : str
        "mm" or "inch".
    digits : int or None
        Decimals; None chooses by size: in mm two below 10 and one from there, in inches three below 1 and two
        from there. [-]

    Returns
    -------
    label : str
        Number and unit.

    Notes
    -----
    Rounds for reading, not for reckoning on. Validity: any finite length.
    Source: workshop habit, no published source.

    Examples
    --------
    >>> format_length(66.3), format_length(66.3, "inch"), format_length(0.76)
    ('66.3 mm', '2.61 in', '0.76 mm')
    """
    number = checked_single("length", length, "mm", advice="give a number in mm")
    scale, shown_unit = length_scale(units)
    number /= scale
    if digits is None:
        digits = (1 if abs(number) >= 10 else 2) if shown_unit == "mm" else (2 if abs(number) >= 1 else 3)
    decimals = _whole("digits", digits, 0, 12)
    return f"{round(number, decimals) + 0.0:.{decimals}f} {shown_unit}"  # + 0.0: no minus zero


def length_scale(units: str) -> tuple[float, str]:
    """Return how many mm one of the units shown is, and how it is written."""
    scale = {"mm": (1.0, "mm"), "inch": (MM_PER_INCH, "in"), "in": (MM_PER_INCH, "in")}.get(
        units if isinstance(units, str) else "")
    if scale is None:
        raise unknown_name("unit for a label", units, ("mm", "inch"))
    return scale


def format_fraction(length: float, denominator: int = 64) -> str:
    """Return a length in inches and the nearest fraction, as on a tape measure: off by at most half a division.

    What is left over is ``length - parse_length(format_fraction(length))``, at most 0.2 mm at the usual 64.
    """
    number = checked_single("length", length, "mm", at_least=-1e9, at_most=1e9, advice="give a number in mm")
    divisions = _whole("denominator", denominator, 1, 128)
    nearest = round(abs(number) / MM_PER_INCH * divisions)
    whole, top = divmod(nearest, divisions)
    shared = math.gcd(top, divisions)
    parts = [str(whole)] * (whole > 0) + [f"{top // shared}/{divisions // shared}"] * (top > 0)
    return f"{'-' if number < 0 < nearest else ''}{' '.join(parts) or '0'} in"


def _whole(name: str, value: Any, low: int, high: int) -> int:
    """Return a whole number between two bounds, or raise the sentence."""
    number = checked_single(name, value, "", at_least=low, at_most=high, advice="give a whole number")
    if number != int(number):
        raise InputError(f"{name} is {number:g}, but must be whole: give a number from {low} to {high}.")
    return int(number)
