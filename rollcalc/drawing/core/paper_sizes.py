"""Sizes of paper, by name or as measured."""

from typing import Any

from rollcalc.stock.lookup import unknown_name
from rollcalc.stock.quantities import InputError, checked_single, shown

from .scene import Pair

LARGEST = 5000.0  # the longest page a PDF may have, 200 in [mm]
PAPERS: dict[str, Pair] = {
    "A4": (210.0, 297.0), "A3": (297.0, 420.0), "A2": (420.0, 594.0), "A1": (594.0, 841.0), "A0": (841.0, 1189.0),
    "Letter": (215.9, 279.4), "Legal": (215.9, 355.6), "Tabloid": (279.4, 431.8),
}
"""Width and height of paper by name: ISO 216, and the inch sizes of ANSI Y14.1 and of offices (from memory). [mm]"""


def paper_size(paper: Any) -> Pair:
    """Return width and height of a paper. [mm]"""
    if isinstance(paper, str):
        size = {name.lower(): size for name, size in PAPERS.items()}.get(paper.strip().lower())
        if size is None:
            raise unknown_name("paper", paper, PAPERS)
        return size
    if not (isinstance(paper, tuple | list) and len(paper) == 2):
        raise InputError(f'paper is {shown(paper)}, but must be a name such as "A4", or width and height in mm: '
                         "write it as (210, 297).")
    width, height = (checked_single(f"paper {side}", length, "mm", above=0, at_most=LARGEST, advice="measure the paper")
                     for side, length in zip(("width", "height"), paper, strict=True))
    return width, height
