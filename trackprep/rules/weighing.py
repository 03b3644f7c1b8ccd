"""How large a condition or term is when all it is worked out from is written out.

Derived facts share their parts, so that sixty short lines could mean more tests
than there are atoms; whoever walks a condition walks them all.
"""

from typing import Any

import attrs

HEAVIEST = 5_000


def too_heavy(made: Any) -> bool:
    """Whether a condition or term has more than `HEAVIEST` parts, counted with repetition."""
    waiting, count = [made], 0
    while waiting:
        here = waiting.pop()
        count += 1
        if count > HEAVIEST:
            return True
        if isinstance(here, tuple):
            waiting.extend(here)
        elif attrs.has(type(here)):
            waiting.extend(
                value
                for field in attrs.fields(type(here))
                if isinstance(value := getattr(here, field.name), tuple) or attrs.has(type(value))
            )
    return False
