"""A rule file to start from that says only what is different from a shipped ruleset."""

from collections.abc import Iterator

from attrs import evolve

from trackprep.drafting.comments import commented
from trackprep.drafting.rule_files import header, neat
from trackprep.problems import RulesetError
from trackprep.reading import parse_ruleset
from trackprep.rules.loading import Loaded, load_shipped
from trackprep.rules.model import Rules
from trackprep.rules.reporting import Reporter
from trackprep.syntax import tree
from trackprep.syntax.printer import print_rules


def draft_like(base: str, title: str, *, year: int) -> str:
    """As `draft`, for a ruleset that says only what is different from the shipped one `base`.

    What the base leaves to be tuned stands in it as comments, ready to be taken up, and so
    does a rule of one's own: whoever publishes the draft as it is asks what the base asks.
    """
    top = header(title, year) + f'supplements "{base}"\n\n'
    rules = parse_ruleset(f'ruleset draft "Draft"\nsupplements "{base}"\n').rules
    parts = [top, *_tunable(base, rules), _ONE_MORE_RULE]
    return neat("\n".join(parts))


# On a fact that no shipped rule asks about: nobody is shown how to ask the same thing twice.
_ONE_MORE_RULE = """\
# A rule of your own goes here, below all changes. To use this one, take the # away in front of
# `section`, `rule`, `example` and every line that is indented below them.

# A section heads the rules that follow it: those of your own come after those of the base.
#section "At our place"

# `recommend` is for what should be so, and turns nobody away; `require` is for what must be.
#rule spare-visor "A spare visor"
#  recommend visor.spare
#  source house rule
#  fix "Bring a second visor that fits the helmet."
#      takes 5 min

# An example is a test of this file: what is declared, and what is to come of it.
# Write one more for each rule: one that meets it, one that does not.
#example "Left at home"
#  declare visor.spare is no
#  expect spare-visor is not met
"""


def _tunable(base: str, rules: Rules) -> Iterator[str]:
    """Every limit and list of the base as a change that could be made, in comments."""
    changes = _changes(load_shipped(base, Reporter()))
    core = _core(base, changes)
    free = [change for change in changes if change.name not in core]
    bound = [evolve(change, strength="stricter") for change in changes if change.name in core]
    yield from commented(
        f"What {base} leaves to be tuned. To set a value of your own, change it and take the #"
        " away in front of `amend` and of every line down to `source`; the title above keeps its"
        " own. Say `stricter` or `looser` in place of `amend` where you mean to go only one way."
    )
    yield from _commented_out(free, rules)
    if bound:
        yield ""
        yield from commented(
            "What core rules use can only be made stricter: take the # away in front of `stricter`"
            " and of every line down to `source`."
        )
        yield from _commented_out(bound, rules)
    yield ""


def _commented_out(changes: list[tree.Limit | tree.List], rules: Rules) -> Iterator[str]:
    for change in changes:
        named = rules.limits.get(change.name) or rules.lists[change.name]
        yield "#"
        yield from commented(named.label or change.name)
        yield from (f"#{line}" for line in print_rules(tree.RuleFile((change,))).splitlines())


def _changes(loaded: Loaded) -> list[tree.Limit | tree.List]:
    """An `amend` of each limit and list to the value it has, as the last file says it."""
    values: dict[str, tree.Limit | tree.List] = {}
    chain: Loaded | None = loaded
    while chain is not None:
        for statement in chain.file.statements:
            match statement:
                case tree.Limit(value=None) | tree.List(words=None):
                    continue
                case tree.Limit() | tree.List():
                    values.setdefault(statement.name, statement)
        chain = chain.base
    return [
        evolve(value, label=None, strength="amend", details=(tree.SourceOf("house rule"),))
        for value in values.values()
    ]


def _core(base: str, changes: list[tree.Limit | tree.List]) -> set[str]:
    """The names among them that may not be amended, found by trying."""
    names: dict[int, str] = {}
    lines = ['ruleset draft "Draft"', f'supplements "{base}"']
    for change in changes:
        names[len(lines) + 1] = change.name
        lines += print_rules(tree.RuleFile((change,))).splitlines()
    try:
        parse_ruleset("\n".join(lines))
    except RulesetError as error:
        return {
            names[problem.line]
            for problem in error.problems
            if problem.line in names and problem.code == "core-changed"
        }
    return set()
