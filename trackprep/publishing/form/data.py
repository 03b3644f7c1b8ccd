"""All that the page's script knows of the events, as data."""

from collections.abc import Sequence
from typing import Any, TypeAlias

from trackprep.backends.page import PlainRuleset, plain_day
from trackprep.explanations.clauses import clause
from trackprep.explanations.sentences import conjuncts
from trackprep.pressures.plain import plain_pressures, pressure_units
from trackprep.publishing.form.facts import plain_facts, used_facts
from trackprep.publishing.form.trials import plain_trials
from trackprep.publishing.form.units import plain_units
from trackprep.publishing.form.work import plain_words, plain_work
from trackprep.publishing.inspection import AFTER_A_FALL
from trackprep.reports.worklist.page import AT_ONCE, REAL
from trackprep.rules.model import Asked, Measured, Rules
from trackprep.units import Unit

Plain: TypeAlias = Any
"""What JSON can say."""


def form_data(rulesets: Sequence[Rules]) -> dict[str, Plain]:
    """The events and what riders are asked for them.

    A rule is its title, what the inspector does, and for each part that it asks something of
    the demands that `and` joins, each as the number of its node and in words.
    """
    return {
        "name": " and ".join(rules.name for rules in rulesets),
        "events": [_event(rules) for rules in rulesets],
        "facts": plain_facts(rulesets),
        "others": _others(rulesets),
        "units": plain_units([*_units(rulesets), *pressure_units()]),
        "pressures": plain_pressures(),
        "words": {
            **plain_words(), "mechanic": AT_ONCE, "real": REAL, "fall": AFTER_A_FALL,
        },
    }  # fmt: skip


def _event(rules: Rules) -> dict[str, Plain]:
    plain = PlainRuleset(rules, used_facts(rules))
    asked_of = [
        {
            "title": rule.title,
            "inspect": rule.inspect,
            "tests": [_tests(asked, rules, plain) for asked in rule.asked],
        }
        for rule in rules.rules
    ]
    work = plain_work(rules, plain)
    return {
        "name": rules.name,
        "title": rules.title,
        "valid": [plain_day(day) for day in rules.valid] if rules.valid else None,
        "rules": asked_of,
        "work": work,
        "trials": plain_trials(plain),
        "plain": plain.data(),  # the last, since it has the nodes that all others have named
    }


def _tests(asked: Asked, rules: Rules, plain: PlainRuleset) -> list[list[Plain]]:
    return [[plain.condition(one), clause(one, rules)] for one in conjuncts(asked.demand)]


def _others(rulesets: Sequence[Rules]) -> list[str]:
    """The facts that a declaration may name though no rule here goes by them."""
    known = dict.fromkeys(path for rules in rulesets for path in rules.facts)
    used = {path for rules in rulesets for path in used_facts(rules)}
    return [path for path in known if path not in used]


def _units(rulesets: Sequence[Rules]) -> list[Unit]:
    """The units that the facts are declared in, each once."""
    found = (
        fact.type.unit
        for rules in rulesets
        for fact in (rules.facts[path] for path in used_facts(rules))
        if isinstance(fact.type, Measured)
    )
    return list(dict.fromkeys(found))
