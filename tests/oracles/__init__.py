"""Formulas that only tests use: exact theories, closed forms, plain sums to hold what a run passes through against."""
