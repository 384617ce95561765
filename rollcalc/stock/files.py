"""Files of the learner's own: read with a sentence for everything that can go wrong, written whole or not at all."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from .quantities import InputError, shown

if TYPE_CHECKING:
    from pathlib import Path

UNFINISHED = ".part"
"""How the name of a file ends until it is whole."""

_LONGEST = 100_000  # bytes; a machine file has about five thousand

PATIENCE = 10.0
"""How long to wait for another program that writes the same file. [s]"""


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


def file_text(file: Path, longest: int = _LONGEST) -> str:
    """Return the text of a file, without the byte order mark that some editors write."""
    try:
        if file.is_dir():
            raise FileError(f"{named(file)} is a folder, but a file is needed: add the file's name.")
        if not file.is_file():
            raise FileError(f"there is no file {named(file)}: look at its path again.")
        with open(file, "rb") as opened:
            content = opened.read(longest + 1)
        if len(content) > longest:
            raise FileError(f"{named(file)} is longer than {longest} bytes, but must be shorter: look at its path "
                            "again.")
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(f"{named(file)} is not UTF-8 text: open it in an editor and save it as UTF-8.") from None
    except OSError as problem:
        raise FileError(f"{named(file)} cannot be read ({problem.strerror}): give a file you may read.") from None


def put_text(file: Path, text: str, overwrite: bool = False) -> None:
    """Write a text file whole, or not at all."""
    try:
        content = text.encode()
    except UnicodeEncodeError:
        raise FileError(f"{named(file)} cannot be written, as a text has half a character in it: write the text "
                        "anew.") from None
    put_bytes(file, content, overwrite)


def put_bytes(file: Path, content: bytes, overwrite: bool = False) -> None:
    """Write a file whole, or not at all, with a sentence for what can go wrong."""
    check_overwrite(overwrite)
    try:
        place_whole(_target(file), content, overwrite)
    except FileExistsError:
        raise FileError(f"{named(file)} exists already: choose another name, or allow overwrite=True.") from None
    except UnicodeError:
        raise FileError(f"{named(file)} has half a character in its name: choose another name.") from None
    except OSError as problem:
        raise FileError(f"{named(file)} cannot be written ({problem.strerror}): {remedy(problem)}.") from None


def _target(file: Path) -> Path:
    """Return where a file is written, at the end of all links, in a folder that is there."""
    from pathlib import Path

    target = Path(os.path.realpath(file))
    if target.is_dir():
        raise FileError(f"{named(file)} is a folder, but a file is needed: add the file's name.")
    if not target.parent.is_dir():
        raise FileError(f"there is no folder {named(file.parent)}: make it first, or choose another.")
    return target


@contextmanager
def sole_writer(file: Path, patience: float = PATIENCE) -> Iterator[None]:
    """Let one program at a time read a file and write it anew; the system lets the next one go when one stops.

    The lock is on a hidden file beside it, which is taken away again.
    """
    lock, handle = None, None
    try:
        target = _target(file)
        lock = target.with_name(f".{target.name[:50]}.lock")
        handle = _locked(lock, patience)
    except TimeoutError:
        raise FileError(f"{named(file)} is being written by another program: try again in a moment.") from None
    except UnicodeError:
        raise FileError(f"{named(file)} has half a character in its name: choose another name.") from None
    except OSError as problem:
        raise FileError(f"{named(file)} cannot be written ({problem.strerror}): {remedy(problem)}.") from None
    try:
        yield
    finally:
        with suppress(OSError):  # where an open file cannot be taken away it stays, and does no harm
            os.unlink(lock)
        os.close(handle)


def _locked(lock: Path, patience: float) -> int:
    """Return an open lock file that nobody else has locked, or raise the error of having waited too long."""
    import time  # here and not above: needed only for a file

    end = time.monotonic() + patience
    while True:
        handle = os.open(lock, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            _lock(handle)
            if os.path.samestat(os.fstat(handle), os.stat(lock)):  # not one that its owner has just taken away
                return handle
        except (BlockingIOError, FileNotFoundError):
            pass
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)
        if time.monotonic() > end:
            raise TimeoutError
        time.sleep(0.005)


def _lock(handle: int) -> None:
    """Lock an open file, or raise the error of a file that another has locked."""
    if sys.platform == "win32":
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            raise BlockingIOError from None
    else:
        with suppress(ImportError):  # in a browser there is no such module, and no other program
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def check_overwrite(overwrite: object) -> None:
    """Refuse what is neither True nor False."""
    if not isinstance(overwrite, bool):
        raise InputError(f"overwrite is {shown(overwrite)}, but must be True or False: write overwrite=True to replace "
                         "a file.")


def place_whole(target: Path, content: bytes, overwrite: bool = False) -> None:
    """Put a file in its place in one step, so that nobody ever finds half of it, whenever the computer stops.

    It is written beside its place, under a name that no program takes for a finished file, and flushed. Then a new file
    takes its name by a link, which fails where another has it already; an old one is replaced.
    """
    from tempfile import NamedTemporaryFile  # here and not above: needed only for a file

    if not overwrite and os.path.lexists(target):
        raise FileExistsError
    with NamedTemporaryFile(dir=target.parent, prefix=f".{target.name[:50]}.", suffix=UNFINISHED, delete=False) as part:
        try:
            part.write(content)
            part.flush()
            os.fsync(part.fileno())
            part.close()
            os.chmod(part.name, target.stat().st_mode if target.exists() else 0o666 & ~_umask())
            if overwrite:
                os.replace(part.name, target)
            else:
                _take_name(part.name, target)
        finally:
            with suppress(FileNotFoundError):
                os.unlink(part.name)


def _take_name(part: str, target: Path) -> None:
    """Give a finished file its name, unless another has it."""
    try:
        os.link(part, target)
    except FileExistsError:
        raise
    except (OSError, AttributeError, NotImplementedError):  # a disk without links, such as a memory stick
        if os.path.lexists(target):
            raise FileExistsError from None
        os.replace(part, target)


def _umask() -> int:
    """Return which rights a new file of this user does not get."""
    mask = os.umask(0)
    os.umask(mask)
    return mask


def remedy(problem: OSError) -> str:
    """Return what to do where a file cannot be written."""
    full = problem.errno in (errno.ENOSPC, errno.EDQUOT)
    return "make room on the disk, or choose another" if full else "choose a folder you may write in"


def named(path: object) -> str:
    """Return a path as a sentence names it: by its end where it is long."""
    words = str(path)
    return words if len(words) <= 160 else f"…{words[-150:]}"
