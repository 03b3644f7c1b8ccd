"""What would do, in words: `at least 2 mm; 1.5 mm is declared`."""

from trackprep.analysis.least_changes import Change, Obstacle, Plan, Undecided
from trackprep.explanations.wording import (
    capitalized,
    counted,
    inside,
    label_of,
    listed,
    value_text,
)
from trackprep.reports.checks.discreet import (
    HANGS_ON_PRIVATE,
    KEPT,
    bound_to_private,
    is_private,
)
from trackprep.reports.report import Report
from trackprep.rules.model import Rule


def changed_text(change: Change, report: Report) -> tuple[str, str]:
    """A fact, and what it would have to be beside what is declared."""
    rules = report.rules
    label = capitalized(label_of(change.path, rules))
    if is_private(change.path, rules):
        return label, KEPT
    bound = bound_to_private(change.path, rules)
    said = f"what would do {HANGS_ON_PRIVATE}" if bound else enough(change, report)
    if change.old is None:
        return label, said
    return label, f"{said}; {value_text(change.path, change.old, rules)} is declared"


def to_find_out_text(change: Change, report: Report) -> tuple[str, str]:
    """A fact to find out, and what it would have to be."""
    label, said = changed_text(change, report)
    if change.old is not None and not is_private(change.path, report.rules):
        said = f"{said}, which leaves it open"
    return label, said


def enough(change: Change, report: Report) -> str:
    """The value that would do: `at least 2 mm`, `red or blue`, `June 2021 or later`."""
    if change.further == "among others" and (nearest := _nearest(change, report)):
        return nearest
    rules = report.rules
    texts = [value_text(change.path, value, rules) for value in (change.new, *change.others)]
    text = listed(texts, "or")
    match change.further:
        case "or more":
            return f"at least {text}"
        case "or less":
            return f"at most {text}"
        case "among others":
            return f"{text}, among other values"
        case _:
            return f"{text} {change.further}".strip()


def _nearest(change: Change, report: Report) -> str:
    """What the report itself says would do, where one test of the fact fails."""
    names = {one.rule for one in change.rules}
    found = {
        reason.nearest
        for answer in report.answers if answer.rule in names and answer.status == "not-met"
        for shortfall in answer.explanation.shortfalls for reason in shortfall.reasons
        if reason.paths == (change.path,)
    }  # fmt: skip
    # How far off it is stands in the report.
    return found.pop().partition(": ")[0] if len(found) == 1 else ""


def number_text(plan: Plan) -> str:
    """How much there is to do, and whether that is proved."""
    if not plan.changes:
        return f"{counted(len(plan.to_find_out), 'fact')} to find out and declare."
    number = counted(len(plan.changes), "declared fact")
    proved = "the least there is" if plan.exact else (
        "found step by step; it is not proved that fewer would not do"
    )  # fmt: skip
    more = f"; {counted(len(plan.to_find_out), 'fact')} to find out" if plan.to_find_out else ""
    return f"{number} to change, {proved}{more}."


def no_way_text(way: Obstacle | Undecided, report: Report, alone: Rule | None = None) -> str:
    """Why there is no way to meet a rule on its own, or all of them together."""
    if isinstance(way, Undecided):
        return f"What would do could not be told: {way.reason}."
    rules = report.rules
    facts = "; ".join(_stays(path, report) for path in way.facts)
    if alone is not None:
        because = facts or "the rule contradicts itself, whatever is changed"
        return f"Nothing would do: {because}."
    names = {one.rule for one in way.rules}
    titles = listed([f"“{rule.title}”" for rule in rules.rules if rule.name in names], "and")
    because = facts or "these rules contradict each other as declared, whatever is changed"
    return f"There is no way to meet {titles}: {because}."


def _stays(path: str, report: Report) -> str:
    rules, value = report.rules, report.declaration.values[path]
    said = KEPT if is_private(path, rules) else value_text(path, value, rules)
    why = "that is for the inspector alone" if rules.facts[path].for_the_inspector else (
        "that cannot be changed"
    )  # fmt: skip
    return f"{inside(label_of(path, rules))} is as declared ({said}), and {why}"


def titles_text(rules: "tuple[Rule, ...] | list[Rule]") -> str:
    """Some rules by their titles."""
    return listed(list(dict.fromkeys(f"“{rule.title}”" for rule in rules)), "and")
