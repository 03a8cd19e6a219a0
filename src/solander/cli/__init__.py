"""The command line: one module a verb; parse, call a task, print."""
