"""What came of measuring: what was given, the working line by line, the results, the cautions."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from trackprep.frozen import frozen
from trackprep.measures.figures import beside
from trackprep.measures.working import Step
from trackprep.rules.values import Amount
from trackprep.units import from_base, show

SCHEMA = "urn:trackprep:measurement:1"
WHO_WINS = (
    "The organizer's inspector, the machine's manual, local law and a qualified mechanic"
    " come first."
)


@frozen
class Result:
    """A figure that a topic gives: exact in `amount`, rounded for reading in `text`."""

    label: str
    amount: Amount
    text: str


@frozen
class Measurement:
    """The answer of a topic.

    Attributes:
        given: What it was worked out from, as labels and texts.
        steps: The working, in order.
        says: What else there is to say, sentence by sentence.
        cautions: What can hurt somebody, or mislead.
        sources: Where the figures come from, and of which formula or table.
    """

    topic: str
    title: str
    given: tuple[tuple[str, str], ...] = ()
    steps: tuple[Step, ...] = ()
    results: tuple[Result, ...] = ()
    says: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[tuple[str, str], ...] = ()

    def __getitem__(self, label: str) -> Amount:
        """The exact result of that label.

        Raises:
            KeyError: There is none.
        """
        for result in self.results:
            if result.label == label:
                return result.amount
        raise KeyError(label)

    def lines(self) -> Iterator["Line"]:
        """All of it as paragraphs, in the order in which people read."""
        yield Line(self.title)
        yield from (Line(f"CAUTION: {caution}", 2, 4) for caution in self.cautions)
        if self.given:
            yield from _heading("Given")
            column = max(len(label) for label, _ in self.given)
            yield from (
                Line(f"{label:<{column}}  {text}", 2, column + 4) for label, text in self.given
            )
        if self.steps:
            yield from _heading("Working")
            for step in self.steps:
                yield from _step(step)
        if self.results or self.says:
            yield from _heading("Answer")
            column = max((len(result.label) for result in self.results), default=0)
            for result in self.results:
                yield Line(f"{result.label:<{column}}  {result.text}", 2, column + 4)
            for sentence in self.says:
                yield Line(sentence, 2, 4 if sentence.startswith("- ") else 2)
        if self.sources:
            yield from _heading("Sources")
            yield from (Line(f"{what}: {source}", 2, 4) for what, source in self.sources)
        yield Line("")
        yield Line(WHO_WINS)

    def text(self, width: int = 100) -> str:
        """All of it as plain text, wrapped to `width` columns."""
        from textwrap import fill  # two milliseconds that JSON need not pay

        return "\n".join(
            fill(
                line.text, width, break_long_words=False, break_on_hyphens=False,
                initial_indent=" " * line.indent, subsequent_indent=" " * line.hanging,
            )
            for line in self.lines()
        )  # fmt: skip

    def __str__(self) -> str:
        return self.text()

    def to_dict(self) -> dict[str, Any]:
        """All of it for a program; lists may be empty, keys are never absent."""
        return {
            "schema": SCHEMA,
            "topic": self.topic,
            "title": self.title,
            "given": [{"label": label, "value": text} for label, text in self.given],
            "working": [_step_form(step) for step in self.steps],
            "results": [_result_form(result) for result in self.results],
            "says": list(self.says),
            "cautions": list(self.cautions),
            "sources": [{"of": what, "source": source} for what, source in self.sources],
        }


@frozen
class Line:
    """A paragraph, how far its first line is indented, and how far the others."""

    text: str
    indent: int = 0
    hanging: int = 0


def _heading(text: str) -> Iterator[Line]:
    yield Line("")
    yield Line(f"== {text} ==")


def _step(step: Step) -> Iterator[Line]:
    yield Line(f"{step.label} ({step.name})", 2, 4)
    if not step.numbers or step.symbols == step.shown:
        yield Line(f"{step.symbols}: {step.shown}" if not step.numbers else step.shown, 6, 8)
        return
    yield Line(step.symbols, 6, 8)
    put_in = [step.numbers] if not step.shown.startswith(step.numbers) else []
    yield Line(" ".join(f"= {text}" for text in (*put_in, step.shown)), 6, 8)


def _step_form(step: Step) -> dict[str, Any]:
    return {
        "name": step.name,
        "label": step.label,
        "symbols": step.symbols,
        "numbers": step.numbers or None,
        "result": step.shown,
        "source": step.source or None,
    }


def _result_form(result: Result) -> dict[str, Any]:
    amount = result.amount
    return {
        "label": result.label,
        "text": result.text,
        "exact": exact(from_base(amount.value, amount.unit)),
        "unit": amount.unit.name or None,
        "values": [
            {"unit": unit.name or None, "shown": show(amount.value, unit)}
            for unit in beside(amount.unit)
        ],
    }


def exact(number: Fraction) -> str:
    """`33/4` or `8`; of a number that was enclosed, its first forty digits as a decimal."""
    if number.denominator < 10**40:
        return str(number)
    digits = 40 - len(str(abs(int(number))))
    scaled = round(number * 10**digits)
    sign = "-" if scaled < 0 else ""
    text = f"{abs(scaled):0{digits + 1}}"
    return f"{sign}{text[:-digits]}.{text[-digits:]}"
