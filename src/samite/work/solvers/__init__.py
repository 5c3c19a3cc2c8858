"""Solvers of the work order; the only place that knows the solver from outside."""
