"""Garments whose pieces are computed from the body and the cloth."""
