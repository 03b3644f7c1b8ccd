"""The decorator of every noun here: attrs' `frozen`, made for a program that starts often.

attrs writes source for each class's comparison, hash and form, and compiles it: 0.15 ms a
class, and a check of one declaration imports a hundred. Here all classes share one of each,
over the fields that attrs would take; everything else is attrs' own.
"""

from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from attrs import frozen as frozen
else:
    import attrs

    def frozen(plain=None, *, eq=True, **settings):
        """As `attrs.frozen`; fields with `eq=False` are no part of equality and hash."""

        def noun(plain):
            own = vars(plain)
            made = attrs.frozen(plain, eq=False, repr=False, **settings)
            if "__repr__" not in own:
                made.__repr__ = _form(made)
            if eq and "__eq__" not in own:
                made.__eq__, made.__hash__ = _equality(made)
            return made

        return noun if plain is None else noun(plain)


def _equality(made: Any) -> tuple[Callable[[Any, object], Any], Callable[[Any], int]]:
    """The comparison and the hash of a class, over the fields that are part of equality."""
    names = [field.name for field in made.__attrs_attrs__ if field.eq]
    key: Callable[[Any], Any] = attrgetter(*names) if names else lambda noun: ()

    def equal(self: Any, other: object) -> Any:
        if other.__class__ is not made:
            return NotImplemented
        return key(self) == key(other)

    def hashed(self: Any) -> int:
        return hash((made, key(self)))

    return equal, hashed


def _form(made: Any) -> Callable[[Any], str]:
    """What `repr` shows of a class: its name, and its fields by name."""
    names = [field.name for field in made.__attrs_attrs__ if field.repr]

    def form(self: Any) -> str:
        fields = ", ".join(f"{name}={getattr(self, name)!r}" for name in names)
        return f"{made.__qualname__.rpartition('>.')[2]}({fields})"

    return form
