"""Files of the learner's own: read with a sentence for everything that can go wrong, written whole or not at all."""

from __future__ import annotations

import os
from contextlib import suppress
from typing import TYPE_CHECKING

from .quantities import InputError, shown

if TYPE_CHECKING:
    from pathlib import Path

_LONGEST = 100_000  # bytes; a machine file has about five thousand


class FileError(InputError):
    """A file that cannot be read or written, explained in one sentence that names it."""


def checked_path(path: str | os.PathLike[str]) -> Path:
    """Return a path that was given, or raise the sentence that says it is none."""
    from pathlib import Path  # here and not above: it would slow every import

    try:
        text = os.fspath(path)
        if isinstance(text, str) and text and "\0" not in text:
            return Path(text).expanduser()
    except (TypeError, RuntimeError):
        pass
    raise InputError(f"the path is {shown(path)}, but must be the path of a file: write it in quotes, as in "
                     '"machine.toml".')


def file_text(file: Path) -> str:
    """Return the text of a file, without the byte order mark that some editors write."""
    try:
        if file.is_dir():
            raise FileError(f"{file} is a folder, but a file is needed: add the file's name.")
        if not file.is_file():
            raise FileError(f"there is no file {file}: look at its path again.")
        with open(file, "rb") as opened:
            content = opened.read(_LONGEST + 1)
        if len(content) > _LONGEST:
            raise FileError(f"{file} is longer than {_LONGEST} bytes, but must be shorter: look at its path again.")
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(f"{file} is not UTF-8 text: open it in an editor and save it as UTF-8.") from None
    except OSError as problem:
        raise FileError(f"{file} cannot be read ({problem.strerror}): give a file you may read.") from None


def put_text(file: Path, text: str, overwrite: bool = False) -> None:
    """Write a text file whole, or not at all, as `put_bytes` does."""
    try:
        content = text.encode()
    except UnicodeEncodeError:
        raise FileError(f"{file} cannot be written, as a text has half a character in it: write the text "
                        "anew.") from None
    put_bytes(file, content, overwrite)


def put_bytes(file: Path, content: bytes, overwrite: bool = False) -> None:
    """Write a file whole, or not at all.

    Written beside the file and then swapped in, so that nobody ever reads half of it; a new file first claims
    its name, so that none is lost.
    """
    from pathlib import Path

    target = Path(os.path.realpath(file))
    is_new = not os.path.lexists(target)
    try:
        if target.is_dir():
            raise FileError(f"{file} is a folder, but a file is needed: add the file's name.")
        if not (is_new or overwrite):
            raise FileExistsError
        if not target.parent.is_dir():
            raise FileError(f"there is no folder {file.parent}: make it first, or choose another.")
        if is_new:
            open(target, "xb").close()
        try:
            _swap(target, content)
        except BaseException:
            if is_new:
                target.unlink(missing_ok=True)
            raise
    except FileExistsError:
        raise FileError(f"{file} exists already: choose another name, or allow overwrite=True.") from None
    except OSError as problem:
        raise FileError(f"{file} cannot be written ({problem.strerror}): choose a folder you may write in.") from None


def _swap(target: Path, content: bytes) -> None:
    """Put content in the place of a file by writing it beside the file first."""
    from tempfile import NamedTemporaryFile  # here and not above: needed only for a file

    with NamedTemporaryFile(dir=target.parent, prefix=f".{target.name[:50]}.", delete=False) as beside:
        try:
            beside.write(content)
            beside.close()
            with suppress(OSError):
                os.chmod(beside.name, target.stat().st_mode)
            os.replace(beside.name, target)
        except BaseException:
            os.unlink(beside.name)
            raise
