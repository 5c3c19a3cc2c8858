"""Frozen data that the engines share: what a garment is for."""
