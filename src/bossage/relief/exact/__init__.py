"""Exact solvers behind small questions: CP-SAT, and a linear program with its whole numbers."""
