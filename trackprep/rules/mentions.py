"""The names that a piece of a tree mentions."""

from collections.abc import Iterator
from typing import Any

import attrs

from trackprep.source import Place
from trackprep.syntax import tree


def names_in(node: Any) -> Iterator[str]:
    """Every word and path that stands somewhere in a piece of a tree."""
    waiting = [node]
    while waiting:
        here = waiting.pop()
        if isinstance(here, tuple):
            waiting.extend(here)
        elif isinstance(here, tree.Word):
            yield here.text
        elif isinstance(here, tree.Reference):
            yield here.path
        elif attrs.has(type(here)) and not isinstance(here, Place):
            waiting.extend(getattr(here, f.name) for f in attrs.fields(type(here)) if f.eq)
