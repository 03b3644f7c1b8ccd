"""A condition as it stands inside a sentence, grouped so that it reads one way only."""

from collections.abc import Sequence
from itertools import takewhile
from typing import assert_never

from trackprep.explanations.opposites import opposite
from trackprep.explanations.phrases import Phrase, phrase_of, turned
from trackprep.explanations.terms import term_text
from trackprep.explanations.wording import label_of, limit_label, listed, quoted
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
    Case,
    ChoiceTest,
    Condition,
    DayTest,
    FlagTest,
    GradeTest,
    Meaning,
    Not,
    NumberTest,
    SetTest,
)
from trackprep.rules.model import Rules

_RANGES = (
    ("is at least ", "is at most ", "is between {} and {}"),
    ("is on or after ", "is on or before ", "is from {} to {}"),
)


def clause(condition: Condition, rules: Rules) -> str:
    """The condition in words, without a capital or a full stop."""
    if phrase := as_phrase(condition, rules):
        return str(phrase)
    match condition:
        case ByRows(limit, rows):
            said = [_when(row.condition, clause(row.test, rules), rules) for row in rows]
            return f"by the limit {limit_label(limit, rules)}, {'; '.join(said)}"
        case Not(inner):
            return f"it is not so that {bracketed(inner, rules)}"
        case Between():
            return clause(condition.ends, rules)
        case All(parts):
            return _joined(parts, "and", rules) if parts else "always"
        case AnyOf(parts):
            return _joined(parts, "or", rules) if parts else "never"
        case AtLeast(count, parts):
            said = [bracketed(part, rules) for part in parts]
            return f"at least {count} of these hold: {listed(said, 'and')}"
        case _:
            raise AssertionError(f"a test without a phrase: {type(condition).__name__}")


def bracketed(condition: Condition, rules: Rules) -> str:
    """The condition inside another: in brackets unless it is a single statement."""
    said = clause(condition, rules)
    return said if is_single(condition, rules) else f"({said})"


def is_single(condition: Condition, rules: Rules) -> bool:
    """Whether the condition says one thing about one subject, or several at once."""
    if isinstance(condition, All | AnyOf) and len(condition.parts) == 1:
        return is_single(condition.parts[0], rules)
    return as_phrase(condition, rules) is not None


def as_phrase(condition: Condition, rules: Rules) -> Phrase | None:
    """The condition as one phrase, if it is a test or the same test of several facts."""
    match condition:
        case ChoiceTest() | GradeTest() | SetTest() | FlagTest() | NumberTest() | DayTest():
            return phrase_of(condition, rules)
        case AgeTest():
            return phrase_of(condition, rules)
        case Meaning(path):
            return Phrase(quoted(label_of(path, rules)), "is so")
        case Not(inner):
            return _negated(inner, rules)
        case ByRows():
            return _by_rows(condition, rules)
        case Between(least, most):
            return _ranged((least, most), rules)
        case All(parts, form):
            return _gathered("each of", parts, rules) if form == "each" else None
        case AnyOf(parts, form):
            return _gathered("at least one of", parts, rules) if form == "some" else None
        case AtLeast(count, parts):
            return _gathered(f"at least {count} of", parts, rules, plural=count > 1)
        case _:
            assert_never(condition)


def _negated(inner: Condition, rules: Rules) -> Phrase | None:
    match inner:
        case Meaning(path):
            return Phrase(quoted(label_of(path, rules)), "is not so")
        case SetTest(how="all"):
            phrase = phrase_of(inner, rules)
            rest = phrase.predicate.removeprefix("includes ")
            return Phrase(phrase.subject, f"does not include all of: {rest}", phrase.plural)
        case AnyOf(parts, "some"):
            return _gathered("none of", parts, rules)
        case All() | AnyOf() | AtLeast():
            return None
        case _:
            return as_phrase(opposite(inner), rules)


def _gathered(
    opening: str, parts: Sequence[Condition], rules: Rules, *, plural: bool = False
) -> Phrase | None:
    """`each of A, B and C` `is at least 2 mm`, if all parts say the same of their facts."""
    phrases = [as_phrase(part, rules) for part in parts]
    subjects = [
        _among_others(part, phrase, rules)
        for part, phrase in zip(parts, phrases, strict=True)
        if phrase
    ]
    predicates = {phrase.predicate if phrase else None for phrase in phrases}
    if len(predicates) != 1 or None in predicates or len(subjects) < 2:
        return phrases[0] if len(phrases) == 1 else None
    return Phrase(f"{opening} {listed(subjects, 'and')}", str(predicates.pop()), plural)


def _among_others(part: Condition, phrase: Phrase, rules: Rules) -> str:
    """The subject as it stands in a list: in brackets, if it is worked out and would run on."""
    if isinstance(part, NumberTest):
        return term_text(turned(part).left, rules, inner=True)
    return phrase.subject


def _ranged(parts: Sequence[Condition], rules: Rules) -> Phrase | None:
    """`is between 10 mm and 45 mm`, if the two parts are the ends of a range."""
    phrases = [as_phrase(part, rules) for part in parts]
    match phrases:
        case [Phrase(subject, low, plural), Phrase(other, high)] if subject == other:
            return Phrase(subject, _range(low, high), plural)
        case _:
            return None


def _range(low: str, high: str) -> str:
    if " if " not in low + high:
        for first, last, both in _RANGES:
            if low.startswith(first) and high.startswith(last):
                return both.format(low.removeprefix(first), high.removeprefix(last))
    return f"{low}, and {high.removeprefix('is ')}"


def _by_rows(condition: ByRows, rules: Rules) -> Phrase | None:
    """`is at least 12 psi if …, otherwise 22 psi`, if the rows share a subject."""
    if (ends := _ends(condition)) and (ranged := _ranged(ends, rules)):
        return ranged
    phrases = [phrase for row in condition.rows if (phrase := as_phrase(row.test, rules))]
    if len(phrases) < len(condition.rows) or len({phrase.subject for phrase in phrases}) != 1:
        return None
    name = f" (limit {limit_label(condition.limit, rules)})"
    predicates = [phrase.predicate.replace(name, "") for phrase in phrases]
    shared = _shared_words(predicates)
    said = [
        _when(row.condition, predicate.removeprefix(shared), rules)
        for row, predicate in zip(condition.rows, predicates, strict=True)
    ]
    return Phrase(phrases[0].subject, shared + ", ".join(said) + name, phrases[0].plural)


def _shared_words(texts: Sequence[str]) -> str:
    """The words that all the texts begin with, each with the space after it."""
    columns = zip(*(text.split(" ")[:-1] for text in texts), strict=False)
    shared = takewhile(lambda words: len(set(words)) == 1, columns)
    return "".join(f"{words[0]} " for words in shared)


def _ends(condition: Condition) -> tuple[Condition, Condition] | None:
    """Both ends of a range whose limits go by rows, each with only the rows that it hangs on."""
    match condition:
        case Between(low, high):
            return low, high
        case ByRows(limit, rows):
            ends = [_ends(row.test) for row in rows]
            lows = tuple(
                Case(row.condition, end[0]) for row, end in zip(rows, ends, strict=True) if end
            )
            highs = tuple(
                Case(row.condition, end[1]) for row, end in zip(rows, ends, strict=True) if end
            )
            if len(lows) < len(rows):
                return None
            return _one_if_alike(limit, lows), _one_if_alike(limit, highs)
        case _:
            return None


def _one_if_alike(limit: str, rows: tuple[Case, ...]) -> Condition:
    return rows[0].test if all(row.test == rows[0].test for row in rows) else ByRows(limit, rows)


def _when(condition: Condition | None, said: str, rules: Rules) -> str:
    if condition is None:
        return f"otherwise {said}"
    return f"{said} if {bracketed(condition, rules)}"


def _joined(parts: Sequence[Condition], joiner: str, rules: Rules) -> str:
    """The parts with `and` or `or` between them; of three and more each is set off."""
    if len(parts) == 1:
        return clause(parts[0], rules)
    said = [_inside_another(part, rules) for part in parts]
    if len(said) == 2:
        return f", {joiner} ".join(said)
    return f"; {joiner} ".join(said)


def _inside_another(part: Condition, rules: Rules) -> str:
    """`both A and B`, `either A or B`, and brackets round whatever is longer."""
    match part:
        case All((one, other)) if _both_single(one, other, rules):
            if not is_single(part, rules):
                return f"both {clause(one, rules)} and {clause(other, rules)}"
        case AnyOf((one, other)) if _both_single(one, other, rules):
            if not is_single(part, rules):
                return f"either {clause(one, rules)} or {clause(other, rules)}"
        case _:
            pass
    return bracketed(part, rules)


def _both_single(one: Condition, other: Condition, rules: Rules) -> bool:
    return is_single(one, rules) and is_single(other, rules)
