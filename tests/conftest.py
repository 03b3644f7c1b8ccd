"""What tests of several modules stand on."""

from pathlib import Path

import pytest
from processes import fill


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a small ruleset, four riders, and `bin/trackprep`."""
    fill(tmp_path)
    return tmp_path
