"""The lines of the benchmark and how they are printed."""

from dataclasses import dataclass

WIDTH = 52


@dataclass(frozen=True)
class Line:
    """One measurement.

    Attributes:
        time: What it took, ready to print.
        ratio: How many times what it stands beside.
        goal: The ratio to stay under; `gate`, the looser one for noisy machines.
    """

    what: str
    time: str = ""
    ratio: float | None = None
    goal: float | None = None
    gate: float | None = None
    note: str = ""

    @property
    def judged(self) -> str:
        """How the ratio stands to the goal."""
        if self.ratio is None or self.goal is None or self.gate is None:
            return self.note
        if self.ratio <= self.goal:
            return "within the goal"
        return "past the goal" if self.ratio <= self.gate else "PAST THE GATE"

    def __str__(self) -> str:
        ratio = "" if self.ratio is None else f"{self.ratio:,.2f}×"
        goal = "" if self.goal is None else f"{self.goal:g}× ({self.gate:g}×)"
        return f"  {self.what:<{WIDTH}}{self.time:>12}{ratio:>10}{goal:>15}  {self.judged}".rstrip()


HEADING = f"  {'':<{WIDTH}}{'time':>12}{'ratio':>10}{'goal (gate)':>15}"


def seconds(value: float) -> str:
    """A time in the unit that reads best."""
    for unit, size in (("s", 1.0), ("ms", 1e-3), ("µs", 1e-6)):
        if value >= size:
            return (
                f"{value / size:.3g} {unit}"
                if value < 1000 * size
                else f"{value / size:,.0f} {unit}"
            )
    return f"{value * 1e9:.3g} ns"
