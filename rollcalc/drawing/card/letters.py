"""How wide words come out on paper, near enough to break lines by, without asking a font."""

from collections.abc import Iterable

NARROW, SLIM, BROAD = frozenset("ijlI.,:;'|!·"), frozenset("frt-()[]/ \"°"), frozenset("mwMW@%—…×")
BOLD = 1.13
"""How much broader bold letters are. [-]"""


def width_of(words: str, size: float, bold: bool = False) -> float:
    """Return how wide words are at a size of letters, by the usual widths of a broad sans-serif. [mm]"""
    return size * (BOLD if bold else 1.0) * sum(map(_width, words))


def wrapped(words: str, room: float, size: float, bold: bool = False) -> list[str]:
    """Return words broken into lines that stay within a room."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size, bold) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def shrunk(words: str, room: float, size: float, bold: bool = False) -> float:
    """Return a size of letters, at most the one given, at which words fit a room on one line."""
    return min(size, size * room / max(width_of(words, size, bold), 1e-9))


def longest(lines: Iterable[str], size: float, bold: bool = False) -> float:
    """Return the width of the widest line. [mm]"""
    return max((width_of(line, size, bold) for line in lines), default=0.0)


def _width(letter: str) -> float:
    """Return the width of a letter in sizes of it; digits and small letters are about as wide as each other."""
    if letter in NARROW:
        return 0.34
    if letter in SLIM:
        return 0.42
    return 0.96 if letter in BROAD else 0.71 if letter.isupper() else 0.63
