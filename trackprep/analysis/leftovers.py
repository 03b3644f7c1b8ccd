"""What a rule file names and nothing uses."""

from collections.abc import Iterator

from trackprep.analysis.findings import Finding
from trackprep.explanations.mentions import (
    computations_in,
    conditions_of,
    derived_in,
    facts_in,
    facts_of,
    terms_in,
)
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    ChoiceLookup,
    Condition,
    DerivedNumber,
    FormulaNumber,
    NumberLookup,
    Term,
)
from trackprep.rules.model import FreeText, Rules
from trackprep.rules.own_file import Head, OwnFile


def unused(own: OwnFile) -> Iterator[Finding]:
    """What stands in the file and is used by nothing; a vocabulary is there for others."""
    if own.rules.vocabulary:
        return
    used = _Used.by(own.rules)
    for head in own.heads:
        if head.new and _is_unused(head, own, used):
            kind = "fact" if head.kind == "derived" else head.kind
            text = f"nothing uses the {_SPOKEN.get(head.kind, head.kind)} `{head.name}`"
            yield Finding(f"unused-{kind}", head.about, text, head.origin)


_SPOKEN = {"derived": "derived fact"}


def _is_unused(head: Head, own: OwnFile, used: "_Used") -> bool:
    match head.kind:
        case "limit" | "list":
            return head.name not in own.named
        case "fact":
            fact = own.rules.facts[head.name]
            # Words are for sheets: no rule can test them.
            return head.name not in used.facts and not isinstance(fact.type, FreeText)
        case "derived":
            return head.name not in used.derived
        case "formula" | "table":
            return head.name not in used.computations
        case _:
            return False


@frozen(eq=False)
class _Used:
    """The facts, derived facts, formulas and tables that something hangs on."""

    facts: frozenset[str]
    derived: frozenset[str]
    computations: frozenset[str]

    @classmethod
    def by(cls, rules: Rules) -> "_Used":
        """Those of a ruleset: of its rules, and of what it works out."""
        conditions = list(_conditions(rules))
        terms = [rules.formulas[name].definition for name in rules.formulas]
        facts, derived, computations = set(rules.here), set[str](), set[str]()
        for path in rules.derived:
            definition = rules.derived[path].definition
            if isinstance(definition, tuple):
                facts.add(definition[0])
            elif isinstance(definition, Term):
                terms.append(definition)
            else:
                conditions.append(definition)
        for condition in conditions:
            facts.update(facts_in(condition))
            derived.update(derived_in(condition))
            computations.update(computations_in(condition))
        for term in terms:
            facts.update(facts_of(term))
            for inner in terms_in(term):
                match inner:
                    case DerivedNumber(path):
                        derived.add(path)
                    case FormulaNumber(name) | ChoiceLookup(name) | NumberLookup(name):
                        computations.add(name)
        return cls(frozenset(facts), frozenset(derived), frozenset(computations))


def _conditions(rules: Rules) -> Iterator[Condition]:
    """Every condition of a ruleset but those of its derived facts."""
    yield from conditions_of(rules)
    for name in rules.limits:
        yield from (row.condition for row in rules.limits[name].rows if row.condition)
