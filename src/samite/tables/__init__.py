"""Loaders of the tables in ``samite/data``: read, bound-check, freeze."""
