"""How two rulesets differ, for people and programs.

analysis Comparison ──report.ComparisonReport──┬─ page ──▶ the comparison   ┐ as pages,
                                               ├─ log ───▶ the change log   ┘ in any shape
                                               └─ json_form
"""
