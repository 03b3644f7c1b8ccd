"""What tests of several modules stand on."""

from pathlib import Path

import pytest
from hypothesis import settings
from processes import fill

# A busy machine is no failure; where CI is set, Hypothesis's own `ci` profile holds.
settings.register_profile("unhurried", deadline=None)
if settings.get_current_profile_name() == "default":
    settings.load_profile("unhurried")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a small ruleset, four riders, and `bin/trackprep`."""
    fill(tmp_path)
    return tmp_path
