"""What the parser makes of the statements of a rule file."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.syntax.build_conditions import CONDITIONS, reference, term
from trackprep.syntax.build_formulas import FORMULAS
from trackprep.syntax.build_values import (
    RIDER,
    Builder,
    Made,
    day,
    given,
    piece,
    pieces,
    quantity,
    string_text,
    texts,
    token_place,
    unit_name,
    word,
)
from trackprep.syntax.tokens import Token


def _prose(keyword: tree.ProseKeyword) -> Builder:
    return lambda kids, place: tree.Prose(keyword, kids[0].text, place=place)


def _edition(kids: list[Any], place: Place) -> tree.Prose:
    token: Token = kids[0]
    text = string_text(token) if token.kind == "STRING" else token.text
    return tree.Prose("edition", text, place=place)


def _heading(keyword: Any) -> Builder:
    return lambda kids, place: tree.Heading(
        keyword, kids[0].text.lower(), kids[1].text, place=place
    )


def _uses(keyword: Any) -> Builder:
    return lambda kids, place: tree.Uses(keyword, string_text(kids[0]), place=place)


def _days(kids: list[Any], place: Place) -> tree.Valid:
    first, last = (tree.Day(token.text, place=token_place(token, place)) for token in kids)
    return tree.Valid(first, last, place=place)


# ---- facts ----


def _choice(kids: list[Any], place: Place) -> tree.Choice:
    its_word = word([kids[0]], token_place(kids[0], place))
    label = next((kid.kids[0] for kid in kids[1:] if isinstance(kid, Made)), None)
    also = next((kid for kid in kids[1:] if isinstance(kid, tree.Also)), None)
    return tree.Choice(its_word, string_text(label) if label else None, also, place=place)


def _choices(keyword: Any) -> Builder:
    return lambda kids, place: tree.Choices(keyword, tuple(kids), place=place)


def _plain(keyword: Any) -> Builder:
    return lambda kids, place: tree.Plain(keyword, place=place)


def _measured(kids: list[Any], place: Place) -> tree.Measured:
    return tree.Measured(unit_name(kids[0].text), kids[1] if kids[1:] else None, place=place)


def _count(kids: list[Any], place: Place) -> tree.Measured:
    return tree.Measured(None, kids[0] if kids else None, place=place)


def _also(kids: list[Any], place: Place) -> tree.Also:
    return tree.Also(tuple(string_text(token) for token in kids), place=place)


def _mark(word: tree.MarkWord) -> Builder:
    return lambda kids, place: tree.Mark(word, place=place)


def _fact(kids: list[Any], place: Place) -> tree.Fact:
    path, label, *rest = kids
    return tree.Fact(
        path.text.lower(),
        label.text,
        next(kid for kid in rest if isinstance(kid, tree.Type)),
        next((kid for kid in rest if isinstance(kid, tree.Also)), None),
        tuple(kid for kid in rest if isinstance(kid, tree.Mark)),
        place=place,
        path_place=token_place(path, place),
    )


def _derived(is_condition: bool, kids: list[Any], place: Place) -> tree.Derived:
    path, *rest, definition = kids
    its_unit = pieces(rest).get("in_unit")
    return tree.Derived(
        path.text.lower(),
        texts(rest),
        unit_name(its_unit.kids[0].text) if its_unit else None,
        definition if is_condition else term(definition, place),
        is_condition,
        place=place,
        path_place=token_place(path, place),
    )


# ---- limits, lists, rules ----


def _row(kids: list[Any], place: Place) -> tree.Row:
    return tree.Row(kids[0], kids[1] if kids[1:] else None, place=place)


def _strength(kids: list[Any]) -> Any:
    made = next((kid for kid in kids if isinstance(kid, Made) and kid.name in _STRENGTHS), None)
    return made.name if made else ""


_STRENGTHS = frozenset({"core", "amend", "stricter", "looser"})


def _name(kids: list[Any]) -> Token:
    return next(kid for kid in kids if isinstance(kid, Token))


def _limit(kids: list[Any], place: Place) -> tree.Limit:
    name = _name(kids)
    alone = pieces(kids).get("alone")
    rows = tuple(kid for kid in kids if isinstance(kid, tree.Row))
    return tree.Limit(
        name.text.lower(),
        texts(kids),
        alone.kids[0] if alone else rows or None,
        _strength(kids),
        place=place,
        name_place=token_place(name, place),
    )


def _list(kids: list[Any], place: Place) -> tree.List:
    name = _name(kids)
    made = pieces(kids)
    words = tuple(made["words"].kids) if "words" in made else None
    return tree.List(
        name.text.lower(),
        texts(kids),
        () if "no_words" in made else words,
        _strength(kids),
        place=place,
        name_place=token_place(name, place),
    )


def _section(kids: list[Any], place: Place) -> tree.Section:
    return tree.Section(kids[0].text, tuple(kids[1:]), place=place)


def _rule(kids: list[Any], place: Place) -> tree.Rule:
    name = _name(kids)
    parts = pieces(kids).get("for_each")
    return tree.Rule(
        name.text.lower(),
        texts(kids),
        tuple(reference(token, place) for token in parts.kids) if parts else (),
        _strength(kids),
        place=place,
        name_place=token_place(name, place),
    )


def _withdraw(kids: list[Any], place: Place) -> tree.Withdraw:
    return tree.Withdraw(kids[0].text.lower(), place=place, name_place=token_place(kids[0], place))


def _source(kind: tree.SourceKind) -> Builder:
    return lambda kids, place: tree.SourceOf(kind, kids[0].text if kids else "", place=place)


def _accept(kids: list[Any], place: Place) -> tree.Accept:
    finding, reason = kids
    return tree.Accept(
        finding.text.lower(), reason.text, place=place, finding_place=token_place(finding, place)
    )


def _how(kids: list[Any], place: Place) -> tree.How:
    return tree.How(kids[0].text, kids[1] if kids[1:] else None, place=place)


def _takes(kids: list[Any], place: Place) -> tree.Takes:
    return tree.Takes(quantity(kids, token_place(kids[0], place)), place=place)


def _part(kids: list[Any], place: Place) -> tree.Part:
    allow = quantity([kids[1]], token_place(kids[1], place)) if kids[1:] else None
    return tree.Part(string_text(kids[0]), allow, place=place)


def _tools(kids: list[Any], place: Place) -> tree.Tools:
    return tree.Tools(tuple(string_text(token) for token in kids), place=place)


def _after(kids: list[Any], place: Place) -> tree.After:
    words = (tree.Word(token.text.lower(), place=token_place(token, place)) for token in kids)
    return tree.After(tuple(words), place=place)


def _work(keyword: Any) -> Builder:
    return lambda kids, place: tree.Work(keyword, kids[0].text, tuple(kids[1:]), place=place)


def _example(kids: list[Any], place: Place) -> tree.Example:
    made = pieces(kids)
    file, on = made.get("example_from"), made.get("example_on")
    return tree.Example(
        kids[0].text,
        string_text(file.kids[0]) if file else None,
        day(on.kids, token_place(on.kids[0], place)) if on else None,
        place=place,
    )


def _expect(kids: list[Any], place: Place) -> tree.Expect:
    *rule, outcome = kids
    word = tree.Word(rule[0].text.lower(), place=token_place(rule[0], place)) if rule else None
    return tree.Expect(outcome.name.replace("_", "-"), word, place=place)


def _demand(keyword: Any) -> Builder:
    return lambda kids, place: tree.Demand(keyword, kids[0], place=place)


RULES: Mapping[str, Builder] = {
    **RIDER,
    **CONDITIONS,
    **FORMULAS,
    "rules": lambda kids, place: kids,
    "declare": lambda kids, place: tuple(kids),
    "ruleset": _heading("ruleset"),
    "vocabulary": _heading("vocabulary"),
    "edition": _edition,
    "valid": _days,
    "use": _uses("use"),
    "supplements": _uses("supplements"),
    "organizer": _prose("organizer"),
    "venue": _prose("venue"),
    "contact": _prose("contact"),
    "ask": _prose("ask"),
    "how": _how,
    "reason": _prose("reason"),
    "inspect": _prose("inspect"),
    "caution": _prose("caution"),
    "note": _prose("note"),
    "bring": _prose("bring"),
    "kind": lambda kids, place: tree.Kind(kids[0].text.lower(), kids[1], place=place),
    "fact": _fact,
    "one_of": _choices("one of"),
    "several_of": _choices("several of"),
    "graded": _choices("graded"),
    "yes_or_no": _plain("yes or no"),
    "any_date": _plain("date"),
    "past_date": _plain("past date"),
    "week_code": _plain("week code"),
    "free_text": _plain("text"),
    "count": _count,
    "measured": _measured,
    "of_kind": lambda kids, place: tree.OfKind(kids[0].text.lower(), place=place),
    "range": lambda kids, place: tree.Range(kids[0], kids[1], place=place),
    "choice": _choice,
    "also": _also,
    "for_the_inspector": _mark("for the inspector"),
    "unchangeable": _mark("unchangeable"),
    "private": _mark("private"),
    "check_again": _mark("check again"),
    "derived_value": partial(_derived, False),
    "derived_condition": partial(_derived, True),
    "limit": _limit,
    "row": _row,
    "list": _list,
    "here": lambda kids, place: tree.Here(given(kids, place), place=place),
    "section": _section,
    "rule": _rule,
    "withdraw": _withdraw,
    "require": _demand("require"),
    "recommend": _demand("recommend"),
    "source_text": _source("text"),
    "source_common_practice": _source("common practice"),
    "source_house_rule": _source("house rule"),
    "source_from_memory": _source("from memory"),
    "accept": _accept,
    "fix": _work("fix"),
    "undo": _work("undo"),
    "takes": _takes,
    "parts": lambda kids, place: tree.Parts(tuple(kids), place=place),
    "part": _part,
    "tools": _tools,
    "after": _after,
    "at_home": lambda kids, place: tree.Where("at home", place=place),
    "in_the_paddock": lambda kids, place: tree.Where("in the paddock", place=place),
    "example": _example,
    "expect": _expect,
    **{
        name: piece(name)
        for name in (
            "label", "in_unit", "alone", "words", "for_each", "core", "amend",
            "stricter", "looser", "example_from", "example_on", "met", "not_met", "unsettled",
            "not_asked", "ready", "not_ready", "incomplete",
        )
    },
}  # fmt: skip
