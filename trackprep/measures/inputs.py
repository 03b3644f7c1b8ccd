"""What a topic asks for, and how it is read: a quantity with its unit, a choice, a count, a day."""

from fractions import Fraction
from typing import Any, Literal, TypeAlias

from trackprep.declarations.mappings import as_written
from trackprep.frozen import frozen
from trackprep.rules.model import Choice, Choosing, Fact, Measured, Rules
from trackprep.rules.reading import Fault, Spelled, Written, read_values, text_of
from trackprep.rules.values import Amount
from trackprep.syntax.values import Number
from trackprep.units import ONE, SPELLINGS, Dimension, Unit, read_quantity
from trackprep.units.dimensions import TEMPERATURE

Given: TypeAlias = Amount | str
"""What was read: an amount, a choice, or a text that the topic reads itself."""


class InputError(ValueError):
    """Something that a topic asks for is missing or cannot be read; one sentence says what."""

    def __init__(self, message: str, suggestion: str | None = None) -> None:
        self.message = message
        self.suggestion = suggestion
        super().__init__(f"{message}: {suggestion}" if suggestion else message)


@frozen
class Quantity:
    """A quantity of the dimension of `unit`, from `low` on; a count where `whole`."""

    unit: str
    low: Fraction | None = Fraction(0)
    whole: bool = False

    @property
    def dimension(self) -> Dimension:
        """What it is a quantity of."""
        return self.in_unit.dimension

    @property
    def in_unit(self) -> Unit:
        """The unit that an answer without one is missing."""
        return SPELLINGS[self.unit] if self.unit else ONE


@frozen
class ChoiceOf:
    """One of the choices that a table has rows for."""

    table: str


@frozen
class Text:
    """A text that the topic reads itself."""


@frozen
class Input:
    """One thing that a topic asks for.

    Attributes:
        name: As the option is called, `set-at`; of the first one, which has no option, as
            its help calls it.
        says: What it is, for the help.
        example: As somebody would write it.
    """

    name: str
    says: str
    example: str
    kind: Quantity | ChoiceOf | Text
    need: Literal["needed", "optional"] = "optional"


def read(asked: Input, value: Any, shown: str, rules: Rules) -> Given:
    """The value of what was asked for, from text or from a program's own value.

    Args:
        shown: What to call it in a message: `--set-at`.

    Raises:
        InputError: It cannot be read.
    """
    written = as_written(value)
    if isinstance(written, Fault):
        raise InputError(f"{shown}: {written.message}", written.suggestion or written.expected)
    match asked.kind:
        case Text():
            return str(value).strip()
        case ChoiceOf(table):
            choices = rules.tables[table].choices
            assert choices is not None, f"`{table}` is looked up by a choice"
            return _choice(choices, written, shown)
        case Quantity():
            return _amount(asked, written, shown)


def _choice(choices: Choosing, written: tuple[Written, ...], shown: str) -> str:
    """The choice word, by any of its names, or by what it ends in: `5.1` for `DOT 5.1`."""
    text = text_of(written[0]) if len(written) == 1 else ""
    wanted = _squeezed(text)
    for names in (_names, _endings):
        meant = [choice.word for choice in choices.choices if wanted in names(choice)]
        if len(meant) == 1:
            return meant[0]
    return str(_value(Fact(shown, shown, choices), written))


def _names(choice: Choice) -> set[str]:
    return {_squeezed(name) for name in (choice.word, choice.label, *choice.also)}


def _endings(choice: Choice) -> set[str]:
    """The last word of each name: `8.8`, `1` of `class 1`, `m8` of `M8 x 1.25 (coarse: M8)`."""
    names = (choice.word, choice.label, *choice.also)
    return {name.replace("-", " ").split()[-1].strip("().").lower() for name in names if name}


def _squeezed(text: str) -> str:
    return "".join(text.lower().split())


def _amount(asked: Input, written: tuple[Written, ...], shown: str) -> Amount:
    kind = asked.kind
    assert isinstance(kind, Quantity)
    fact = Fact(shown, shown, Measured(kind.in_unit, kind.low, whole=kind.whole))
    if kind.dimension == TEMPERATURE:
        written = tuple(map(_with_degrees, written))
    if kind.whole:
        written = tuple(map(_counted, written))
    value = _value(fact, written)
    assert isinstance(value, Amount)
    if kind.low == value.value == 0 and not kind.whole:
        raise InputError(
            f"{shown}: `{value.text}` is nothing", f"a value such as `{asked.example}`"
        )
    return value


def _value(fact: Fact, written: tuple[Written, ...]) -> Any:
    value = read_values(fact, written)
    if isinstance(value, Fault):
        about = "" if f"`{fact.path}`" in value.message else f"{fact.path}: "
        advice = value.suggestion if value.code != "outside-range" else value.expected
        raise InputError(f"{about}{value.message}", advice or value.expected)
    return value


def _counted(written: Written) -> Written:
    """A count from a call, which is text there, as a file has it."""
    return Number(written.text) if isinstance(written, Spelled) else written


def _with_degrees(written: Written) -> Written:
    """`20C` as `20 °C`: where a temperature is asked for, the letter can mean nothing else."""
    if not isinstance(written, Spelled):
        return written
    text = written.text.strip()
    number, letter = text[:-1].rstrip(), text[-1:].upper()
    if letter not in ("C", "F") or not number or not number[-1].isdigit():
        return written
    return Spelled(f"{number} °{letter}")


def quantity_in(text: str) -> Amount | None:
    """The quantity that a text is, of whatever dimension; None if it is none."""
    try:
        number, unit = read_quantity(text)
    except ValueError:
        return None
    return Amount(number * unit.factor + unit.offset, unit, text)


def missing(asked: Input, shown: str) -> InputError:
    """What to say where something that is needed was not given."""
    return InputError(f"{shown} is missing: {asked.says}", f"`{shown} {asked.example}`")
