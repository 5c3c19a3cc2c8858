"""Rules of law and practice: one small module for each thing that can hurt."""
