"""How old something is that was made on some day of a span, in words, and by a limit."""

from datetime import date, timedelta
from fractions import Fraction

from trackprep.dates import Span, add_months, long_form
from trackprep.dates.ages import Grain, age_boundary
from trackprep.explanations.wording import counted, listed
from trackprep.measures.bench import Bench
from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS, show


def age_in_words(made: Span, on: date) -> str:
    """A sentence on the age, `6 years and 11 months to 7 years` where the day is not known."""
    if made.first > on:
        return f"That is after {long_form(on)}: it cannot have been made yet."
    youngest = min(made.last, on)
    least, most = _elapsed(youngest, on), _elapsed(made.first, on)
    if least == most:
        return f"On {long_form(on)}: {most} old."
    if least.endswith(" days") and most.endswith(" days"):
        least = least.removesuffix(" days")
    return f"On {long_form(on)}: {least} to {most} old, depending on the day."


def answer_age(bench: Bench, made: Span) -> None:
    """The age on the day of the event: in words, and in completed months for a program."""
    bench.say(age_in_words(made, bench.day))
    if made.first > bench.day:
        return
    youngest = min(made.last, bench.day)
    for label, born in (("age at least", youngest), ("age at most", made.first)):
        months = Amount(Fraction(months_old(born, bench.day)), SPELLINGS["months"])
        bench.answer_in_its_unit(label, months)


def months_old(born: date, on: date) -> int:
    """Completed calendar months from a day to another."""
    months = (on.year - born.year) * 12 + on.month - born.month
    return months if add_months(born, months) <= on else months - 1


def _elapsed(born: date, on: date) -> str:
    """`6 years and 11 months`, `7 years`, `3 days`."""
    months = months_old(born, on)
    if not months:
        return counted((on - born).days, "day")
    years, rest = divmod(months, 12)
    said = [counted(years, "year")] if years else []
    if rest:
        said.append(counted(rest, "month"))
    return listed(said, "and")


def last_days(made: Span, months: int, grain: Grain) -> Span:
    """The last day on which `age is at most` so many months holds, for each day of the span."""
    return Span(_last_day(made.first, months, grain), _last_day(made.last, months, grain))


def _last_day(made: date, months: int, grain: Grain) -> date:
    """The last event day on which the age is at most so many months."""
    day = add_months(made, months)
    match grain:
        case "day":
            last = day
        case "month":
            last = add_months(day.replace(day=1), 1) - timedelta(days=1)
        case "year":
            last = date(day.year, 12, 31)
    assert age_boundary(last, "at most", months=months, grain=grain).day <= made
    return last


def stands_to_limit(bench: Bench, name: str, made: Span) -> None:
    """How the age stands to a limit of the ruleset in months or years, where that has one."""
    limit = bench.limit(name)
    if limit is None or limit.unit.calendar != "months" or made.first > bench.day:
        return
    last = last_days(made, int(limit.value), "day")
    words = f"{bench.limit_words(name)}, {show(limit.value, limit.unit)}"
    bench.say(f"{words}: {verdict(last, bench.day)}.")
    bench.source_of_limit(name)


def verdict(last: Span, on: date) -> str:
    """`within it up to 30 June 2026`, for the last days that a limit allows."""
    one_of = "" if last.exact else "one of "
    if on <= last.first:
        at_least = "" if last.exact else "at least "
        return f"within it, {at_least}up to {long_form(last.first)}"
    if on > last.last:
        return f"outside it: the last day was {one_of}{long_form(last)}"
    return f"open, as it depends on the day of making: the last day is {one_of}{long_form(last)}"


def limit_in_months(amount: Amount | None) -> int | None:
    """The months of a limit that is in months or years."""
    if amount is None or amount.unit.calendar != "months":
        return None
    return int(amount.value)
