"""Pieces on a width of cloth: the problem, its solvers and its bounds."""
