"""Paper: the bench card and the drawings of the press model, from plain views."""
