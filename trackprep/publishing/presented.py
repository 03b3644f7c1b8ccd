"""One rider at the inspection: what was declared, when, and what to look at closely."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from attrs import evolve

from trackprep.backends.checks import Status
from trackprep.dates import long_form
from trackprep.explanations.mentions import demanded_in
from trackprep.explanations.wording import capitalized, counted, inside, label_of, listed
from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.publishing.closely import NEAR, closely
from trackprep.publishing.margins import MARGINS
from trackprep.publishing.stations import Point, Row, stations
from trackprep.reports.answer import Answer
from trackprep.reports.checks.discreet import KEPT, discreet_problem, is_private
from trackprep.reports.club.page import told
from trackprep.reports.notices import CHECK_AGAIN
from trackprep.reports.pages.blocks import Block, Bullets, Pairs, Paragraph
from trackprep.reports.report import Report
from trackprep.rules.conditions import All
from trackprep.rules.model import Rule, Rules

MOST_TITLES = 8
WEARS = capitalized(CHECK_AGAIN)
FOLLOWS: dict[Status, str] = {
    "met": "met as declared",
    "not-met": "not met as declared",
    "unsettled": "not settled as declared",
    "not-asked": "not asked",
}
"""What follows from facts that a rider keeps private."""


@frozen(eq=False)
class Presented:
    """A rider who is to present machine and gear.

    Attributes:
        report: What the rules answer; None where the declaration has problems.
    """

    title: str
    report: Report | None
    problems: tuple[Problem, ...] = ()

    @property
    def late(self) -> tuple[Problem, ...]:
        """Of a declaration that can be used: its dates that lie after the event, and cannot."""
        return self.report.problems if self.report is not None else ()


def rider_blocks(rider: Presented, rules: Rules, day: date) -> Iterator[Block]:
    """The rider's page, but for what stands on every page."""
    if rider.report is None:
        yield from _unread(rider, rules, day)
        return
    report = rider.report
    answers = list(zip(rules.rules, report.answers, strict=True))
    asked = [(rule, answer) for rule, answer in answers if answer.status != "not-asked"]
    reasons = [closely(rule, answer, report) for rule, answer in asked]
    yield Pairs((_event(rules, day), ("Declared", _declared_on(report), "")))
    yield from _as_declared(report)
    yield from _close_ones(reasons, report)
    points = (
        Point(_asked_of(rule, report), tuple(_rows(rule, answer, report)), why)
        for (rule, answer), why in zip(asked, reasons, strict=True)
    )
    yield from stations(points, rules, 3)
    if spared := [rule.title for rule, answer in answers if answer.status == "not-asked"]:
        yield Paragraph(f"{'; '.join(spared)}.", "Not asked of this rider, as declared")
    if any(text.startswith(NEAR) for texts in reasons for text in texts):
        yield Paragraph(MARGINS)


def _event(rules: Rules, day: date) -> Row:
    edition = f", edition {rules.edition}" if rules.edition else ""
    return "Event", f"{rules.title}{edition}, on {long_form(day)}", ""


def _declared_on(report: Report) -> str:
    declared = report.declaration.declared_on
    if declared is None:
        return "on a day that the declaration does not say"
    if declared > report.event:
        return f"{long_form(declared)}, which lies after the event"
    days = (report.event - declared).days
    return f"{long_form(declared)}, {counted(days, 'day')} before the event"


# ---- a declaration that cannot be used --------------------------------------


def _unread(rider: Presented, rules: Rules, day: date) -> Iterator[Block]:
    yield Pairs((_event(rules, day),))
    yield Paragraph(
        "Nothing of what this rider declared is on this page, as a file could not be read whole."
        " Each point has its box all the same.",
        "Not known", "warning",
    )  # fmt: skip
    yield Bullets(tuple(("", told(problem, (rules,))) for problem in rider.problems))
    yield from stations(map(Point, rules.rules), rules, 3)


# ---- the answer, before all else --------------------------------------------


def _as_declared(report: Report) -> Iterator[Block]:
    """What is not met first."""
    required = [one for one in report.answers if one.level == "required"]
    not_met = [one for one in required if one.status == "not-met"]
    open_ones = [
        one for one in required if one.status == "unsettled" and not one.waits_for_inspector
    ]
    if not_met:
        yield Paragraph(_titles(not_met), "As declared, not ready", "not-met")
    elif not open_ones:
        yield Paragraph("ready to present, and no more: the inspector decides.", "As declared")
    if open_ones:
        label = "Not settled either" if not_met else "As declared, incomplete"
        yield Paragraph(_first_titles(open_ones), label, "warning")
    unheeded = [
        one for one in report.answers if one.level != "required" and one.status == "not-met"
    ]
    if unheeded:
        yield Paragraph(_titles(unheeded), "Recommended, and not met as declared")
    for problem in report.problems:
        yield Paragraph(discreet_problem(problem, report.rules), "Problem", "warning")


def _titles(answers: Iterable[Answer]) -> str:
    return f"{'; '.join(answer.title for answer in answers)}."


def _first_titles(answers: Sequence[Answer]) -> str:
    """Of a declaration that is hardly begun the first, as each says below what it lacks."""
    rest = len(answers) - MOST_TITLES
    if rest <= 0:
        return _titles(answers)
    titles = "; ".join(answer.title for answer in answers[:MOST_TITLES])
    return f"{titles}; and {rest} more, each marked below."


def _close_ones(reasons: Sequence[tuple[str, ...]], report: Report) -> Iterator[Block]:
    """How many points stand out, and what the marks say."""
    if number := sum(map(bool, reasons)):
        yield Paragraph(f"{number} of {counted(len(reasons), 'point')}.", "Look closely")
    if number := sum(bool(_wearing(answer, report)) for answer in report.answers):
        points = counted(number, "point hangs", "points hang")
        yield Paragraph(f"{points} on what wears or works loose, {_since(report)}.", WEARS)


def _wearing(answer: Answer, report: Report) -> list[str]:
    """What wears or works loose, where it was declared on another day than the event's."""
    if report.declaration.declared_on == report.event:
        return []
    return [inside(label_of(path, report.rules)) for path in answer.check_again]


def _since(report: Report) -> str:
    declared = report.declaration.declared_on
    if declared is None:
        return "and when it was declared is not said"
    if declared > report.event:
        return "declared under a date after the event"
    return f"declared {counted((report.event - declared).days, 'day')} before the event"


# ---- one point --------------------------------------------------------------


def _asked_of(rule: Rule, report: Report) -> Rule:
    """The rule as far as it is asked of this rider; what is sure to apply needs no condition."""
    situation, always = report.situation, All(())
    applying = (one for one in rule.asked if situation.holds(one.when) is not False)
    return evolve(rule, asked=tuple(
        evolve(one, when=always) if situation.holds(one.when) else one for one in applying
    ))  # fmt: skip


def _rows(rule: Rule, answer: Answer, report: Report) -> Iterator[Row]:
    if values := _values(_asked_of(rule, report), answer, report):
        yield "Declared", values, ""
    if wearing := _wearing(answer, report):
        yield WEARS, listed(wearing, "and"), ""


def _values(rule: Rule, answer: Answer, report: Report) -> str:
    """The declared values that the rule looks at; of private facts what follows."""
    rules, declared = report.rules, report.declaration.values
    paths = dict.fromkeys(path for one in rule.asked for path in demanded_in(one.demand))
    own = [path for path in paths if path in declared and path not in rules.here]
    shown = report.situation.known(path for path in own if not is_private(path, rules))
    texts = [known.value if len(paths) == 1 else inside(str(known)) for known in shown]
    if any(is_private(path, rules) for path in own):
        texts.append(f"{KEPT}: {FOLLOWS[answer.status]}")
    return "; ".join(texts)
