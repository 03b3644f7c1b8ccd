"""Lines added at the end of a file, safely on the disk before anybody is told that they are."""

import os
from contextlib import suppress
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows has none, and locks differently
    fcntl = None  # type: ignore[assignment]

_FLAGS = os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0)


def append(path: Path, text: str, *, head: str) -> None:
    """Adds whole lines to a file; a new one begins with `head`. What is there is never changed.

    A last line that has no end, after a crash, stays as it is: what is added begins on a new line.

    Raises:
        OSError: It cannot be written; nothing of the text is left in the file.
    """
    there = path.exists()
    handle = os.open(path, _FLAGS, 0o666)
    try:
        if fcntl is not None:
            fcntl.flock(handle, fcntl.LOCK_EX)
        size = os.lseek(handle, 0, os.SEEK_END)
        try:
            _write(handle, _start(handle, size, head) + text.encode())
            os.fsync(handle)
        except OSError:
            with suppress(OSError):
                os.ftruncate(handle, size)  # of our own text a part may be there
            raise
    finally:
        os.close(handle)
    if not there:
        _keep_name(path.parent)


def _start(handle: int, size: int, head: str) -> bytes:
    """What stands before the text."""
    if not size:
        return head.encode()
    os.lseek(handle, size - 1, os.SEEK_SET)
    return b"" if os.read(handle, 1) == b"\n" else b"\n"


def _write(handle: int, data: bytes) -> None:
    while data:
        data = data[os.write(handle, data) :]


def _keep_name(folder: Path) -> None:
    """That the folder has the file, safely on the disk too, where that can be asked for."""
    with suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
