"""A season ahead, as it is shown.

rider.lookahead.EventAhead ─┬─ bars ──────▶ characters
                            ├─ drawing ───▶ SVG
                            ├─ page ──────▶ blocks
                            └─ json_form
"""
