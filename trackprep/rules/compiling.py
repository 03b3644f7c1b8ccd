"""Loaded files to the checked model: every problem found, or the rules as they are meant."""

from collections.abc import Iterable
from pathlib import Path

from attrs import evolve

from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.rules import model
from trackprep.rules.acceptances import check_acceptances
from trackprep.rules.checking import Conditions
from trackprep.rules.derived import derived_facts
from trackprep.rules.examples import compiled_examples
from trackprep.rules.formulas import Formulas
from trackprep.rules.headings import days_valid, heading, own_edition
from trackprep.rules.limits import Limits
from trackprep.rules.loading import Loaded
from trackprep.rules.reporting import Reporter
from trackprep.rules.scope import Scope
from trackprep.rules.sections import Sections
from trackprep.rules.supplements import supplemented
from trackprep.rules.vocabularies import vocabulary
from trackprep.rules.work import Works, report_circles
from trackprep.syntax import tree


@frozen(eq=False)
class Compiled:
    """What came of a ruleset: its meaning, or None where it has problems.

    `loaded` is what it was made of, where a file could be read.
    """

    rules: model.Rules | None
    problems: tuple[Problem, ...]
    loaded: Loaded | None = None


def compiled(loaded: Loaded, reporter: Reporter, folder: Path | None = None) -> Compiled:
    """The meaning of a loaded ruleset; `folder` is where its examples' files lie."""
    made = _Compilation(loaded, reporter, folder).rules()
    problems = reporter.in_order()
    return Compiled(None if problems else made, problems, loaded)


def without_examples(loaded: Loaded) -> Compiled:
    """The meaning of a loaded ruleset that another supplements, as it stands by itself."""
    reporter = Reporter()
    made = _Compilation(loaded, reporter, None).whole()
    problems = reporter.in_order()
    return Compiled(None if problems else made, problems, loaded)


def chain(loaded: Loaded) -> list[Loaded]:
    """The file and its bases, the deepest first."""
    chain = [loaded]
    while chain[-1].base is not None:
        chain.append(chain[-1].base)
    return chain[::-1]


def _implicit(chain: Iterable[Loaded]) -> frozenset[str]:
    """The names of the files that are taken in because a file named none."""
    waiting = [used for loaded in chain if loaded.implicit for used in loaded.uses]
    return frozenset(used.name for loaded in waiting for used in loaded.files)


class _Compilation:
    """One ruleset on its way from statements to meaning."""

    def __init__(self, loaded: Loaded, reporter: Reporter, folder: Path | None) -> None:
        self.loaded, self.reporter, self.folder = loaded, reporter, folder
        words = vocabulary(loaded)
        for problem in words.problems:
            reporter.add(problem)
        self.chain = chain(loaded)
        self.statements = supplemented(self.chain, reporter)
        missing = any(file.missing for file in self.chain)
        self.scope = Scope(words, self.statements, missing, reporter)
        self.unread = frozenset(u.name for file in self.chain for u in file.file.unread if u.name)
        self.formulas = Formulas(self.scope)
        self.conditions = Conditions(self.scope, self.formulas)

    def rules(self) -> model.Rules:
        """The whole with its examples, which are read against it."""
        made = self.whole()
        for file in self.chain:
            check_acceptances(file.file.statements, self.reporter)
        statements = [s for s in self.loaded.file.statements if isinstance(s, tree.Example)]
        valid_unread = any(u.keyword == "valid" for file in self.chain for u in file.file.unread)
        examples = compiled_examples(
            statements, made, self.scope, self.folder, self.unread, valid_unread
        )
        return evolve(made, examples=examples)

    def whole(self) -> model.Rules:
        """All but the examples; the order is that in which files are told to have problems."""
        head = heading(self.loaded, self.reporter)
        self.formulas.want(self.own_calculations(head.keyword == "vocabulary"))
        named = Limits(self.conditions)
        named.names_apart()
        limits, lists, here = named.limits(), named.lists(), named.here()
        sections, rules = self.asked()
        derived = derived_facts(self.conditions, self.formulas, _implicit(self.chain))
        settings, notes = self.statements.settings, self.statements.notes
        return model.Rules(
            name=head.name,
            title=head.title,
            edition=own_edition(self.loaded),
            organizer=settings.get("organizer", ""),
            venue=settings.get("venue", ""),
            contact=settings.get("contact", ""),
            valid=days_valid(self.statements.valid, self.reporter),
            notes=tuple(notes["note"]),
            brings=tuple(notes["bring"]),
            facts=self.scope.vocabulary.facts,
            derived=derived,
            formulas=self.formulas.formulas(),
            tables=self.formulas.tables(),
            limits=limits,
            lists=lists,
            here=here,
            sections=sections,
            rules=rules,
            withdrawn=dict(self.statements.withdrawn),
            base=self.chain[-2].used.name if len(self.chain) > 1 else None,
            vocabulary=head.keyword == "vocabulary",
            files=self.loaded.files,
        )

    def own_calculations(self, vocabulary: bool) -> Iterable[str]:
        """The formulas and tables that are compiled without being called.

        Of a vocabulary all, since somebody may want any of them; of a ruleset those of its
        own files, so that a mistake in one is found.
        """
        if vocabulary:
            return self.scope.vocabulary.calculations
        statements = (s for file in self.chain for s in file.file.statements)
        return [
            s.name
            for s in statements
            if isinstance(s, tree.Formula | tree.Table)
            and s.name in self.scope.vocabulary.calculations
        ]

    def asked(self) -> tuple[tuple[model.Section, ...], tuple[model.Rule, ...]]:
        """The sections, and the rules in the order in which reports show them."""
        compiling = Sections(self.conditions, Works(self.conditions, self.unread))
        sections = tuple(compiling.section(s) for s in self.statements.sections)
        for clashing in self.statements.clashing:
            compiling.rule(clashing)  # for the mistakes in it; none of it is asked
        rules = _in_report_order([compiling.rule(r) for r in self.statements.rules.values()])
        report_circles(rules, self.statements, self.reporter)
        return sections, rules


def _in_report_order(rules: list[model.Rule]) -> tuple[model.Rule, ...]:
    """Section by section as they first come, required before recommended in each."""
    titles: dict[str, int] = {}
    for rule in rules:
        titles.setdefault(rule.section, len(titles))
    return tuple(
        sorted(rules, key=lambda rule: (titles[rule.section], rule.level == "recommended"))
    )
