"""Fact and kind statements to facts: what can be declared, and of which type."""

from collections.abc import MutableMapping
from fractions import Fraction

from trackprep.rules import model
from trackprep.rules.reporting import Reporter, nearest
from trackprep.rules.values import Amount
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.syntax.words import NAME, is_bare
from trackprep.units import ONE, Unit, read_number, show, to_base, unit

# Without a range these may lie below zero; all else a rider measures may not.
_MAY_BE_NEGATIVE = frozenset({"a sound level", "an angle"})


def origin(place: Place) -> model.Origin:
    """Where a statement stands."""
    line, column = place.source.position(place.start)
    return model.Origin(place.source.name, line, column)


def prose(details: tuple[object, ...], keyword: str) -> str:
    """What the details say under a keyword, several joined by a space."""
    return " ".join(proses(details, keyword))


def proses(details: tuple[object, ...], keyword: str) -> tuple[str, ...]:
    """What the details say under a keyword, one by one."""
    return tuple(d.text for d in details if isinstance(d, tree.Prose) and d.keyword == keyword)


def how_of(details: tuple[object, ...]) -> str:
    """How to find out, or to work out; several joined by a space."""
    return " ".join(d.text for d in details if isinstance(d, tree.How))


def source_of(details: tuple[object, ...]) -> model.SourceOf | None:
    """Where a value comes from; of several sources one text with all of them."""
    found = [d for d in details if isinstance(d, tree.SourceOf)]
    if not found:
        return None
    if len(found) == 1:
        return model.SourceOf(found[0].kind, found[0].text)
    return model.SourceOf("text", "; ".join(d.text or d.kind for d in found))


def number_in(constant: tree.Number | tree.Quantity) -> tuple[Fraction, Unit]:
    """A written number and its unit (the plain number has `ONE`); the value is in that unit."""
    if isinstance(constant, tree.Number):
        return read_number(constant.text), ONE
    its_unit = unit(constant.unit)
    assert its_unit is not None, constant.unit
    return read_number(constant.number), its_unit


def read_constant(
    constant: tree.Number | tree.Quantity, reporter: Reporter
) -> tuple[Fraction, Unit] | None:
    """A written number in base units with its unit, or None after a problem."""
    try:
        value, its_unit = number_in(constant)
    except ValueError as why:
        reporter.report(
            "bad-number", str(why), constant.place,
            expected="a number like `3`, `3.5`, `3/32` or `1 1/4`",
        )  # fmt: skip
        return None
    return to_base(value, its_unit), its_unit


def read_duration(
    quantity: tree.Quantity, reporter: Reporter, *, of_work: bool = True
) -> Amount | None:
    """A written duration, or None after a problem; months are no time `of_work`."""
    read = read_constant(quantity, reporter)
    if read is None:
        return None
    value, its_unit = read
    if its_unit.dimension.words == "a duration" or (its_unit.calendar and not of_work):
        return Amount(value, its_unit, quantity.place.text)
    said = its_unit.dimension.words
    reporter.report(
        "wrong-dimension", f"`{quantity.place.text}` is {said}, not a duration", quantity.place,
        expected="a duration, such as `25 min`, `2 h` or `3 days`",
    )  # fmt: skip
    return None


class FactReader:
    """Reads the facts of one file; `kinds` are those it may name, and become those it has."""

    def __init__(self, kinds: MutableMapping[str, model.Type], reporter: Reporter) -> None:
        self.kinds = kinds
        self.reporter = reporter

    def kind(self, statement: tree.Kind) -> None:
        """Takes a kind in."""
        if statement.name in self.kinds:
            self.reporter.report(
                "repeated-kind", f"`{statement.name}` is a kind already", statement.place,
                suggestion="give one of the two another name",
            )  # fmt: skip
            return
        made = self.type(statement.type)
        if made is not None:
            self.kinds[statement.name] = made

    def fact(self, statement: tree.Fact, section: str) -> model.Fact | None:
        """The fact, or None after a problem with its type."""
        made = self.type(statement.type)
        if made is None:
            return None
        details = statement.details
        also = [statement.also] if statement.also else []
        also += [d for d in details if isinstance(d, tree.Also)]
        marks = [mark.word for mark in statement.marks]
        marks += [d.word for d in details if isinstance(d, tree.Mark)]
        return model.Fact(
            statement.path,
            statement.label,
            made,
            ask=prose(details, "ask"),
            how=how_of(details),
            takes=self.takes(details),
            caution=prose(details, "caution"),
            also=tuple(word for a in also for word in a.words),
            marks=frozenset(marks),
            section=section,
            source=source_of(details),
            origin=origin(statement.place),
        )

    def takes(self, details: tuple[tree.FactDetail, ...]) -> Amount | None:
        """How long it takes to find out: all that is said of it together."""
        hows = (d.takes for d in details if isinstance(d, tree.How))
        read = (read_duration(takes.duration, self.reporter) for takes in hows if takes)
        times = [time for time in read if time]
        if not times:
            return None
        first, *others = times
        if not others:
            return first
        whole = sum((time.value for time in others), first.value)
        return Amount(whole, first.unit, show(whole, first.unit))

    def type(self, written: tree.Type) -> model.Type | None:
        """The type that is written, or None after a problem."""
        match written:
            case tree.Choices():
                return self.choices(written)
            case tree.Plain(keyword):
                return _PLAIN[keyword]
            case tree.Measured():
                return self.measured(written)
            case tree.OfKind(name):
                return self.of_kind(name, written.place)

    def of_kind(self, name: str, place: Place) -> model.Type | None:
        if name in self.kinds:
            return self.kinds[name]
        near = nearest(name, [*self.kinds, "text", "count", "date"])
        self.reporter.report(
            "unknown-type", f"`{name}` is no type, and no kind of this file", place,
            expected="a type: `one of …`, `several of …`, `graded …`, `yes or no`, `date`,"
            " `past date`, `week code`, `count`, `measured in UNIT` or `text`",
            suggestion=f"write `{near}`" if near else None,
        )  # fmt: skip
        return None

    def choices(self, written: tree.Choices) -> model.Choosing | None:
        seen: set[str] = set()
        made: list[model.Choice] = []
        for choice in written.choices:
            word = choice.word
            if not well_spelled(word, self.reporter):
                return None
            if word.text in seen:
                self.reporter.report(
                    "repeated-choice", f"`{word.text}` stands in this list twice", word.place,
                    suggestion="take one of the two out",
                )  # fmt: skip
                continue
            seen.add(word.text)
            also = choice.also.words if choice.also else ()
            made.append(model.Choice(word.text, choice.label or "", also))
        return model.Choosing(written.keyword, tuple(made))

    def measured(self, written: tree.Measured) -> model.Measured | None:
        whole = written.unit is None
        its_unit = ONE if written.unit is None else unit(written.unit)
        assert its_unit is not None
        lowest = None if its_unit.dimension.words in _MAY_BE_NEGATIVE else Fraction(0)
        if written.range is None:
            return model.Measured(its_unit, lowest, whole=whole)
        ends = []
        for constant in (written.range.low, written.range.high):
            read = read_constant(constant, self.reporter)
            if read is None:
                return None
            value, end_unit = read
            if end_unit.dimension != its_unit.dimension:
                self.reporter.report(
                    "wrong-dimension",
                    f"`{constant.place.text}` is {end_unit.dimension.words};"
                    f" this fact is {its_unit.dimension.words}",
                    constant.place,
                    suggestion=f"write it in {its_unit.name}" if its_unit.name else None,
                )
                return None
            ends.append(value)
        low, high = ends
        if low > high:
            self.reporter.report(
                "reversed-range", "this range goes from the larger end to the smaller",
                written.range.place, suggestion="put the smaller end first",
            )  # fmt: skip
            return None
        return model.Measured(its_unit, low, high, whole=whole)


_PLAIN: dict[str, model.Type] = {
    "yes or no": model.YesOrNo(),
    "date": model.Dated("date"),
    "past date": model.Dated("past date"),
    "week code": model.Dated("week code"),
    "text": model.FreeText(),
}


def well_spelled(word: tree.Word, reporter: Reporter) -> bool:
    """Whether a choice word may stand as it is written; a bare one has no capitals."""
    if word.quoted or NAME.fullmatch(word.text):
        return True
    lower = word.text.lower()
    reporter.report(
        "capitals-unquoted", f"`{word.text}` has capitals and stands without quotes", word.place,
        expected="a lower-case word, or any words in quotes",
        suggestion=f'write `"{word.text}"`' + (f", or `{lower}`" if is_bare(lower) else ""),
    )  # fmt: skip
    return False
