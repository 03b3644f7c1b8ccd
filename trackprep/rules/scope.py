"""The names that conditions may use, and the nearest one to a name that is none."""

from attrs import field

from trackprep.frozen import frozen
from trackprep.rules import model
from trackprep.rules.definitions import DerivedStatement
from trackprep.rules.functions import FORMS
from trackprep.rules.likeness import meant_fact
from trackprep.rules.reporting import Reporter
from trackprep.rules.statements import NamedStatement, Statements
from trackprep.rules.vocabularies import Vocabulary
from trackprep.source import Place


@frozen(eq=False)
class Scope:
    """Facts, limits and lists by name; `missing` where a file that may define more was not read."""

    vocabulary: Vocabulary
    statements: Statements
    missing: bool
    reporter: Reporter
    _below: dict[str, list[str]] = field(init=False)
    broken: set[str] = field(factory=set)
    """Limits and branches with a mistake that is reported; what names them is no second one."""

    @_below.default
    def _every_branch(self) -> dict[str, list[str]]:
        branches: dict[str, list[str]] = {}
        for path in (*self.vocabulary.facts, *self.vocabulary.derived):
            for place, sign in enumerate(path):
                if sign == ".":
                    branches.setdefault(path[:place], []).append(path)
        return branches

    def find(self, path: str) -> model.Fact | DerivedStatement | None:
        """The fact or derived fact at a path, without a word if there is none."""
        return self.vocabulary.facts.get(path) or self.vocabulary.derived.get(path)

    def limit(self, name: str) -> NamedStatement | None:
        """The limit of that name."""
        return self.statements.limits.get(name)

    def words(self, name: str) -> NamedStatement | None:
        """The list of that name."""
        return self.statements.lists.get(name)

    def excused(self, name: str) -> bool:
        """Whether a name may be unknown because of a mistake that is reported already."""
        if self.missing or name in self.vocabulary.unread or name in self.broken:
            return True
        return any(name.startswith(f"{branch}.") for branch in self.broken)

    def below(self, path: str) -> list[str]:
        """The paths below a branch, in the order of the vocabulary."""
        return self._below.get(path, [])

    def unknown(self, name: str, place: Place, *, limits: bool = True) -> None:
        """Reports a name that is no fact (nor limit), with the nearest that is."""
        if self.excused(name):
            return
        if inside := self.below(name):
            self.reporter.report(
                "branch-not-fact", f"`{name}` is no fact itself; facts stand below it", place,
                expected="one of its facts: " + ", ".join(f"`{p}`" for p in inside[:4]),
                suggestion=f"write `{inside[0]}`, or `each of {name}.*` with a test for all",
            )  # fmt: skip
            return
        if limits and self.without_brackets(name, place):
            return
        what = "fact, limit or list" if limits and "." not in name else "fact"
        statements = self.statements
        others = (*self.vocabulary.derived, *statements.limits, *statements.lists)
        found = meant_fact(name, self.vocabulary.facts, others)
        self.reporter.report(
            "unknown-fact", f"there is no {what} called `{name}`", place,
            expected="a fact of the vocabulary;"
            " `trackprep facts` lists them, and finds one by a word",
            suggestion=f"write `{found}`" if found else f'define it: `fact {name} "Label" …`',
        )  # fmt: skip

    def without_brackets(self, name: str, place: Place) -> bool:
        """Whether a name is that of a formula, table or function, which is reported."""
        found = self.vocabulary.calculations.get(name)
        if found is None and name not in FORMS:
            return False
        kind = "function" if found is None else found.sort
        self.reporter.report(
            "brackets-missing",
            f"`{name}` is a {kind}, and nothing stands here to work it out from", place,
            expected="values in brackets behind the name",
            suggestion=f"write `{found.form if found else FORMS[name]}`,"
            " with values of your own in the brackets",
        )  # fmt: skip
        return True
