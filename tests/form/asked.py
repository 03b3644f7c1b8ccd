"""What is still to be asked, by the page's script and by the interview, in one form."""

from collections.abc import Mapping, Sequence
from datetime import date
from types import SimpleNamespace
from typing import Any, TypeAlias

from trackprep.backends import page
from trackprep.publishing.form.facts import plain_facts, used_facts
from trackprep.publishing.form.trials import plain_trials
from trackprep.rider.asking import Interview
from trackprep.rider.asking_order import in_order
from trackprep.rules.model import Rules
from trackprep.rules.values import Value

Values: TypeAlias = Mapping[str, Value]
Case: TypeAlias = tuple[Sequence[Values], frozenset[str], date]
"""What is declared to each event, what the rider does not know, and the day."""

QUESTIONS = """(form, cases) => {
  form.facts = expandedFacts(form.facts);
  const rulesets = form.events.map((event) => new Ruleset(event.plain));
  return cases.map(([several, unknown, day]) => {
    const sittings = form.events.map((event, at) => {
      return sittingOf(event, rulesets[at], several[at], day);
    });
    return openQuestions(form, sittings, new Set(unknown)).map(({ path, why }) => [path, why]);
  });
}"""


def plain_form(several: Sequence[Rules]) -> dict[str, Any]:
    made = []
    for rules in several:
        plain = page.PlainRuleset(rules, used_facts(rules))
        trials = plain_trials(plain)
        made.append({"plain": plain.data(), "trials": trials})
    return {"events": made, "facts": plain_facts(several), "units": {}}


def by_page(call: Any, several: Sequence[Rules], asked: Sequence[Case]) -> list[Any]:
    plain = [
        [[page.plain_values(values) for values in declared], sorted(unknown), page.plain_day(day)]
        for declared, unknown, day in asked
    ]
    found = call(QUESTIONS, plain_form(several), plain)
    return [[(path, why) for path, why in questions] for questions in found]


def by_interview(several: Sequence[Rules], case: Case) -> list[tuple[str, str]]:
    """All open questions, though the interview gives one at a time."""
    declared, unknown, day = case
    led = Interview(
        tuple(several), day, "", unknown=tuple(sorted(unknown)), order=in_order(several)
    )
    vars(led)["declarations"] = [SimpleNamespace(values=values) for values in declared]
    found = ((asked.fact.path, led._why(asked.fact.path)) for asked in led._candidates)
    return [(path, why) for path, why in found if why == "too coarse" or led._can_change(path)]
