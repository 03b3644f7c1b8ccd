"""What an organizer hands out: papers made of a ruleset, known again by their digests.

Rules, base, earlier edition ──sheet──▶ reports.pages Page ──marks──▶ HTML, Markdown
a paper, or a rule file ──marks, editions──▶ Edition ──sameness──▶ whether it is the same
"""
