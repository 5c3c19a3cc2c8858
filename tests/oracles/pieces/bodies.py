"""Shapes built for a body, shared by the tests of pieces."""

from __future__ import annotations

from types import MappingProxyType

from samite.garment.body import Body
from samite.pieces.measures import estimate
from samite.pieces.shape import Made, fill_in
from samite.pieces.shapes.registry import shape_named

USUAL = Body(
    MappingProxyType(
        {"stature": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
    ),
    "women",
)


def built(name: str, body: Body = USUAL, **given: float | str) -> Made:
    shape = shape_named(name)
    return shape.build(fill_in(shape, given, lambda measure: estimate(body, measure).value_mm))
