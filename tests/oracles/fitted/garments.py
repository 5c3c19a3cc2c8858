"""Bodies and garments that several checks of fitted pieces share."""

from __future__ import annotations

from types import MappingProxyType

import numpy as np

from samite.garment.body import Body
from samite.pieces.measures import estimate
from samite.pieces.shape import Made, Values, fill_in
from samite.pieces.shapes.registry import fitted_shapes

MIDDLE = Body(
    MappingProxyType(
        {"stature": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
    ),
    "women",
)


def numbers(name: str, body: Body = MIDDLE, **settings: float | str) -> Values:
    shape = fitted_shapes()[name]
    return fill_in(shape, settings, lambda measure: estimate(body, measure).value_mm)


def made(name: str, body: Body = MIDDLE, **settings: float | str) -> Made:
    return fitted_shapes()[name].build(numbers(name, body, **settings))


def random_body(draw: np.random.Generator) -> Body:
    """Bust 76 to 122, waist 2 to 28 less, height and hip varied, one in five a man."""
    bust = draw.uniform(760.0, 1220.0)
    waist = bust - draw.uniform(20.0, 280.0)
    return Body(
        MappingProxyType(
            {
                "stature": draw.uniform(1500.0, 1900.0),
                "bust_girth": bust,
                "waist_girth": waist,
                "hip_girth": max(waist + draw.uniform(60.0, 320.0), 0.85 * bust),
            }
        ),
        "women" if draw.random() < 0.8 else "men",
    )
