"""The fact that somebody most likely meant by a name that is none."""

from collections.abc import Iterable, Mapping

from trackprep.rules.model import Fact
from trackprep.rules.reporting import nearest

_JOINTS = str.maketrans("", "", " -.")


def meant_fact(name: str, facts: Mapping[str, Fact], others: Iterable[str] = ()) -> str | None:
    """By another word for it, by its spelling, or by its last part; `others` may be meant too."""
    if called := _called(name, facts):
        return called[0]
    known = [*facts, *others]
    if near := nearest(name, known):
        return near
    last = name.rpartition(".")[2]
    ends = [path for path in known if path.rpartition(".")[2] == last]
    ends = ends or _called(last, facts)
    return ends[0] if len(ends) == 1 else None


def _called(word: str, facts: Mapping[str, Fact]) -> list[str]:
    """The facts that have another word of these letters, whatever joins its parts."""
    plain = _run_together(word)
    return [
        path for path, fact in facts.items() if any(_run_together(w) == plain for w in fact.also)
    ]


def _run_together(word: str) -> str:
    """A word as one run of letters: `ear plugs`, `ear-plugs` and `earplugs` are one."""
    return word.lower().translate(_JOINTS)
