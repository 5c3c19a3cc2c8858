"""A cloth, and what follows from its make-up."""
