"""Shipped vocabularies to the compiled form in which they ship."""

import json
from collections.abc import Iterable, Iterator
from typing import Any

import attrs

from trackprep.rules import model
from trackprep.rules.compiling import compiled
from trackprep.rules.functions import FORMS
from trackprep.rules.loading import Loaded, load_written
from trackprep.rules.precompiled import HangsOn, StoredVocabulary, Stretch, files_of, headed
from trackprep.rules.reporting import Reporter
from trackprep.rules.storing import Later
from trackprep.rules.vocabularies import Vocabulary, vocabulary
from trackprep.source import Place
from trackprep.syntax import tree


def vocabulary_form(name: str) -> str:
    """What the compiled form of a shipped vocabulary should be; the same on every machine.

    Raises:
        ValueError: It is no vocabulary, or has problems.
    """
    loaded, problems = load_written(name)
    rules = compiled(loaded, Reporter()).rules
    if problems or rules is None or not rules.vocabulary:
        raise ValueError(f"{loaded.source.name} is no vocabulary without a problem")
    stored = _stored(loaded, rules)
    text = json.dumps(stored.plain(), ensure_ascii=False, separators=(",", ":"))
    return headed(stored.made_of, text)


def _stored(loaded: Loaded, rules: model.Rules) -> StoredVocabulary:
    words = vocabulary(loaded)
    own = loaded.file.statements
    derived = [s.path for s in own if isinstance(s, tree.Derived)]
    hanging = {path: _hangs_on(path, words) for path in derived}
    return StoredVocabulary(
        made_of=files_of(loaded.files),
        uses=tuple(s.file for s in own if isinstance(s, tree.Uses)),
        statements=tuple(_stretches(own)),
        kinds=Later({s.name: words.kinds[s.name] for s in own if isinstance(s, tree.Kind)}),
        facts=Later({s.path: words.facts[s.path] for s in own if isinstance(s, tree.Fact)}),
        derived=Later({path: rules.derived[path] for path in derived}),
        formulas=Later(
            {s.name: rules.formulas[s.name] for s in own if isinstance(s, tree.Formula)}
        ),
        tables=Later({s.name: rules.tables[s.name] for s in own if isinstance(s, tree.Table)}),
        hangs_on={path: on for path, on in hanging.items() if on is not None},
    )


def _stretches(statements: Iterable[tree.Statement]) -> Iterator[Stretch]:
    section = ""
    for statement in statements:
        match statement:
            case tree.Section(title):
                section = title
            case tree.Derived(name) | tree.Formula(name) | tree.Table(name):
                keyword, place = type(statement).__name__.lower(), statement.place
                yield keyword, name, place.start, place.end, section
            case _:
                pass


def _hangs_on(path: str, words: Vocabulary) -> HangsOn | None:
    """What a derived fact hangs on; None if a pattern may take in what other files define."""
    facts, others, calls = {path}, set[str](), set[str]()
    waiting: list[Any] = [words.derived[path].statement.definition]
    while waiting:
        here = waiting.pop()
        match here:
            case tree.Pattern():
                return None
            case tree.Word(text=name) | tree.Reference(path=name):
                name = name.lower()
                if name not in words.homes:
                    others.add(name)
                elif name not in facts:
                    facts.add(name)
                    if name in words.derived:
                        waiting.append(words.derived[name].statement.definition)
            case tree.Call(name, arguments):
                waiting.extend(arguments)
                if name not in FORMS and name not in calls:
                    calls.add(name)
                    called = words.calculations[name].statement
                    waiting.extend(_calls_in(called))
            case tuple():
                waiting.extend(here)
            case _:
                waiting.extend(_inside(here))
    return HangsOn(frozenset(facts), frozenset(others), frozenset(calls))


def _calls_in(node: Any) -> Iterator[tree.Call]:
    """The calls in a formula, without what they are called with: it knows no names but its own."""
    waiting = [node]
    while waiting:
        here = waiting.pop()
        if isinstance(here, tree.Call):
            yield attrs.evolve(here, arguments=())
        waiting.extend(here if isinstance(here, tuple) else _inside(here))


def _inside(node: Any) -> Iterator[Any]:
    """The parts of a piece of a tree."""
    if attrs.has(type(node)) and not isinstance(node, Place):
        for field in attrs.fields(type(node)):
            if field.eq:
                yield getattr(node, field.name)
