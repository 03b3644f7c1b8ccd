"""What only the inspector can say: a rule that waits for nothing else does not hold up a rider."""

from trackprep.analysis.clauses import Clauses, leaf_of
from trackprep.analysis.domains import Settled
from trackprep.explanations.mentions import facts_in
from trackprep.rules.conditions import All, AnyOf, AtLeast, ByRows, Condition, Meaning, Not
from trackprep.rules.model import Asked


def holds_nobody_up(clauses: Clauses, asked: Asked, here: Settled) -> int:
    """The literal that what a rule asks is let through, or waits for the inspector alone."""
    applies, demand = clauses.says(asked.when, here), clauses.says(asked.demand, here)
    lets = clauses.circuit.any_of((applies.false, demand.true))
    facts = (*facts_in(asked.when), *facts_in(asked.demand))
    decided = [clauses.fact(path).fact for path in facts if path not in here]
    if not any(fact.for_the_inspector for fact in decided):
        return lets
    refuses = clauses.circuit.all_of((applies.true, demand.false))
    waits = [-refuses, *(_waits(part, clauses, here) for part in (asked.when, asked.demand))]
    return clauses.circuit.any_of((lets, clauses.circuit.all_of(waits)))


def _waits(condition: Condition, clauses: Clauses, here: Settled) -> int:
    """The literal that a condition is known, or only for want of the inspector's word not."""
    circuit = clauses.circuit
    known = circuit.any_of(clauses.says(condition, here))
    match condition:
        case Not(inner) | Meaning(_, inner):
            return _waits(inner, clauses, here)
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            inside = [_waits(part, clauses, here) for part in parts]
        case ByRows(_, rows):
            conditions = (row.condition for row in rows if row.condition is not None)
            whole = (*conditions, *(row.test for row in rows))
            inside = [_waits(part, clauses, here) for part in whole]
        case _:
            facts = [clauses.fact(path) for path in leaf_of(condition, here).open]
            if not any(fact.fact.for_the_inspector for fact in facts):
                return known
            inside = [-fact.undeclared for fact in facts if not fact.fact.for_the_inspector]
    return circuit.any_of((known, circuit.all_of(inside)))
