"""A work list as text, Markdown, a page to print, and JSON."""
