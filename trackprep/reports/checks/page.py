"""A report as a page: the verdict, what is left to do, what is met, and what was declared."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta
from typing import TYPE_CHECKING

from trackprep.backends.checks import Status, Verdict
from trackprep.dates import long_form
from trackprep.explanations.wording import capitalized, counted, inside, label_of, listed
from trackprep.reports.checks.discreet import (
    discreet_notices,
    discreet_problem,
    discreet_until,
    discreet_value,
    discreetly_told,
    looks_at_private,
)
from trackprep.reports.notices import CHECK_AGAIN, PRECEDENCE
from trackprep.reports.pages.blocks import (
    Block,
    Bullets,
    Entry,
    Folded,
    Heading,
    Page,
    Pairs,
    Paragraph,
    Tone,
)
from trackprep.reports.verdicts import verdict_lines
from trackprep.reports.works import work_lines

if TYPE_CHECKING:
    from trackprep.reports.answer import Answer
    from trackprep.reports.report import Report

VERDICTS: dict[Verdict, tuple[str, Tone]] = {
    "ready": ("ready to present", "met"),
    "not-ready": ("not ready", "not-met"),
    "incomplete": ("incomplete", "warning"),
}
ANSWERS: dict[Status, tuple[str, Tone]] = {
    "not-met": ("not met", "not-met"),
    "unsettled": ("unsettled", "warning"),
    "met": ("met", "met"),
    "not-asked": ("not asked", "quiet"),
}


MANY_WAITING = 6
"""More rules than these that wait for facts alone are told in a line each."""


def report_page(
    report: "Report", season: Sequence[Block] = (), would_do: Sequence[Block] = ()
) -> Page:
    """The whole page.

    Args:
        season: What stands behind the verdict of a season ahead.
        would_do: What stands behind the rules not met of what would do.
    """
    rider = report.declaration.title or report.declaration.name
    blocks: tuple[Block, ...] = (
        verdict_entry(report),
        Paragraph(PRECEDENCE, "Who decides", "warning"),
        Pairs(tuple(_known(report))),
        *_problems(report),
        *_notices(report),
        *season,
        *_answers(report),
        *would_do,
        *_met(report),
        *_not_asked(report),
        *_declared(report),
    )
    return Page(f"{rider}: {report.rules.title}", blocks)


def verdict_entry(report: "Report") -> Entry:
    """The verdict in a word and in a sentence, and what else there is to do."""
    verdict, *more = verdict_lines(report)
    badge, tone = VERDICTS[report.verdict]
    inner = (Bullets(tuple(("", line) for line in more)),) if more else ()
    return Entry(badge, tone, verdict, "", inner, level=2)


def _known(report: "Report") -> Iterator[tuple[str, str, str]]:
    rules = report.rules
    edition = f", edition {rules.edition}" if rules.edition else ""
    yield "Rules", f"{rules.title}{edition}", ""
    yield "Event", long_form(report.event), ""
    for label, text in (("Venue", rules.venue), ("Contact", rules.contact)):
        if text:
            yield label, text, ""
    if report.declaration.declared_on:
        yield "Declared", long_form(report.declaration.declared_on), ""
    yield "By the calendar", _by_the_calendar(report), ""


def _by_the_calendar(report: "Report") -> str:
    until = discreet_until(report)
    days = f" up to {long_form(until - timedelta(days=1))}" if until else ""
    said = f"no answer gets worse{days}, with nothing changed"
    if any(looks_at_private(rule, report) for rule in report.rules.rules):
        return f"{said}; rules that look at private facts are not counted"
    return said


def _problems(report: "Report") -> Iterator[Block]:
    if report.problems:
        yield Heading("Problems in the declaration")
        for problem in report.problems:
            yield Paragraph(discreet_problem(problem, report.rules), "Problem", "not-met")


def _notices(report: "Report") -> Iterator[Block]:
    if told := discreet_notices(report):
        yield Heading("To know")
        yield Bullets(tuple(("", text) for text in told))


# ---- what is left ---------------------------------------------------------------


def _answers(report: "Report") -> Iterator[Block]:
    required = [answer for answer in report.answers if answer.level == "required"]
    unsettled = [answer for answer in required if answer.status == "unsettled"]
    groups = (
        ("Not met", [answer for answer in required if answer.status == "not-met"]),
        ("Unsettled: to declare", [one for one in unsettled if not one.waits_for_inspector]),
        ("For the inspector to decide", [one for one in unsettled if one.waits_for_inspector]),
        ("Recommended", [
            answer for answer in report.answers
            if answer.level == "recommended" and answer.status in ("not-met", "unsettled")
        ]),
    )  # fmt: skip
    for heading, answers in groups:
        if answers:
            yield Heading(heading)
            yield from _group(answers, report)


def _group(answers: "Sequence[Answer]", report: "Report") -> Iterator[Block]:
    """Each answer; many that wait for facts alone in a line each, behind what says more."""
    waiting = [answer for answer in answers if _only_waits(answer)]
    short = waiting if len(waiting) > MANY_WAITING else []
    yield from (_entry(answer, report) for answer in answers if answer not in short)
    if short:
        yield Paragraph(f"{len(short)} rules wait only for facts that are not declared:")
    for answer in short:
        labels = listed([inside(label_of(path, report.rules)) for path in answer.declare], "and")
        asks = "the inspector says" if answer.waits_for_inspector else "declare"
        yield Folded(f"{answer.title}: {asks} {labels}", (_entry(answer, report),))


def _only_waits(answer: "Answer") -> bool:
    """Whether undeclared facts are all that there is to say of an answer."""
    if answer.status != "unsettled" or answer.narrow:
        return False
    return not (answer.explanation.shortfalls or answer.explanation.undefined)


def _entry(answer: "Answer", report: "Report") -> Entry:
    badge, tone = ANSWERS[answer.status]
    if answer.waits_for_inspector:
        badge, tone = "for the inspector", "warning"
    return Entry(badge, tone, answer.title, answer.rule, tuple(_told(answer, report)), level=3)


def _told(answer: "Answer", report: "Report") -> Iterator[Block]:
    """Why; what can hurt, in front of the work; the work; and what is undone for the road."""
    for sentence in discreetly_told(answer.explanation, report.rules):
        yield Paragraph(sentence)
    if not answer.waits_for_inspector:
        yield from (Paragraph(text, "CAUTION", "warning") for text in answer.cautions)
    yield Pairs(tuple((label, text, "") for label, text in _details(answer, report)))
    yield from _undone(answer)


def _details(answer: "Answer", report: "Report") -> Iterator[tuple[str, str]]:
    titles = {rule.name: rule.title for rule in report.rules.rules}
    if answer.reason:
        yield "Why", answer.reason
    for work in answer.fixes if not answer.waits_for_inspector else ():
        for label, text in work_lines(work, answer, titles):
            conditional = label == "Fix" and answer.status == "unsettled"
            yield "Fix, if it is needed" if conditional else label, text
    if answer.inspect:
        yield "The inspector", answer.inspect
    if answer.check_again:
        labels = (label_of(path, report.rules) for path in answer.check_again)
        yield capitalized(CHECK_AGAIN), ", ".join(labels)
    if answer.source:
        yield "Source", answer.source


def _undone(answer: "Answer") -> Iterator[Block]:
    cautions = dict.fromkeys(text for work in answer.undos for text in work.cautions)
    yield from (Paragraph(text, "CAUTION", "warning") for text in cautions)
    if answer.undos:
        yield Pairs(tuple(("Before the road", work.text, "") for work in answer.undos))


# ---- the rest -------------------------------------------------------------------


def _met(report: "Report") -> Iterator[Block]:
    met = [answer for answer in report.answers if answer.status == "met"]
    if not met:
        return
    told = {rule.name for rule in report.rules.rules if not looks_at_private(rule, report)}
    yield Heading("Met")
    yield Pairs(tuple(
        (
            answer.title, " ".join(_met_sentences(answer, report)),
            _holding(answer) if answer.rule in told else "",
        )
        for answer in met
    ))  # fmt: skip
    undone = [block for answer in met for block in _undone(answer)]
    if undone:
        yield Heading("To put back before the road", 3)
        yield from _unique(undone)


def _unique(blocks: Iterable[Block]) -> Iterator[Block]:
    yield from dict.fromkeys(blocks)


def _met_sentences(answer: "Answer", report: "Report") -> Iterator[str]:
    yield from discreetly_told(answer.explanation, report.rules) or ("Met.",)
    if answer.check_again:
        yield f"{capitalized(CHECK_AGAIN)} before you ride."
    if answer.level == "recommended":
        yield "Recommended."


def _holding(answer: "Answer") -> str:
    """Up to when it holds; of a private date that would be the date."""
    return f"holds up to {long_form(answer.until - timedelta(days=1))}" if answer.until else ""


def _not_asked(report: "Report") -> Iterator[Block]:
    answers = [answer for answer in report.answers if answer.status == "not-asked"]
    if answers:
        number = counted(len(answers), "rule")
        rows = (
            (answer.title, " ".join(discreetly_told(answer.explanation, report.rules)), "")
            for answer in answers
        )
        said = f"Not asked of you: {number}."
        yield Folded(f"Not asked of you: {number}", (Pairs(tuple(rows)),), said)


def _declared(report: "Report") -> Iterator[Block]:
    values = report.declaration.values
    if values:
        number = counted(len(values), "fact")
        rows = (
            (label_of(path, report.rules), discreet_value(path, value, report.rules), path)
            for path, value in values.items()
        )
        said = f"Declared: {number}."
        yield Folded(f"What was declared: {number}", (Pairs(tuple(rows)),), said)
