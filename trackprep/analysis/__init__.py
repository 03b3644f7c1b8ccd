"""Questions about every declaration at once: proofs, findings, comparisons.

Each fact's domain falls into finitely many regions on which every test has one
answer (`domains`); conditions over them become clauses (`clauses`), which a SAT
solver decides (`solving`); what it finds is written as a declaration that
people can read, and put through the ordinary check before anybody sees it
(`witnesses`).
"""
