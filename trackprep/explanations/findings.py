"""What an explanation is made of; plain values, with the words they are told in."""

from typing import Literal, TypeAlias

from attrs import field

from trackprep.backends.checks import Status
from trackprep.explanations.situation import Known
from trackprep.explanations.wording import capitalized
from trackprep.frozen import frozen

Origin: TypeAlias = Literal["declared", "worked out", "set by the event"]

Uncertainty: TypeAlias = Literal["division-by-zero", "no-value", "too-close"]


@frozen
class Reason:
    """One test that decided an answer.

    Attributes:
        subject: What it looks at.
        value: What was declared, as it was written; of a derived fact, what comes out.
        asked: What is asked of it, the limit's name included.
        converted: The value in the rule's unit, where it was written in another.
        off: How far off it is; empty where that says nothing.
        nearest: The nearest way to meet it; empty where nobody can change it.
        asked_in_words: What is asked, without what other declared facts make of it; empty where
            they have no part in it.
        nearest_tells: Whether `nearest` is counted from the declared value.
        obvious: Whether `nearest` only says again what `asked` and `off` say.
        origin: Where the value comes from.
        facts: The facts that it was worked out from, if it was.
        meanings: The labels of the derived facts that it decides.
        paths: Every fact that the test looks at.
    """

    subject: str
    value: str
    asked: str
    converted: str = ""
    off: str = ""
    nearest: str = ""
    obvious: bool = field(default=True, kw_only=True)
    origin: Origin = "declared"
    facts: tuple[Known, ...] = ()
    meanings: tuple[str, ...] = ()
    paths: tuple[str, ...] = ()
    asked_in_words: str = ""
    nearest_tells: bool = False


@frozen
class Shortfall:
    """Tests that would have to hold together for the rule to be met.

    Attributes:
        others: How many other ways there would be.
        tally: Of `at least 2 of …`: how many hold, and how many are asked.
        part: The part that it is about, of a rule that asks the same of several.
    """

    reasons: tuple[Reason, ...]
    others: int = 0
    tally: tuple[int, int] | None = None
    part: str = ""


@frozen
class Missing:
    """A fact that is not declared, and what is asked of it."""

    path: str
    label: str
    asked: tuple[str, ...] = ()
    for_the_inspector: bool = False


@frozen
class Coarse:
    """A date that is declared, but not finely enough, and what would settle it.

    Attributes:
        hinges: The days on which the answer turns.
        finer: What to declare instead; empty for a week code, which cannot be finer.
        hangs_on: The facts of the tests that turn on these days.
    """

    path: str
    label: str
    value: str
    hinges: tuple[str, ...] = ()
    finer: str = ""
    hangs_on: tuple[str, ...] = ()


@frozen
class Undefined:
    """A number that cannot be told, though all that it is worked out from is declared.

    Attributes:
        subject: The derived fact or the formula that has no value, or what is worked out.
        why: `it divides by zero`; of a number too close to its limit, and of what is kept
            private, all that is said of it.
        paths: Every fact that the test looks at.
    """

    subject: str
    why: str
    kind: Uncertainty | Literal["kept-private"]
    paths: tuple[str, ...] = field(default=(), eq=False)

    def __str__(self) -> str:
        joiner = " " if self.kind in ("too-close", "kept-private") else " has no value: "
        return f"{capitalized(self.subject)}{joiner}{self.why}."


@frozen
class Explanation:
    """Why a rule's answer is what it is.

    Attributes:
        shortfalls: What is not met; of an unsettled rule, what would not be met if it
            were asked; of a rule that is not asked, what its condition lacks.
        missing: What an unsettled rule waits for.
        coarse: What it needs to be told more finely.
        undefined: What has no value, or is too close to its limit to tell.
        known: Of a rule that is met, the values that it looked at.
    """

    status: Status
    shortfalls: tuple[Shortfall, ...] = ()
    missing: tuple[Missing, ...] = ()
    coarse: tuple[Coarse, ...] = ()
    undefined: tuple[Undefined, ...] = ()
    known: tuple[Known, ...] = ()
