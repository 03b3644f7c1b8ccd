"""Rules of motorcycle track days: what a machine, its rider and the gear still lack, and why.

    tarn-hollow.trackrules ──read_ruleset──▶ Ruleset ┐
                                                     ├─ruleset.check(declaration, on=…)──▶ Report
    sam.rider ──read_declaration(…, ruleset)──▶ Declaration ┘

A `Report` prints as text (`str(report)`), gives JSON (`report.to_dict()`), and holds an
`Answer` for each rule; `report.what_would_do()` finds the least to change. `interview` asks for
a declaration, `worklist` plans the work, `look_ahead` tells a season, `read_pressures` a day.
`compare` tells how rulesets differ, `readiness` where a rider is ready and what the least to
change is. What is wrong with a file is told all at once, as `Problem`s in the `.problems` of a
`RulesetError` or `DeclarationError`.
"""

from importlib import import_module

TYPE_CHECKING = False  # what type checkers take for true; importing `typing` doubles the cost

if TYPE_CHECKING:
    from trackprep.declarations.declaration import Declaration
    from trackprep.measures.calling import measure
    from trackprep.pressures.reading import read_pressures
    from trackprep.problems import DeclarationError, Problem, RulesetError
    from trackprep.reading import parse_ruleset, read_ruleset
    from trackprep.reports.answer import Answer
    from trackprep.reports.report import Report
    from trackprep.reports.worklist.report import worklist
    from trackprep.ruleset import (
        Ruleset,
        check_riders,
        compare,
        interview,
        look_ahead,
        parse_declaration,
        read_declaration,
        readiness,
    )

__version__ = "0.1.0"

__all__ = [
    "Answer",
    "Declaration",
    "DeclarationError",
    "Problem",
    "Report",
    "Ruleset",
    "RulesetError",
    "__version__",
    "check_riders",
    "compare",
    "interview",
    "look_ahead",
    "measure",
    "parse_declaration",
    "parse_ruleset",
    "read_declaration",
    "read_pressures",
    "read_ruleset",
    "readiness",
    "worklist",
]

_HOMES = {
    "Answer": "trackprep.reports.answer",
    "Declaration": "trackprep.declarations.declaration",
    "DeclarationError": "trackprep.problems",
    "Problem": "trackprep.problems",
    "Report": "trackprep.reports.report",
    "Ruleset": "trackprep.ruleset",
    "RulesetError": "trackprep.problems",
    "check_riders": "trackprep.ruleset",
    "compare": "trackprep.ruleset",
    "interview": "trackprep.ruleset",
    "look_ahead": "trackprep.ruleset",
    "measure": "trackprep.measures.calling",
    "parse_declaration": "trackprep.ruleset",
    "parse_ruleset": "trackprep.reading",
    "read_declaration": "trackprep.ruleset",
    "read_pressures": "trackprep.pressures.reading",
    "read_ruleset": "trackprep.reading",
    "readiness": "trackprep.ruleset",
    "worklist": "trackprep.reports.worklist.report",
}


def __getattr__(name: str) -> object:
    # Names are fetched when first used, so that `import trackprep` costs next to nothing.
    if name not in _HOMES:
        raise AttributeError(f"module 'trackprep' has no attribute {name!r}")
    value: object = getattr(import_module(_HOMES[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
