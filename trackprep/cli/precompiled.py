"""Shipped rulesets in their compiled form, so that even the first check need not compile them.

`python -m trackprep.cli.precompiled` writes the compiled forms of all shipped files, after a
change to one or to what compiles them; a test holds the two together.
"""

from trackprep.cli.kept import unchanged
from trackprep.published import rulesets_folder
from trackprep.rules.model import Rules
from trackprep.rules.precompiled import files_of, headed, precompiled_path, precompiled_text
from trackprep.rules.storing import restored, stored


def precompiled(name: str) -> Rules | None:
    """The shipped ruleset of that name, if its compiled form is there and holds."""
    found = precompiled_text(name)
    if found is None:
        return None
    files, text = found
    folder = rulesets_folder()
    try:
        if unchanged((folder / file, known) for file, known in files):
            return restored(text)
    except (OSError, ValueError):
        pass
    return None


def compiled_form(name: str) -> str:
    """What the compiled form of a shipped file should be; the same on every machine."""
    # No check should import the compiler.
    from attrs import evolve

    from trackprep.cli.rulesets import shipped_rulesets
    from trackprep.reading import read_ruleset
    from trackprep.rules.shipping import vocabulary_form

    if name not in shipped_rulesets():
        return vocabulary_form(name)
    rules = read_ruleset(name).rules
    bare = evolve(rules, files=tuple(evolve(file, path="") for file in rules.files))
    return headed(files_of(rules.files), stored(bare))


if __name__ == "__main__":
    from trackprep.cli.rulesets import shipped_rulesets
    from trackprep.cli.writing import replace
    from trackprep.published import shipped_names

    rulesets = shipped_rulesets()
    for shipped in sorted(shipped_names(), key=lambda name: name in rulesets):
        precompiled_path(shipped).parent.mkdir(exist_ok=True)
        replace(precompiled_path(shipped), compiled_form(shipped))
