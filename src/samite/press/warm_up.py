"""Compile the layer solvers once, at set-up: ``python -m samite.press.warm_up``.

The compiled code is kept beside the package, so that the first answer does not wait for it.
"""

from __future__ import annotations

import numpy as np

from samite.press.batch import Batch, Phase, solve_batch
from samite.press.layers import ReadingPlace
from samite.press.moist import (
    Above,
    Below,
    MoistLayers,
    advance,
    build_network,
    rest_state,
)


def warm_up() -> None:
    """Run both solvers on one layer for a tenth of a second."""
    one, none = np.ones((1, 1)), np.zeros((1, 0))
    layers = MoistLayers(
        thickness_mm=0.3 * one,
        conductivity_w_mk=0.05 * one,
        wetting_w_mk=0.05 * one,
        dry_mass_kg_m2=0.15 * one,
        heat_capacity_j_m2k=200.0 * one,
        regain_kg_kg=0.1 * one,
        permeability_kg_mspa=1.0e-10 * one,
        escape_kg_m2spa=3.0e-5 * one,
        wicking_kg_ms=5.0e-5 * one,
        contact_w_m2k=none,
        contact_wetting_w_m2k=none,
        contact_permeance_kg_m2spa=none,
        contact_wicking_kg_m2s=none,
    )
    network = build_network(layers, (0,))
    advance(
        network, rest_state(network, 20.0, 0.1 * one), Above(150.0, 500.0), Below(20.0, 5.0), (0.1,)
    )
    batch = Batch(0.3 * one, 0.05 * one, 5.0e5 * one, 20.0, 20.0, 5.0, water_kg_m2=0.01 * one)
    solve_batch(batch, [Phase(0.1, 150.0, 500.0)], [0.1], [ReadingPlace(0, 0.5)])


if __name__ == "__main__":
    warm_up()
