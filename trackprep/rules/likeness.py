"""The fact that somebody most likely meant by a name that is none."""

from collections.abc import Iterable, Mapping

from trackprep.rules.model import Fact
from trackprep.rules.reporting import nearest


def meant_fact(name: str, facts: Mapping[str, Fact], others: Iterable[str] = ()) -> str | None:
    """By another word for it, by its spelling, or by its last part; `others` may be meant too."""
    plain = name.replace("-", " ").replace(".", " ")
    for path, fact in facts.items():
        if any(word.lower() in (plain, name) for word in fact.also):
            return path
    known = [*facts, *others]
    if near := nearest(name, known):
        return near
    last = name.rpartition(".")[2]
    ends = [path for path in known if path.rpartition(".")[2] == last]
    return ends[0] if len(ends) == 1 else None
