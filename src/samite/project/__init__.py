"""One costume job: who, what, from which cloth, until when, and what depends on what."""
