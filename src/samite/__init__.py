"""samite: from a cloth's label to its bench card, with the reasons and how sure they are."""

__version__ = "0.1.0"
