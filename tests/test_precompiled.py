"""The compiled form of a shipped file says what its text says, and is used only while it does."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from trackprep.cli.precompiled import compiled_form, precompiled
from trackprep.published import ENDING, grammar_folder, rulesets_folder, shipped_names
from trackprep.reading import compiled_text
from trackprep.rules import definitions, loading, vocabularies
from trackprep.rules import precompiled as forms
from trackprep.rules.reporting import Reporter
from trackprep.rules.storing import stored
from trackprep.source import Source
from trackprep.syntax.parser import parse_rules, parse_statement

HELMET = 'rule a "A"\n  require helmet.shell is full-face\n'
AGE = 'rule a "A"\n  require tyre.front.age is at most 5 years\n'
RULES = {
    "facts": HELMET,
    "nothing of it": 'fact horn.there "Horn" yes or no\nrule a "A"\n  require horn.there',
    "an age": AGE,
    "a derived fact": 'rule a "A"\n  require chain.elongation is at most 2 %',
    "a formula": 'rule a "A"\n  require wear-limit(sprocket.rear-count) is at least 2 %',
    "a formula of its own rows": 'rule a "A"\n  require rated-test-speed(engine.rated-speed)'
    " is at most sound.engine-speed",
    "a table": 'rule a "A"\n  require speed-of(tyre.front.speed-symbol) is at least 200 km/h',
    "its own formula": "formula elongation(length in mm, pitch in mm, pitches) in %\n"
    f"  as length / [pitch * pitches]\n{HELMET}",
    "its own table": "kind grade one of a, b\ntable speed-of from grade to km/h\n"
    f"  row a is 1 km/h\n  row b is none\n{HELMET}",
    "its own branch": f'fact chain "Chain" one of old, new\n{HELMET}',
    "its own fact below": f'fact tyre.front.age.told "Told" yes or no\n{HELMET}',
    "a fact of another type": f'fact tyre.front.built "Built" text\n{HELMET}',
    "its own derived fact": 'derived tyre.front.age "Age" means helmet.shell is full-face\n'
    'rule a "A"\n  require tyre.front.age',
    "its own kind": f'kind speed-symbol one of a, b\nfact seen "Seen" speed-symbol\n{HELMET}',
    "a limit named like a branch": f'limit chain "Chain" is 3 mm\n{HELMET}',
    "a part": f'use "standard-wheels"\n{AGE}',
    "a base": 'supplements "common-practice"\nnote "The same."',
}
MISTAKES = {
    "a misspelt fact": 'rule a "A"\n  require helmet.shel is full-face',
    "a misspelt formula": 'rule a "A"\n  require waer-limit(sprocket.rear-count) is at least 2 %',
    "a table by another kind": 'rule a "A"\n  require speed-of(helmet.shell) is at least 2 km/h',
    "a derived fact broken": f'fact tyre.front.built "Built" text\n{AGE}',
    "a part that lacks it": f'use "standard-wheels"\n{HELMET}',
    "a fact twice": f'use "standard"\nfact helmet.shell "Shell" text\n{HELMET}',
    "a formula twice": f'use "standard"\nformula wear-limit(a) as a / 2\n{HELMET}',
    "the wrong kind of file": 'supplements "standard"\nnote "The same."',
}


def forget() -> None:
    """What a process keeps of shipped files."""
    for module in (loading, vocabularies):
        for one in vars(module).values():
            if hasattr(one, "cache_clear"):
                one.cache_clear()


@pytest.fixture
def as_in_a_wheel(monkeypatch: pytest.MonkeyPatch) -> Iterator[pytest.MonkeyPatch]:
    """No module is newer than the compiled forms."""
    monkeypatch.setattr(forms, "modules_changed", lambda: None)
    forget()
    assert loading.load_shipped("standard", Reporter()).stored is not None
    yield monkeypatch
    forget()


@pytest.mark.parametrize("name", shipped_names())
def test_the_compiled_form_is_what_compiling_gives(name: str) -> None:
    """`python -m trackprep.cli.precompiled` writes it anew."""
    assert forms.precompiled_path(name).read_text(encoding="utf-8") == compiled_form(name)


def test_every_compiled_form_is_of_a_file_that_ships() -> None:
    """None is left over."""
    found = {path.stem for path in (rulesets_folder() / "compiled").iterdir()}
    assert found == set(shipped_names())


@pytest.mark.parametrize("name", ["standard", "no-such", "../tarn-hollow", "a\0b"])
def test_nothing_else_is_a_compiled_ruleset(name: str) -> None:
    """A vocabulary is no ruleset, and a name leads nowhere else."""
    assert precompiled(name) is None


def outcome(body: str) -> str | list[str]:
    """The rules with all that they hold, or the problems with their places."""
    made = compiled_text(f'ruleset mine "Mine"\n{body}', "mine.trackrules")
    if made.rules is None:
        return [f"{problem.place} {problem.to_dict()}" for problem in made.problems]
    return stored(made.rules)


@pytest.mark.parametrize("body", [*RULES.values(), *MISTAKES.values()], ids=[*RULES, *MISTAKES])
def test_rules_mean_the_same_beside_a_compiled_vocabulary(
    body: str, as_in_a_wheel: pytest.MonkeyPatch
) -> None:
    """And have the same problems in the same places, some of them in shipped files."""
    beside_compiled = outcome(body)
    assert isinstance(beside_compiled, list) == (body in MISTAKES.values()), beside_compiled
    as_in_a_wheel.setattr(loading, "stored_vocabulary", lambda name: None)
    forget()
    assert loading.load_shipped("standard", Reporter()).stored is None
    assert beside_compiled == outcome(body)


def test_of_shipped_vocabularies_only_what_rules_name_is_read(
    as_in_a_wheel: pytest.MonkeyPatch,
) -> None:
    read: list[str] = []

    def noting(call: Callable[[Any], Any], name: Callable[[Any], str]) -> Callable[[Any], Any]:
        def noted(what: Any) -> Any:
            read.append(name(what))
            return call(what)

        return noted

    as_in_a_wheel.setattr(loading, "parse_rules", noting(parse_rules, lambda text: text.name))
    as_in_a_wheel.setattr(
        definitions, "parse_statement", noting(parse_statement, lambda place: place.text.split()[1])
    )
    outcome(RULES["facts"])
    assert read == ["mine.trackrules"]
    outcome(RULES["an age"])
    assert read[1:] == ["mine.trackrules", "tyre.front.age"]


@pytest.mark.parametrize("name", shipped_names())
def test_a_statement_read_on_its_own_is_the_same(name: str) -> None:
    path = rulesets_folder() / f"{name}{ENDING}"
    source = Source(path.name, path.read_text(encoding="utf-8"))
    statements = parse_rules(source).tree.statements
    assert statements
    for statement in statements:
        alone = parse_statement(statement.place)
        assert (alone, alone.place) == (statement, statement.place)


# ---- a checkout of one's own ------------------------------------------------------


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy whose compiled forms are newer than its modules."""
    made = tmp_path_factory.mktemp("checkout")
    package = Path(forms.__file__).parents[1]
    unread = shutil.ignore_patterns("__pycache__")
    shutil.copytree(package, made / "trackprep", ignore=unread)
    shutil.copytree(grammar_folder(), made / "grammar")
    shutil.copytree(rulesets_folder(), made / "rulesets")
    for path in (made / "rulesets" / "compiled").iterdir():
        os.utime(path)
    (made / "mine.trackrules").write_text(f'ruleset mine "Mine"\n{HELMET}', encoding="utf-8")
    return made


def facts(checkout: Path) -> str:
    """What a process of that checkout says of the facts that the rules ask."""
    environment = os.environ | {
        "PYTHONPATH": str(checkout), "XDG_CACHE_HOME": str(checkout / "cache")
    }  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-m", "trackprep", "facts", "mine.trackrules"],
        cwd=checkout, env=environment, capture_output=True, text=True, encoding="utf-8",
        check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout


def test_a_changed_vocabulary_is_read_anew(checkout: Path) -> None:
    path = checkout / "rulesets" / f"standard-rider{ENDING}"
    before, text = facts(checkout), path.read_text(encoding="utf-8")
    label = "Helmet shell"
    assert label in before
    path.write_text(text.replace(label, "Shell of the helmet"), encoding="utf-8")
    assert facts(checkout) == before.replace(label, "Shell of the helmet")
    path.write_text(text, encoding="utf-8")
    assert facts(checkout) == before


@pytest.mark.parametrize("damage", ["", "{", "[]\n{}\n", "null\nnull\n"])
def test_a_damaged_compiled_form_is_ignored(checkout: Path, damage: str) -> None:
    path = checkout / "rulesets" / "compiled" / "standard-rider.json"
    before, text = facts(checkout), path.read_text(encoding="utf-8")
    head = text.partition("\n")[0]
    shutil.rmtree(checkout / "cache")
    for damaged in (damage, f"{head}\n{damage}"):
        path.write_text(damaged, encoding="utf-8")
        assert facts(checkout) == before
    path.write_text(text, encoding="utf-8")
