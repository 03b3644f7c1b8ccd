"""Timing that a noisy machine disturbs little: yardstick and contender in turns, medians."""

import gc
import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median

# Seconds of this thread, so that what else the machine does counts for little.
YARDSTICK_SECONDS, CONTENDER_SECONDS = 0.012, 0.030
ROUNDS = 21


@dataclass(frozen=True)
class Timed:
    """Median seconds of a call each, and the median of the rounds' ratios."""

    yardstick: float
    contender: float
    ratio: float


def side_by_side(
    yardstick: Callable[[], object], contender: Callable[[], object], rounds: int = ROUNDS
) -> Timed:
    """Time two functions in turns, 12 ms of the yardstick before each 30 ms of the other."""
    yardstick(), contender()
    gc.collect()
    gc.disable()
    try:
        pairs = [
            (_seconds(yardstick, YARDSTICK_SECONDS), _seconds(contender, CONTENDER_SECONDS))
            for _ in range(rounds)
        ]
    finally:
        gc.enable()
    return Timed(
        median(one for one, _ in pairs),
        median(other for _, other in pairs),
        median(other / one for one, other in pairs),
    )


def _seconds(call: Callable[[], object], budget: float) -> float:
    """Mean seconds of a call, over as many as fill the budget."""
    calls = 0
    start = time.thread_time()
    stop = start + budget
    while True:
        call()
        calls += 1
        if (now := time.thread_time()) >= stop:
            return (now - start) / calls
