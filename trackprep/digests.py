"""The digest of bytes, by which a file is known again."""

import sys
from collections.abc import Callable
from importlib import import_module
from typing import Any

_LEAN = "_sha2" if sys.version_info >= (3, 12) else "_sha256"


def _sha256() -> Callable[[bytes], Any]:
    """SHA-256 without OpenSSL, whose loading by `hashlib` takes as long as reading a ruleset."""
    # The standard library's own `random` does so too.
    try:
        made: Callable[[bytes], Any] = import_module(_LEAN).sha256
    except (ImportError, AttributeError):
        from hashlib import sha256 as made
    return made


_digest = _sha256()


def digest_of(data: bytes) -> str:
    """The SHA-256 digest (FIPS 180-4) of the bytes, in hexadecimal."""
    digest: str = _digest(data).hexdigest()
    return digest
