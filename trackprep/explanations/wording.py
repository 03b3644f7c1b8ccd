"""Single things in words: facts, choices, limits, declared values, lists of them."""

import re
from collections.abc import Iterable, Sequence

from trackprep.dates import Span, long_form, week_code_on
from trackprep.rules.model import Choosing, Dated, Rules
from trackprep.rules.values import Amount, Value
from trackprep.units import show

_ORDINARY_WORD = re.compile(r"A\b|[A-Z][a-z]+\b(?!\.)")


def listed(words: Sequence[str], joiner: str) -> str:
    """`A`, `A or B`, `A, B or C`; of an empty list `nothing`."""
    *most, last = words or ("nothing",)
    return f"{', '.join(most)} {joiner} {last}" if most else last


def quoted(text: str) -> str:
    """A label just as it stands, in quotation marks."""
    return f"“{text}”"


def inside(label: str) -> str:
    """The label as it stands inside a sentence: `front tread depth`, but `DOT mark`."""
    return label[0].lower() + label[1:] if _ORDINARY_WORD.match(label) else label


def capitalized(text: str) -> str:
    """The text with a capital at its start; the rest stays as it is."""
    return text[:1].upper() + text[1:]


def words_of(name: str) -> str:
    """A name as words: `front-brake` is `front brake`."""
    return name.replace("-", " ")


def counted(number: int, singular: str, plural: str = "") -> str:
    """`1 rule`, `2 rules`."""
    return f"{number} {singular if number == 1 else plural or singular + 's'}"


def label_of(path: str, rules: Rules) -> str:
    """What people read for a fact, derived or not."""
    known = rules.facts.get(path) or rules.derived.get(path)
    return known.label if known and known.label else words_of(path.replace(".", " "))


def limit_label(name: str, rules: Rules) -> str:
    """What people read for a limit or a list."""
    known = rules.limits.get(name) or rules.lists.get(name)
    return quoted(known.label if known and known.label else words_of(name))


def formula_label(name: str, rules: Rules) -> str:
    """What people read for a formula or a table."""
    known = rules.formulas.get(name) or rules.tables.get(name)
    return known.label if known and known.label else words_of(name)


def part_label(part: str, rules: Rules) -> str:
    """What people read for a part that a rule asks about: `front tyre` for `tyre.front`."""
    if part in rules.facts or part in rules.derived:
        return inside(label_of(part, rules))
    whole, *place = part.split(".")
    return words_of(" ".join([*place, whole]))


def choice_label(path: str, word: str, rules: Rules) -> str:
    """What people read for a choice of the fact, in quotation marks."""
    fact = rules.facts.get(path)
    kind = fact.type if fact else None
    return quoted(kind.spoken(word) if isinstance(kind, Choosing) else word)


def choice_labels(path: str, words: Iterable[str], rules: Rules) -> list[str]:
    """The labels of several choices, in the order in which the fact gives them."""
    fact = rules.facts.get(path)
    order: Sequence[str] = ()
    if fact and isinstance(fact.type, Choosing):
        order = fact.type.words
    known = {word: place for place, word in enumerate(order)}
    return [
        choice_label(path, word, rules)
        for word in sorted(words, key=lambda word: (known.get(word, len(known)), word))
    ]


def value_text(path: str, value: Value, rules: Rules) -> str:
    """A declared value as its rider wrote it, with labels for words and long dates."""
    match value:
        case bool():
            return "yes" if value else "no"
        case str():
            return choice_label(path, value, rules)
        case frozenset():
            return listed(choice_labels(path, value, rules), "and") if value else "none"
        case Amount():
            return value.text or show(value.value, value.unit)
        case Span():
            return span_text(value, is_week_code(path, rules))


def span_text(span: Span, week_code: bool) -> str:
    """`April 2023`; of a week code `week code 2319 (9 to 15 June 2019)`."""
    if week_code and not span.exact:
        return f"week code {week_code_on(span.first)} ({long_form(span)})"
    return long_form(span)


def is_week_code(path: str, rules: Rules) -> bool:
    """Whether the fact is declared as the week code of a tyre."""
    fact = rules.facts.get(path)
    return fact is not None and isinstance(fact.type, Dated) and fact.type.how == "week code"
