"""How fast the project is, beside a yardstick and peers: `python -m tests.benchmark`."""
