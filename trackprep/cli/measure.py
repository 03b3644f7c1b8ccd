"""`trackprep measure`: the trade's numbers, each on its own, with the working."""

import re
from argparse import Namespace, _SubParsersAction
from datetime import date

from trackprep.cli.calls import CallError, CallParser, day_of
from trackprep.cli.rulesets import for_riders
from trackprep.cli.terminal import say, width
from trackprep.cli.writing import json_text
from trackprep.measures import TOPICS, InputError, Measurement, Topic

RULESET = "common-practice"
"""Whose limits are used unless others are asked for."""
FIRST = "first value"
"""The name by which the parser keeps what stands behind a topic's name."""


def arguments(parser: CallParser) -> None:
    """[TOPIC …]; without a topic they are listed."""
    parser.epilog = (
        "`trackprep measure` lists the topics; `trackprep measure pressure --help` shows one."
    )
    topics = parser.add_subparsers(dest="topic", metavar="TOPIC", title="topics")
    for topic in TOPICS.values():
        _add(topics, topic)


def run(call: Namespace) -> int:
    """Prints the topics, or the answer of one; 0."""
    if call.topic is None:
        _print_topics()
        return 0
    topic = TOPICS[call.topic]
    found = _measured(topic, call)
    if call.form == "json":
        print(json_text(found.to_dict()), end="")
        return 0
    if topic.dated and call.on is None:
        say("Worked out for today, as no other day was asked for with --on.")
        say()
    print(found.text(width()))
    return 0


def _add(topics: "_SubParsersAction[CallParser]", topic: Topic) -> None:
    """The parser of a topic's own call."""
    calls = "\n".join(f"  trackprep measure {example}" for example in topic.examples)
    about = f"{_wrapped(topic.about)}\n\n" if topic.about else ""
    one = topics.add_parser(
        topic.name,
        help=topic.summary,
        description=f"{topic.title}.",
        epilog=f"{about}Examples:\n{calls}",
    )
    # A temperature below zero, `-5C`, is a value and no option.
    one._negative_number_matcher = re.compile(r"-[0-9]")
    if topic.first:
        needed = topic.first.need == "needed"
        one.add_argument(
            FIRST, metavar=topic.first.name.upper(), nargs="+" if needed else "*",
            help=f"{topic.first.says}, such as {topic.first.example}".replace("%", "%%"),
        )  # fmt: skip
    for asked in topic.options:
        one.add_argument(
            f"--{asked.name}", dest=f"option {asked.name}", metavar="VALUE",
            required=asked.need == "needed",
            help=f"{asked.says}; such as --{asked.name} {asked.example}".replace("%", "%%"),
        )  # fmt: skip
    if topic.dated:
        one.add_argument(
            "--on", metavar="DATE", help="the day of the event, such as --on 2026-06-14; else today"
        )
    one.add_argument(
        "--for", dest="ruleset", metavar="RULESET", default=RULESET,
        help="whose limits it is held against, such as --for tarn-hollow; else common practice",
    )  # fmt: skip
    one.add_argument(
        "--as", dest="form", choices=("text", "json"), default="text",
        help="how to print, such as --as json",
    )  # fmt: skip


def _wrapped(text: str) -> str:
    from trackprep.cli.terminal import PLAIN_WIDTH, wrapped

    return wrapped(text, columns=min(width(), PLAIN_WIDTH) - 2)


def _measured(topic: Topic, call: Namespace) -> Measurement:
    given = vars(call)
    values = {asked.name: given[f"option {asked.name}"] for asked in topic.options}
    if topic.first:
        values[topic.first.name] = " ".join(given[FIRST]) or None
    day = day_of(call.on) if topic.dated and call.on is not None else date.today()
    standard, event = (for_riders(name).rules for name in ("standard", call.ruleset))
    try:
        return topic.measured(values, day, standard, event)
    except InputError as why:
        raise CallError(why.message, why.suggestion) from None


def _print_topics() -> None:
    column = max(map(len, TOPICS))
    for topic in TOPICS.values():
        say(f"{topic.name:<{column}}  {topic.summary}", hanging=" " * (column + 2))
    say()
    say("`trackprep measure TOPIC --help` shows how to call one, with examples.")
