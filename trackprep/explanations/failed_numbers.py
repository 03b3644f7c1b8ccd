"""Why a comparison of numbers does not hold, and by how much."""

from trackprep.explanations.deciding import Deciding
from trackprep.explanations.findings import Reason
from trackprep.explanations.measures import Measure, measured
from trackprep.explanations.mentions import facts_of
from trackprep.explanations.naming import named_limit
from trackprep.explanations.phrases import NUMBERS
from trackprep.explanations.situation import Situation, known_text
from trackprep.explanations.terms import term_text
from trackprep.explanations.wording import capitalized, inside
from trackprep.frozen import frozen
from trackprep.rules.conditions import Constant, NumberOf, NumberTest
from trackprep.rules.values import Amount
from trackprep.units import show, show_apart


@frozen
class _Shown:
    """The two sides as they are printed; they never read alike unless they are."""

    value: str
    converted: str
    bound: str


def failed_number(test: NumberTest, deciding: Deciding, situation: Situation) -> Reason:
    """The number, the bound, and how far they lie apart, in the rule's unit."""
    measure = measured(test, situation)
    assert measure is not None, "a test that failed has two sides"
    test, rules = measure.test, situation.rules
    shown = _shown(measure, situation)
    comparison = NUMBERS[test.comparison].removeprefix("is ")
    required = f"{comparison} {_bound(measure, shown, situation)}"
    limit = test.right.limit if isinstance(test.right, Constant) else None
    bound = term_text(test.right, rules, short=True) if facts_of(test.right) else ""
    plain = isinstance(test.left, NumberOf)
    return Reason(
        subject=capitalized(term_text(test.left, rules, short=True)),
        value=shown.value,
        converted=shown.converted,
        asked=named_limit(required, limit, deciding, rules),
        off=_off(measure),
        nearest=_nearest(measure, required),
        origin="declared" if plain else "worked out",
        facts=() if plain else situation.known(facts_of(test.left)),
        asked_in_words=f"{comparison} {bound}" if bound else "",
        nearest_tells=True,
    )


def _shown(measure: Measure, situation: Situation) -> _Shown:
    value, bound = show_apart(
        measure.value, measure.bound, measure.unit, difference=measure.difference
    )
    left = measure.test.left
    if isinstance(left, NumberOf):
        amount = situation.values[left.path]
        assert isinstance(amount, Amount)
        written = amount.text or show(amount.value, amount.unit)
        if amount.unit != measure.unit:
            return _Shown(written, value, bound)
        return _Shown(amount.text or value, "", bound)
    if len(measure.values) > 1:
        ends = (measure.values[0], measure.values[-1])
        value = " to ".join(
            show_apart(end, measure.bound, measure.unit, difference=measure.difference)[0]
            for end in ends
        )
    return _Shown(value, "", bound)


def _bound(measure: Measure, shown: _Shown, situation: Situation) -> str:
    """The right side and what it comes to; if it is worked out, from which other facts."""
    right = measure.test.right
    if isinstance(right, Constant):
        return shown.bound
    said = term_text(right, situation.rules, short=True)
    told = facts_of(measure.test.left)
    facts = situation.known(path for path in facts_of(right) if path not in told)
    if isinstance(right, NumberOf) or not facts:
        return f"{said} ({shown.bound})"
    return f"{said} ({shown.bound}, from {inside(known_text(facts))})"


def _off(measure: Measure) -> str:
    if not measure.gap:
        return "it is exactly that"
    return f"{'short' if measure.gap > 0 else 'over'} by {_gap(measure)}"


def _nearest(measure: Measure, required: str) -> str:
    if measure.test.comparison in ("more than", "less than", "not equal") or not measure.gap:
        return required
    return f"{required}: {_gap(measure)} {'more' if measure.gap > 0 else 'less'}"


def _gap(measure: Measure) -> str:
    return show(abs(measure.gap), measure.unit, difference=True)
