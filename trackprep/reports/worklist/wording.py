"""What a work list says of times, of jobs by their numbers, and of the rules that they serve."""

from collections.abc import Sequence
from fractions import Fraction

from trackprep.explanations.wording import capitalized, counted, listed
from trackprep.reports.venues.naming import listed_names
from trackprep.rider.worklist import Duration, Question, Served, Texts, total

_HOUR = 60  # minutes


def time_text(minutes: Fraction) -> str:
    """`45 min`, `1 h`, `2 h 25 min`; a part of a minute counts as one."""
    whole = -(-minutes.numerator // minutes.denominator)
    hours, rest = divmod(whole, _HOUR)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def total_text(takes: Duration, what: str = "job") -> str:
    """The time of several jobs or other things, and of how many it is not known."""
    if not takes.minutes:
        return "no time is given"
    known = time_text(takes.minutes)
    without = counted(takes.untimed, what)
    return f"{known}, and {without} without a time" if takes.untimed else known


def things_text(questions: Sequence[Question], joint: str) -> str:
    """How many things there are to find out, and how long that takes if anybody can."""
    takes = total(tuple(question.takes for question in questions))
    said = counted(len(questions), "thing")
    return said if takes == Duration() else f"{said}{joint}{total_text(takes, 'thing')}"


def work_text(texts: Texts, takes: Duration, names: Sequence[str]) -> str:
    """What to do, in every way that it is said, with its time where that is known."""
    text = " ".join(
        f"{sentence(said)} ({listed_names(places, names)})" if len(texts) > 1 else said
        for said, places in texts
    )
    return timed_text(text, takes)


def timed_text(text: str, takes: Duration) -> str:
    """What is to be done or found out, with its time where that is known."""
    return f"{text} ({time_text(takes.minutes)})" if takes.minutes else text


def jobs_text(numbers: Sequence[int]) -> str:
    """`job 3`, `jobs 3 and 4`."""
    return f"{'job' if len(numbers) == 1 else 'jobs'} {listed([*map(str, numbers)], 'and')}"


def uses_text(jobs: Sequence[int], road: bool) -> str:
    """What something is for: jobs of the list, and what is put back before the road."""
    uses = ([jobs_text(jobs)] if jobs else []) + (["the way back to the road"] if road else [])
    return f"for {listed(uses, 'and')}"


def served_text(serves: Sequence[Served], names: Sequence[str]) -> str:
    """The rules, with their parts, and where there are several events with those."""
    rules: dict[tuple[str, str, tuple[str, ...]], list[int]] = {}
    for one in serves:
        rules.setdefault((one.title, one.rule, one.parts), []).append(one.occasion)
    said = []
    for (title, rule, parts), places in rules.items():
        about = f" ({listed(parts, 'and')})" if parts else ""
        where = f", at {listed_names(places, names)}" if len(names) > 1 else ""
        said.append(f"{title}{about} [{rule}]{where}")
    return "; ".join(said)


def titles_text(serves: Sequence[Served], names: Sequence[str]) -> str:
    """The rules as a heading."""
    titles: dict[str, list[int]] = {}
    for one in serves:
        titles.setdefault(one.title, []).append(one.occasion)
    return "; ".join(
        f"{title} ({listed_names(places, names)})" if len(names) > 1 else title
        for title, places in titles.items()
    )


def sentence(text: str) -> str:
    """The text as a sentence."""
    said = capitalized(text)
    return said if said.endswith((".", "!", "?")) else f"{said}."
