"""A rule's conditions as they would be answered if one thing in them were different."""

from collections.abc import Sequence

from trackprep.analysis.clauses import Both, Clauses
from trackprep.analysis.domains import LeafOf
from trackprep.rules.conditions import SetTest


class _Changed(Clauses):
    """The conditions of others, but for some tests; the facts and their literals are theirs."""

    def __init__(self, clauses: Clauses) -> None:
        self.__dict__.update(vars(clauses))
        self._of = clauses
        self._leaves = {}

    def _constant(self, holds: bool) -> int:
        return self.circuit.all_of(()) if holds else self.circuit.any_of(())


class Answered(_Changed):
    """As if one test had a given answer, whatever is declared."""

    def __init__(self, clauses: Clauses, leaf: LeafOf, truth: bool) -> None:
        super().__init__(clauses)
        self._leaves[leaf] = Both(self._constant(truth), self._constant(not truth))

    def _made(self, leaf: LeafOf) -> Both:
        return self._of._leaf(leaf)


class Elsewhere(_Changed):
    """As if one fact lay in another region."""

    def __init__(self, clauses: Clauses, path: str, region: int) -> None:
        super().__init__(clauses)
        self._path, self._region = path, region

    def _made(self, leaf: LeafOf) -> Both:
        if self._path not in leaf.open or isinstance(leaf.test, SetTest) or leaf in self._of.free:
            return self._of._leaf(leaf)
        if leaf not in self.domains.joint:
            truth = self.domains.by_path[self._path].answers[leaf][self._region]
            return Both(*(self._constant(truth is said) for said in (True, False)))
        place = leaf.open.index(self._path)
        table = self.domains.joint[leaf]
        rows = {places: truth for places, truth in table.items() if places[place] == self._region}
        true, false = (
            self.circuit.any_of(
                self._chosen(leaf, places) for places, truth in rows.items() if truth is said
            )
            for said in (True, False)
        )
        return Both(true, false)

    def _chosen(self, leaf: LeafOf, places: Sequence[int]) -> int:
        """That the other facts lie in these regions."""
        cases = [
            (*self.facts[path].regions, self.facts[path].undeclared)[place]
            for path, place in zip(leaf.open, places, strict=True)
            if path != self._path
        ]
        return self.circuit.all_of(cases)
