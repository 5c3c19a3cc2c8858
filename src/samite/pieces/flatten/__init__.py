"""Curved panels laid flat: meshing, as-rigid-as-possible maps with exact seams, strain."""
