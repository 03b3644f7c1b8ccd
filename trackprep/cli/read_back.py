"""`trackprep read-back`: each rule, formula and table as the sentence it means."""

from argparse import Namespace
from itertools import groupby

from trackprep.cli.calls import CallParser, add_ruleset
from trackprep.cli.rulesets import for_riders
from trackprep.cli.terminal import say
from trackprep.explanations.definitions import untold
from trackprep.explanations.sentences import rule_sentence


def arguments(parser: CallParser) -> None:
    """RULESET."""
    add_ruleset(parser)


def run(call: Namespace) -> int:
    """Prints the rules, section by section, and what else the file works out; 0."""
    rules = for_riders(call.ruleset).rules
    edition = f", edition {rules.edition}" if rules.edition else ""
    say(f"{rules.title}{edition}, as trackprep understands it")
    if not rules.rules:
        say()
        say("There are no rules in this file.")
    for title, members in groupby(rules.rules, key=lambda rule: rule.section):
        say()
        say(f"== {title or 'Rules'} ==")
        for rule in members:
            say()
            say(f"{rule.name}: {rule.title}", indent="  ", hanging="      ")
            say(rule_sentence(rule, rules), indent="    ")
    if sentences := untold(rules):
        say()
        say("== Formulas and tables ==")
    for sentence in sentences:
        say()
        say(sentence, indent="  ", hanging="      ")
    if rules.withdrawn:
        say()
        say("== Not asked here, though the base asks it ==")
        say()
    for name, reason in rules.withdrawn.items():
        say(f"{name}: {reason}", indent="  ", hanging="      ")
    return 0
