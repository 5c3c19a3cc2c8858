"""What is remembered: cloths, irons, stock and swatches in one SQLite file, photos beside it."""
