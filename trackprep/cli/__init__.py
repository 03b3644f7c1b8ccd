"""The command line: one module a command, which reads files, prints, and gives an exit code.

    arguments ──main──▶ the command's `run(call)` ──▶ exit code

Nothing is decided here: what a command shows comes from the parts below.
"""
