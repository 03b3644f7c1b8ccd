"""A SAT solver with gates, and its work counted: the same file gives the same answer anywhere."""

from collections.abc import Iterable, Sequence

from pysat.solvers import Solver

YES = 1
"""The literal that is always true; its negative is always false."""
MOST_CONFLICTS = 200_000
"""How many conflicts all questions to one solver may take together."""
TOO_MUCH_WORK = "deciding it would take more work than is allowed"


class UndecidedError(Exception):
    """The budget of work is used up, or what is asked needs what is not installed.

    Attributes:
        reason: Why, as part of a sentence.
    """

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class Circuit:
    """Literals joined by gates, and questions about which can be true together."""

    def __init__(self) -> None:
        self._solver = Solver("minisat22")
        self._last = YES
        self._solver.add_clause([YES])
        self._gates: dict[tuple[int, ...], int] = {}
        self._left = MOST_CONFLICTS
        self._model: list[int] = []

    def fresh(self) -> int:
        """A new literal."""
        self._last += 1
        return self._last

    def claim(self, clause: Iterable[int]) -> None:
        """One of the literals is true."""
        self._solver.add_clause(list(clause))

    def all_of(self, literals: Iterable[int]) -> int:
        """The literal that is true where all of them are."""
        parts = set(literals)
        parts.discard(YES)
        if -YES in parts or any(-literal in parts for literal in parts):
            return -YES
        if len(parts) < 2:
            return parts.pop() if parts else YES
        key = tuple(sorted(parts))
        gate = self._gates.get(key)
        if gate is None:
            gate = self._gates[key] = self.fresh()
            for literal in key:
                self._solver.add_clause([-gate, literal])
            self._solver.add_clause([gate, *[-literal for literal in key]])
        return gate

    def any_of(self, literals: Iterable[int]) -> int:
        """The literal that is true where one of them is."""
        return -self.all_of([-literal for literal in literals])

    def at_least(self, count: int, literals: Sequence[int]) -> int:
        """The literal that is true where so many of them are."""
        # Row by row: after each literal, whether at least 1, 2, … of those so far are true.
        so_far = [YES, *([-YES] * count)]
        for literal in literals:
            so_far = [YES] + [
                self.any_of((so_far[n], self.all_of((so_far[n - 1], literal))))
                for n in range(1, count + 1)
            ]
        return so_far[count] if count > 0 else YES

    def exactly_one(self, literals: Sequence[int]) -> None:
        """Claims that one of the literals is true and no other."""
        self.claim(literals)
        if len(literals) <= 6:
            for place, one in enumerate(literals):
                for other in literals[place + 1 :]:
                    self.claim((-one, -other))
            return
        before = literals[0]
        for literal in literals[1:]:
            self.claim((-before, -literal))
            before = self.any_of((before, literal))

    def prefer(self, literals: Iterable[int]) -> None:
        """Tries these first where nothing else decides."""
        self._solver.set_phases(list(literals))

    def possible(self, *assumed: int) -> bool:
        """Whether the literals can all be true; then `true` tells of one way.

        Raises:
            UndecidedError: The budget of work is used up.
        """
        if -YES in assumed:
            return False
        if self._left <= 0:
            raise UndecidedError(TOO_MUCH_WORK)
        before = self._solver.accum_stats()["conflicts"]
        self._solver.conf_budget(self._left)
        found = self._solver.solve_limited(assumptions=list(assumed))
        self._left -= self._solver.accum_stats()["conflicts"] - before
        if found is None:
            raise UndecidedError(TOO_MUCH_WORK)
        if found:
            self._model = self._solver.get_model()
        return bool(found)

    def forced(self, assumed: Iterable[int]) -> frozenset[int]:
        """Literals that must be true where these are, as far as that is plain to see."""
        _, found = self._solver.propagate(assumptions=list(assumed))
        return frozenset(found or ())

    def true(self, literal: int) -> bool:
        """Whether the literal is true in what was found possible last."""
        place = abs(literal) - 1
        known = place < len(self._model) and self._model[place] > 0
        return known is (literal > 0)

    def guilty(self) -> frozenset[int]:
        """Some of the literals assumed last that cannot all be true."""
        return frozenset(self._solver.get_core() or ())

    def close(self) -> None:
        """Gives the solver's memory back."""
        self._solver.delete()
