"""What a ruleset asks of riders: which facts, in whose order, and how an answer is written."""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain

from trackprep.explanations.mentions import facts_in
from trackprep.frozen import frozen
from trackprep.rules.model import Choosing, Fact, Rules
from trackprep.rules.reading import expected_of, quoted
from trackprep.units import show


def asked(rules: Rules) -> tuple[Fact, ...]:
    """The facts that the rules ask riders for, in the order of the vocabulary.

    Derived facts count as what they are worked out from; what the event settles
    (`here`) and what is for the inspector is left out. A vocabulary has no rules,
    and asks for all of its facts.
    """
    paths = set(rules.facts) if rules.vocabulary else _decisive(rules)
    return tuple(
        fact
        for path, fact in rules.facts.items()
        if path in paths and path not in rules.here and not fact.for_the_inspector
    )


def _decisive(rules: Rules) -> set[str]:
    """The paths of the facts that decide some rule."""
    conditions = (
        condition
        for rule in rules.rules
        for part in rule.asked
        for condition in (part.when, part.demand)
    )
    return set(chain.from_iterable(map(facts_in, conditions)))


def by_part(facts: Iterable[Fact]) -> dict[str, list[Fact]]:
    """The facts under the part of the vocabulary they belong to, in their order."""
    parts: dict[str, list[Fact]] = {}
    for fact in facts:
        parts.setdefault(fact.section or "Other", []).append(fact)
    return parts


def how_to_look(fact: Fact) -> str:
    """How to find it out, and how long that takes where it is told; may be empty."""
    if fact.takes is None:
        return fact.how
    return f"{fact.how} Takes about {show(fact.takes.value, fact.takes.unit)}."


# ---- how an answer is written ---------------------------------------------------


@frozen
class Offer:
    """A choice as it is written in a file, and what it says where that is more."""

    word: str
    label: str


_CHOOSING = {
    "one of": "one of these words",
    "graded": "one of these words, from the lowest to the highest",
    "several of": "any of these words, with commas between them; `none` if it is none of them",
}


def offers(fact: Fact) -> tuple[Offer, ...]:
    """The choices of a fact; none for a fact that has no choices."""
    if not isinstance(fact.type, Choosing):
        return ()
    return tuple(
        Offer(
            quoted(choice.word),
            "" if _worn_down(choice.spoken) == _worn_down(choice.word) else choice.spoken,
        )
        for choice in fact.type.choices
    )


def answer_form(fact: Fact) -> str:
    """How an answer is written; choices are told of, not listed."""
    if isinstance(fact.type, Choosing):
        return _CHOOSING[fact.type.how]
    return expected_of(fact).replace("`", "")


def _worn_down(text: str) -> str:
    return text.casefold().replace("-", " ")


# ---- finding a fact by a word -----------------------------------------------------


def found(facts: Sequence[Fact], words: Sequence[str]) -> tuple[Fact, ...]:
    """The facts that all the words are about, in their order.

    A word counts where a word of the path, the label or the other names begins with
    it; where no fact has them all there, the question and the choices count too.
    """
    wanted = list(chain.from_iterable(map(_words, words)))
    close = tuple(fact for fact in facts if _all_begin(wanted, _words(*_names(fact))))
    return close or tuple(
        fact
        for fact in facts
        if _all_begin(wanted, _words(*_names(fact), fact.ask, *_choice_names(fact)))
    )


def known_words(facts: Iterable[Fact]) -> frozenset[str]:
    """Every word by which a fact can be found."""
    return frozenset(
        chain.from_iterable(_words(*_names(fact), *_choice_names(fact)) for fact in facts)
    )


def _names(fact: Fact) -> tuple[str, ...]:
    return (fact.path, fact.label, *fact.also)


def _choice_names(fact: Fact) -> Iterator[str]:
    if isinstance(fact.type, Choosing):
        for choice in fact.type.choices:
            yield from (choice.word, choice.label, *choice.also)


def _words(*texts: str) -> list[str]:
    return [word for text in texts for word in re.split(r"[\W_]+", text.casefold()) if word]


def _all_begin(wanted: Iterable[str], words: Sequence[str]) -> bool:
    return all(any(word.startswith(want) for word in words) for want in wanted)
