"""How hot each layer of the pressed seam has been by a moment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.press.joint import Joint
from samite.press.pressing import Bench, Placement, press

if TYPE_CHECKING:
    from samite.press.draws import Draws
    from samite.press.window import Seam

Span = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Profile:
    """Hottest temperatures and waters, layer by layer.

    Parameters
    ----------
    joint : Joint
        The layers.
    moment_s : float
        Seconds after the iron came down [s].
    sole_c : tuple of (float, float, float)
        5th, 50th and 95th percentile of the sole [C].
    hottest_c : tuple of tuple of (float, float, float)
        The same for the hottest place so far in each layer of the joint [C].
    water_gsm : tuple of float
        Water in each layer at that moment, the middle of the draws [g/m2].
    """

    joint: Joint
    moment_s: float
    sole_c: Span
    hottest_c: tuple[Span, ...]
    water_gsm: tuple[float, ...]


def press_profile(
    seam: Seam, passes: Sequence[Placement], bench: Bench, draws: Draws, moment_s: float
) -> Profile:
    """Return how hot each layer has been by a moment.

    Parameters
    ----------
    seam : Seam
        What is pressed.
    passes : sequence of Placement
        How it is pressed.
    bench : Bench
        Iron, press cloth and support.
    draws : Draws
        Doubts, shared with the window's.
    moment_s : float
        Seconds after the iron of the last pass came down [s].

    Returns
    -------
    Profile
        Over all draws, at the middle of all placements.
    """
    run = press(seam.plies, passes, (moment_s,), bench, draws)
    layers = range(len(run.joint.layers))
    water = [run.water_kg_m2[1, run.network.nodes_of(layer)].sum(axis=0) for layer in layers]
    return Profile(
        joint=run.joint,
        moment_s=moment_s,
        sole_c=_span(run.sole_c[1]),
        hottest_c=tuple(_span(run.peak_c[1, layer]) for layer in layers),
        water_gsm=tuple(1000.0 * float(np.median(held)) for held in water),
    )


def _span(values: np.ndarray) -> Span:
    low, middle, high = np.percentile(values, (5.0, 50.0, 95.0))
    return float(low), float(middle), float(high)
