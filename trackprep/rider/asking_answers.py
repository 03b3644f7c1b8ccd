"""What a rider types, to a value as a declaration spells it, or the problem with it."""

import re
from collections.abc import Iterator, Sequence
from datetime import date
from typing import Literal, TypeAlias

from trackprep.dates import Span, long_form
from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.questions import offers
from trackprep.rider.asking_dates import written_date
from trackprep.rules.model import Choice, Choosing, Dated, Fact, FreeText, Measured, YesOrNo
from trackprep.rules.reading import Fault, expected_of, quoted, read_values
from trackprep.rules.values import Value
from trackprep.source import Source
from trackprep.syntax.rider import parse_rider
from trackprep.syntax.values import RiderFile, Word

Command: TypeAlias = Literal["back", "stop", "don't know", "?"]

LONGEST = 1_000
"""Characters of an answer; more is an accident with the clipboard."""

_COMMANDS: dict[str, Command] = {
    "back": "back",
    "stop": "stop",
    "don't know": "don't know",
    "dont know": "don't know",
    "do not know": "don't know",
    "i don't know": "don't know",
    "?": "?",
}
_FLAGS = {"y": "yes", "yes": "yes", "true": "yes", "n": "no", "no": "no", "false": "no"}
_CURLY = str.maketrans({"‘": "'", "’": "'", "ʼ": "'", "´": "'", "`": "'", "“": '"', "”": '"'})


def command_of(typed: str) -> Command | None:
    """The typed word that is no answer but steers the questions, if it is one."""
    return _COMMANDS.get(" ".join(typed.lower().translate(_CURLY).split()).rstrip(".!"))


@frozen
class Reply:
    """An answer as a declaration spells it, units as the rider typed them, and what it means."""

    written: str
    value: Value


def reply(facts: Sequence[Fact], typed: str, event: date) -> Reply | Problem:
    """What an answer declares.

    Args:
        facts: The fact as each ruleset that knows it defines it; one at least.
        typed: Without its line break.
        event: The day that no past date may lie after.
    """
    typed = typed.strip()
    fact = facts[0]
    if len(typed) > LONGEST:
        return Problem("too-long", f"an answer has at most {LONGEST:,} characters")
    if not typed:
        return Problem("no-answer", "nothing was typed", expected=answer_words(fact))
    written = _spelled(fact, typed)
    if isinstance(written, Problem):
        return written
    replies = [_read(each, written) for each in facts]
    wrong = next((read for read in replies if isinstance(read, Problem)), None)
    return wrong or _not_after(facts[0], replies[0], event)


def _read(fact: Fact, written: str) -> Reply | Problem:
    """The value in the words of a declaration, by the reader of declarations."""
    parsed = parse_rider(Source("<answer>", f"{fact.path} is {written}\n"))
    tree: RiderFile = parsed.tree
    if parsed.problems:
        first = parsed.problems[0]
        expected = answer_words(fact) if first.code == "unfinished" else first.expected
        return Problem(first.code, first.message, expected=expected, suggestion=first.suggestion)
    if len(tree.entries) != 1 or tree.title is not None or tree.declared_on is not None:
        return Problem(
            "one-value-only", "this is more than one answer", expected=answer_words(fact)
        )
    value = read_values(fact, tree.entries[0].values)
    if isinstance(value, Fault):
        return _problem(value)
    return Reply(written, value)


def _problem(fault: Fault) -> Problem:
    return Problem(fault.code, fault.message, expected=fault.expected, suggestion=fault.suggestion)


def _not_after(fact: Fact, read: Reply | Problem, event: date) -> Reply | Problem:
    """Refuses a past date of which no day lies before the event's end."""
    if not (isinstance(fact.type, Dated) and fact.type.past) or isinstance(read, Problem):
        return read
    if isinstance(read.value, Span) and read.value.first > event:
        day = long_form(event)
        return Problem(
            "after-the-event",
            f"`{read.written}` is {long_form(read.value)}, which lies after the event on {day}",
            expected=f"a date up to {day}",
        )
    return read


def answer_words(fact: Fact) -> str:
    """How the fact is answered here, which is more freely than in a file."""
    match fact.type:
        case Choosing(how="several of"):
            one = "numbers" if numbered(fact) else "words"
            return f"{one} with commas between, or `none`"
        case Choosing():
            return "its number, or its word" if numbered(fact) else "one of the words"
        case Dated(how) if how != "week code":
            return "a date: `17 April 2023`, or `Apr 2023` or `2023` if no more is known"
        case FreeText():
            return "any words"
        case _:
            return expected_of(fact)


# ---- spelling --------------------------------------------------------------------


def _spelled(fact: Fact, typed: str) -> str | Problem:
    """The answer in a declaration's words; a comment behind it stays there."""
    if isinstance(fact.type, FreeText):
        return _in_quotes(typed)
    said, mark, comment = typed.partition("#")
    spelled = _value(fact, said.strip())
    return f"{spelled}  #{comment}" if mark and isinstance(spelled, str) else spelled


def _value(fact: Fact, typed: str) -> str | Problem:
    match fact.type:
        case Choosing():
            return _choices(fact, fact.type, typed)
        case YesOrNo():
            return _FLAGS.get(typed.lower().rstrip("."), typed)
        case Dated(how="week code"):
            return re.sub(r"(?i)^dot\s*", "", typed)
        case Dated():
            try:
                return written_date(typed)
            except ValueError as why:
                return Problem("bad-date", str(why))
        case Measured() | FreeText():
            return typed


def _in_quotes(typed: str) -> str:
    plain = typed.translate(_CURLY)
    if len(plain) > 1 and plain[0] == plain[-1] == '"':
        typed = typed[1:-1]
    return '"' + typed.replace("\\", "\\\\").replace('"', '\\"') + '"'


# ---- choices ---------------------------------------------------------------------


def numbered(fact: Fact) -> bool:
    """Whether choices are numbered: not where one of them is itself a number."""
    return not any(offer.word.strip('"').isdigit() for offer in offers(fact))


def _choices(fact: Fact, type_: Choosing, typed: str) -> str | Problem:
    """The choice words that are typed as numbers, words, labels or other names."""
    whole = _chosen(fact, type_, typed)
    if not isinstance(whole, Problem):
        return quoted(whole)
    if type_.how == "several of" and _alike(typed) in ("none", "none of them", "none of these"):
        return "none"
    members = [member.strip() for member in typed.split(",") if member.strip()]
    if len(members) < 2:
        return whole
    words = [_chosen(fact, type_, member) for member in members]
    wrong = next((word for word in words if isinstance(word, Problem)), None)
    return wrong or ", ".join(quoted(word) for word in words if isinstance(word, str))


def _chosen(fact: Fact, type_: Choosing, typed: str) -> str | Problem:
    """The one choice word that is meant."""
    plain = typed.translate(_CURLY).strip().strip('"')
    if plain in type_.words:
        return plain
    if numbered(fact) and plain.isascii() and plain.isdigit():
        count = len(type_.choices)
        if 1 <= int(plain[:9]) <= count:
            return type_.words[int(plain) - 1]
        return Problem(
            "no-such-number",
            f"there is no choice {plain[:9]}",
            expected=f"a number from 1 to {count}",
        )
    meant = list(dict.fromkeys(_meant(type_.choices, _alike(plain))))
    if len(meant) == 1:
        return meant[0]
    if meant:
        both = " or ".join(f"`{word}`" for word in meant)
        return Problem(
            "ambiguous-choice", f"`{typed[:40]}` may be {both}", expected=answer_words(fact)
        )
    found = read_values(fact, (Word(plain, True),))
    assert isinstance(found, Fault), "every choice word is known"
    return _problem(found)


def _meant(choices: Sequence[Choice], plain: str) -> Iterator[str]:
    for choice in choices:
        if plain in map(_alike, (choice.word, choice.spoken, *choice.also)):
            yield choice.word


def _alike(text: str) -> str:
    """A word with what people do not mind taken out: capitals, hyphens, spaces."""
    return " ".join(text.translate(_CURLY).casefold().replace("-", " ").split())
