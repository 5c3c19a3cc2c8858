"""Closed forms of the flat shapes that costumes are cut from."""
