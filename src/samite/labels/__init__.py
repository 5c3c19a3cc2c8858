"""Care, content and safety as they follow from a cloth."""
