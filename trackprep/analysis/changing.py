"""One declaration before some rulesets: what may change, what has to stay, what has to hold."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import groupby

from attrs import define, field

from trackprep.analysis.declared_regions import DeclaredRegions
from trackprep.analysis.inspector import holds_nobody_up
from trackprep.analysis.sides import SharedFacts, Side
from trackprep.analysis.space import Space
from trackprep.backends.checks import holds, prepared
from trackprep.dates import Span
from trackprep.explanations.mentions import demanded_in, facts_in, rows_in
from trackprep.frozen import frozen
from trackprep.rules.conditions import Condition
from trackprep.rules.model import Asked, Rule, Rules
from trackprep.rules.values import Value
from trackprep.truth import Truth


@frozen(eq=False)
class Stay:
    """A condition that decides what is asked, and stays as it is declared.

    Attributes:
        facts: Those that it hangs on.
        needy: Whether the rule is not met as declared, or open, so that not being asked
            would be an escape.
    """

    literal: int
    facts: tuple[str, ...]
    number: int
    condition: Condition
    truth: bool
    needy: bool


@frozen(eq=False)
class _Part:
    """What a required rule asks of one part, and its literals.

    Attributes:
        asked_for_certain: That its `when` holds.
        maybe_asked: That its `when` does not fail.
        goal: That it lets through, or waits for the inspector alone.
    """

    number: int
    rule: Rule
    asked: Asked
    asked_for_certain: int
    maybe_asked: int
    goal: int


@define(eq=False)
class Changing:
    """The literals of everything that the least changes hang on.

    Attributes:
        values: What is declared and known on the day.
        facts: Those that the required rules ask for, in reading order.
        kept: For each of them that is declared: that it stays so.
        fixed: What is never changed: unchangeable facts, and those of the inspector's.
        goals: That each rule lets through, or waits for the inspector alone.
        by_rule: The same for whole rules, with the rules that come to it.
        stays: What decides which rules, and which rows of limits, are asked.
    """

    rulesets: Sequence[Rules]
    declared: Sequence[Mapping[str, Value]]
    event: date
    values: dict[str, Value] = field(init=False)
    space: Space = field(init=False)
    facts: tuple[str, ...] = field(init=False)
    kept: dict[str, int] = field(init=False)
    stays: list[Stay] = field(init=False)
    goals: list[int] = field(init=False)
    by_rule: dict[int, list[tuple[int, Rule]]] = field(init=False)
    _as_declared: list[dict[str, Value]] = field(init=False)
    _parts: list[_Part] = field(init=False)
    _regions: DeclaredRegions = field(init=False)

    def __attrs_post_init__(self) -> None:
        sides = [Side.of(rules, self.event) for rules in self.rulesets]
        self.values = dict(self._known())
        self._regions = DeclaredRegions(self.values)
        required = [[r for r in rules.rules if r.level == "required"] for rules in self.rulesets]
        shared = SharedFacts.of(self.rulesets)
        self.space = Space(sides, required, shared, self._regions)
        unread = {clash.path for clash in shared.clashes}
        self.facts = tuple(dict.fromkeys(
            path for side, rules in zip(sides, required, strict=True) for rule in rules
            for path in side.open_facts(rule) if path not in unread
        ))  # fmt: skip
        self.values = {path: v for path, v in self.values.items() if path in self.facts}
        clauses = self.space.clauses
        self.kept = {
            path: self._regions.as_declared(clauses.fact(path), clauses) for path in self.values
        }
        self._as_declared = [self._prepared(rules, self.values) for rules in self.rulesets]
        self._parts = [
            self._part(number, rule, asked)
            for number, rules in enumerate(required) for rule in rules for asked in rule.asked
        ]  # fmt: skip
        self.goals = [part.goal for part in self._parts]
        self.stays = [stay for part in self._parts for stay in self._stays(part)]
        self.by_rule = {}
        for key, parts in groupby(self._parts, key=lambda part: (part.number, part.rule.name)):
            several = list(parts)
            claim = self.space.circuit.all_of(part.goal for part in several)
            self.by_rule.setdefault(claim, []).append((key[0], several[0].rule))
        self._regions.settle(clauses)

    def _known(self) -> Iterator[tuple[str, Value]]:
        for rules, declared in zip(self.rulesets, self.declared, strict=True):
            known, _ = prepared(rules, declared, self.event)
            for path in declared:
                if path in known and path not in rules.here:
                    yield path, known[path]

    def _part(self, number: int, rule: Rule, asked: Asked) -> _Part:
        here, clauses = self.space.sides[number].here, self.space.clauses
        applies = clauses.says(asked.when, here)
        goal = holds_nobody_up(clauses, asked, here)
        return _Part(number, rule, asked, applies.true, -applies.false, goal)

    def _stays(self, part: _Part) -> Iterator[Stay]:
        """What keeps a rule asked that is asked as declared, by the rows that it goes by."""
        when, here = part.asked.when, self.space.sides[part.number].here
        if self._truth(part, when) is not True:
            return
        needy = self._truth(part, part.asked.demand) is not True
        yield Stay(part.asked_for_certain, self._open(part, when), part.number, when, True, needy)
        for row in rows_in(part.asked.demand):
            truth = self._truth(part, row)
            if truth is not None:
                said = self.space.clauses.says(row, here)
                literal = said.true if truth else said.false
                yield Stay(literal, self._open(part, row), part.number, row, truth, needy)

    def staying(self, values: Mapping[str, Value]) -> frozenset[int]:
        """Which of what decides what is asked stays as declared, by the place among `stays`."""
        known = [self._prepared(rules, values) for rules in self.rulesets]
        return frozenset(
            place for place, stay in enumerate(self.stays)
            if holds(stay.condition, known[stay.number], self.event) is stay.truth
        )  # fmt: skip

    def _truth(self, part: _Part, condition: Condition) -> Truth:
        return holds(condition, self._as_declared[part.number], self.event)

    def _prepared(self, rules: Rules, values: Mapping[str, Value]) -> dict[str, Value]:
        own = {path: value for path, value in values.items() if path in rules.facts}
        return prepared(rules, own, self.event)[0]

    def _open(self, part: _Part, condition: Condition) -> tuple[str, ...]:
        here = self.space.sides[part.number].here
        return tuple(path for path in facts_in(condition) if path not in here)

    # ---- what may change ----

    def changeable(self) -> list[int]:
        """For each declared fact that a rider can change, that it stays; found out is no change."""
        return [self._stays_so(path) for path in self.kept if not self._is_given(path)]

    def given(self) -> dict[str, int]:
        """For each declared fact that no rider can change, that it is so, only finer maybe.

        It is unchangeable, or the inspector's.
        """
        return {path: self._stays_so(path) for path in self.kept if self._is_given(path)}

    def left_alone(self) -> list[int]:
        """That nothing is declared for the inspector, and nothing declared is taken back."""
        fact = self.space.clauses.fact
        theirs = (path for path in self.facts if self._marked(path, "for the inspector"))
        return [
            *(fact(path).undeclared for path in theirs if path not in self.kept),
            *(-fact(path).undeclared for path in self.kept),
        ]

    @property
    def fixed(self) -> list[int]:
        return [*self.given().values(), *self.left_alone()]

    def _stays_so(self, path: str) -> int:
        clauses = self.space.clauses
        finer = self._regions.looked_up(clauses.fact(path), clauses)
        return clauses.circuit.any_of((self.kept[path], finer))

    def _is_given(self, path: str) -> bool:
        return self._marked(path, "unchangeable") or self._marked(path, "for the inspector")

    def only_where_needed(self) -> list[int]:
        """That a fact changes only for a rule that demands something of it and is asked.

        And what decides what is asked, only for one that is not met as declared, or waits to be
        declared, and stays asked: that a rule falls away is never what a change is for.
        """
        needing: dict[str, list[int]] = {}
        demanding: dict[str, list[int]] = {}
        for part in self._parts:
            needy = self._truth(part, part.asked.demand) is not True
            for path in demanded_in(part.asked.demand):
                demanding.setdefault(path, []).append(part.maybe_asked)
                if needy and self._truth(part, part.asked.when) is not False:
                    needing.setdefault(path, []).append(part.maybe_asked)
        any_of = self.space.circuit.any_of
        return [
            *(any_of((self._stays_so(path), *demanding.get(path, ()))) for path in self.kept),
            *(
                any_of((stay.literal, self.kept[path], *needing.get(path, ())))
                for stay in self.stays
                for path in stay.facts
                if path in self.kept
            ),
        ]

    def _marked(self, path: str, mark: str) -> bool:
        return any(
            mark in rules.facts[path].marks for rules in self.rulesets if path in rules.facts
        )

    # ---- questions about what was found ----

    def is_asked(self, number: int, rule: Rule) -> bool:
        """Whether some part of a rule is asked as declared."""
        mine = (part for part in self._parts if part.number == number and part.rule is rule)
        return any(self._truth(part, part.asked.when) is True for part in mine)

    def is_within(self, path: str, value: Value) -> bool:
        """Whether a value only says more finely what is declared."""
        old = self.values.get(path)
        if not isinstance(old, Span) or not isinstance(value, Span):
            return False
        return value != old and old.first <= value.first and value.last <= old.last

    def alike(self, path: str, value: Value) -> tuple[Value, ...]:
        """Other choices that no test tells apart from a value."""
        domain = self.space.clauses.fact(path).domain
        if domain is None or not isinstance(value, str):
            return ()
        regions = (region for region in domain.regions if value in region.values)
        return tuple(dict.fromkeys(v for region in regions for v in region.values if v != value))

    def readable(self, number: int, rule: Rule) -> bool:
        """Whether all rulesets read the same values of what a rule asks for."""
        return set(self.space.sides[number].open_facts(rule)) <= set(self.facts)
