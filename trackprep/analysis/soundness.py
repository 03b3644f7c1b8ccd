"""Doubts about the rules of one ruleset: asked of nobody, met by nobody, said twice."""

from collections.abc import Iterator
from datetime import date

from attrs import define

from trackprep.analysis.chances import Chances
from trackprep.analysis.findings import Finding
from trackprep.analysis.one_side import OneSide
from trackprep.analysis.periods import period_of
from trackprep.analysis.together import Needs, Together
from trackprep.rules.model import Origin, Rules


def doubts(rules: Rules, *, on: date | None = None) -> tuple[Finding, ...]:
    """What no declaration can do with the rules, for any event day of the ruleset."""
    return tuple(_Doubting(OneSide(rules, period_of(rules, on=on))).findings())


@define(eq=False)
class _Doubting:
    """One ruleset under doubt."""

    asking: OneSide

    def findings(self) -> Iterator[Finding]:
        rules = self.asking.rules.rules
        chances = {rule.name: Chances.of(self.asking, rule) for rule in rules}
        failing = [rule for rule in rules if chances[rule.name].failed]
        needs = Needs.of(self.asking, failing)
        if needs.never_ready:
            yield _accepts_nothing(self.asking.rules, needs)
        for found in chances.values():
            yield from _of_rule(found, needs)
        meeting = [rule for rule in rules if chances[rule.name].met and rule.level == "required"]
        yield from _of_pairs(Together.of(self.asking, meeting))


def _of_rule(chances: Chances, needs: Needs) -> Iterator[Finding]:
    rule = chances.rule
    about, name = f"rule {rule.name}", rule.name
    undecided = chances.undecided or needs.undecided.get(name, "")
    if undecided:
        text = f"`{name}` could not be looked into: {undecided}"
        yield Finding("undecided", about, text, rule.origin)
    elif not chances.asked:
        text = f"`{name}` is asked of nobody: what its `when` says never holds"
        yield Finding("never-asked", about, text, rule.origin)
    elif not chances.met:
        text = f"`{name}` cannot be met by anybody of whom it is asked"
        yield Finding("never-met", about, text, rule.origin)
    elif not chances.failed:
        text = f"`{name}` turns nobody away: whatever is declared meets it"
        yield Finding("never-fails", about, text, rule.origin)
    elif name in needs.implied:
        listed = _listed(needs.implied[name])
        text = f"`{name}` turns away nobody whom {listed} would not turn away too"
        yield Finding("implied", about, text, rule.origin)


def _of_pairs(together: Together) -> Iterator[Finding]:
    for one, other in together.never:
        yield Finding(
            "cannot-both-be-met",
            f"rule {other.name}",
            f"where `{one.name}` and `{other.name}` are both asked, no declaration meets both",
            other.origin,
        )
    for (one, other), reason in together.undecided.items():
        yield Finding(
            "undecided",
            f"rule {other.name}",
            f"whether `{one.name}` and `{other.name}` can both be met could not be told: {reason}",
            other.origin,
        )


def _accepts_nothing(rules: Rules, needs: Needs) -> Finding:
    return Finding(
        "accepts-nothing",
        f"ruleset {rules.name}",
        f"nobody can be ready: no declaration meets {_listed(needs.never_ready)} together",
        Origin(rules.rules[0].origin.file, 1, 1),
    )


def _listed(names: tuple[str, ...]) -> str:
    *most, last = (f"`{name}`" for name in names)
    return f"{', '.join(most)} and {last}" if most else last
