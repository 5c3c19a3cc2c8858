"""How hot each layer of the pressed seam has been by a moment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.press.joint import Joint, build_joint
from samite.press.window import SECONDS, _Run

if TYPE_CHECKING:
    from samite.cloth.model import Cloth
    from samite.press.draws import Draws
    from samite.press.techniques import Technique
    from samite.press.window import Bench

Span = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Profile:
    """Hottest temperatures, layer by layer.

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
    """

    joint: Joint
    moment_s: float
    sole_c: Span
    hottest_c: tuple[Span, ...]


def press_profile(
    cloth: Cloth, technique: Technique, bench: Bench, draws: Draws, moment_s: float
) -> Profile:
    """Return how hot each layer has been by a moment.

    Parameters
    ----------
    cloth : Cloth
        The cloth, on both sides of a plain seam pressed open.
    technique : Technique
        How it is pressed; not hovering.
    bench : Bench
        Iron, press cloth and support.
    draws : Draws
        Doubts, shared with the window's.
    moment_s : float
        Seconds after the iron came down [s]; the nearest that the window computes is taken.

    Returns
    -------
    Profile
        Over all draws, at the middle of all placements.
    """
    joint = build_joint(cloth, technique, bench.press_cloth, bench.support)
    run = _Run(joint, technique, bench, draws)
    index = min(range(len(SECONDS)), key=lambda i: abs(SECONDS[i] - moment_s))
    peaks = run.middle.peak_c[:, index + 1, :]
    layers = tuple(_span(peaks[:, layer]) for layer in range(len(joint.layers)))
    return Profile(joint, SECONDS[index], _span(run.sole), layers)


def _span(values: np.ndarray) -> Span:
    low, middle, high = np.percentile(values, (5.0, 50.0, 95.0))
    return float(low), float(middle), float(high)
