"""Several riders as a table and as JSON."""
