"""`trackprep read-back`: each rule as the sentence it means."""

from argparse import Namespace
from itertools import groupby

from trackprep.cli.calls import CallParser, add_ruleset
from trackprep.cli.rulesets import for_riders
from trackprep.cli.terminal import say
from trackprep.explanations.sentences import applies_clause, rule_sentence
from trackprep.rules.model import Rules


def arguments(parser: CallParser) -> None:
    """RULESET."""
    add_ruleset(parser)


def run(call: Namespace) -> int:
    """Prints the rules, section by section; 0."""
    rules = for_riders(call.ruleset).rules
    edition = f", edition {rules.edition}" if rules.edition else ""
    say(f"{rules.title}{edition}, as trackprep understands it")
    if not rules.rules:
        say()
        say("There are no rules in this file.")
    for title, members in groupby(rules.rules, key=lambda rule: rule.section):
        say()
        say(_heading(title, rules))
        for rule in members:
            say()
            say(f"{rule.name}: {rule.title}", indent="  ", hanging="      ")
            say(rule_sentence(rule, rules), indent="    ")
    for name, reason in rules.withdrawn.items():
        say()
        say(f"Not asked here, though the base asks it: {name}. {reason}".strip(), hanging="    ")
    return 0


def _heading(title: str, rules: Rules) -> str:
    conditions = (section.when for section in rules.sections if section.title == title)
    when = next((condition for condition in conditions if condition is not None), None)
    said = f" ({applies_clause(when, rules)})" if when is not None else ""
    return f"== {title or 'Rules'}{said} =="
