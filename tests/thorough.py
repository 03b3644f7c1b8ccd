"""Whether the dearest laws are tried on many more examples than a day's work waits for."""

import os

THOROUGH = bool(os.environ.get("TRACKPREP_THOROUGH"))
