"""A declaration that shows what was found: few facts, values that people would write."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import islice, product

from trackprep.analysis.arithmetic import Impossible, settled
from trackprep.analysis.leaves import LeafOf, answer
from trackprep.analysis.regions import Region
from trackprep.analysis.representatives import spread
from trackprep.analysis.solving import UndecidedError
from trackprep.analysis.space import Space
from trackprep.dates import Span, week_code_on
from trackprep.frozen import frozen
from trackprep.rules.model import Dated, Fact, Measured
from trackprep.rules.reading import quoted
from trackprep.rules.values import Amount, Value
from trackprep.truth import Truth
from trackprep.units import show, written

MOST_TRIES = 200
"""How many choices of values are replayed where tests of several facts decide."""
FEW_TRIES = 16
"""How many where nobody is shown them."""
MOST_BLOCKED = 400
"""How many impossible answers to tests of several facts are ruled out, one by one."""
MOST_COUNTED = 12
"""Of so many facts the fewest are found for certain; of more, none can be left out alone."""
NOT_CONFIRMED = "the ordinary check does not confirm what was found"
TOO_MANY = "too many combinations of several facts would have to be tried"


@frozen(eq=False)
class Witness:
    """A declaration, and the day of the event it is for."""

    values: Mapping[str, Value]
    event: date


Replay = Callable[[Mapping[str, Value]], bool]
"""Whether the ordinary check says of the values what is claimed of them."""


def found(
    space: Space,
    goals: Sequence[int],
    about: Iterable[str],
    replay: Replay,
    *,
    declared: Collection[str] = (),
) -> Witness | None:
    """A declaration for which the goals hold, or None where there is none.

    It has the fewest facts there are where it is about few, but of formulas by rows over
    several facts; of many, no fact of it can be left out alone.

    Args:
        about: The facts that the goals hang on, in reading order; no other is declared.
        replay: Tries the declaration on the ordinary check.
        declared: Those that have to be declared.

    Raises:
        UndecidedError: It cannot be told.
    """
    paths = tuple(dict.fromkeys(about))
    fixed = [*goals, *space.complete(declared)]
    optional = [path for path in paths if path not in declared]
    for _ in range(MOST_BLOCKED):
        if not space.circuit.possible(*fixed):
            return None
        assumed = _with_few(space, fixed, optional)
        _prefer(space, assumed, paths)
        chosen = _chosen(space, paths)
        for values in islice(_values(space, chosen), MOST_TRIES):
            if replay(values):
                return Witness(values, space.event)
        fitting = _fitting(space, chosen)
        if isinstance(fitting, Impossible):
            space.circuit.claim(-literal for literal in fitting.literals)
        elif replay(fitting):
            return Witness(fitting, space.event)
        else:
            raise UndecidedError(NOT_CONFIRMED)
    raise UndecidedError(TOO_MANY)


def possible(space: Space, goals: Sequence[int]) -> bool:
    """Whether the goals can all hold, where nobody is shown how.

    Raises:
        UndecidedError: It cannot be told.
    """
    for _ in range(MOST_BLOCKED):
        if not space.circuit.possible(*goals):
            return False
        free = _free(space)
        chosen = _chosen(space, dict.fromkeys(path for leaf in free for path in leaf.open))
        for values in islice(_values(space, chosen), FEW_TRIES):
            if all(answer(leaf, values, space.event) is said for leaf, (_, said) in free.items()):
                return True
        fitting = _fitting(space, chosen, shown=False)
        if not isinstance(fitting, Impossible):
            return True
        space.circuit.claim(-literal for literal in fitting.literals)
    raise UndecidedError(TOO_MANY)


def _with_few(space: Space, goals: list[int], optional: list[str]) -> list[int]:
    """The goals, and which facts stay undeclared: as many as can."""
    circuit = space.circuit
    undeclared = [space.clauses.fact(path).undeclared for path in reversed(optional)]
    assumed = list(goals)
    forced = circuit.forced(assumed)
    for literal in undeclared:
        if circuit.true(literal) or (
            -literal not in forced and circuit.possible(*assumed, literal)
        ):
            assumed.append(literal)
    needed = sum(not circuit.true(literal) for literal in undeclared)
    if needed < 2 or len(optional) > MOST_COUNTED:
        return assumed
    declared = [-literal for literal in undeclared]
    while needed > 1 and circuit.possible(*goals, -circuit.at_least(needed, declared)):
        assumed = [*goals, *filter(circuit.true, undeclared)]
        needed = sum(not circuit.true(literal) for literal in undeclared)
    return assumed


def _prefer(space: Space, assumed: list[int], paths: Sequence[str]) -> None:
    """Leaves the solver at few members in sets and, of few facts, at their first regions."""
    circuit = space.circuit
    for path in paths:
        fact = space.clauses.fact(path)
        if circuit.true(fact.undeclared):
            continue
        for member in fact.members.values():
            if circuit.true(-member) or circuit.possible(*assumed, -member):
                assumed.append(-member)
        if len(paths) > MOST_COUNTED:
            continue  # the solver tries these first
        for region in fact.regions:
            if circuit.true(region) or circuit.possible(*assumed, region):
                assumed.append(region)
                break


def _chosen(space: Space, paths: Iterable[str]) -> dict[str, tuple[int, Region]]:
    """The declared facts among the paths, each with its region and the literal of that."""
    chosen: dict[str, tuple[int, Region]] = {}
    for path in paths:
        fact, true = space.clauses.fact(path), space.circuit.true
        if true(fact.undeclared):
            continue
        if fact.domain is None:
            words = frozenset(word for word, member in fact.members.items() if true(member))
            chosen[path] = (-fact.undeclared, Region((words,)))
            continue
        for literal, region in zip(fact.regions, fact.domain.regions, strict=True):
            if true(literal):
                chosen[path] = (literal, region)
    return chosen


def _values(space: Space, chosen: Mapping[str, tuple[int, Region]]) -> Iterator[dict[str, Value]]:
    """Declarations that stand for what was found possible, the best first.

    Only where tests of several facts decide does it matter which value of a region it is.
    """
    entangled = _entangled(space)
    options = [
        _spread(space.clauses.fact(path).fact, region) if path in entangled else region.values[:1]
        for path, (_, region) in chosen.items()
    ]
    for values in product(*options):
        yield dict(zip(chosen, values, strict=True))


def _spread(fact: Fact, region: Region) -> tuple[Value, ...]:
    """Values all over a region."""
    kind = fact.type
    if not isinstance(kind, Measured):
        return region.values
    numbers = (number for stretch in region.stretches for number in spread(stretch, kind))
    return tuple(dict.fromkeys((*region.values, *(Amount(n, kind.unit) for n in numbers))))


def _entangled(space: Space) -> frozenset[str]:
    """The facts that stand in a test of several whose answers no look-up gives."""
    return frozenset(path for leaf in space.clauses.free for path in leaf.open)


def _fitting(
    space: Space, chosen: Mapping[str, tuple[int, Region]], *, shown: bool = True
) -> "dict[str, Value] | Impossible":
    """Values in the regions found possible for which the tests of several facts answer so.

    Raises:
        UndecidedError: It cannot be told.
    """
    free = _free(space)
    if not free:
        raise UndecidedError(NOT_CONFIRMED)
    named = {path for leaf in free for path in leaf.open}
    regions = {path: region for path, region in chosen.items() if path in named}
    fitting = settled(space.clauses.facts, regions, free, space.event, shown=shown)
    if isinstance(fitting, Impossible):
        return fitting
    return {path: fitting.get(path, region.values[0]) for path, (_, region) in chosen.items()}


def _free(space: Space) -> dict[LeafOf, tuple[tuple[int, ...], Truth]]:
    """What the tests of several declared facts answer in what was found possible.

    Each with the literals that say so.
    """
    true = space.circuit.true
    free: dict[LeafOf, tuple[tuple[int, ...], Truth]] = {}
    for leaf, both in space.clauses.free.items():
        if any(true(space.clauses.fact(path).undeclared) for path in leaf.open):
            continue
        if true(both.true):
            free[leaf] = ((both.true,), True)
        elif true(both.false):
            free[leaf] = ((both.false,), False)
        else:
            declared = space.complete(leaf.open)  # else it is no wonder
            free[leaf] = ((-both.true, -both.false, *declared), None)
    return free


def text_of(witness: Witness, facts: Mapping[str, Fact], title: str) -> str:
    """The witness as a `.rider` file."""
    lines = [f'declaration "{title}"', ""]
    lines += [f"{path} is {spelled(value, facts[path])}" for path, value in witness.values.items()]
    return "\n".join(lines) + "\n"


def spelled(value: Value, fact: Fact) -> str:
    """A value as a declaration spells it."""
    match value:
        case bool():
            return "yes" if value else "no"
        case str():
            return quoted(value)
        case frozenset():
            return ", ".join(quoted(word) for word in sorted(value)) or "none"
        case Amount(number, unit):
            return written(number, unit) or show(number, unit)
        case Span(first, last):
            if isinstance(fact.type, Dated) and fact.type.how == "week code":
                return f'"{week_code_on(first)}"'
            return first.isoformat() if first == last else f"{first:%Y-%m}"
