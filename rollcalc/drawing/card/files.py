"""The setup card as a file: PDF or a web page of its own, written only when asked, whole or not at all."""

from __future__ import annotations

import os
from typing import Any

from rollcalc.job import Plan
from rollcalc.stock.files import checked_path, put_bytes
from rollcalc.stock.kinds import checked_kind, checked_word
from rollcalc.stock.labels import length_scale
from rollcalc.stock.quantities import InputError, shown

from ..core.paper_sizes import paper_size
from ..patterns.true_size import pdf_bytes
from .html import page_html
from .page import card_page
from .words import title_words

FORMATS = ("pdf", "html")
"""What a card can be written as."""


def card_bytes(plan: Plan, format: str, paper: Any = "A4", units: str = "mm") -> bytes:
    """Return the content of a card's file; the same plan gives the same bytes."""
    checked_kind("the plan", plan, Plan, advice="take it from plan_cylinder, plan_cone or plan_ring")
    checked_word("format", format, FORMATS, advice="choose one of these")
    shown_in = "mm" if length_scale(units)[1] == "mm" else "inch"
    page, title = card_page(plan, paper_size(paper), shown_in), f"Setup card: {title_words(plan, shown_in)}"
    return pdf_bytes([page], title) if format == "pdf" else page_html(page, title).encode()


def write_card(plan: Plan, path: str | os.PathLike[str], paper: Any = "A4", units: str = "mm", *,
               overwrite: bool = False) -> None:
    """Write the setup card of a plan, as PDF or as a web page by the end of the file's name.

    Parameters
    ----------
    plan : Plan
        What to write.
    path : str or path
        The file, ending with .pdf or .html; ``~`` is your home.
    paper : str or tuple of float
        ``"A4"``, ``"Letter"`` …, or width and height. [mm]
    units : str
        "mm" or "inch".
    overwrite : bool
        Whether a file of that name may be replaced.

    Raises
    ------
    InputError
        If plan, path, paper or units make no sense, the file is there already, or it cannot be written.

    Notes
    -----
    One page. Its check lines and arcs are true where it is printed at 100 %.

    Examples
    --------
    >>> write_card("my plan", "card.pdf")
    Traceback (most recent call last):
        ...
    rollcalc.stock.quantities.InputError: the plan is 'my plan', but must be a Plan: take it from plan_cylinder, \
plan_cone or plan_ring.
    """
    checked_kind("the plan", plan, Plan, advice="take it from plan_cylinder, plan_cone or plan_ring")
    file = checked_path(path)
    if file.suffix[1:].lower() not in FORMATS:
        raise InputError(f"path is {shown(str(path))}, but must end with .pdf or .html: choose one.")
    put_bytes(file, card_bytes(plan, file.suffix[1:].lower(), paper, units), overwrite)
