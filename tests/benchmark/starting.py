"""Whole processes beside the bare interpreter, in processor time."""

import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median

from tests.benchmark.table import Line, seconds

ROUNDS = 15
CHECK = ["-m", "trackprep", "check", "rulesets/sam.rider", "--for", "tarn-hollow"]
ON = ["--on", "2026-06-14"]


def starting() -> Iterator[Line]:
    """`trackprep check` without and with a kept ruleset, and `import trackprep`."""
    root = Path(__file__).parents[2]
    with tempfile.TemporaryDirectory() as folder:
        caches = iter(range(10**6))

        def fresh() -> str:
            return f"{folder}/{next(caches)}"

        warm = fresh()
        rows: list[tuple[str, list[str], Callable[[], str], float, float]] = [
            ("trackprep check, the first time", [*CHECK, *ON], fresh, 9, 12),
            ("trackprep check, the ruleset kept", [*CHECK, *ON], lambda: warm, 6, 8),
            ("import trackprep", ["-c", "import trackprep"], fresh, 6, 8),
        ]
        yield Line("a whole process, beside the bare interpreter")
        bare: list[float] = []
        lines: list[Line] = []
        for what, arguments, cache, goal, gate in rows:
            _run(arguments, cache(), root), _run(arguments, cache(), root)
            pairs = [
                (_run(["-c", "pass"], warm, root), _run(arguments, cache(), root))
                for _ in range(ROUNDS)
            ]
            bare += [one for one, _ in pairs]
            ratio = median(other / one for one, other in pairs)
            time = median(other for _, other in pairs)
            lines.append(Line(f"  {what}", seconds(time), ratio, goal, gate))
        yield Line("  python -c pass (the yardstick)", seconds(median(bare)))
        yield from lines


def _run(arguments: list[str], cache: str, root: Path) -> float:
    """Seconds of processor time."""
    environment = {
        name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"
    }
    environment["XDG_CACHE_HOME"] = cache
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, *arguments], env=environment, cwd=root, capture_output=True, check=False
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert done.returncode in (0, 1, 3), done.stderr.decode()
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
