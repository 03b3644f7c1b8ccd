"""A deliberately naive second evaluator: what a rule file answers, straight from its tree.

It knows nothing of the compiler, of its dates, of its units or of its numbers (`almanac`,
`factors`, `kleene` and `sums` are the tests' own). A date known to a span is every day of that
span, one after the other; a limit by rows is the test with each row's value; a formula is what
it says with its arguments written in; the connectives are tables. It is slow and reads like
the language page.

It takes a self-contained file: no `use`, no `supplements`. Facts, limits and lists with
a one-word name must not be choice words too.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from itertools import combinations, product

import sums
from almanac import add, completed_years, cut, days_of, days_of_code
from factors import in_base, number
from kleene import AND, NOT, OR, Finding, asking, joined, union
from writing_in import Rows, called

from trackprep.syntax import tree

STATUS = {
    # (all `when`s, all `require`s): the answer
    (False, True): "not-asked", (False, False): "not-asked", (False, None): "not-asked",
    (True, True): "met", (True, False): "not-met", (True, None): "unsettled",
    (None, True): "met", (None, False): "unsettled", (None, None): "unsettled",
}  # fmt: skip
WORST_FIRST = ("not-met", "unsettled", "met", "not-asked")


@dataclass(frozen=True)
class Answer:
    """What one rule answers; both sets are empty unless it is `unsettled`."""

    status: str
    declare: frozenset[str] = frozenset()
    narrow: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Outcome:
    """Every rule's answer by name, in order, and the verdict."""

    answers: dict[str, Answer]
    verdict: str


def constant(value: tree.Value):
    """A value as the rules compare it: exact number, day, word or truth."""
    match value:
        case tree.Number() | tree.Quantity():
            return in_base(value)
        case tree.Day(text):
            return date.fromisoformat(text)
        case tree.Word(text):
            return text
        case tree.Flag(flag):
            return flag


COMPARE = {
    "at least": lambda order: order >= 0,
    "at most": lambda order: order <= 0,
    "more than": lambda order: order > 0,
    "less than": lambda order: order < 0,
}


def bounds_of(predicate: tree.Predicate) -> tuple[tree.Expression, ...]:
    """What a predicate compares with."""
    match predicate:
        case tree.Between(low, high):
            return low, high
        case tree.Is(bound) | tree.Compare(_, bound) | tree.OnOr(_, bound):
            return (bound,)
    raise AssertionError(predicate)


@dataclass(frozen=True)
class Model:
    """A rule file with what is declared, ready to be asked."""

    event: date
    types: dict[str, tree.Type] = field(default_factory=dict)
    derived: dict[str, tree.Expression | tree.Condition] = field(default_factory=dict)
    limits: dict[str, tree.Value | tuple[tree.Row, ...]] = field(default_factory=dict)
    lists: dict[str, tuple[tree.Word, ...]] = field(default_factory=dict)
    formulas: dict[str, tree.Formula] = field(default_factory=dict)
    tables: dict[str, tree.Table] = field(default_factory=dict)
    values: dict[str, object] = field(default_factory=dict)  # a date: a tuple of days
    part: str = ""

    # -- names

    def path(self, name: str) -> str:
        """The path of a fact, with the part for `it`."""
        return self.part + name[2:] if name == "it" or name.startswith("it.") else name

    def definition(self, expression):
        """The expression, or what it derives from; a formula with its arguments written in."""
        match expression:
            case tree.Word(name) | tree.Reference(name) if self.path(name) in self.derived:
                return self.definition(self.derived[self.path(name)])
            case tree.Group(inner):
                return self.definition(inner)
            case tree.Call(name, arguments) if name in self.formulas:
                return self.definition(called(self.formulas[name], arguments))
        return expression

    def named(self, node) -> Iterator[str]:
        """The facts and limits a test names, with derived ones and formulas replaced."""
        match self.definition(node):
            case tree.Test(subject, predicate):
                yield from self.named(subject)
                yield from self.named(predicate)
            case tree.Is(bound) | tree.Compare(_, bound) | tree.OnOr(_, bound):
                yield from self.named(bound)
            case tree.Between(low, high):
                yield from self.named(low)
                yield from self.named(high)
            case tree.Sum(first, rest) | tree.Product(first, rest):
                for term in (first, *(term for _, term in rest)):
                    yield from self.named(term)
            case tree.Age(of, on) | tree.CompletedYears(of, on):
                yield from self.named(of)
                yield from self.named(on)
            case tree.Call(_, parts) | tree.All(parts) | tree.AnyOf(parts):
                for part in parts:
                    yield from self.named(part)
            case tree.Rounded(inner) | tree.Not(inner):
                yield from self.named(inner)
            case Rows(rows):
                for condition, value in rows:
                    yield from self.named(condition)
                    yield from self.named(value)
            case tree.Word(name) | tree.Reference(name):
                if self.path(name) in self.types or name in self.limits:
                    yield self.path(name)

    # -- expressions, every date on one day

    def readings(self, expression: tree.Expression) -> set:
        """All that an expression may be; None where it has no value.

        More than one where it is unknown which row of a formula holds.
        """
        match self.definition(expression):
            case tree.Word(name) | tree.Reference(name):
                return {self.known(self.path(name), name)}
            case tree.Sum(first, rest):
                totals = self.readings(first)
                for mark, term in rest:
                    sign = 1 if mark == "+" else -1
                    if any(isinstance(total, date) for total in totals):
                        totals = {self.shifted(day, term, sign) for day in totals}
                    else:
                        totals = self.worked(mark, totals, self.readings(term))
                return totals
            case tree.Product(first, rest):
                totals = self.readings(first)
                for sign, factor in rest:
                    totals = self.worked(sign, totals, self.readings(factor))
                return totals
            case tree.CompletedYears(of, on):
                (born,), (then,) = self.readings(of), self.day_of(on)
                there = born is not None and then is not None
                return {Fraction(completed_years(born, then)) if there else None}
            case tree.Call(name, (argument,)) if name in self.tables:
                rows = self.tables[name].rows
                listed = {constant(row.choice): row.value and constant(row.value) for row in rows}
                return {listed.get(value) for value in self.readings(argument)}
            case tree.Call(name, arguments):
                return self.worked(name, *map(self.readings, arguments))
            case tree.Rounded(inner, step, down):
                how = "rounded down" if down else "rounded"
                return self.worked(how, self.readings(inner), {in_base(step)})
            case Rows(rows):
                return {its for value in self.in_play(rows) for its in self.readings(value)}
            case value:
                return {constant(value)}

    def known(self, path: str, name: str):
        """What a fact, a limit or a word is; None where it is undeclared."""
        if path in self.types:
            value = self.values.get(path)
            return value[0] if isinstance(value, tuple) else value
        if path in self.limits:
            return constant(self.limits[path])
        year_start = date(self.event.year, 1, 1)
        return {"event.date": self.event, "event.year-start": year_start}.get(path, name)

    def worked(self, how: str, *sides: set) -> set:
        """The function or sign `how` of everything that its sides may be."""
        return {None if None in each else sums.worked_out(how, *each) for each in product(*sides)}

    def in_play(self, rows) -> Iterator[tree.Expression]:
        """What the rows that may be the first that holds say."""
        for condition, value in rows:
            holds = True if condition is None else self.answer(condition).truth
            if holds is not False:
                yield value
            if holds is True:
                return

    def shifted(self, day: date, duration: tree.Quantity | tree.Word, sign: int) -> date:
        """The day and a duration, which may be a limit's."""
        if isinstance(duration, tree.Word):
            duration = self.limits[duration.text]
        each = {"days": 1, "weeks": 7, "months": 1, "years": 12}[duration.unit]
        count = sign * int(number(duration.number) * each)
        return add(day, count, "days" if duration.unit in ("days", "weeks") else "months")

    def day_of(self, on: tree.Day | tree.Reference | None) -> set:
        return {self.event} if on is None else self.readings(on)

    # -- tests, every date on one day

    def truths(self, test: tree.Test) -> set[bool | None]:
        """Every truth that a test may have: of each reading of each side."""
        subject, predicate = self.definition(test.subject), test.predicate
        if isinstance(subject, tree.Age):
            return {self.age_holds(subject, predicate)}
        if isinstance(predicate, tree.IsOneOf | tree.Includes):
            return {
                None if value is None else self.chosen(value, predicate)
                for value in self.readings(subject)
            }
        kind = self.types.get(self.path(getattr(subject, "path", getattr(subject, "text", ""))))
        words = kind.choices if isinstance(kind, tree.Choices) else ()
        ranks = {choice.word.text: rank for rank, choice in enumerate(words)}
        sides = [
            {None if value is None else Fraction(ranks[value]) for value in side} if ranks else side
            for side in map(self.readings, (subject, *bounds_of(predicate)))
        ]
        return {
            None if None in each else self.predicate_holds(predicate, *each)
            for each in product(*sides)
        }

    def chosen(self, value, predicate: tree.IsOneOf | tree.Includes) -> bool:
        wanted = self.words(predicate.words)
        if isinstance(predicate, tree.IsOneOf):
            return (value in wanted) != predicate.negated
        how = predicate.how
        return wanted <= value if how == "all" else bool(wanted & value) == (how == "any")

    def predicate_holds(self, predicate: tree.Predicate, value, *bounds) -> bool | None:
        """Whether it holds of the value; None where that cannot be told from a bound."""
        orders = [sums.order(value, bound) for bound in bounds]
        if None in orders:
            return None
        match predicate:
            case tree.Is(_, negated):
                return (orders[0] == 0) != negated
            case tree.Compare(comparison):
                return COMPARE[comparison](orders[0])
            case tree.Between():
                return orders[0] >= 0 and orders[1] <= 0
            case tree.OnOr(side):
                return orders[0] >= 0 if side == "after" else orders[0] <= 0
        raise AssertionError(predicate)

    def age_holds(self, age: tree.Age, predicate: tree.Compare | tree.Between) -> bool | None:
        if isinstance(predicate, tree.Between):
            ends = (("at least", predicate.low), ("at most", predicate.high))
            both = [self.age_holds(age, tree.Compare(*end)) for end in ends]
            return None if None in both else all(both)
        (made,), (on,) = self.readings(age.of), self.day_of(age.on)
        if made is None or on is None:
            return None
        reached = self.shifted(cut(made, age.grain), predicate.bound, 1)
        return COMPARE[predicate.comparison](sums.order(cut(on, age.grain), reached))

    def words(self, words: tuple[tree.Word, ...]) -> frozenset[str]:
        """The words, with a list's words for its name."""
        listed = (self.lists.get(word.text, (word,)) for word in words)
        return frozenset(word.text for several in listed for word in several)

    def test(self, test: tree.Test) -> Finding:
        """A test: by rows, then on every day that its dates may mean."""
        names = list(self.named(test))
        for name in names:
            if isinstance(rows := self.limits.get(name), tuple):
                return self.by_rows(test, name, rows)
        facts = [name for name in names if name in self.types]
        undeclared = frozenset(path for path in facts if path not in self.values)
        dates = {
            path: self.values[path] for path in facts if isinstance(self.values.get(path), tuple)
        }
        truths: set[bool | None] = set()
        for chosen in product(*dates.values()):
            days = {path: (day,) for path, day in zip(dates, chosen, strict=True)}
            truths |= replace(self, values={**self.values, **days}).truths(test)
            if len(truths) > 1:
                coarse = frozenset(path for path in dates if len(dates[path]) > 1)
                return Finding(None, undeclared, coarse)
        truth = truths.pop()
        return Finding(None, undeclared) if truth is None else Finding(truth)

    def by_rows(self, test: tree.Test, name: str, rows: tuple[tree.Row, ...]) -> Finding:
        findings, asked = [], []
        for row in rows:
            when = Finding(True) if row.condition is None else self.answer(row.condition)
            if when.truth is False:
                continue
            findings.append(replace(self, limits={**self.limits, name: row.value}).test(test))
            asked.append(when)
            if when.truth is True:
                break
        truths = {finding.truth for finding in findings}
        return Finding(truths.pop()) if truths in ({True}, {False}) else asking([*asked, *findings])

    # -- conditions

    def answer(self, condition: tree.Condition) -> Finding:
        match condition:
            case tree.Not(inner):
                finding = self.answer(inner)
                return replace(finding, truth=NOT[finding.truth])
            case tree.All(parts):
                return joined([self.answer(part) for part in parts], AND, True)
            case tree.AnyOf(parts):
                return joined([self.answer(part) for part in parts], OR, False)
            case tree.Counted():
                return self.answer(self.spelled_out(condition))
            case tree.Bare(subject):
                definition = self.definition(subject)
                if isinstance(definition, tree.Word | tree.Reference):
                    return self.test(tree.Test(definition, tree.Is(tree.Flag(True))))
                return self.answer(definition)
            case tree.Test():
                return self.test(condition)

    def spelled_out(self, counted: tree.Counted) -> tree.Condition:
        """`at least 2 of P, Q, R` as `(P and Q) or (P and R) or (Q and R)`, and so on."""
        paths: list[str] = []
        for item in counted.items:
            if isinstance(item, tree.Pattern):
                paths += [path for path in self.types if path.startswith(f"{item.path}.")]
            else:
                paths.append(item.path)
        tests = [tree.Test(tree.Reference(path), counted.predicate) for path in paths]
        match counted.quantifier:
            case "each":
                return tree.All(tuple(tests))
            case "some":
                return tree.AnyOf(tuple(tests))
            case "none":
                return tree.Not(tree.AnyOf(tuple(tests)))
            case "at least":
                ways = combinations(tests, int(counted.least))
                return tree.AnyOf(tuple(tree.All(way) for way in ways))

    # -- rules

    def rule(self, rule: tree.Rule, section: tuple[tree.When, ...]) -> Answer:
        """The answer; of several parts the worst, with what the parts that have it ask."""
        if rule.parts and not self.part:
            answers = [replace(self, part=part.path).rule(rule, section) for part in rule.parts]
            status = min((answer.status for answer in answers), key=WORST_FIRST.index)
            having = [answer for answer in answers if answer.status == status]
            return Answer(
                status, union(one.declare for one in having), union(one.narrow for one in having)
            )
        asked, held = [Finding(True)], [Finding(True)]
        for detail in (*section, *rule.details):
            match detail:
                case tree.When(condition, negated):
                    asked.append(self.answer(tree.Not(condition) if negated else condition))
                case tree.Demand(_, condition):
                    held.append(self.answer(condition))
        applies, holds = joined(asked, AND, True), joined(held, AND, True)
        status = STATUS[applies.truth, holds.truth]
        if status != "unsettled":
            return Answer(status)
        return Answer(status, applies.declare | holds.declare, applies.narrow | holds.narrow)


def outcome(
    rules: tree.RuleFile, declared: Mapping[str, tuple[tree.Value, ...]], event: date
) -> Outcome:
    """What every rule of a self-contained file answers on the event's date, and the verdict.

    The inspector's facts are what `here` makes them; a rider's declaration leaves them out.
    """
    model = _model(rules, declared, event)
    inspectors = {
        fact.path
        for fact in rules.statements
        if isinstance(fact, tree.Fact) and tree.Mark("for the inspector") in fact.marks
    }
    answers: dict[str, Answer] = {}
    statuses = set()
    section: tuple[tree.When, ...] = ()
    for statement in rules.statements:
        if isinstance(statement, tree.Section):
            section = statement.conditions
        elif isinstance(statement, tree.Rule):
            answer = answers[statement.name] = model.rule(statement, section)
            keywords = {one.keyword for one in statement.details if isinstance(one, tree.Demand)}
            waits = answer.declare and answer.declare <= inspectors and not answer.narrow
            if "require" in keywords and not waits:
                statuses.add(answer.status)
    if "not-met" in statuses:
        return Outcome(answers, "not-ready")
    return Outcome(answers, "incomplete" if "unsettled" in statuses else "ready")


def _model(
    rules: tree.RuleFile, declared: Mapping[str, tuple[tree.Value, ...]], event: date
) -> Model:
    kinds = {kind.name: kind.type for kind in rules.statements if isinstance(kind, tree.Kind)}
    model = Model(event)
    given = dict(declared)
    for statement in rules.statements:
        match statement:
            case tree.Fact(path, _, tree.OfKind(name)):
                model.types[path] = kinds[name]
            case tree.Fact(path, _, its_type):
                model.types[path] = its_type
            case tree.Derived(path, _, _, definition):
                model.derived[path] = definition
            case tree.Limit(name, _, value):
                model.limits[name] = value
            case tree.List(name, _, words):
                model.lists[name] = words
            case tree.Formula(name):
                model.formulas[name] = statement
            case tree.Table(name):
                model.tables[name] = statement
            case tree.Here(tree.Given(path, values)):
                given[path] = values
    for path, values in given.items():
        if (known := _known(model.types[path], values, event)) is not None:
            model.values[path] = known
    return model


def _known(kind: tree.Type, given: tuple[tree.Value, ...], event: date):
    """A declared value; of a date, the days it may mean; None where none of them is left."""
    match kind:
        case tree.Choices("several of"):
            return frozenset(word.text for word in given)
        case tree.Plain("date" | "past date" | "week code" as form):
            text = given[0].text
            days = days_of_code(text) if form == "week code" else days_of(text)
            return days if form == "date" else tuple(day for day in days if day <= event) or None
    return constant(given[0])
