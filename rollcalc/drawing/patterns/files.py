"""Patterns as files: PDF at true size, SVG in mm, DXF with layers; written only when asked."""

import os
from pathlib import Path
from typing import Any

from rollcalc.layout import FlatPattern, Layout
from rollcalc.stock.files import put_bytes
from rollcalc.stock.kinds import checked_word
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import InputError, shown

from ..core.picture import Pair
from .dxf import pattern_dxf
from .pdf import pattern_pdf
from .svg import pattern_svg
from .words import named_pattern

FORMATS = ("pdf", "svg", "dxf")  # what a pattern can be written as


def pattern_bytes(pattern: FlatPattern | Layout, format: str, paper: str | Pair = "A4", *, taped: bool = False,
                  part: str = "", thickness: float | None = None, material: str | Material = "") -> bytes:
    """Return the content of a pattern's file; the same pattern gives the same bytes."""
    named = named_pattern(pattern, part, thickness, material)
    checked_word("format", format, FORMATS, advice="choose one of these")
    if format == "pdf":
        return pattern_pdf(named, paper, taped)
    return (pattern_svg(named) if format == "svg" else pattern_dxf(named)).encode()


def write_pattern(pattern: FlatPattern | Layout, path: str | os.PathLike[str], paper: str | Pair = "A4", *,
                  overwrite: bool = False, taped: bool = False, part: str = "", thickness: float | None = None,
                  material: str | Material = "") -> None:
    """Write a pattern into a file, as PDF, SVG or DXF by the end of its name.

    Parameters
    ----------
    pattern : FlatPattern or a result of rollcalc.layout
        What to write.
    path : str or path
        The file, ending with .pdf, .svg or .dxf; ``~`` is your home.
    paper : str or tuple of float
        For PDF: ``"A4"``, ``"A3"``, ``"Letter"`` …, or width and height. [mm]
    overwrite : bool
        Whether a file of that name may be replaced.
    taped : bool
        For PDF: whether a rectangle too is printed at true size, on pages to be taped.
    part, material : str, and str or Material
        Name of the part, such as ``"lantern roof"``, and the metal or its name; empty leaves a line to write it on.
    thickness : float or None
        Thickness of the sheet; None leaves a line to write it on. [mm]

    Raises
    ------
    InputError
        If pattern, path, paper or names make no sense, the file is there already, or it cannot be written; then
        no file is left behind.

    Notes
    -----
    A PDF starts with a page of sizes, which is all that a rectangle takes: mark it out on the sheet. Any other
    pattern follows at true size, as SVG and DXF are, on as many overlapping pages as it needs. Curves
    are straight pieces within 0.01 mm of the curve; an off-centre frustum has the pieces it was asked for. Measure
    the check line before you cut.

    Examples
    --------
    >>> square = FlatPattern("Square", cut=([(0, 0), (60, 0), (60, 60), (0, 60), (0, 0)],))
    >>> write_pattern(square, "square.png")
    Traceback (most recent call last):
        ...
    rollcalc.stock.quantities.InputError: path is 'square.png', but must end with .pdf, .svg or .dxf: choose one.
    """
    file = _checked_path(path)
    content = pattern_bytes(pattern, file.suffix[1:].lower(), paper, taped=taped, part=part, thickness=thickness,
                            material=material)
    put_bytes(file, content, overwrite)


def _checked_path(path: Any) -> Path:
    """Return the path of a file we can write, or raise the sentence that says why not."""
    try:
        text = os.fspath(path)
        file = Path(text).expanduser() if isinstance(text, str) and text and "\0" not in text else None
    except (TypeError, RuntimeError):
        file = None
    if file is None:
        raise InputError(f'path is {shown(path)}, but must be the path of a file: write it as "roof.pdf".')
    if file.suffix[1:].lower() not in FORMATS:
        raise InputError(f"path is {shown(str(path))}, but must end with .pdf, .svg or .dxf: choose one.")
    return file
