"""The flat ends that rolls leave, to scale on the blank, and what each remedy makes of them."""

from __future__ import annotations

import textwrap

from rollcalc.rolling import FlatEnds, Remedy
from rollcalc.stock import format_length

from .marks import slab
from .picture import Mark, Picture, Text

SIZE = (680, 500)
ROW, TALL = 0.178, 0.042
"""Height of a row and of its blank, in lengths of the ring. [-]"""
LETTERS = 78
"""Letters in a line of words."""
LEAST = 0.05
"""A length below this counts as nothing. [mm]"""


def ends_view(ends: FlatEnds, ring_length: float, units: str = "mm") -> Picture:
    """Return the blank with its flat ends as rolled once, and one row for each remedy.

    Parameters
    ----------
    ends : FlatEnds
        The flat ends of one piece.
    ring_length : float
        How far the ring goes round, at mid-thickness. [mm]
    units : str
        "mm" or "inch".

    Returns
    -------
    picture : Picture
        Blanks to scale along their length, fed to the right.

    Raises
    ------
    None
        Ends that could be computed can be drawn.

    Notes
    -----
    Validity: ends shorter than a third of the ring.

    Examples
    --------
    >>> import rollcalc as rc
    >>> steel = rc.MATERIALS["low-carbon steel, cold rolled"]
    >>> ends_view(rc.flat_ends(rc.DEMO_MACHINE, rc.Sheet(0.76, 240), steel, 90.38), 567.9).sentence[:47]
    'Rolled once, the first 42.8 mm of the ring stay'
    """
    leading, trailing = float(ends.leading), float(ends.trailing)
    said = "The first stretch had left the nip before the bending roll met it."
    once = Remedy("rolled once, fed to the right", leading, trailing, 0.0, said)
    marks: list[Mark] = []
    for row, remedy in enumerate((once, *ends.remedies)):
        marks += _row(remedy, (trailing, leading), ring_length, -ROW * row * ring_length, units)
    spare = 0.04 * ring_length
    frame = (-spare - trailing, -4 * ROW * ring_length, ring_length + leading + spare, 0.0)
    return Picture(_sentence(ends, units), tuple(marks), size=SIZE, alt="Flat ends on the blank", frame=frame)


def _row(remedy: Remedy, flats: tuple[float, float], length: float, top: float, units: str) -> list[Mark]:
    """Return one blank, its ends marked, with its name above and what to do below."""
    high, low = top - 0.05 * length, top - (0.05 + TALL) * length
    stays = (float(remedy.trailing), float(remedy.leading))
    marks: list[Mark] = [
        *slab((0, low), (length, low), high - low, "outline"),
        Text((0, high), f"{remedy.name}", "sheet", "start", (0, 7)),
        Text((length / 2, low), "full curve", "dimension", "middle", (0, 6)),
    ]
    for line, words in enumerate(textwrap.wrap(remedy.words, LETTERS)):
        marks.append(Text((0, low), words, "dimension", "start", (0, -17 - 16 * line)))
    for end, (flat, stay) in enumerate(zip(flats, stays, strict=True)):
        edge, way = ((0.0, 1), (length, -1))[end]
        if flat < LEAST:
            continue
        cut = float(remedy.extra_length) > LEAST
        shown, role, word = (
            (stay, "released piece", "flat") if stay > LEAST else (flat, "hidden", "cut off" if cut else "bent full")
        )
        far = edge - way * shown if cut else edge + way * shown
        marks += slab((min(edge, far), low), (max(edge, far), low), high - low, role)
        if shown > 0.04 * length:
            marks.append(Text((max(edge, far), high), f"{word} {format_length(shown, units)}", role, "end", (0, 7)))
    return marks


def _sentence(ends: FlatEnds, units: str) -> str:
    """Return both lengths."""
    trailing = float(ends.trailing)
    last = f"the last {format_length(trailing, units)} do, too" if trailing > LEAST else "the other end is bent full"
    extra = format_length(float(ends.remedies[0].extra_length), units)
    return (
        f"Rolled once, the first {format_length(float(ends.leading), units)} of the ring stay flat, and {last}. To "
        f"trim costs {extra} more sheet; to turn the piece end for end, or to bend the ends first, costs none."
    )
