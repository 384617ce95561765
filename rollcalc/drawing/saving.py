"""Files are written whole or not at all, and never over another one unasked."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile

from ..rolling.text_files import FileError


def put_bytes(file: Path, content: bytes, overwrite: bool = False) -> None:
    """Write a file whole, or not at all.

    Parameters
    ----------
    file : Path
        The file.
    content : bytes
        What it shall hold.
    overwrite : bool
        Whether a file of that name may be replaced.

    Raises
    ------
    FileError
        If a file of that name is there and may not be replaced, or the folder cannot be written.

    Notes
    -----
    Written beside the file, and only then given its name.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     put_bytes(Path(folder, "roof.pdf"), b"%PDF-")
    ...     Path(folder, "roof.pdf").read_bytes()
    b'%PDF-'
    """
    target = Path(os.path.realpath(file))
    try:
        if target.is_dir():
            raise FileError(f"{file} is a folder, but a file is needed: add the file's name.")
        if target.exists() and not overwrite:
            raise FileExistsError
        if not target.parent.is_dir():
            raise FileError(f"there is no folder {file.parent}: make it first, or choose another.")
        _swap(target, content, overwrite)
    except FileExistsError:
        raise FileError(f"{file} exists already: choose another name, or allow overwrite=True.") from None
    except OSError as problem:
        raise FileError(f"{file} cannot be written ({problem.strerror}): choose a folder you may write in.") from None


def _swap(target: Path, content: bytes, overwrite: bool) -> None:
    """Put content in the place of a file by writing it beside the file first, then claiming the name."""
    is_new = not target.exists()
    with NamedTemporaryFile(dir=target.parent, prefix=f".{target.name[:50]}.", delete=False) as beside:
        try:
            beside.write(content)
            beside.close()
            open(target, "ab" if overwrite else "xb").close()
            try:
                with suppress(OSError):
                    os.chmod(beside.name, target.stat().st_mode)
                os.replace(beside.name, target)
            except BaseException:
                if is_new:
                    target.unlink(missing_ok=True)
                raise
        except BaseException:
            os.unlink(beside.name)
            raise
