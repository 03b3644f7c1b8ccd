"""One rider's file read for several rulesets, each of which may know facts that others do not."""

from collections.abc import Callable, Sequence
from pathlib import Path

from attrs import evolve

from trackprep.declarations.declaration import Declaration
from trackprep.declarations.reading import read_file, read_rider
from trackprep.rules.model import Rules
from trackprep.source import Source


def read_for_all(path: Path, name: str, rulesets: Sequence[Rules]) -> tuple[Declaration, ...]:
    """The declaration in a file, for each ruleset with the facts that this one knows.

    Raises:
        DeclarationError: The file cannot be read, or has problems for one of them: for a fact
            that two define differently, those of both.
    """
    return _for_all(lambda rules: read_file(path, name, rules), rulesets)


def read_rider_for_all(source: Source, rulesets: Sequence[Rules]) -> tuple[Declaration, ...]:
    """The same of `.rider` text.

    Raises:
        DeclarationError: The text has problems for one of them.
    """
    return _for_all(lambda rules: read_rider(source, rules), rulesets)


def _for_all(
    read: Callable[[Rules], Declaration], rulesets: Sequence[Rules]
) -> tuple[Declaration, ...]:
    everything = {path: fact for rules in rulesets for path, fact in rules.facts.items()}
    declarations = []
    for rules in rulesets:
        whole = read(evolve(rules, facts={**everything, **rules.facts}))
        own = {fact: value for fact, value in whole.values.items() if fact in rules.facts}
        declarations.append(evolve(whole, values=own, rules=rules))
    return tuple(declarations)
