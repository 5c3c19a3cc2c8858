"""Readers of files that people bring: each returns what is good and what is wrong."""
