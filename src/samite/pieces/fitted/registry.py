"""All garments that are computed from the body and the cloth."""

from __future__ import annotations

from samite.pieces.fitted import bodice, bodysuit, leggings, skirt, strapless, trousers
from samite.pieces.shape import Shape

FITTED: tuple[Shape, ...] = (
    strapless.SHAPE,
    bodice.SHAPE,
    skirt.SHAPE,
    trousers.SHAPE,
    bodysuit.SHAPE,
    leggings.SHAPE,
)
