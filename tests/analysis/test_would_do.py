"""What would do for one rule against plain enumeration: it meets the rule, nothing less does."""

from attrs import evolve
from hypothesis import given
from small import EVENT, answered
from test_least_changes import SMALL, Case, Values, cases

from trackprep.analysis.changing import Changing
from trackprep.analysis.least_changes import Obstacle, Plan, Undecided
from trackprep.analysis.would_do import RuleWay, would_do
from trackprep.rules import model


def ways(case: Case) -> list[tuple[model.Rules, RuleWay]]:
    """Each rule of each ruleset that is not met, with its way."""
    return [
        (rules, one)
        for rules in case.rulesets for one in would_do(rules, case.values, EVENT).by_rule
    ]  # fmt: skip


def by_hand(case: Case, rules: model.Rules, rule: model.Rule) -> Case:
    """The same rider before a ruleset of that rule alone."""
    alone = evolve(rules, rules=(evolve(rule, level="required"),))
    return Case([alone], case.values, case.fixed)


def done(case: Case, plan: Plan) -> Values:
    """What is declared with just the changes that are shown."""
    shown = {change.path: change.new for change in (*plan.changes, *plan.to_find_out)}
    return {**case.values, **shown}


@SMALL
@given(cases().filter(lambda case: len(case.facts) < 6))
def test_every_rule_that_is_not_met_has_a_way_and_no_other_rule(case: Case) -> None:
    for rules in case.rulesets:
        not_met = [r.name for r in rules.rules if answered(rules, r, case.values) == "not-met"]
        assert [one.rule.name for one in would_do(rules, case.values, EVENT).by_rule] == not_met


@SMALL
@given(cases().filter(lambda case: len(case.facts) < 6))
def test_what_is_shown_meets_the_rule_and_no_smaller_set_does(case: Case) -> None:
    for rules, one in ways(case):
        alone = by_hand(case, rules, one.rule)
        straight = alone.straight()
        match one.way:
            case Undecided():
                # Arithmetic of several facts may be beyond what can be said exactly.
                changing = Changing(alone.rulesets, [alone.values], EVENT)
                assert changing.space.clauses.free
            case Obstacle():
                assert not straight
            case Plan() as plan:
                values = done(case, plan)
                if straight:
                    assert answered(rules, one.rule, values) == "met"
                    assert len(plan.changes) == min(map(alone.changed, straight))
                else:
                    # What a part hangs on has to change for another part, or for its own demand.
                    assert alone.is_justified(values)
                    status = answered(rules, one.rule, values)
                    assert status == "met" or (status == "not-asked" and plan.fallen_away)


@SMALL
@given(cases().filter(lambda case: len(case.facts) < 6))
def test_what_is_asked_stays_asked_and_what_is_given_stays(case: Case) -> None:
    for rules, one in ways(case):
        if not isinstance(one.way, Plan):
            continue
        alone = by_hand(case, rules, one.rule)
        values = done(case, one.way)
        for change in (*one.way.changes, *one.way.to_find_out):
            assert case.values.get(change.path) == change.old != change.new
            assert not (change.path in case.fixed and change.old is not None)
        if alone.straight():
            for its, condition, truth, needy in alone.stays():
                assert not needy or alone.truth(its, condition, values) is truth


@SMALL
@given(cases().filter(lambda case: len(case.facts) < 6))
def test_what_is_set_against_a_rider_is_told(case: Case) -> None:
    for rules, one in ways(case):
        if isinstance(one.way, Plan):
            values = done(case, one.way)
            against = [
                rule.name for rule in rules.rules
                if answered(rules, rule, values) == "not-met" != answered(rules, rule, case.values)
            ]  # fmt: skip
            assert [rule.name for rule in one.against] == against
