"""A printed page as pixels, and a ruler to lay on it."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

MM_PER_INCH = 25.4
Pixels = NDArray[np.bool_]


def printed(content: bytes, folder: Path, dpi: int = 300) -> list[Pixels]:
    """Return each page of a PDF as pixels, True where there is ink; row 0 is the top."""
    if not shutil.which("pdftoppm"):
        pytest.skip("no pdftoppm on this computer (apt-get install poppler-utils)")
    (folder / "printed.pdf").write_bytes(content)
    subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", "printed.pdf", "page"], cwd=folder, check=True)
    return [_pixels(file) for file in sorted(folder.glob("page-*.pgm"))]


def runs(line: NDArray[np.bool_], dpi: int = 300) -> list[float]:
    """Return the middle of each run of ink along a line of pixels. [mm]"""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], line, [False]]).astype(int)))
    return [float(start + stop) / 2 * MM_PER_INCH / dpi for start, stop in edges.reshape(-1, 2)]


def px(length: float, dpi: int = 300) -> int:
    """Return a length as pixels. [mm]"""
    return round(length / MM_PER_INCH * dpi)


def _pixels(file: Path) -> Pixels:
    """Return a grey picture file as pixels."""
    magic, width, height, most, _ = file.read_bytes().split(maxsplit=4)
    assert (magic, most) == (b"P5", b"255")
    grey = np.frombuffer(file.read_bytes()[-int(width) * int(height) :], dtype=np.uint8)
    return grey.reshape(int(height), int(width)) < 128
