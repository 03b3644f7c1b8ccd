"""An empty declaration with what a ruleset asks for."""

from collections.abc import Iterator

from trackprep.drafting.comments import commented
from trackprep.questions import answer_form, asked, by_part, how_to_look, offers
from trackprep.rules.model import Fact, Rules


def blank(rules: Rules, name: str) -> str:
    """A declaration without a single answer, and each fact that the rules ask for as a comment.

    Args:
        rules: The ruleset that asks.
        name: What to call it on a command line: a file, or a shipped name.
    """
    facts = asked(rules)
    lines = list(commented(
        f"What {rules.title}{f' (edition {rules.edition})' if rules.edition else ''}"
        " asks of you and your machine.",
        "",
        "Write your answer behind `is`, and take away the # that stands directly before the word."
        " Leave out what you do not know: the check then tells you what is still to declare.",
        "",
        f"To see where you stand: trackprep check THIS-FILE --for {name}",
    ))  # fmt: skip
    lines += ["", 'declaration "Your name, your machine"', "", "# The day you looked at it all:"]
    lines.append("#declared on 2026-01-31")
    for part, members in by_part(facts).items():
        lines += ["", f"# ==== {part} ===="]
        for fact in members:
            lines += ["", *_question(fact)]
    return "\n".join(lines) + "\n"


def _question(fact: Fact) -> Iterator[str]:
    yield from commented(fact.ask or fact.label)
    if fact.caution:
        yield from commented(f"Caution: {fact.caution}")
    if fact.how:
        yield from commented(how_to_look(fact))
    if "check again" in fact.marks:
        yield from commented("This wears or works loose: look again shortly before the day.")
    yield from commented(f"Answer: {answer_form(fact)}")
    choices = offers(fact)
    width = max((len(choice.word) for choice in choices), default=0)
    for choice in choices:
        yield f"#   {choice.word:<{width}}   {choice.label}".rstrip()
    yield f"#{fact.path} is"
