"""Our nouns compare, hash and show themselves as attrs' own would."""

import copy
import pickle
from collections.abc import Callable
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackprep.frozen import frozen
from trackprep.rules.conditions import ChoiceTest, DayOf, NumberOf
from trackprep.source import Place, Source


def _classes(decorator: Callable[[Any], Any]) -> tuple[Any, Any]:
    @decorator
    class Pair:
        one: object
        other: object = attrs.field(default=0, eq=False)
        hidden: int = attrs.field(default=1, kw_only=True, repr=False)

    @decorator
    class Empty:
        pass

    return Pair, Empty


OURS, THEIRS = _classes(frozen), _classes(attrs.frozen)
FIELDS = st.tuples(st.integers(0, 2), st.integers(0, 2), st.integers(0, 2))


@given(FIELDS, FIELDS)
def test_equal_just_where_attrs_says_so(one: tuple[int, ...], other: tuple[int, ...]) -> None:
    """Law: agreement in `==`, in what hashes alike, and in `repr`."""
    ours, theirs = (
        [made[0](first, second, hidden=third) for first, second, third in (one, other)]
        for made in (OURS, THEIRS)
    )
    assert (ours[0] == ours[1]) is (theirs[0] == theirs[1])
    assert (ours[0] != ours[1]) is (theirs[0] != theirs[1])
    assert len(set(ours)) == len(set(theirs))
    assert list(map(repr, ours)) == list(map(repr, theirs))


def test_one_without_fields_equals_its_like() -> None:
    """And shows nothing but its name."""
    assert OURS[1]() == OURS[1]()
    assert OURS[1]() != THEIRS[1]()
    assert repr(OURS[1]()) == repr(THEIRS[1]()) == "Empty()"


def test_nouns_of_two_kinds_are_never_equal() -> None:
    """Though their fields are."""
    assert NumberOf("a.b") != DayOf("a.b")
    assert len({NumberOf("a.b"), DayOf("a.b"), NumberOf("a.b")}) == 2


@pytest.mark.parametrize(
    "noun",
    [ChoiceTest("a.b", frozenset("c")), Place(Source("x", "y"), 0, 1)],
    ids=["test", "place"],
)
def test_a_copy_is_equal_and_nothing_changes_it(noun: Any) -> None:
    """By `copy`, by `pickle`; and no field can be set."""
    assert copy.deepcopy(noun) == pickle.loads(pickle.dumps(noun)) == noun
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        setattr(noun, attrs.fields(type(noun))[0].name, 0)
