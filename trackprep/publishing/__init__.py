"""What an organizer hands out: papers made of a ruleset, known again by their digests.

Rules, base, earlier edition ──sheet, inspection──▶ reports.pages Page ──marks──▶ HTML, Markdown
Rules of one event or several ──form──▶ the page that checks itself
a paper, or a rule file ──marks, editions──▶ Edition ──sameness──▶ whether it is the same
"""
