"""The fewest wishes to give up, and the fewest claims that cannot hold together; both exact."""

from collections.abc import Iterable, Sequence

from attrs import define, field

from trackprep.analysis.solving import YES, Circuit


def conflict(circuit: Circuit, claims: Sequence[int], given: Sequence[int] = ()) -> list[int]:
    """Claims of which each is needed for them to be impossible beside what is given.

    In the order of the claims. They must be impossible together.

    Raises:
        UndecidedError: The budget of work is used up.
    """
    if -YES in claims:
        return [-YES]
    possible = circuit.possible(*given, *claims)
    assert not possible
    guilty = circuit.guilty()
    core = [claim for claim in claims if claim in guilty]
    for claim in list(core):
        rest = [other for other in core if other != claim]
        if not circuit.possible(*given, *rest):
            core = rest
    return core


def fewest_given_up(
    circuit: Circuit, goals: Sequence[int], wishes: Iterable[int]
) -> list[int] | None:
    """Literals that, beside the goals, grant as many of the wishes as can be granted together.

    None if the goals alone are impossible. It goes up from what is impossible: of each set of
    wishes that cannot all be granted one more is given up, so that no smaller number will do.

    Raises:
        UndecidedError: The budget of work is used up.
    """
    if not circuit.possible(*goals):
        return None
    left = _Wishes(circuit, dict.fromkeys(wishes))
    while not circuit.possible(*goals, *left.granted):
        core = conflict(circuit, list(left.granted), goals)
        left.give_up_one(core)
    return list(left.granted)


def few_given_up(circuit: Circuit, goals: Sequence[int], wishes: Iterable[int]) -> list[int] | None:
    """The same, with less work, but only so that no single wish more can be granted.

    Raises:
        UndecidedError: The budget of work is used up.
    """
    if not circuit.possible(*goals):
        return None
    granted: list[int] = []
    for wish in wishes:
        if circuit.true(wish) or circuit.possible(*goals, *granted, wish):
            granted.append(wish)
    return granted


@define(eq=False)
class _Wishes:
    """Wishes still to be granted: plain ones, and that of some no more than so many fail."""

    circuit: Circuit
    granted: dict[int, None]
    _counted: dict[int, tuple[tuple[int, ...], int]] = field(factory=dict)

    def give_up_one(self, core: Sequence[int]) -> None:
        """Lets one of the wishes fail that cannot all be granted."""
        for wish in core:
            del self.granted[wish]
            if wish in self._counted:
                failing, allowed = self._counted.pop(wish)
                self._wish(failing, allowed + 1)
        if len(core) > 1:
            self._wish(tuple(-wish for wish in core), 1)

    def _wish(self, failing: tuple[int, ...], allowed: int) -> None:
        """Wishes that no more than so many fail."""
        if allowed >= len(failing):
            return
        wish = -self.circuit.at_least(allowed + 1, failing)
        self.granted[wish] = None
        self._counted[wish] = (failing, allowed)
