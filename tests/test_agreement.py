"""The library against the naive model, and laws of its own, through the public interface."""

from collections.abc import Iterable
from datetime import date

from hypothesis import given
from hypothesis import strategies as st
from naive import Answer, Outcome, outcome
from rewriting import (
    LAW,
    one_more_declared,
    other_units,
    reordered,
    unrelated_declared,
    untidy,
)
from strategies import Case, cases

import trackprep
from trackprep.ruleset import SLOW_CHECKS
from trackprep.source import Source
from trackprep.syntax import tree
from trackprep.syntax.neaten import neatened
from trackprep.syntax.parser import parse_rider, parse_rules
from trackprep.syntax.printer import print_rider, print_rules

MAY_BECOME = {  # an answer, and what one more declared fact may make of it
    "not-met": {"not-met"},
    "not-asked": {"not-asked"},
    "met": {"met", "not-asked"},
    "unsettled": {"met", "not-met", "unsettled", "not-asked"},
}


def rider_text(given: tuple[tree.Given, ...]) -> str:
    return print_rider(tree.RiderFile("Agreement", None, given))


def checked(case: Case, rules: str | None = None) -> Outcome:
    """What the library answers, in the model's form."""
    ruleset = trackprep.parse_ruleset(rules or print_rules(case.rules), name="agreement")
    return answered(ruleset, case.declaration, case.day)


def answered(ruleset: trackprep.Ruleset, given: tuple[tree.Given, ...], day: date) -> Outcome:
    """What a ruleset answers to these values, in the model's form."""
    declaration = trackprep.parse_declaration(rider_text(given), ruleset)
    report = ruleset.check(declaration, on=day)
    answers = {
        answer.rule: Answer(answer.status, paths(answer.declare), paths(answer.narrow))
        for answer in report.answers
    }
    assert len(answers) == len(report.answers), "a rule is answered twice"
    return Outcome(answers, report.verdict)


def paths(asked: Iterable[object]) -> frozenset[object]:
    """The facts of `declare` or `narrow`, which may carry more than their path."""
    return frozenset(getattr(entry, "path", entry) for entry in asked)


@LAW
@given(cases())
def test_library_agrees_with_the_naive_model(case: Case) -> None:
    declared = {its.path: its.values for its in case.declaration}
    assert checked(case) == outcome(case.rules, declared, case.day)


@LAW
@given(cases())
def test_a_ruleset_that_is_used_often_answers_the_same(case: Case) -> None:
    """After some checks generated code answers; it is asked with ever other facts left out."""
    ruleset = trackprep.parse_ruleset(print_rules(case.rules), name="agreement")
    for _ in range(SLOW_CHECKS):
        answered(ruleset, case.declaration, case.day)
    for n in range(4):
        given = tuple(its for i, its in enumerate(case.declaration) if not n or (i + n) % (n + 1))
        declared = {its.path: its.values for its in given}
        assert answered(ruleset, given, case.day) == outcome(case.rules, declared, case.day)


@LAW
@given(cases())
def test_parsing_what_was_printed_gives_the_same_tree(case: Case) -> None:
    rules = parse_rules(Source("agreement.trackrules", print_rules(case.rules)))
    assert (rules.problems, rules.tree) == ((), case.rules)
    rider = parse_rider(Source("agreement.rider", rider_text(case.declaration)))
    assert (rider.problems, rider.tree.entries) == ((), case.declaration)


@LAW
@given(one_more_declared())
def test_one_more_declared_fact_only_settles(pair: tuple[Case, Case]) -> None:
    before, after = map(checked, pair)
    for name, answer in before.answers.items():
        assert after.answers[name].status in MAY_BECOME[answer.status], name
    assert before.verdict in ("incomplete", after.verdict)


@LAW
@given(other_units())
def test_unit_of_a_declared_value_does_not_matter(pair: tuple[Case, Case]) -> None:
    before, after = map(checked, pair)
    assert after == before


@LAW
@given(unrelated_declared())
def test_fact_that_no_rule_asks_does_not_matter(pair: tuple[Case, Case]) -> None:
    before, after = map(checked, pair)
    assert after == before


@LAW
@given(reordered())
def test_order_within_a_section_does_not_matter(pair: tuple[Case, Case]) -> None:
    before, after = map(checked, pair)
    assert after == before


@LAW
@given(cases(), st.data())
def test_neatening_changes_no_answer(case: Case, data: st.DataObject) -> None:
    written = data.draw(untidy(print_rules(case.rules)))
    neat = neatened(Source("agreement.trackrules", written))
    assert neatened(Source("agreement.trackrules", neat)) == neat
    assert checked(case, neat) == checked(case, written)
