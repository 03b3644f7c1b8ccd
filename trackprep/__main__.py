"""`python -m trackprep` is the command line."""

import sys

from trackprep.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
