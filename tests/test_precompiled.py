"""The shipped rulesets in their compiled form say what compiling them gives."""

import pytest

from trackprep.cli.precompiled import compiled_form, precompiled
from trackprep.cli.rulesets import shipped_rulesets
from trackprep.published import rulesets_folder


@pytest.mark.parametrize("name", shipped_rulesets())
def test_the_compiled_form_is_what_compiling_gives(name: str) -> None:
    """`python -m trackprep.cli.precompiled` writes it anew."""
    path = rulesets_folder() / "compiled" / f"{name}.json"
    assert path.read_text(encoding="utf-8") == compiled_form(name)


def test_every_compiled_form_is_of_a_ruleset_that_ships() -> None:
    """None is left over."""
    found = {path.stem for path in (rulesets_folder() / "compiled").iterdir()}
    assert found == set(shipped_rulesets())


@pytest.mark.parametrize("name", ["standard", "no-such", "../tarn-hollow", "a\0b"])
def test_nothing_else_has_one(name: str) -> None:
    """A vocabulary is no ruleset, and a name leads nowhere else."""
    assert precompiled(name) is None
