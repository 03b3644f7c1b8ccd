"""A topic: one of the trade's numbers, what it is worked out from, and how."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from attrs import evolve

from trackprep.frozen import frozen
from trackprep.measures.bench import Bench
from trackprep.measures.inputs import Given, Input, InputError, missing, read
from trackprep.measures.measurement import Measurement
from trackprep.rules.model import Rules


@frozen
class Topic:
    """One of the trade's numbers.

    Attributes:
        summary: One line for the list of topics.
        first: What stands behind the topic's name, if anything does.
        options: What is given by name.
        examples: Calls as somebody would write them, without the tool's name.
        dated: Whether the day of the event counts.
        work: What is done at the bench, everything that is needed being there.
        about: What more there is to know, for the help.
    """

    name: str
    title: str
    summary: str
    work: Callable[[Bench], None]
    first: Input | None = None
    options: tuple[Input, ...] = ()
    examples: tuple[str, ...] = ()
    dated: bool = False
    about: str = ""

    @property
    def inputs(self) -> tuple[Input, ...]:
        """All that it asks for."""
        return (self.first, *self.options) if self.first else self.options

    def shown(self, asked: Input) -> str:
        """What a call names an input by: `--set-at`; of the first, `PRESSURE`."""
        return asked.name.upper() if asked is self.first else f"--{asked.name}"

    def measured(
        self, values: Mapping[str, Any], day: date, standard: Rules, event: Rules
    ) -> Measurement:
        """What comes of the values, which stand under the inputs' names.

        The formulas and tables are those of the `standard` vocabulary, the limits the event's.

        Raises:
            InputError: One is missing, or cannot be read, or they have no result.
        """
        rules = evolve(standard, title=event.title, limits=event.limits)
        inputs: dict[str, Given] = {}
        for asked in self.inputs:
            value = values.get(asked.name)
            if value is not None:
                inputs[asked.name] = read(asked, value, self.shown(asked), rules)
            elif asked.need == "needed":
                raise missing(asked, self.shown(asked))
        bench = Bench(rules, day, inputs)
        self.work(bench)
        return Measurement(
            self.name, self.title, tuple(bench.given), tuple(bench.steps), tuple(bench.results),
            tuple(bench.says), tuple(bench.cautions), tuple(bench.sources),
        )  # fmt: skip


def one_of(bench: Bench, *names: str) -> str:
    """The one of these options that was given.

    Raises:
        InputError: None was, or several.
    """
    given = [name for name in names if bench.has(name)]
    *most, last = [f"`--{name}`" for name in names]
    if len(given) != 1:
        said = "one is missing" if not given else f"{len(given)} are given"
        raise InputError(f"one of {', '.join(most)} or {last} is asked for, and {said}")
    return given[0]
