"""What the parser makes of expressions and conditions."""

from collections.abc import Mapping
from typing import Any

from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.syntax.build_values import Builder, Made, piece, pieces, token_place
from trackprep.syntax.tokens import Token


def reference(token: Token, place: Place) -> tree.Reference:
    """A path."""
    return tree.Reference(token.text.lower(), place=token_place(token, place))


def term(kid: Any, place: Place) -> Any:
    """A path among the parts of an expression comes as its token."""
    return reference(kid, place) if isinstance(kid, Token) else kid


def _counted(kids: list[Any], place: Place) -> tree.Counted:
    quantifier, *items, predicate = kids
    word = quantifier.name.removesuffix("_of").replace("_", " ")
    return tree.Counted(
        word,
        quantifier.kids[0].text if quantifier.kids else "",
        tuple(
            tree.Pattern(token.text[:-2], place=token_place(token, place))
            if token.kind == "PATTERN"
            else reference(token, place)
            for token in items
        ),
        predicate,
        place=place,
    )


def _chain(kind: Any) -> Builder:
    def build(kids: list[Any], place: Place) -> Any:
        first, *rest = kids
        pairs = zip(rest[::2], rest[1::2], strict=True)
        terms = tuple((sign.text, term(operand, place)) for sign, operand in pairs)
        return kind(term(first, place), terms, place=place)

    return build


def _on(kids: list[Any], place: Place) -> tree.Day | tree.Reference | None:
    on = pieces(kids).get("on_day")
    if on is None:
        return None
    token: Token = on.kids[0]
    where = token_place(token, place)
    return tree.Day(token.text, place=where) if token.kind == "DAY" else reference(token, where)


def _age(kids: list[Any], place: Place) -> tree.Age:
    names = [kid.name for kid in kids if isinstance(kid, Made)]
    grain: Any = next((name.removeprefix("to_the_") for name in names if name != "on_day"), "day")
    return tree.Age(reference(kids[0], place), _on(kids, place), grain, place=place)


def _completed_years(kids: list[Any], place: Place) -> tree.CompletedYears:
    return tree.CompletedYears(reference(kids[0], place), _on(kids, place), place=place)


def _over(kind: Any, *arguments: Any) -> Builder:
    """A node with one expression in it."""
    return lambda kids, place: kind(*arguments, term(kids[0], place), place=place)


def _words(kind: Any, *arguments: Any) -> Builder:
    return lambda kids, place: kind(*arguments, tuple(kids), place=place)


def _test(kids: list[Any], place: Place) -> tree.Test:
    return tree.Test(term(kids[0], place), kids[1], place=place)


def _between(kids: list[Any], place: Place) -> tree.Between:
    return tree.Between(term(kids[0], place), term(kids[1], place), place=place)


def _is(negated: bool) -> Builder:
    return lambda kids, place: tree.Is(term(kids[0], place), negated, place=place)


def _one_of(negated: bool) -> Builder:
    return lambda kids, place: tree.IsOneOf(tuple(kids), negated, place=place)


def _call(kids: list[Any], place: Place) -> tree.Call:
    name, *arguments = kids
    return tree.Call(
        name.text.lower(),
        tuple(term(argument, place) for argument in arguments),
        place=place,
        name_place=token_place(name, place),
    )


def _rounded(down: bool) -> Builder:
    return lambda kids, place: tree.Rounded(term(kids[0], place), kids[1], down, place=place)


def _when(negated: bool) -> Builder:
    return lambda kids, place: tree.When(kids[0], negated, place=place)


CONDITIONS: Mapping[str, Builder] = {
    "any": _words(tree.AnyOf),
    "all": _words(tree.All),
    "not": lambda kids, place: tree.Not(kids[0], place=place),
    "test": _test,
    "bare": _over(tree.Bare),
    "counted": _counted,
    "is_value": _is(False),
    "is_not_value": _is(True),
    "is_one_of": _one_of(False),
    "is_none_of": _one_of(True),
    "at_least": _over(tree.Compare, "at least"),
    "at_most": _over(tree.Compare, "at most"),
    "more_than": _over(tree.Compare, "more than"),
    "less_than": _over(tree.Compare, "less than"),
    "between": _between,
    "on_or_after": _over(tree.OnOr, "after"),
    "on_or_before": _over(tree.OnOr, "before"),
    "includes_any": _words(tree.Includes, "any"),
    "includes_all": _words(tree.Includes, "all"),
    "includes_none": _words(tree.Includes, "none"),
    "sum": _chain(tree.Sum),
    "product": _chain(tree.Product),
    "group": _over(tree.Group),
    "call": _call,
    "rounded": _rounded(False),
    "rounded_down": _rounded(True),
    "age": _age,
    "completed_years": _completed_years,
    "when": _when(False),
    "unless": _when(True),
    **{
        name: piece(name)
        for name in (
            "each_of", "some_of", "none_of", "at_least_of", "on_day", "to_the_month", "to_the_year",
        )
    },
}  # fmt: skip
