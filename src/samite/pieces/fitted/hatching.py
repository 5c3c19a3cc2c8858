"""Where a piece pulls or has too much, drawn as hatching: black lines, no ramp of colours."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.report import Limits
from samite.pieces.flatten.panels import FlatPanel
from samite.pieces.flatten.strain import strains
from samite.pieces.outline import Rule

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

PITCH_MM = 7.0
"""Distance of the lines of a hatching [mm]."""

_SHORTEST_MM = 4.0


def hatching(panel: FlatPanel, limits: Limits) -> tuple[Rule, ...]:
    """Return the lines that hatch what a cloth cannot give.

    Parameters
    ----------
    panel : FlatPanel
        The panel.
    limits : Limits
        What the cloth allows.

    Returns
    -------
    tuple of Rule
        Lines rising to the right where the cloth pulls, to the left where it has too much.

    Notes
    -----
    A triangle is hatched if its own strain is over a limit.

    References
    ----------
    ``definition``: strain against its limit.
    """
    found = strains(panel.flat.rest, panel.flat.points)
    pulled = (
        (found.warp > limits.warp) | (found.weft > limits.weft)
        | (np.abs(found.shear_deg) > limits.shear_deg)
    )  # fmt: skip
    loose = (np.minimum(found.warp, found.weft) < -limits.surplus) & ~pulled
    corners = panel.flat.points[panel.flat.rest.triangles]
    return (
        *_lines(corners[pulled], "pull", 1.0),
        *_lines(corners[loose], "too much", -1.0),
    )


def _lines(corners: Real, name: str, rise: float) -> list[Rule]:
    """Cut triangles by lines at 45 degrees and join what follows each other."""
    if not len(corners):
        return []
    along = np.array([1.0, rise]) / np.sqrt(2.0)
    normal = np.array([-along[1], along[0]])
    parts: dict[int, list[tuple[float, float]]] = {}
    for triangle in corners:
        height, run = triangle @ normal, triangle @ along
        for number in range(
            int(np.ceil(height.min() / PITCH_MM)), int(np.floor(height.max() / PITCH_MM)) + 1
        ):
            met = _meets(height, run, number * PITCH_MM)
            if len(met) >= 2:
                parts.setdefault(number, []).append((min(met), max(met)))
    made = []
    for number, spans in sorted(parts.items()):
        foot = normal * number * PITCH_MM
        for first, last in _joined(sorted(spans)):
            if last - first >= _SHORTEST_MM:
                a, b = foot + along * first, foot + along * last
                made.append(Rule(name, ((float(a[0]), float(a[1])), (float(b[0]), float(b[1])))))
    return made


def _meets(height: Real, run: Real, level: float) -> list[float]:
    met = []
    for k in range(3):
        a, b = height[k], height[(k + 1) % 3]
        if (a - level) * (b - level) < 0.0:
            share = (level - a) / (b - a)
            met.append(float(run[k] + share * (run[(k + 1) % 3] - run[k])))
    return met


def _joined(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    joined = [spans[0]]
    for first, last in spans[1:]:
        if first <= joined[-1][1] + 0.5:
            joined[-1] = (joined[-1][0], max(last, joined[-1][1]))
        else:
            joined.append((first, last))
    return joined
