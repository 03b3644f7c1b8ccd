"""Answers and conditions in words: what a rule says, and why its answer is what it is.

model ──sentences──▶ what its author said, in plain English
model + values ──reasons──▶ what decided an answer, and the nearest way to meet it
"""
