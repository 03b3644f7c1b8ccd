"""How fast the project is, beside a yardstick and general-purpose peers: `python -m tests.benchmark`."""
