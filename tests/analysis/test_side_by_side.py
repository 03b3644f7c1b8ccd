"""Several rulesets side by side against plain enumeration of every declaration."""

from collections.abc import Iterator

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small import EVENT, Small, declarations, rules
from thorough import THOROUGH

from trackprep.analysis.common_set import NobodyReady, ReadyAtAll
from trackprep.analysis.demands import Demand
from trackprep.analysis.least_changes import Undecided
from trackprep.analysis.sides import Side
from trackprep.analysis.space import Space
from trackprep.analysis.venues import Venues, venues
from trackprep.backends.checks import holds, outcome, prepared
from trackprep.explanations.mentions import facts_in
from trackprep.rules import model
from trackprep.rules.values import Value

SMALL = settings(
    max_examples=500 if THOROUGH else 60,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
LETS = ("met", "not-asked")
Values = dict[str, Value]


def facts_of(rulesets: list[model.Rules]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(
        path for each in rulesets for rule in each.rules for part in rule.asked
        for condition in (part.when, part.demand) for path in facts_in(condition)
    ))  # fmt: skip


@st.composite
def several(draw: st.DrawFn) -> list[model.Rules]:
    """Two or three rulesets, which often share a rule."""
    pool = [draw(rules(f"rule-{number}")) for number in range(3)]
    found: list[model.Rules] = []
    for number in range(draw(st.integers(2, 3))):
        its = draw(st.lists(st.sampled_from(pool), min_size=1, max_size=2, unique_by=id))
        found.append(Small(f"day-{number}", "Day", facts=dict(_facts()), rules=tuple(its)))
    return found


def _facts() -> Iterator[tuple[str, model.Fact]]:
    from small import FACTS

    yield from FACTS.items()


few = several().filter(lambda them: len(facts_of(them)) < 6)


def lets(rules: model.Rules, name: str, values: Values) -> bool:
    rule = next(rule for rule in rules.rules if rule.name == name)
    return outcome(rule, prepared(rules, values, EVENT)[0], EVENT).status in LETS


def ready(rules: model.Rules, values: Values) -> bool:
    return all(lets(rules, r.name, values) for r in rules.rules if r.level == "required")


def found(them: list[model.Rules]) -> Venues:
    return venues(them, on=EVENT)


def has_arithmetic(them: list[model.Rules]) -> bool:
    return bool(Space([Side.of(rules, EVENT) for rules in them]).clauses.domains.free)


@SMALL
@given(few)
def test_somebody_is_ready_at_all_or_nobody_is(them: list[model.Rules]) -> None:
    common = found(them).common
    every = list(declarations((), facts_of(them)))
    somebody = any(all(ready(rules, values) for rules in them) for values in every)
    match common:
        case ReadyAtAll():
            assert somebody
            assert all(ready(rules, dict(common.witness.values)) for rules in them)
        case NobodyReady():
            assert not somebody
        case Undecided():
            assert has_arithmetic(them)


@SMALL
@given(few)
def test_what_matters_is_enough_and_each_of_it_is_needed(them: list[model.Rules]) -> None:
    common = found(them).common
    if not isinstance(common, ReadyAtAll):
        return
    every = list(declarations((), facts_of(them)))
    mine = [(them[each.ruleset], each.rule.name) for each in common.rules]
    for values in every:
        if all(lets(rules, name, values) for rules, name in mine):
            assert all(ready(rules, values) for rules in them)
    if has_arithmetic(them):
        return  # what hangs on it may be named though the others ask it already
    for left_out in mine:
        others = [each for each in mine if each != left_out]
        assert any(
            all(lets(rules, name, values) for rules, name in others) and not lets(*left_out, values)
            for values in every
        )


@SMALL
@given(few)
def test_why_nobody_is_ready_is_no_longer_than_it_has_to_be(them: list[model.Rules]) -> None:
    common = found(them).common
    if not isinstance(common, NobodyReady):
        return
    every = list(declarations((), facts_of(them)))
    core = [{(one.ruleset, one.rule) for one in each.asked_by} for each in common.rules]

    def possible(some: list[set[tuple[int, str]]]) -> bool:
        rules = [rule for group in some for rule in group]
        return any(all(lets(them[n], name, values) for n, name in rules) for values in every)

    assert not possible(core)
    for group in core:  # those that come to the same are left out together
        assert possible([other for other in core if other is not group])


@SMALL
@given(few)
def test_the_strictest_lets_through_only_what_all_others_do(them: list[model.Rules]) -> None:
    rows = found(them).rows
    every = list(declarations(facts_of(them)))
    arithmetic = has_arithmetic(them)
    for row in rows:
        if len(row.about) > 1:
            continue  # the demands of the first are shown, and all are weighed
        table = [
            tuple(_lets(them[n], cell, values) for n, cell in enumerate(row.cells))
            for values in every
        ]
        if row.agree:
            assert all(len(set(line)) == 1 for line in table)
        for line in table:
            for number in row.strictest:
                assert not line[number][0] or all(required for required, _ in line)
        if not arithmetic and not row.agree and not row.strictest:
            for number in range(len(them)):
                assert any(
                    (line[number][0] and not all(required for required, _ in line))
                    or (line[number][1] and not all(advised for _, advised in line))
                    for line in table
                )  # fmt: skip


def _lets(rules: model.Rules, cell: tuple[Demand, ...], values: Values) -> tuple[bool, bool]:
    """Whether what is required lets the values through, and whether all that is asked does."""
    known = prepared(rules, values, EVENT)[0]
    said = [
        (
            demand.rule.level,
            holds(demand.asked.when, known, EVENT) is False
            or holds(demand.condition, known, EVENT) is True,
        )
        for demand in cell
    ]
    return all(ok for level, ok in said if level == "required"), all(ok for _, ok in said)
