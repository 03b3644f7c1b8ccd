"""Declared values to exact ones: what is written, checked against the type of its fact."""

from fractions import Fraction

from attrs import evolve

from trackprep.dates import span_of, week_code
from trackprep.frozen import frozen
from trackprep.rules import model
from trackprep.rules.reporting import nearest
from trackprep.rules.values import Amount, Value
from trackprep.syntax import values as tree
from trackprep.syntax.words import is_bare
from trackprep.units import NUMBER, ONE, Unit, read_number, read_quantity, to_base, unit


@frozen
class Spelled:
    """A value that came as a string, from TOML, JSON or Python."""

    text: str


@frozen
class Fault:
    """What is wrong with a declared value: for whoever knows the place to make a problem of."""

    code: str
    message: str
    expected: str | None = None
    suggestion: str | None = None
    member: int | None = None
    """Which of several values it is about."""


Written = tree.Value | Spelled


def read_values(fact: model.Fact, written: tuple[Written, ...]) -> Value | Fault:
    """The value of a fact; `written` has several members for a list, none for `none`."""
    if isinstance(fact.type, model.Choosing) and fact.type.how == "several of":
        return _choices(fact, fact.type, written)
    if len(written) != 1:
        code, message = "one-value-only", f"`{fact.path}` takes one value"
        if not written:
            message += "; `none` is the empty list"
        return Fault(code, message, expected_of(fact), "declare one value")
    value = written[0]
    match fact.type:
        case model.Choosing():
            return _choice(fact, fact.type, value)
        case model.YesOrNo():
            return _flag(fact, value)
        case model.Dated():
            return _dated(fact, fact.type, value)
        case model.Measured():
            return _amount(fact, fact.type, value)
        case model.FreeText():
            return text_of(value)


def text_of(value: Written) -> str:
    """What was written, as text."""
    match value:
        case tree.Quantity(number, its_unit):
            return f"{number} {its_unit}"
        case tree.Flag(flag):
            return "yes" if flag else "no"
        case _:
            return value.text


def expected_of(fact: model.Fact) -> str:
    """What a declaration of the fact looks like."""
    match fact.type:
        case model.Choosing(how, choices):
            words = [f"`{quoted(choice.word)}`" for choice in choices]
            listed = ", ".join(words[:12]) + (", …" if len(words) > 12 else "")
            return f"any of {listed}, or `none`" if how == "several of" else f"one of {listed}"
        case model.YesOrNo():
            return "`yes` or `no`"
        case model.Dated(how):
            if how == "week code":
                return "the four digits of the week code, such as `2319`"
            return "a date: `2023-04-17`, or `2023-04` or `2023` if no more is known"
        case model.Measured(unit=its_unit, whole=whole) as type_:
            if whole:
                return f"a whole number {type_.range_in_words}"
            name = f" with its unit, such as `{its_unit.name}`" if its_unit.name else ""
            return f"a number{name}, {type_.range_in_words}"
        case model.FreeText():
            return "words in quotes"


def quoted(word: str) -> str:
    """A choice word as a file spells it."""
    return word if is_bare(word) else f'"{word}"'


def _choice(fact: model.Fact, type_: model.Choosing, value: Written) -> str | Fault:
    text = text_of(value)
    if text in type_.words and not isinstance(value, tree.Quantity):
        return text
    lower = text.lower()
    meant = next(
        (
            ch.word
            for ch in type_.choices
            if lower in {w.lower() for w in (ch.word, ch.label, *ch.also)}
        ),
        None,
    ) or nearest(text, type_.words)
    return Fault(
        "unknown-choice", f"`{_short(text)}` is no choice of `{fact.path}`", expected_of(fact),
        f"write `{quoted(meant)}`" if meant else None,
    )  # fmt: skip


def _choices(
    fact: model.Fact, type_: model.Choosing, written: tuple[Written, ...]
) -> frozenset[str] | Fault:
    found: set[str] = set()
    for member, value in enumerate(written):
        word = _choice(fact, type_, value)
        if isinstance(word, Fault):
            return evolve(word, member=member)
        if word in found:
            message = f"`{word}` stands in this list twice"
            return Fault("repeated-choice", message, None, "take one of the two out", member)
        found.add(word)
    return frozenset(found)


_FLAGS = {"yes": True, "no": False, "true": True, "false": False}


def _flag(fact: model.Fact, value: Written) -> bool | Fault:
    flag = value.value if isinstance(value, tree.Flag) else _FLAGS.get(text_of(value).lower())
    if flag is None:
        return Fault(
            "not-yes-or-no", f"`{_short(text_of(value))}` is neither yes nor no", "`yes` or `no`"
        )
    return flag


def _dated(fact: model.Fact, type_: model.Dated, value: Written) -> Value | Fault:
    text = text_of(value)
    try:
        return week_code(text) if type_.how == "week code" else span_of(text)
    except ValueError as why:
        code = "bad-week-code" if type_.how == "week code" else "bad-date"
        return Fault(code, str(why), expected_of(fact))


def _amount(fact: model.Fact, type_: model.Measured, value: Written) -> Amount | Fault:
    read = _number(fact, type_, value)
    if isinstance(read, Fault):
        return read
    number, its_unit, text = read
    if its_unit.dimension != type_.unit.dimension:
        return _wrong_unit(fact, type_, its_unit, text)
    exact = to_base(number, its_unit)
    if type_.whole and (exact.denominator != 1 or not text.lstrip("-").isdigit()):
        return Fault("not-whole", f"`{text}` is no whole number", expected_of(fact))
    low, high = type_.low, type_.high
    if (low is not None and exact < low) or (high is not None and exact > high):
        return Fault(
            "outside-range", f"`{text}` is no plausible value of `{fact.path}`",
            f"a value {type_.range_in_words}", "measure once more, or mend the unit",
        )  # fmt: skip
    return Amount(exact, its_unit, text)


def _number(
    fact: model.Fact, type_: model.Measured, value: Written
) -> tuple[Fraction, Unit, str] | Fault:
    """The number, its unit and its text."""
    text = text_of(value)
    bare = type_.unit.dimension == NUMBER
    try:
        match value:
            case tree.Quantity(number, name):
                its_unit = unit(name)
                assert its_unit is not None
                return read_number(number), its_unit, text
            case tree.Number():
                return read_number(text), ONE, text
            case Spelled() if not (type_.whole or (bare and _is_number(text))):
                number_read, its_unit = read_quantity(text)
                return number_read, its_unit, text
            case Spelled() if not type_.whole:
                return read_number(text), ONE, text
            case _:
                return Fault("not-a-number", f"`{_short(text)}` is no number", expected_of(fact))
    except ValueError as why:
        code = "unit-missing" if _is_number(text) else "bad-number"
        suggestion = f"write `{text} {type_.unit.name}`" if _is_number(text) else None
        return Fault(code, str(why), expected_of(fact), suggestion)


def _is_number(text: str) -> bool:
    try:
        read_number(text)
    except ValueError:
        return False
    return True


def _wrong_unit(fact: model.Fact, type_: model.Measured, its_unit: Unit, text: str) -> Fault:
    wanted = type_.unit.dimension.words
    if its_unit == ONE:
        return Fault(
            "unit-missing", f"`{text}` has no unit; `{fact.path}` is {wanted}",
            expected_of(fact), f"write `{text} {type_.unit.name}`, if that is its unit",
        )  # fmt: skip
    suggestion = f"write it in {type_.unit.name}" if type_.unit.name else "write it without a unit"
    if wanted == "a pressure" and its_unit.dimension.words == "a mass":
        number = text.split(" ")[0]
        suggestion = f"a gauge in kg reads kgf to the square centimetre: write `{number} kgf/cm^2`"
    return Fault(
        "wrong-dimension", f"`{fact.path}` is {wanted}; `{text}` is {its_unit.dimension.words}",
        expected_of(fact), suggestion,
    )  # fmt: skip


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:39] + "…"
