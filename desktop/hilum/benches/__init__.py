"""The work itself, one module a bench: one function is one job is one transaction."""
