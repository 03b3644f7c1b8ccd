"""What a rule can be brought to, against plain enumeration of every declaration."""

from fractions import Fraction
from itertools import pairwise

from hypothesis import HealthCheck, given, settings
from small import EVENT, GRADES, MOST, answered, declarations, rules, ruleset
from thorough import THOROUGH

from trackprep.analysis.clauses import leaves
from trackprep.analysis.reaching import STATUSES, Reaching
from trackprep.analysis.sides import SharedFacts
from trackprep.analysis.solving import UndecidedError
from trackprep.backends.checks import holds
from trackprep.explanations.mentions import facts_in
from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.rules.values import Amount, Value
from trackprep.units import ONE

SMALL = settings(
    max_examples=600 if THOROUGH else 60,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
STEPS: dict[str, list[Value]] = {
    "grade.a": list(GRADES),
    "count.a": [Amount(Fraction(n), ONE) for n in range(MOST + 1)],
    "count.b": [Amount(Fraction(n), ONE) for n in range(MOST + 1)],
}


def reaching_of(rule: model.Rule) -> Reaching:
    whole = ruleset(rule)
    return Reaching(whole, rule, EVENT, SharedFacts.of([whole]))


def conditions_of(rule: model.Rule) -> list[c.Condition]:
    return [part for asked in rule.asked for part in (asked.when, asked.demand)]


def facts_of(rule: model.Rule) -> tuple[str, ...]:
    return tuple(dict.fromkeys(path for its in conditions_of(rule) for path in facts_in(its)))


@SMALL
@given(rules())
def test_an_answer_is_reached_by_a_declaration_or_by_none(rule: model.Rule) -> None:
    whole = ruleset(rule)
    by_hand = {answered(whole, rule, values) for values in declarations((), facts_of(rule))}
    reaching = reaching_of(rule)
    for status in STATUSES:
        try:
            case = reaching.case_of(status)
        except UndecidedError:
            continue  # a count has few values, which the solver for arithmetic does not mind
        assert (case is not None) == (status in by_hand)
        if case is not None:
            assert answered(whole, rule, dict(case.values)) == status


def turning(rule: model.Rule) -> set[c.Test]:
    """The tests of one fact that turn between two neighbouring values and the answer with them."""
    whole = ruleset(rule)
    found: set[c.Test] = set()
    for test in (leaf.test for its in conditions_of(rule) for leaf in leaves(its, {})):
        if not isinstance(test, c.GradeTest | c.NumberTest) or len(facts_in(test)) != 1:
            continue
        (path,) = facts_in(test)
        others = [other for other in facts_of(rule) if other != path]
        for values in declarations((), others):
            moved = [{**values, path: step} for step in STEPS.get(path, [])]
            for one, other in pairwise(moved):
                before, behind = holds(test, one, EVENT), holds(test, other, EVENT)
                if None not in (before, behind) and before is not behind:
                    said = answered(whole, rule, one), answered(whole, rule, other)
                    if said[0] != said[1]:
                        found.add(test)
    return found


@SMALL
@given(rules())
def test_a_boundary_is_where_the_test_and_the_answer_turn(rule: model.Rule) -> None:
    reaching, found = reaching_of(rule), set()
    whole = ruleset(rule)
    for boundary in reaching.boundaries:
        test = boundary.leaf.test
        if not isinstance(test, c.GradeTest | c.NumberTest) or len(boundary.leaf.open) != 1:
            continue
        cases = reaching.cases_at(boundary)
        if cases is None:
            continue
        found.add(test)
        one, other = (dict(case.values) for case in cases)
        assert answered(whole, rule, one) != answered(whole, rule, other)
        assert {**one, boundary.path: None} == {**other, boundary.path: None}
        steps = STEPS[boundary.path]
        assert steps.index(other[boundary.path]) - steps.index(one[boundary.path]) == 1
        reached = {key for case in cases for key in reaching.reached(case.values).sides}
        assert {(*boundary.key, False), (*boundary.key, True)} <= reached
    assert found == turning(rule)
