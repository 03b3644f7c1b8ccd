"""`trackprep facts`: what riders are asked, and how to look."""

from argparse import Namespace
from collections.abc import Sequence

from trackprep.cli.calls import CallParser, add_ruleset
from trackprep.cli.rulesets import for_riders
from trackprep.cli.terminal import say, width
from trackprep.questions import (
    answer_form,
    asked,
    by_part,
    found,
    how_to_look,
    known_words,
    offers,
)
from trackprep.rules.model import Choosing, Fact, Rules
from trackprep.rules.reporting import nearest


def arguments(parser: CallParser) -> None:
    """RULESET [WORD…]."""
    parser.epilog = (
        "`trackprep facts standard` lists all that a rule can ask about;"
        " `trackprep facts standard license plate` finds what those words may mean."
    )
    add_ruleset(parser)
    parser.add_argument(
        "words", metavar="WORD", nargs="*", help="only what these words are about, by any name"
    )


def run(call: Namespace) -> int:
    """Prints the facts, part by part; 0."""
    rules = for_riders(call.ruleset).rules
    if call.words:
        _print_found(rules, call.words)
    else:
        _print_asked(rules)
    return 0


def _print_asked(rules: Rules) -> None:
    facts = asked(rules)
    edition = f", edition {rules.edition}" if rules.edition else ""
    what = "can be asked" if rules.vocabulary else "is asked"
    say(f"{rules.title}{edition}: what a rider {what} ({_counted(len(facts))})")
    _print_parts(facts, rules)
    settled = [rules.facts[path] for path in rules.here if path in rules.facts]
    if settled:
        say()
        names = ", ".join(f"{fact.path} ({fact.label})" for fact in settled)
        say(f"The event itself settles: {names}.", hanging="  ")


def _print_found(rules: Rules, words: Sequence[str]) -> None:
    said = " ".join(words)
    facts = found(tuple(rules.facts.values()), words)
    if not facts:
        near = [nearest(word.casefold(), known_words(rules.facts.values())) for word in words]
        advice = f" Did you mean: {' '.join(filter(None, near))}?" if any(near) else ""
        say(f'Nothing here goes by "{said}".{advice}')
        return
    say(f'{_counted(len(facts))} for "{said}" in {rules.title}')
    _print_parts(facts, rules)


def _counted(number: int) -> str:
    return "1 fact" if number == 1 else f"{number} facts"


def _print_parts(facts: Sequence[Fact], rules: Rules) -> None:
    of_rules = {fact.path for fact in asked(rules)}
    for part, members in by_part(facts).items():
        say()
        say(f"== {part} ==")
        for fact in members:
            say()
            _print_fact(fact, _standing(fact, rules, of_rules))


def _standing(fact: Fact, rules: Rules, of_rules: set[str]) -> str:
    """What is special about being asked this, or nothing."""
    if fact.for_the_inspector:
        return "Only the inspector answers this."
    if fact.path in rules.here:
        return "The event itself settles this: riders are not asked."
    if fact.path not in of_rules:
        return "No rule of this ruleset asks for it."
    return ""


def _print_fact(fact: Fact, standing: str) -> None:
    inner, hanging = "    ", "      "
    say(f"{fact.path}: {fact.label}", indent="  ", hanging=hanging)
    if standing:
        say(standing, indent=inner)
    if fact.ask:
        say(fact.ask, indent=inner)
    if fact.caution:
        say(f"Caution: {fact.caution}", indent=inner)
    if fact.how:
        say(f"How to look: {how_to_look(fact)}", indent=inner)
    say(f"Answer: {answer_form(fact)}", indent=inner)
    _print_choices(fact)
    if fact.also:
        say(f"Also called: {', '.join(fact.also)}", indent=inner)
    if fact.source:
        say(f"Source: {fact.source}", indent=inner)


def _print_choices(fact: Fact) -> None:
    choices = offers(fact)
    column = min(max((len(choice.word) for choice in choices), default=0), width() // 3)
    others = [c.also for c in fact.type.choices] if isinstance(fact.type, Choosing) else []
    for choice, also in zip(choices, others, strict=True):
        said = "; ".join(
            filter(None, (choice.label, ", ".join(also) and f"also {', '.join(also)}"))
        )
        lead = " " * 6 + f"{choice.word:<{column}}"
        say(f"{lead}  {said}".rstrip() if said else lead.rstrip(), hanging=" " * (8 + column))
