"""Papers that a page can be set on."""

from __future__ import annotations

PAPERS = ("a4", "us-letter")
"""Their names, the first by default."""
