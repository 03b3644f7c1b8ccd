"""Reads a text file within bounds, or says in one sentence why that cannot be done."""

from pathlib import Path

from trackprep.digests import digest_of

LARGEST_FILE = 2_000_000  # bytes


class UnreadableFileError(Exception):
    """A file that cannot be read at all; the text says why, and what to do."""


def read_text(path: Path) -> tuple[str, str]:
    """The text of a file and the digest of its bytes.

    Raises:
        UnreadableFileError: It is missing, a folder, too large, not allowed or not UTF-8.
    """
    data = _bytes(path)
    if len(data) > LARGEST_FILE:
        raise UnreadableFileError(f"it has more than {LARGEST_FILE:,} bytes")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnreadableFileError(
            f"byte {error.start + 1} is not UTF-8 text; save it as UTF-8"
        ) from None
    return text, digest_of(data)


def read_damaged_text(path: Path) -> str:
    """The text of a file, a replacement character for each byte that is none.

    Raises:
        UnreadableFileError: It is missing, a folder, too large or not allowed.
    """
    data = _bytes(path)
    if len(data) > LARGEST_FILE:
        raise UnreadableFileError(f"it has more than {LARGEST_FILE:,} bytes")
    return data.decode("utf-8-sig", errors="replace")


def _bytes(path: Path) -> bytes:
    """The bytes of a file, and one more than is allowed where it has more."""
    try:
        if path.is_dir():
            raise UnreadableFileError("it is a folder; name a file in it")
        if path.exists() and not path.is_file():  # a pipe would be waited for without end
            raise UnreadableFileError("it is no ordinary file; save the text in one")
        with path.open("rb") as file:
            return file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise UnreadableFileError("there is no such file") from None
    except PermissionError:
        raise UnreadableFileError("it may not be read; change its permissions") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise UnreadableFileError(f"it cannot be read: {reason}") from None
