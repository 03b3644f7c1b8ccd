"""A test as a phrase: what it is about, and what it says of it."""

from typing import assert_never

from trackprep.explanations.terms import day_text, duration_text, from_limit, term_text
from trackprep.explanations.wording import (
    choice_label,
    choice_labels,
    formula_label,
    inside,
    label_of,
    limit_label,
    listed,
    quoted,
)
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    MIRRORED,
    AgeTest,
    ChoiceTest,
    Comparison,
    Constant,
    DayOf,
    DayTest,
    DerivedNumber,
    EventDay,
    FlagTest,
    FormulaNumber,
    GradeTest,
    NumberOf,
    NumberTest,
    Order,
    SetTest,
    Term,
    Test,
)
from trackprep.rules.model import Rules

FEWEST_GRADES_SHOWN, MOST_GRADES_SHOWN = 3, 6
NUMBERS: dict[Comparison, str] = {
    "at least": "is at least",
    "at most": "is at most",
    "more than": "is more than",
    "less than": "is less than",
    "equal": "is exactly",
    "not equal": "is anything but",
}
_DAYS: dict[Comparison, str] = {
    "at least": "is on or after",
    "at most": "is on or before",
    "more than": "is after",
    "less than": "is before",
    "equal": "is",
    "not equal": "is not",
}
_GRADES: dict[Order, str] = {
    "at least": "{} or higher",
    "at most": "{} or lower",
    "more than": "higher than {}",
    "less than": "lower than {}",
}
_OTHER_GRADES: dict[Order, str] = {
    "at least": "as high as {} or higher",
    "at most": "as low as {} or lower",
    "more than": "higher than {}",
    "less than": "lower than {}",
}
_FROM_LIST = {"all": "everything on", "any": "something on", "none": "nothing on"}


_VERBS = (("is ", "are "), ("includes ", "include "), ("does not ", "do not "))
_WITHOUT_VERB = (
    ("is answered ", ""),
    ("is ", ""),
    ("includes ", ""),
    ("does not include ", "not "),
)
_PLURALS_WITHOUT_S = frozenset({"teeth", "feet", "people", "children"})
_CLAUSE_WORDS = frozenset({"where", "how", "what", "when", "whether", "who"})
_SINGULARS_IN_S = frozenset({"lens", "chassis", "status", "radius", "gas", "canvas"})
_HEAD_ENDS = frozenset({
    "of", "on", "in", "to", "with", "that", "for", "by", "held", "fixed", "at", "over", "before",
    "between",
})  # fmt: skip


@frozen
class Phrase:
    """`front tread depth`, `is at least 2 mm`; the predicate is kept in the singular."""

    subject: str
    predicate: str
    plural: bool = False

    @property
    def asked(self) -> str:
        """The predicate without its verb: `at least 2 mm`, `yes`, `none of …`."""
        for verb, rest in _WITHOUT_VERB:
            if self.predicate.startswith(verb):
                return rest + self.predicate.removeprefix(verb)
        return self.predicate

    def __str__(self) -> str:
        predicate = self.predicate
        for one, many in _VERBS:
            if self.plural and predicate.startswith(one):
                predicate = many + predicate.removeprefix(one)
                break
        return f"{self.subject} {predicate}"


def is_plural(label: str) -> bool:
    """Whether the label names several things, as far as its ending tells: `gloves`."""
    words = [word.rstrip(",") for word in label.lower().split()]
    ends = (place for place, word in enumerate(words) if word in _HEAD_ENDS)
    head = words[: next(ends, len(words))]
    if not head or head[0] in _CLAUSE_WORDS:
        return False
    last = head[-1]
    if last in _PLURALS_WITHOUT_S:
        return True
    return last.endswith("s") and not last.endswith("ss") and last not in _SINGULARS_IN_S


def phrase_of(test: Test, rules: Rules) -> Phrase:
    """The test in words, as it stands inside a sentence."""
    match test:
        case ChoiceTest(path):
            return _about(path, _choice(test, rules), rules)
        case GradeTest(path):
            return _about(path, _grade(test, rules), rules)
        case SetTest(path):
            return _about(path, _set(test, rules), rules)
        case FlagTest(path, value):
            answer = "yes" if value else "no"
            return Phrase(quoted(label_of(path, rules)), f"is answered {answer}")
        case NumberTest():
            return _number(turned(test), rules)
        case DayTest(left, comparison, right):
            predicate = f"{_DAYS[comparison]} {day_text(right, rules)}"
            return Phrase(day_text(left, rules), predicate)
        case AgeTest():
            return _age(test, rules)
        case _:
            assert_never(test)


def turned(test: NumberTest) -> NumberTest:
    """The test with its constant on the right, if only one side is constant."""
    if isinstance(test.left, Constant) and not isinstance(test.right, Constant):
        return NumberTest(test.right, MIRRORED[test.comparison], test.left)
    return test


def fact_first(test: DayTest) -> DayTest:
    """The test with its declared day on the left, if only the right is one."""
    if not isinstance(test.left, DayOf) and isinstance(test.right, DayOf):
        return DayTest(test.right, MIRRORED[test.comparison], test.left)
    return test


def grades_admitted(test: GradeTest) -> tuple[str, ...]:
    """The grades that meet the test, lowest first; none where it names another fact."""
    if test.word is None or test.word not in test.grades:
        return ()
    place = test.grades.index(test.word)
    match test.comparison:
        case "at least":
            return test.grades[place:]
        case "more than":
            return test.grades[place + 1 :]
        case "at most":
            return test.grades[: place + 1]
        case "less than":
            return test.grades[:place]
        case _:
            assert_never(test.comparison)


def _about(path: str, predicate: str, rules: Rules) -> Phrase:
    subject = inside(label_of(path, rules))
    return Phrase(subject, predicate, is_plural(subject))


def _choice(test: ChoiceTest, rules: Rules) -> str:
    labels = choice_labels(test.path, test.words, rules)
    if test.name and test.name in rules.lists:
        on = "is not on" if test.negated else "is on"
        return f"{on} the list {limit_label(test.name, rules)} ({listed(labels, 'or')})"
    return from_limit(_is_one_of(labels, test.negated), test.name, rules)


def _is_one_of(labels: list[str], negated: bool) -> str:
    if not negated:
        return f"is {listed(labels, 'or')}"
    if len(labels) == 1:
        return f"is not {labels[0]}"
    if len(labels) == 2:
        return f"is neither {listed(labels, 'nor')}"
    return f"is none of {listed(labels, 'and')}"


def _grade(test: GradeTest, rules: Rules) -> str:
    if test.word is None:
        assert test.other is not None
        said = _OTHER_GRADES[test.comparison].format(inside(label_of(test.other, rules)))
        return f"is {said}"
    label = choice_label(test.path, test.word, rules)
    text = from_limit(f"is {_GRADES[test.comparison].format(label)}", test.limit, rules)
    admitted = grades_admitted(test)
    if FEWEST_GRADES_SHOWN <= len(admitted) <= MOST_GRADES_SHOWN:
        text += f", that is {listed(choice_labels(test.path, admitted, rules), 'or')}"
    return text


def _set(test: SetTest, rules: Rules) -> str:
    labels = choice_labels(test.path, test.words, rules)
    if test.name and test.name in rules.lists:
        named = f"the list {limit_label(test.name, rules)} ({listed(labels, 'and')})"
        return f"includes {_FROM_LIST[test.how]} {named}"
    match test.how:
        case "all":
            return f"includes {listed(labels, 'and')}"
        case "any" if len(labels) > 2:
            return f"includes at least one of {listed(labels, 'and')}"
        case "any":
            return f"includes {listed(labels, 'or')}"
        case "none" if len(labels) == 1:
            return f"does not include {labels[0]}"
        case _:
            return f"includes none of {listed(labels, 'and')}"


def _number(test: NumberTest, rules: Rules) -> Phrase:
    predicate = f"{NUMBERS[test.comparison]} {term_text(test.right, rules)}"
    subject = term_text(test.left, rules)
    return Phrase(subject, predicate, _names_several(test.left, rules))


def _names_several(term: Term, rules: Rules) -> bool:
    match term:
        case NumberOf(path) | DerivedNumber(path):
            return is_plural(inside(label_of(path, rules)))
        case FormulaNumber(name):
            return is_plural(formula_label(name, rules))
        case _:
            return False


def _age(test: AgeTest, rules: Rules) -> Phrase:
    """An age: of a derived fact `is at most 5 years`, else `… before the event`."""
    length = age_limit(test)
    predicate = f"is {test.comparison} {length}"
    if test.derived is None:
        day = "the event" if test.on == EventDay() else day_text(test.on, rules)
        predicate += f" before {day}"
    if test.grain != "day":
        predicate += f", counted to the {test.grain}"
    subject = label_of(test.derived, rules) if test.derived else None
    return Phrase(
        inside(subject) if subject else day_text(test.of, rules),
        from_limit(predicate, test.limit, rules),
    )


def age_limit(test: AgeTest) -> str:
    """The age that the test compares with, as it was written where that is known."""
    return test.shown or duration_text(test.months or 0, test.days or 0)
