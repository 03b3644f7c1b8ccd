"""Kleene's three values, against his tables and against what the unknowns could turn out."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackprep.truth import Truth, at_least, conjunction, disjunction, negation

TRUTHS = st.lists(st.sampled_from([True, False, None]), max_size=6)


# S. C. Kleene, Introduction to Metamathematics, 1952, section 64, strong tables.
@pytest.mark.parametrize(
    ("one", "other", "both", "either"),
    [
        (True, True, True, True),
        (True, False, False, True),
        (True, None, None, True),
        (False, True, False, True),
        (False, False, False, False),
        (False, None, False, None),
        (None, True, None, True),
        (None, False, False, None),
        (None, None, None, None),
    ],
)
def test_connectives_have_kleenes_strong_tables(
    one: Truth, other: Truth, both: Truth, either: Truth
) -> None:
    """And, or: the nine rows of each."""
    assert conjunction([one, other]) is both
    assert disjunction([one, other]) is either


@pytest.mark.parametrize(("truth", "negated"), [(True, False), (False, True), (None, None)])
def test_negation_has_kleenes_strong_table(truth: Truth, negated: Truth) -> None:
    """Not: the same source, three rows."""
    assert negation(truth) is negated


def test_no_members_at_all_are_decided() -> None:
    """Nothing asked is met; nothing offered is not."""
    assert conjunction([]) is True
    assert disjunction([]) is False
    assert at_least(0, []) is True
    assert at_least(1, []) is False


def outcomes(truths: list[Truth]) -> list[list[bool]]:
    """Every way in which the unknown members could turn out."""
    return [
        list(row) for row in product(*([t] if t is not None else [True, False] for t in truths))
    ]


def agreed(answers: set[bool]) -> Truth:
    """The answer they share, or unknown."""
    return answers.pop() if len(answers) == 1 else None


@given(TRUTHS, st.integers(0, 7))
def test_an_answer_is_known_exactly_when_the_unknowns_cannot_turn_it(
    truths: list[Truth], count: int
) -> None:
    """Law: each connective is what all outcomes agree on."""
    rows = outcomes(truths)
    assert conjunction(truths) is agreed({all(row) for row in rows})
    assert disjunction(truths) is agreed({any(row) for row in rows})
    assert at_least(count, truths) is agreed({sum(row) >= count for row in rows})


@given(TRUTHS)
def test_negation_turns_and_into_or(truths: list[Truth]) -> None:
    """Law: De Morgan's."""
    negated = [negation(truth) for truth in truths]
    assert negation(conjunction(truths)) is disjunction(negated)
    assert negation(disjunction(truths)) is conjunction(negated)
