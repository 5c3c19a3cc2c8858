"""Shapes: families of pieces, each from a handful of numbers."""
