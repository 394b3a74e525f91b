"""Puts files in place whole, and keeps two runs from working on one place at once.

Whatever takes the place of something is written beside it, brought to the disk, and swapped in by one rename: a run
that is killed, a full disk or a lost supply leaves the old file or the new one, and never half of either.
"""

import errno
import os
import stat
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from filelock import FileLock, Timeout

from waterleaf.faults import Faults, refuse

# A half-written file that a killed run left is cleared away once no living run can be at it still.
_SCRAP_AGE: Final = 3600.0
_FULL: Final = {errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)}


def written_whole(path: Path, content: str | bytes, *, private: bool = False) -> None:
    """Put a file in place in one step, on the disk before its name changes; with `private`, for its owner's eyes only.

    A text is written in UTF-8 with the line ends that it has. What is there and is no file (a terminal, a pipe) is
    written to as it is.

    Raises Faults where the file cannot be written; the old one is then untouched.
    """
    raw = content.encode() if isinstance(content, str) else content
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(raw)
            return
        _swap(path, raw, private)
    except OSError as error:
        raise unwritable(path, error, "The old one, if there was one, is untouched.") from None


def _swap(path: Path, raw: bytes, private: bool) -> None:
    path = path.resolve()  # a link stays a link, and its file is replaced where it lies
    clear_scraps(path, _SCRAP_AGE)
    number, name = tempfile.mkstemp(prefix=_scrap_name(path), suffix=".part", dir=path.parent)
    fresh = Path(name)
    try:
        with os.fdopen(number, "wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        if not private:
            fresh.chmod(_usual_mode(path))
        fresh.replace(path)
    finally:
        fresh.unlink(missing_ok=True)
    _settle(path.parent)


def _scrap_name(path: Path) -> str:
    return f".{path.name[:80]}-"


def clear_scraps(path: Path, age: float = 0.0) -> None:
    """Remove half-written copies of a file that are at least so many seconds old; nothing that a person made."""
    for scrap in path.parent.glob(f"{_plain(_scrap_name(path))}????????.part"):
        with suppress(OSError):
            if age == 0.0 or abs(time.time() - scrap.stat().st_mtime) > age:
                scrap.unlink()


def _plain(name: str) -> str:
    """A name in which no character stands for others."""
    return "".join(f"[{letter}]" if letter in "*?[" else letter for letter in name)


def _usual_mode(path: Path) -> int:
    """The permissions that the file has, or that a new one gets."""
    with suppress(OSError):
        return stat.S_IMODE(path.stat().st_mode)
    mask = os.umask(0o077)
    os.umask(mask)
    return 0o666 & ~mask


def _settle(folder: Path) -> None:
    """Bring the new name to the disk too, where a system lets one."""
    with suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)


@contextmanager
def one_at_a_time(lock: Path, place: Path, busy: str) -> Iterator[None]:
    """Hold a lock file while the block runs; it is let go of however the run ends.

    Raises Faults, saying `busy`, where another run holds it, or where it cannot be made.
    """
    held = FileLock(lock, timeout=0)
    try:
        held.acquire()
    except Timeout:
        raise refuse(place.as_posix(), busy) from None
    except NotImplementedError:
        pass  # a file system without locks: two runs at once are rare, a refusal would be certain
    except OSError as error:
        raise unwritable(place, error) from None
    try:
        yield
    finally:
        held.release()


def unwritable(path: Path, error: OSError, comfort: str = "") -> Faults:
    """Why a place cannot be written, and the mend."""
    if error.errno in _FULL:
        return refuse(
            path.as_posix(), "the disk is full. Free some space and run again; the last good output is untouched."
        )
    reason = error.strerror or type(error).__name__
    mend = "Choose another place, or mend the permissions."
    return refuse(path.as_posix(), f"cannot be written ({reason}). {mend} {comfort}".rstrip())
