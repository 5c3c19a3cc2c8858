"""Needle, thread, stitch, seam and finish, from what a cloth is."""
