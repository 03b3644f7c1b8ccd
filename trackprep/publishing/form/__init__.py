"""The page that checks itself: a sheet with a form, which answers without a network.

facts, units, work, trials ──data──▶ JSON ─┐
*.js, the back end of a page ──script──────┼─page──▶ one HTML file
the sheets of the events ──────────────────┘
"""
