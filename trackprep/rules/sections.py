"""Sections and the rules under them: what each asks, when, and of which parts."""

from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.rules.checking import Conditions, all_of
from trackprep.rules.facts import prose, proses, source_of
from trackprep.rules.reporting import nearest
from trackprep.rules.statements import RuleStatement
from trackprep.rules.work import Works
from trackprep.syntax import tree

MOST_PARTS = 50
"""Of how many parts one rule may ask the same."""


class Sections:
    """Compiles sections and rules; the conditions of a section once for all of its rules."""

    def __init__(self, conditions: Conditions, works: Works) -> None:
        self.conditions, self.works, self.scope = conditions, works, conditions.scope
        self.reporter = conditions.scope.reporter
        self.known: dict[int, c.Condition | None] = {}

    def section(self, statement: tree.Section) -> model.Section:
        return model.Section(
            statement.title,
            self.section_condition(statement),
            proses(statement.details, "note"),
            proses(statement.details, "bring"),
        )

    def section_condition(self, section: tree.Section) -> c.Condition | None:
        """When the section is asked at all; None for always."""
        if not section.conditions:
            return None
        key = id(section.conditions)
        if key not in self.known:
            self.known[key] = all_of([self.conditions.when(w) for w in section.conditions])
        return self.known[key]

    def rule(self, rule: RuleStatement) -> model.Rule:
        """The rule with what it asks of each of its parts."""
        self.whole(rule)
        self.known_parts(rule)
        parts: list[str | None] = [part.path for part in rule.parts[:MOST_PARTS]] or [None]
        details = rule.details
        return model.Rule(
            rule.name,
            rule.title,
            rule.section.title if rule.section else "",
            "recommended" if _only_recommends(rule) else "required",
            tuple(self.asked(rule, part) for part in parts),
            rule.core,
            prose(details, "reason"),
            prose(details, "inspect"),
            proses(details, "caution"),
            proses(details, "note"),
            proses(details, "bring"),
            source_of(details),
            rule.base,
            rule.change,
            rule.origin,
        )

    def whole(self, rule: RuleStatement) -> None:
        """Reports a rule that demands nothing, or both requires and recommends."""
        demands = rule.demands
        if not demands and not rule.damaged:
            self.reporter.report(
                "nothing-demanded", f"the rule `{rule.name}` demands nothing", rule.place,
                expected="`require CONDITION`, or `recommend CONDITION`",
                suggestion="add a line below it, such as `require …`",
            )  # fmt: skip
        if len({demand.keyword for demand in demands}) > 1:
            self.reporter.report(
                "required-and-recommended", f"`{rule.name}` both requires and recommends",
                demands[-1].place, suggestion="make two rules of it",
            )  # fmt: skip

    def known_parts(self, rule: RuleStatement) -> None:
        if len(rule.parts) > MOST_PARTS:
            self.reporter.report(
                "too-large", f"`{rule.name}` asks the same of more than {MOST_PARTS} parts",
                rule.place, suggestion="split it into several rules",
            )  # fmt: skip
        for part in rule.parts:
            if self.scope.find(part.path) is None and not self.scope.below(part.path):
                self.unknown_part(part)
                self.scope.broken.add(part.path)

    def unknown_part(self, part: tree.Reference) -> None:
        """Reports a part below which no fact stands, with the parts beside it that have some."""
        if self.scope.excused(part.path):
            return
        branch = part.path.rpartition(".")[0]
        beside = {
            path[: (path + ".").index(".", len(branch) + 1)] for path in self.scope.below(branch)
        }
        near = nearest(part.path, sorted(beside))
        listed = ", ".join(f"`{path}`" for path in sorted(beside)[:6])
        self.reporter.report(
            "unknown-fact", f"no fact stands below `{part.path}`", part.place,
            expected="a part that has facts" + (f", such as {listed}" if listed else ""),
            suggestion=f"write `{near}`" if near else None,
        )  # fmt: skip

    def asked(self, rule: RuleStatement, part: str | None) -> model.Asked:
        details = rule.details
        whens = [self.conditions.when(d, part) for d in details if isinstance(d, tree.When)]
        if rule.section is not None and rule.section.conditions:
            whens.insert(0, self.section_condition(rule.section))
        demands = [self.conditions.whole(d.condition, part) for d in rule.demands]
        return model.Asked(
            part,
            all_of(whens) or c.ALWAYS,
            all_of(demands) or c.ALWAYS,
            self.works.under("fix", details, part),
            self.works.under("undo", details, part),
        )


def _only_recommends(rule: RuleStatement) -> bool:
    return {demand.keyword for demand in rule.demands} == {"recommend"}
