"""Prints every measurement beside its yardstick, its goal and its gate.

    python -m tests.benchmark [PART …]

Parts: answers, reports, building, growth, quantities, starting, comparing; all if none is named.
Ends with 1 if a gate is passed.
"""

import platform
import sys
from collections.abc import Callable, Iterator

from tests.benchmark.answering import answering, reporting
from tests.benchmark.building import building, growth
from tests.benchmark.comparing import comparing
from tests.benchmark.quantities import quantities
from tests.benchmark.starting import starting
from tests.benchmark.table import HEADING, Line


def answers() -> Iterator[Line]:
    """60 rules and 600."""
    yield from answering(60, 40, 2_000, (1.2, 1.5), (1.7, 2.1))
    yield from answering(600, 400, 300, (1.1, 1.3), (1.5, 1.8))


PARTS: dict[str, Callable[[], Iterator[Line]]] = {
    "answers": answers,
    "reports": reporting,
    "building": building,
    "growth": growth,
    "quantities": quantities,
    "starting": starting,
    "comparing": comparing,
}


def main(names: list[str]) -> int:
    """Runs the parts and prints their lines as they come."""
    if unknown := [name for name in names if name not in PARTS]:
        print(f"no part called {unknown[0]}; there are {', '.join(PARTS)}", file=sys.stderr)
        return 2
    print(f"Python {platform.python_version()}, medians; ratios are of pairs taken in turns\n")
    print(HEADING)
    passed = True
    for name in names or PARTS:
        for line in PARTS[name]():
            print(line, flush=True)
            passed = passed and line.judged != "PAST THE GATE"
        print()
    return 0 if passed else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
