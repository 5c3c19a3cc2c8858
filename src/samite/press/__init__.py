"""Transient heat through the pressed layers: what a cloth bears, and how to press it."""
