"""Pieces: flat shapes computed from measurements, with allowances, notches and grain."""
