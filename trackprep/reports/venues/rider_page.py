"""One rider at several events as a page: where ready, and the least to change."""

from collections.abc import Iterator, Sequence

from trackprep.analysis.least_changes import Change, Obstacle, Plan, Undecided, Way
from trackprep.analysis.readiness import Readiness
from trackprep.backends.checks import Verdict
from trackprep.dates import long_form
from trackprep.explanations.wording import (
    capitalized,
    counted,
    inside,
    label_of,
    listed,
    value_text,
)
from trackprep.questions import how_to_look
from trackprep.reports.checks.discreet import HANGS_ON_PRIVATE, KEPT, bound_to_private
from trackprep.reports.notices import PRECEDENCE
from trackprep.reports.pages.blocks import (
    Block,
    Bullets,
    Entry,
    Heading,
    Page,
    Pairs,
    Paragraph,
    Table,
    Tone,
)
from trackprep.reports.report import Report
from trackprep.reports.venues.jobs import Job, jobs
from trackprep.reports.venues.naming import called, known, listed_names
from trackprep.reports.venues.page import plain_demand
from trackprep.reports.verdicts import verdict_lines
from trackprep.reports.works import work_lines
from trackprep.rules.model import Fact, Rule, Rules

VERDICTS: dict[Verdict, tuple[str, Tone]] = {
    "ready": ("ready to present", "looser"),
    "not-ready": ("not ready", "stricter"),
    "incomplete": ("incomplete", "warning"),
}
REAL = (
    "What is changed here is the least that these rules ask. The work has to be done: a declared"
    " value mends nothing. What you find out may be otherwise than what would do: then ask again."
)


class RiderPage:
    """The page in the making."""

    def __init__(self, readiness: Readiness, reports: Sequence[Report]) -> None:
        self.readiness, self.reports = readiness, tuple(reports)
        self.names = called(readiness.rulesets)

    def page(self) -> Page:
        """The whole page."""
        rider = self.reports[0].declaration.title or self.reports[0].declaration.name
        everybody = listed_names(range(len(self.names)), self.names)
        blocks: list[Block] = [
            Paragraph(f"For an event on {long_form(self.readiness.event)}."),
            *self.validity(),
            *self.problems(),
            self.overview(),
        ]
        for number, name in enumerate(self.names):
            blocks.append(Heading(f"{name}: {known(self.readiness.rulesets[number])}"))
            blocks += self.venue(number)
        if self.readiness.way_to_all is not None:
            blocks.append(Heading(f"To be ready at {everybody}"))
            numbers = tuple(range(len(self.names)))
            blocks += self.way(self.readiness.way_to_all, numbers)
        blocks += [Heading("To know"), Paragraph(REAL)]
        return Page(f"{rider}: where ready, and what to change", tuple(blocks), PRECEDENCE)

    def validity(self) -> Iterator[Block]:
        """Which rulesets are for other days."""
        for report in self.reports:
            for notice in report.notices:
                if notice.code == "outside-validity":
                    yield Paragraph(f"{report.rules.title}: {notice.text}", "Note", "warning")

    def problems(self) -> Iterator[Block]:
        """What is wrong with the declaration for this event; each once."""
        found = {problem.path: problem for report in self.reports for problem in report.problems}
        for problem in found.values():
            tried = f" {capitalized(problem.suggestion)}." if problem.suggestion else ""
            yield Paragraph(f"{capitalized(problem.message)}.{tried}", "Problem", "warning")

    def overview(self) -> Bullets:
        """The verdict at each, and how much there is to do, in a line."""
        return Bullets(tuple(
            (name, "; ".join((verdict, *_left(change, find_out))))
            for name, verdict, change, find_out in self.summary().rows
        ))  # fmt: skip

    def summary(self) -> Table:
        """The same as a table, for a notebook."""
        rows = [
            (name, VERDICTS[report.verdict][0], *_counts(way))
            for name, report, way in zip(self.names, self.reports, self.readiness.ways, strict=True)
        ]
        if self.readiness.way_to_all is not None:
            everybody = listed_names(range(len(self.names)), self.names)
            verdict = VERDICTS[worst(self.reports)][0]
            rows.append((capitalized(everybody), verdict, *_counts(self.readiness.way_to_all)))
        head = ("Event", "As declared", "To change", "To find out")
        return Table("Where ready, as declared, by the required rules:", head, tuple(rows))

    def venue(self, number: int) -> Iterator[Block]:
        """One ruleset: its verdict, and the way."""
        report = self.reports[number]
        verdict, *more = verdict_lines(report)
        badge, tone = VERDICTS[report.verdict]
        yield Paragraph(verdict, capitalized(badge), tone)
        if more:
            yield Bullets(tuple(("", line) for line in more))
        if report.verdict != "ready":
            yield from self.way(self.readiness.ways[number], (number,))

    # ---- a way ----

    def way(self, way: Way, numbers: tuple[int, ...]) -> Iterator[Block]:
        """What to do to be ready by the rulesets of these numbers."""
        match way:
            case Undecided(reason):
                yield Paragraph(f"The least to change could not be told: {reason}.", "Undecided",
                                "warning")  # fmt: skip
            case Obstacle():
                yield from self.obstacle(way, numbers)
            case Plan():
                yield from self.plan(way, numbers)

    def plan(self, plan: Plan, numbers: tuple[int, ...]) -> Iterator[Block]:
        """The least to do, what to find out, and what comes of it."""
        if not plan.changes and not plan.to_find_out:
            yield Paragraph("Nothing: ready to present as declared.")
            return
        reports = [self.reports[number] for number in numbers]
        if plan.changes:
            number = counted(len(plan.changes), "declared fact")
            proved = "the least there is" if plan.exact else (
                "found step by step; it is not proved that fewer would not do"
            )  # fmt: skip
            yield Paragraph(f"{number} to change, {proved}.")
            for job in jobs(plan, reports):
                yield self.job(job, numbers)
        if plan.to_find_out:
            number = counted(len(plan.to_find_out), "fact")
            yield Paragraph(f"{number} to find out and declare; what would do:")
            yield Bullets(tuple(self.to_find_out(change, numbers) for change in plan.to_find_out))
        if plan.fallen_away:
            rules = (self.rule(numbers[one.ruleset], one.rule)[1] for one in plan.fallen_away)
            titles = listed(list(dict.fromkeys(f"“{rule.title}”" for rule in rules)), "and")
            yield Paragraph(f"Not asked of you any more then: {titles}.")
        yield Paragraph("Then nothing is against the required rules: ready to present.")

    def job(self, job: Job, numbers: tuple[int, ...]) -> Entry:
        """A piece of work with its cautions in front, what it changes, and what it needs."""
        first, *others = job.fixes
        rows = [(label, text, "") for label, text in first.details]
        for fix in others:
            also = listed([self.names[numbers[number]] for number in fix.by], "and")
            rows.append((f"Also, for {also}", fix.text, ""))
            rows += [(label, text, "") for label, text in fix.details]
        rules: dict[str, list[str]] = {}
        for one in job.rules:
            name, rule = self.rule(numbers[one.ruleset], one.rule)
            rules.setdefault(f"{rule.title} [{rule.name}]", []).append(name)
        for title, names in rules.items():
            asked_by = f", asked by {listed(names, 'and')}" if len(numbers) > 1 else ""
            rows.append(("Rule", f"{title}{asked_by}", ""))
        blocks: list[Block] = [Paragraph(text, "CAUTION", "warning") for text in job.cautions]
        blocks.append(Bullets(tuple(self.changed(change, numbers) for change in job.changes)))
        blocks.append(Pairs(tuple(rows)))
        return Entry("change", "mixed", first.text, "", tuple(blocks))

    def changed(self, change: Change, numbers: tuple[int, ...]) -> tuple[str, str]:
        """A fact with what is declared and what would do."""
        rules, fact = self.fact(change.path, numbers)
        label = capitalized(label_of(change.path, rules))
        if fact.private:
            return label, KEPT
        assert change.old is not None
        old = value_text(change.path, change.old, rules)
        if bound_to_private(change.path, rules):
            return label, f"{old} is declared; what would do {HANGS_ON_PRIVATE}"
        return label, f"{old} is declared; {_would_do(change, rules)} would do"

    def to_find_out(self, change: Change, numbers: tuple[int, ...]) -> tuple[str, str]:
        """A fact that is not declared, or too coarsely, with how to find out."""
        rules, fact = self.fact(change.path, numbers)
        label = capitalized(label_of(change.path, rules))
        said = KEPT if fact.private else _would_do(change, rules)
        if not fact.private and bound_to_private(change.path, rules):
            said = f"what would do {HANGS_ON_PRIVATE}"
        if change.old is not None and not fact.private:
            said = f"{value_text(change.path, change.old, rules)} leaves it open; {said}"
        caution = f" CAUTION: {fact.caution}" if fact.caution else ""
        how = f" {how_to_look(fact)}" if fact.how else ""
        return label, f"{said}.{caution}{how}"

    def obstacle(self, obstacle: Obstacle, numbers: tuple[int, ...]) -> Iterator[Block]:
        """What stands in the way."""
        if not obstacle.facts:
            yield Paragraph(
                "There is no way: what the rules ask cannot be met together as declared, whatever"
                " is changed."
            )
        for path in obstacle.facts:
            rules, fact = self.fact(path, numbers)
            label = label_of(path, rules)
            value = next(
                report.declaration.values[path] for report in self.reports
                if path in report.declaration.values
            )  # fmt: skip
            said = KEPT if fact.private else value_text(path, value, rules)
            why = "that is for the inspector alone" if fact.for_the_inspector else (
                "that cannot be changed"
            )  # fmt: skip
            yield Paragraph(
                f"There is no way as long as {inside(label)} is as declared ({said}); {why}."
            )
        for one in obstacle.rules:
            number = numbers[one.ruleset]
            name, rule = self.rule(number, one.rule)
            inner: list[Block] = [
                Paragraph(capitalized(plain_demand(rule, self.readiness.rulesets[number])))
            ]
            inner += [Pairs(said) for said in [tuple(self.what_it_says(number, rule))] if said]
            title = f"in the way at {name}"
            yield Entry(title, "stricter", rule.title, rule.name, tuple(inner))

    def what_it_says(self, number: int, rule: Rule) -> Iterator[tuple[str, str, str]]:
        """What the author of a rule in the way says to do, where it is not let through."""
        titles = {each.name: each.title for each in self.readiness.rulesets[number].rules}
        for answer in self.reports[number].answers:
            if answer.rule == rule.name:
                for work in answer.fixes:
                    (label, text), *_ = work_lines(work, answer, titles)
                    yield f"{label}, by its author", text, ""

    # ---- looking up ----

    def rule(self, number: int, name: str) -> tuple[str, Rule]:
        """What the ruleset is called, and one of its rules."""
        rules = self.readiness.rulesets[number].rules
        return self.names[number], next(rule for rule in rules if rule.name == name)

    def fact(self, path: str, numbers: Sequence[int]) -> tuple[Rules, Fact]:
        """The first of the rulesets that knows a fact, and the fact."""
        several = (self.readiness.rulesets[number] for number in numbers)
        rules = next(rules for rules in several if path in rules.facts)
        return rules, rules.facts[path]


def worst(reports: Sequence[Report]) -> Verdict:
    """The verdict on all of them: the worst."""
    verdicts = {report.verdict for report in reports}
    return next(one for one in ("not-ready", "incomplete", "ready") if one in verdicts)


def _would_do(change: Change, rules: Rules) -> str:
    values = [value_text(change.path, value, rules) for value in (change.new, *change.others)]
    return f"{listed(values, 'or')} {change.further}".strip()


def _counts(way: Way) -> tuple[str, str]:
    match way:
        case Plan():
            return counted(len(way.changes), "fact"), counted(len(way.to_find_out), "fact")
        case Obstacle():
            return "no way", "nothing"
        case Undecided():
            return "undecided", "nothing"


def _left(change: str, find_out: str) -> Iterator[str]:
    """What is left to do, where there is something."""
    if change in ("no way", "undecided"):
        yield "there is no way" if change == "no way" else "what to change is undecided"
        return
    if not change.startswith("0 "):
        yield f"{change} to change"
    if not find_out.startswith("0 "):
        yield f"{find_out} to find out"
