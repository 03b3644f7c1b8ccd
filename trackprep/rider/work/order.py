"""A workable order: what must come first does, and else the order stays as it was."""

from collections.abc import Mapping, Set
from heapq import heapify, heappop, heappush


def in_order(number: int, before: Mapping[int, Set[int]]) -> list[int]:
    """The numbers from 0 up to `number`, each after those that are `before` it.

    Of those that may come next the lowest does. Work that serves several rules may have to
    come before itself, though no rule has to; then the lowest that is left comes next.
    """
    waiting = {one: {*before.get(one, ())} - {one} for one in range(number)}
    following: dict[int, list[int]] = {}
    for one, firsts in waiting.items():
        for first in firsts:
            following.setdefault(first, []).append(one)
    free = [one for one, firsts in waiting.items() if not firsts]
    heapify(free)
    order: list[int] = []
    while waiting:
        one = heappop(free) if free else min(waiting)
        if waiting.pop(one, None) is None:
            continue
        order.append(one)
        for later in following.get(one, ()):
            if later in waiting:
                waiting[later].discard(one)
                if not waiting[later]:
                    heappush(free, later)
    return order
