"""Pages made of blocks, and their shapes: text, a terminal, Markdown, one HTML file.

blocks.Page ─┬─ plain ──▶ lines of a width, plain or in colour
             ├─ markdown
             └─ html ──▶ a self-contained file, or a table for a notebook
"""
