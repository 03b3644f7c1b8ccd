"""What several rulesets are called beside each other."""

from collections.abc import Iterable, Sequence

from trackprep.explanations.wording import listed
from trackprep.rules.model import Rules


def called(rulesets: Sequence[Rules]) -> tuple[str, ...]:
    """By name; where that does not tell them apart by edition too, by file, or by number."""
    ways = (
        [rules.name for rules in rulesets],
        [f"{rules.name} {rules.edition}" for rules in rulesets],
        [rules.files[0].name if rules.files else "" for rules in rulesets],
    )
    for names in ways:
        if all(names) and len(set(names)) == len(names):
            return tuple(names)
    return tuple(f"{rules.name} ({number})" for number, rules in enumerate(rulesets, 1))


def listed_names(numbers: Iterable[int], names: Sequence[str]) -> str:
    """Some of them: `tarn-hollow and marrowfell`, `all 4`, `both`."""
    chosen = sorted(set(numbers))
    if len(chosen) == len(names):
        return "both" if len(names) == 2 else f"all {len(names)}"
    return listed([names[number] for number in chosen], "and")


def known(rules: Rules) -> str:
    """Title and edition."""
    return f"{rules.title}, edition {rules.edition}" if rules.edition else rules.title
