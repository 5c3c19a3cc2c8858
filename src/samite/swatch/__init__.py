"""Tests on real cloth."""
