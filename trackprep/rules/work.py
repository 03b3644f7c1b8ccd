"""The work of rules: what fixes a fault, what is undone before the ride home, in which order."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.rules.checking import Conditions, all_of
from trackprep.rules.facts import proses, read_duration
from trackprep.rules.reporting import Reporter, nearest
from trackprep.rules.statements import Statements
from trackprep.syntax import tree

MOST_SHOWN = 8
"""How many names of a circle a message gives."""


class Works:
    """Compiles the `fix`es and `undo`s of rules.

    Args:
        unread: Names of rules that could not be read; what names them is no mistake.
    """

    def __init__(self, conditions: Conditions, unread: frozenset[str]) -> None:
        self.conditions, self.scope, self.unread = conditions, conditions.scope, unread
        self.statements = conditions.scope.statements
        self.reporter = conditions.scope.reporter

    def under(
        self, keyword: str, details: Iterable[tree.RuleDetail], part: str | None
    ) -> tuple[model.Work, ...]:
        """The work under `fix` or under `undo`; `part` is what `it` stands for."""
        return tuple(
            self.work(d, part) for d in details if isinstance(d, tree.Work) and d.keyword == keyword
        )

    def work(self, work: tree.Work, part: str | None) -> model.Work:
        """Its texts, durations and parts as they are meant; `part` is what `it` stands for."""
        made: dict[str, Any] = {"cautions": proses(work.details, "caution")}
        whens: list[c.Condition | None] = []
        for detail in work.details:
            match detail:
                case tree.Takes(duration):
                    made["takes"] = read_duration(duration, self.reporter)
                case tree.Parts(parts):
                    made["parts"] = made.get("parts", ()) + tuple(map(self.part, parts))
                case tree.Tools(names):
                    made["tools"] = made.get("tools", ()) + names
                case tree.After(rules):
                    made["after"] = made.get("after", ()) + self.after(rules)
                case tree.Where(where):
                    made["where"] = where
                case tree.When():
                    whens.append(self.conditions.when(detail, part))
                case _:
                    pass
        return model.Work(work.text, when=all_of(whens), **made)

    def part(self, part: tree.Part) -> model.Part:
        if part.allow is None:
            return model.Part(part.name)
        return model.Part(part.name, read_duration(part.allow, self.reporter, of_work=False))

    def after(self, names: tuple[tree.Word, ...]) -> tuple[str, ...]:
        """The rules named, without those that were withdrawn."""
        found: list[str] = []
        for word in names:
            if word.text in self.statements.rules:
                found.append(word.text)
            elif word.text not in self.statements.withdrawn:
                self.unknown_rule(word)
        return tuple(found)

    def unknown_rule(self, word: tree.Word) -> None:
        if word.text in self.unread or self.scope.missing:
            return
        near = nearest(word.text, [*self.statements.rules])
        self.reporter.report(
            "unknown-rule", f"there is no rule called `{word.text}`", word.place,
            expected="the name of a rule of this ruleset",
            suggestion=f"write `{near}`" if near else None,
        )  # fmt: skip


def report_circles(
    rules: tuple[model.Rule, ...], statements: Statements, reporter: Reporter
) -> None:
    """Reports work that would have to be done before itself."""
    before: dict[str, set[str]] = {
        rule.name: {name for asked in rule.asked for fix in asked.fixes for name in fix.after}
        for rule in rules
    }
    for circle in circles(before):
        way = " after ".join(f"`{name}`" for name in circle[:MOST_SHOWN])
        reporter.report(
            "work-in-circle",
            f"this work would come before itself: {way}" + (" …" if circle[MOST_SHOWN:] else ""),
            statements.rules[circle[0]].place,
            suggestion="take one of the `after`s out",
        )


def circles(before: Mapping[str, set[str]]) -> Iterator[list[str]]:
    """The ways from a name back to itself that one walk over all names meets, each name once."""
    done: set[str] = set()
    for start in before:
        way: list[str] = []
        places: dict[str, int] = {}
        waiting = [(start, iter(sorted(before[start])))] if start not in done else []
        while waiting:
            name, following = waiting[-1]
            if name not in places:
                places[name] = len(way)
                way.append(name)
            step = next((n for n in following if n not in done), None)
            if step is None:
                waiting.pop()
                done.add(way.pop())
                del places[name]
            elif step in places:
                yield [*way[places[step] :], step]
                done.update(way[places[step] :])
            else:
                waiting.append((step, iter(sorted(before.get(step, ())))))
