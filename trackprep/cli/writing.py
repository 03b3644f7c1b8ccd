"""Files written whole or not at all, and never over another without being told to."""

import os
import stat
from contextlib import suppress
from pathlib import Path

from trackprep.cli.calls import CallError

STANDARD_OUTPUT = "-"

_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)


def json_text(form: object) -> str:
    """What a program reads: JSON, laid out for people who look into it too."""
    import json  # not needed by people

    return json.dumps(form, indent=2, ensure_ascii=False) + "\n"


def write_new(name: str, text: str, *, overwrite: bool) -> bool:
    """Writes a file that is not there yet; `-` is standard output. Whether it was a file.

    Raises:
        CallError: There is one, and `overwrite` is not set.
        OSError: It cannot be written; nothing of it is left.
    """
    if name == STANDARD_OUTPUT:
        print(text, end="")
        return False
    path = Path(name)
    if path.is_dir():
        raise CallError(f"`{name}` is a folder", "name a file in it")
    if overwrite:
        replace(path, text)
        return True
    beside = _beside(path, text, mode=None)
    try:
        # A link fails where the name is taken, even if that happened a moment ago.
        os.link(beside, path)
    except FileExistsError:
        raise _taken(name) from None
    except (OSError, NotImplementedError):  # a file system without links
        if os.path.lexists(path):
            raise _taken(name) from None
        os.replace(beside, path)
    finally:
        with suppress(FileNotFoundError):
            os.unlink(beside)
    return True


def _taken(name: str) -> CallError:
    return CallError(
        f"`{name}` is there already, and stays as it is",
        "choose another name, or add `--overwrite` to lose what is in it",
    )


def replace(path: Path, text: str) -> None:
    """Puts the text in place of what the file has; a link stays one, and its target changes.

    Raises:
        OSError: It cannot be written; the file is as it was.
    """
    target = Path(os.path.realpath(path))
    try:
        before = target.stat()
    except FileNotFoundError:
        os.replace(_beside(target, text, mode=None), target)
        return
    if not os.access(target, os.W_OK):
        raise PermissionError(13, "it may not be written", str(path))
    beside = _beside(target, text, mode=stat.S_IMODE(before.st_mode))
    with suppress(OSError, AttributeError):  # only root may give a file away
        os.chown(beside, before.st_uid, before.st_gid)
    os.replace(beside, target)


def _beside(path: Path, text: str, *, mode: int | None) -> Path:
    """A new file in the same folder with the text, safely on the disk."""
    beside = path.with_name(f".trackprep-{os.getpid()}.part")
    try:
        handle = os.open(beside, _NEW, 0o666)
        try:
            with open(handle, "wb") as file:
                file.write(text.encode())
                file.flush()
                os.fsync(file.fileno())
            if mode is not None:
                os.chmod(beside, mode)
        except BaseException:
            with suppress(OSError):
                os.unlink(beside)
            raise
    except OSError as error:
        # People know the file they named, not the one beside it.
        raise OSError(error.errno, error.strerror, str(path)) from None
    return beside
