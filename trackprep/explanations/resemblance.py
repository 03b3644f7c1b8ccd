"""Whether two conditions say the same of two different parts."""

from typing import Any

import attrs


def alike(one: object, other: object, was: str, now: str) -> bool:
    """Whether `other` is `one` with every fact below `was` replaced by that below `now`."""
    if type(one) is not type(other):
        return False
    if isinstance(one, str):
        return other == _moved(one, was, now)
    if isinstance(one, tuple):
        assert isinstance(other, tuple)
        return len(one) == len(other) and all(
            alike(part, twin, was, now) for part, twin in zip(one, other, strict=True)
        )
    kind: type[Any] = type(one)
    if attrs.has(kind):
        names = [attribute.name for attribute in attrs.fields(kind) if attribute.eq]
        return all(alike(getattr(one, name), getattr(other, name), was, now) for name in names)
    return one == other


def _moved(path: str, was: str, now: str) -> str:
    return now + path[len(was) :] if path == was or path.startswith(f"{was}.") else path
