"""The recipe as a rule file."""

from fractions import Fraction

from tests.benchmark.recipe import (
    Both,
    Condition,
    Either,
    Includes,
    Is,
    Limit,
    Recipe,
    Yes,
    Younger,
)


def rule_file(recipe: Recipe) -> str:
    """A rule file that means the recipe, over facts of its own beside the standard ones."""
    lines = ['ruleset benchmark "Benchmark"', "  valid from 2026-01-01 to 2026-12-31", ""]
    for fact, words in recipe.facts.items():
        lines.append(f'fact {_path(fact)} "Fact {fact}" {_type(fact, words)}')
    for place, rule in enumerate(recipe.rules):
        lines += ["", f'rule r{place} "Rule {place}"']
        if rule.when:
            lines.append(f"  when {_said(rule.when)}")
        lines += [
            f"  require {_said(rule.demand)}",
            '  reason "So that nobody is hurt."',
            "  source house rule",
        ]
    return "\n".join(lines) + "\n"


def _path(fact: str) -> str:
    return f"benchmark.{fact}"


def _type(fact: str, words: tuple[str, ...]) -> str:
    match fact.partition(".")[0]:
        case "choice":
            return f"one of {', '.join(words)}"
        case "set":
            return f"several of {', '.join(words)}"
        case "flag":
            return "yes or no"
        case "number":
            return "measured in mm from 0 mm to 20 mm"
        case "date":
            return "past date"
    raise AssertionError(fact)


def _said(condition: Condition) -> str:
    match condition:
        case Is(fact, (word,)):
            return f"{_path(fact)} is {word}"
        case Is(fact, words):
            return f"{_path(fact)} is one of {', '.join(words)}"
        case Yes(fact):
            return f"{_path(fact)} is yes"
        case Limit(fact, bound, most):
            return f"{_path(fact)} is at {'most' if most else 'least'} {_decimal(bound)} mm"
        case Younger(fact, years):
            return f"age of {_path(fact)} is at most {years} years"
        case Includes(fact, words):
            return f"{_path(fact)} includes any of {', '.join(words)}"
        case Both(parts):
            return " and ".join(_said(part) for part in parts)
        case Either(parts):
            return " or ".join(_said(part) for part in parts)


def _decimal(number: Fraction) -> str:
    return f"{float(number):g}"
