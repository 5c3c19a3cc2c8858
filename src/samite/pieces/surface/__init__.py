"""Surfaces that a garment follows: convex sections lofted through girths and heights."""
