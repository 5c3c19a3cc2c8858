"""Files that people write: text in, what it says and what is wrong with it out."""
