"""What a rider is still to be asked for some events, one question after the other.

An `Interview` is a value: each answer gives the next one. It knows no terminal and no file, so
that a page can lead it as well as a command, and its text is a declaration at every moment.
"""

from collections.abc import Iterator, Sequence
from datetime import date
from functools import cached_property
from typing import Literal, TypeAlias

from attrs import evolve, field

from trackprep.backends import checks
from trackprep.backends.checks import Outcome
from trackprep.backends.terms import Values
from trackprep.declarations.declaration import Declaration
from trackprep.declarations.several import read_rider_for_all
from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.rider.asking_answers import Reply, reply
from trackprep.rider.asking_order import Asked, in_order
from trackprep.rider.asking_relevance import can_change
from trackprep.rider.asking_text import (
    declared_text,
    not_known,
    with_answer,
    with_note,
)
from trackprep.rules.model import Fact, Rules
from trackprep.source import Source

Why: TypeAlias = Literal["undeclared", "too coarse", "after the event", "again"]
"""Why a fact is asked for; `again` where the rider went back to it."""


@frozen
class Question:
    """A fact to ask for.

    Attributes:
        heading: The part of the machine or the gear that it belongs to.
        declared: What is declared for it now, as written; nothing if it is undeclared.
        most_left: The most questions there are still, this one among them, but for dates
            that turn out to be known too coarsely.
    """

    fact: Fact
    heading: str
    why: Why
    declared: str
    most_left: int


@frozen(eq=False, slots=False)
class Interview:
    """How far the questions are: what is declared, what is not known, where the rider is.

    A question is asked while some value of its fact can still settle a rule, required or
    recommended, whatever is answered besides; `met` and `not-asked` count as one answer, since
    neither asks anything. Facts that the text says are not known are asked last; what the rider
    does not know now is not asked again.

    Attributes:
        rulesets: What is asked for, one ruleset for each event; all on the same day.
        text: The declaration so far, `.rider` text without a problem.
        unknown: Facts that the rider has said are not known, in this order.
        history: The facts that were asked for, in this order, each once.
        at: Which of those the rider went back to; None where the next open question stands.
    """

    rulesets: tuple[Rules, ...]
    event: date
    text: str = field(repr=False)
    name: str = "<text>"
    unknown: tuple[str, ...] = ()
    history: tuple[str, ...] = ()
    at: int | None = None
    _order: tuple[Asked, ...] = field(default=(), repr=False)

    # ---- what is known ----

    @cached_property
    def declarations(self) -> tuple[Declaration, ...]:
        """The text as each ruleset reads it."""
        return read_rider_for_all(Source(self.name, self.text), self.rulesets)

    @cached_property
    def _known(self) -> tuple[tuple[Values, tuple[Outcome, ...], tuple[str, ...]], ...]:
        """For each ruleset what is known, what its rules answer, and dates past the event."""
        found = []
        for rules, declaration in zip(self.rulesets, self.declarations, strict=True):
            values, future = checks.prepared(rules, declaration.values, self.event)
            found.append((values, checks.outcomes(rules, values, self.event), future))
        return tuple(found)

    # ---- questions ----

    @cached_property
    def question(self) -> Question | None:
        """The next question; None where none is left."""
        if self.at is not None:
            asked = next(a for a in self._order if a.fact.path == self.history[self.at])
            return self._question(asked, "again")
        for asked in self._candidates:
            path = asked.fact.path
            why = self._why(path)
            if why == "too coarse" or self._can_change(path):
                return self._question(asked, why)
        return None

    @cached_property
    def _candidates(self) -> tuple[Asked, ...]:
        """What unsettled rules wait for, in the order to ask; what was not known before last."""
        outcomes = [outcome for _, several, _ in self._known for outcome in several]
        waiting = {
            path
            for outcome in outcomes
            if outcome.status == "unsettled"
            for path in (*outcome.declare, *outcome.narrow)
        }
        waiting.difference_update(self.unknown)
        open_ = [asked for asked in self._order if asked.fact.path in waiting]
        later = set(not_known(self.text))
        return tuple(sorted(open_, key=lambda asked: asked.fact.path in later))

    def _why(self, path: str) -> Why:
        if any(path in future for _, _, future in self._known):
            return "after the event"
        # What one event settles itself is not declared, and another may ask for it.
        declared = any(path in declaration.values for declaration in self.declarations)
        return "too coarse" if declared else "undeclared"

    def _can_change(self, path: str) -> bool:
        known = zip(self.rulesets, self._known, strict=True)
        return any(
            can_change(rules, outcomes, path, values, self.unknown, self.event)
            for rules, (values, outcomes, _) in known
        )

    def _question(self, asked: Asked, why: Why) -> Question:
        declared = declared_text(self.text, asked.fact.path)
        return Question(asked.fact, asked.heading, why, declared, len(self._candidates))

    # ---- steps ----

    def answered(self, typed: str) -> "Interview | Problem":
        """With the question answered as typed, or what is wrong with the answer.

        Raises:
            ValueError: There is no question.
        """
        question = self._asked()
        path = question.fact.path
        facts = [rules.facts[path] for rules in self.rulesets if path in rules.facts]
        found = reply(facts, typed, self.event)
        if isinstance(found, Problem):
            return found
        if question.why == "too coarse" and self._says_no_more(path, found):
            return Problem(
                "not-finer",
                f"`{question.declared}` is declared already, and too coarse for a rule",
                expected="the month, or better the day",
                suggestion="type `don't know` if no more is known",
            )
        text = with_answer(self.text, path, found.written, self._near(question))
        return self._stepped(path, text, (p for p in self.unknown if p != path))

    def not_known(self) -> "Interview":
        """With the rider not knowing the answer; what is declared stays.

        Raises:
            ValueError: There is no question.
        """
        question = self._asked()
        path = question.fact.path
        text = with_note(self.text, path, self._near(question))
        others = (known for known in self.unknown if known != path)
        return self._stepped(path, text, (*others, path))

    def kept(self) -> "Interview":
        """With what was said before left as it is, after going back to it."""
        return evolve(self, at=None)

    def back(self) -> "Interview | None":
        """Back at the question before, everything that was said still there; None at the first."""
        before = len(self.history) if self.at is None else self.at
        return evolve(self, at=before - 1) if before else None

    def _asked(self) -> Question:
        if self.question is None:
            raise ValueError("there is no question left to answer")
        return self.question

    def _stepped(
        self, path: str, text: str, unknown: Iterator[str] | tuple[str, ...]
    ) -> "Interview":
        history = self.history if path in self.history else (*self.history, path)
        return evolve(self, text=text, unknown=tuple(unknown), history=history, at=None)

    def _says_no_more(self, path: str, found: Reply) -> bool:
        declared = (declaration.values.get(path) for declaration in self.declarations)
        return any(value == found.value for value in declared if value is not None)

    def _near(self, question: Question) -> set[str]:
        """The facts of the same part."""
        section = question.fact.section
        return {asked.fact.path for asked in self._order if asked.fact.section == section}


def interview(
    rulesets: Sequence[Rules], *, on: date, text: str = "", name: str = "<text>"
) -> Interview:
    """The questions of some rulesets for events on a day, beginning from a declaration.

    Args:
        rulesets: One at least, none of them a vocabulary.
        on: The day of the event.
        text: `.rider` text, which keeps its comments, order and spelling.
        name: What the rider calls it.

    Raises:
        DeclarationError: The text has problems.
        ValueError: There is no ruleset, or one is a vocabulary, which has no rules.
    """
    if not rulesets or any(rules.vocabulary for rules in rulesets):
        raise ValueError("questions are asked for rulesets, one at least")
    begun = Interview(tuple(rulesets), on, text, name, order=in_order(rulesets))
    assert begun.declarations  # a text with problems is told before anything is asked
    return begun
