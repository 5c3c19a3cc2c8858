"""Solvers of a lay: our own, and engines that improve it where their model fits."""
